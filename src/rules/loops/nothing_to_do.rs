//! `nothing-to-do`

use super::refused_decrease;
use crate::beds::{
    Action, Bed, BedWork, Both, Carried, Handled, NeedleSet, NeedlesPut, Operation, Pick, RowDone, State, Work,
};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::memory::Memory;
use crate::rules::{Besides, Facts, LooksAt, Seen, Touches, Watch};
use crate::words::spans::{needles, on_bed, written};
use crate::words::{count, is_are};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "nothing-to-do",
        severity: Severity::Warning,
        summary: "A line asks needles for something they cannot give, or changes nothing.",
        why: "A line that does nothing usually means that the beds are not as its writer thought: a stitch was moved \
              earlier, a needle is out of work, or the wrong bed is named.",
        source: "follows from the state of the beds",
        bad: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
row front knit, loosened 1
gaiting opposite
transfer front to back
transfer front to back
bind off back",
        good: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
row front knit, loosened 1
gaiting opposite
transfer front to back
bind off back",
    },
    looks_at: &[LooksAt::Row(row), LooksAt::Carried(carried), LooksAt::Handled(handled), LooksAt::Needles(put)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS.and(Facts::SIDE),
    besides: Besides { touches: Some(touches), ..Besides::NOTHING },
};

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    if !row.idle.is_empty() {
        return Some(
            RULE.finds(
                moment.span,
                format!("the row names {}, which {} out of work", needles(&row.idle), is_are(row.idle.len())),
            )
            .marked("named here")
            .because("A needle that is out of work does not move when the carriage passes.")
            .mend("Bring the needles into work before the row, or leave them out of it."),
        );
    }
    if !row.knit.is_empty() || !row.tuck.is_empty() {
        return bare_bed(moment, row).or_else(|| no_new_loops(moment, row));
    }
    if let Some(found) = only_held(moment, row).or_else(|| no_needle_there(moment, row)) {
        return Some(found);
    }
    if !row.slip.is_empty() {
        if comes_back_with_the_yarn(moment, row) {
            return None;
        }
        return Some(
            RULE.finds(moment.span, "every needle in work slips, so this row knits nothing")
                .marked("knits nothing")
                .because("The carriage goes across, the yarn with it, and no needle takes it.")
                .mend("Say which needles knit; or write `free pass` where the carriage is only meant to get to the other side. To knit a cord, where the yarn comes back across behind it, say both ways in one line: `rows 80 to right front knit, to left front slip`."),
        );
    }
    Some(
        RULE.finds(moment.span, "no needle is in work, so this row knits nothing")
            .marked("knits nothing")
            .because("Neither bed has a needle in work when the row is reached.")
            .mend("Bring needles into work first, for example `in work front L30-R30`."),
    )
}

/// Whether it is the way back of a row that knits the other way, as for a cord: `to right front knit, to left front slip`.
fn comes_back_with_the_yarn(moment: &Moment<'_>, row: &RowDone) -> bool {
    let Operation::Row(said) = moment.operation else { return false };
    // One that asks for loops and gets none is no way back; and where the other bed is empty no row knits.
    let knits = |(bed, work): (Bed, &BedWork)| work.asks() && !moment.state.in_work[bed].is_empty();
    matches!(said.work, Work::ByDirection { .. })
        && !said.work.toward(row.toward).iter().any(|(_, work)| work.asks())
        && said.work.toward(row.toward.other()).iter().any(knits)
}

/// What the row says each bed does, in the direction in which it went.
fn said<'a>(moment: &'a Moment<'_>, row: &RowDone) -> Option<&'a Both<BedWork>> {
    let Operation::Row(said) = moment.operation else { return None };
    Some(said.work.toward(row.toward))
}

/// The held needles of a bed that are told to knit or tuck.
fn asked_of_held(state: &State, bed: Bed, work: &BedWork) -> NeedleSet {
    let mut rest = state.held[bed];
    let mut asked = NeedleSet::EMPTY;
    for (action, pick) in &work.picked {
        let hit = whatever_the_state(pick, state.loops.loaded(bed)) & rest;
        if *action != Action::Slip {
            asked |= hit;
        }
        rest -= hit;
    }
    if work.elsewhere == Action::Slip { asked } else { asked | rest }
}

/// The needles that a pick can mean without their being in work.
fn whatever_the_state(pick: &Pick, loaded: NeedleSet) -> NeedleSet {
    match pick {
        Pick::These(needles) => *needles,
        Pick::Loaded => loaded,
        Pick::And(pair) => whatever_the_state(&pair.0, loaded) & whatever_the_state(&pair.1, loaded),
        Pick::Or(pair) => whatever_the_state(&pair.0, loaded) | whatever_the_state(&pair.1, loaded),
        _ => NeedleSet::EMPTY,
    }
}

/// The row knits nothing, since all that it tells to knit or tuck is held.
fn only_held(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    let (state, work) = (moment.state, said(moment, row)?);
    let asked = Both::from_fn(|bed| asked_of_held(state, bed, &work[bed]));
    if asked.is_empty() {
        return None;
    }
    // A whole bed is released by its name.
    let released: Vec<String> = asked
        .iter()
        .filter(|(_, needles)| !needles.is_empty())
        .map(
            |(bed, needles)| {
                if *needles == state.held[bed] { bed.to_string() } else { written(&Both::only(bed, *needles)) }
            },
        )
        .collect();
    Some(
        RULE.finds(
            moment.span,
            format!("{} {} held, so this row knits nothing", needles(&asked), is_are(asked.len())),
        )
        .marked("knits nothing")
        .because("A held needle keeps its stitch and lets the carriage pass. The row asks no other needle to knit.")
        .mend(format!(
            "Write `release {}` before the row, and take out a later line that would release nothing more; or, where they are meant to wait, let other needles knit in it.",
            released.join(", ")
        )),
    )
}

/// The row knits nothing, since the only bed that it tells to knit has no needle in work; the stitches hang on the other.
fn no_needle_there(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    let (state, work) = (moment.state, said(moment, row)?);
    let bed = Bed::BOTH.into_iter().find(|&bed| work[bed].asks() && !work[bed.other()].asks())?;
    let (other, there) = (bed.other(), state.loops.loaded(bed.other()));
    let bare = state.in_work[bed].is_empty() && state.held[bed].is_empty();
    if !bare || there.is_empty() {
        return None;
    }
    let release =
        if (there - state.held[other]).is_empty() { format!(" after `release {other}`") } else { String::new() };
    Some(
        RULE.finds(moment.span, format!("no needle of the {bed} bed is in work, so this row knits nothing"))
            .marked(format!("asks the {bed} bed"))
            .because(format!(
                "The {other} bed carries {}, {}, and the {bed} bed none.",
                count(there.len(), "stitch", "stitches"),
                on_bed(other, there)
            ))
            .mend(format!(
                "Name the {other} bed in the row{release}; or bring needles of the {bed} bed into work and give them stitches first."
            )),
    )
}

/// Loops are announced and no needle catches one. In a later pass the edge may simply have been reached.
fn no_new_loops(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    let first = moment.pass.is_none_or(|(pass, _)| pass == 1);
    (row.new_loops && row.caught.is_empty() && first).then(|| {
        RULE.finds(moment.span, "no needle is empty here, so this row makes no new loops")
            .marked("announces new loops")
            .because("`new loops` says that empty needles in work are meant to catch the yarn. Every needle that takes it in this row carries a stitch already.")
            .mend("Look for the line before it that should empty a needle or bring one into work, or take `new loops` out.")
    })
}

/// A bed that is told to knit or tuck and has no needle in work, while the other bed has some.
fn bare_bed(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    let bare = |bed: &Bed| moment.state.in_work[*bed].is_empty() && moment.state.held[*bed].is_empty();
    let bed = Bed::BOTH.into_iter().find(bare)?;
    if !said(moment, row)?[bed].asks() {
        return None;
    }
    Some(
        RULE.finds(moment.span, format!("the {bed} bed has no needle in work, so only the {} bed knits", bed.other()))
            .marked(format!("asks the {bed} bed too"))
            .because(format!(
                "The row says what the {bed} bed does, and there is nothing on that bed for the carriage to work."
            ))
            .mend(format!(
                "Name only the {} bed if that is meant; or bring needles of the {bed} bed into work first.",
                bed.other()
            )),
    )
}

fn carried(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    if carried.not_facing {
        return None;
    }
    if !carried.empty.is_empty() {
        let (has, it) = if carried.empty.len() == 1 { ("has", "It is") } else { ("have", "They are") };
        return Some(
            RULE.finds(moment.span, format!("{} {has} no stitch to give", on_bed(carried.from, carried.empty)))
                .marked("named here")
                .because(format!("{it} empty at this point."))
                .mend("Name only needles that carry a stitch; `loaded` picks them."),
        );
    }
    carried.donors.is_empty().then(|| {
        RULE.finds(moment.span, format!("the {} bed has no stitches to move", carried.from))
            .marked("moves nothing")
            .because(format!("No needle of the {} bed carries a stitch at this point.", carried.from))
            .mend(match once(moment) {
                Some(once) => format!("{once} or bring the stitches back before the pass ends."),
                None => "Take the line out, or look at the lines before it for where the stitches went.".to_owned(),
            })
    })
}

fn handled(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    if handled.not_there > 0 {
        return not_there(moment, handled);
    }
    if super::no_needle_found::is_so(moment, handled) {
        return None;
    }
    let idle = Both::from_fn(|bed| handled.refused[bed] - moment.state.loops.loaded(bed));
    if !idle.is_empty() {
        let held = Both::from_fn(|bed| idle[bed] & moment.state.held[bed]);
        let (idle, are, line) =
            if held.is_empty() { (idle, "out of work", "in work") } else { (held, "held", "release") };
        return Some(
            RULE.finds(moment.span, format!("{} {} {are} and cannot be cast on", needles(&idle), is_are(idle.len())))
                .marked("named here")
                .because("The carriage serves only needles in work that are not held.")
                .mend(format!("Write before this line: `{line} {}`.", written(&idle))),
        );
    }
    if !handled.empty.is_empty() {
        let one = handled.empty.len() == 1;
        return Some(
            RULE.finds(
                moment.span,
                format!("{} {} no stitch to take off", needles(&handled.empty), if one { "has" } else { "have" }),
            )
            .marked("named here")
            .because(format!("{} empty at this point.", if one { "It is" } else { "They are" }))
            .mend("Name only needles that carry a stitch; without needles the line means every loaded one of the bed."),
        );
    }
    let worked = [&handled.made, &handled.taken, &handled.off_bed, &handled.refused];
    worked.into_iter().all(Both::is_empty).then(|| {
        RULE.finds(moment.span, "this line finds no needle to work on")
            .marked("does nothing")
            .because("The needles it means are not in work, or carry nothing, at this point.")
            .mend(match once(moment) {
                Some(once) => format!("{once} or end each pass so that the next one begins like the first."),
                None => {
                    "Look at the lines before it: bring the needles into work first, or take this line out.".to_owned()
                }
            })
    })
}

/// More was asked for than the edge has.
fn not_there(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    let held = Both::from_fn(|bed| handled.refused[bed] & moment.state.held[bed] & moment.state.loops.loaded(bed));
    let (what, why, mend) = match moment.operation {
        // More picked up than there are is told of by a rule of its own.
        Operation::PickUp { .. } => return None,
        Operation::Decrease(change) if handled.refused.is_empty() => (
            format!("the {} bed has no edge to decrease at", change.bed),
            no_edge(moment.state, change.bed),
            "Take the line out, name the other bed, or release held stitches first.",
        ),
        Operation::Decrease(change) => {
            let said = refused_decrease::said(moment, handled, change);
            return Some(RULE.finds(moment.span, said.what).marked("asked for here").because(said.why).mend(said.mend));
        }
        Operation::Increase(_) if !handled.off_bed.is_empty() || handled.past_end > 0 => return None,
        Operation::Increase(_) if !held.is_empty() => (
            format!(
                "{} {} a stitch that is held",
                needles(&held),
                if held.len() == 1 { "carries" } else { "each carry" }
            ),
            "The edge is that of the needles in work, and there is no free needle beside it to increase onto.",
            "Release the held stitches first, or take them onto waste yarn.",
        ),
        Operation::Increase(change) if !handled.refused.is_empty() => (
            format!(
                "the edge of the {} bed is no group of {} side by side",
                change.bed,
                count(change.inset, "stitch", "stitches")
            ),
            "An increase with `inset` moves that many edge stitches outward together, so they must stand on neighbouring needles.",
            "Take a smaller `inset`, or increase without it.",
        ),
        Operation::Increase(change) => (
            format!("the {} bed has no edge to increase at", change.bed),
            no_edge(moment.state, change.bed),
            "Cast on first, name the other bed, or release held stitches first.",
        ),
        _ => return None,
    };
    Some(RULE.finds(moment.span, what).marked("asked for here").because(why).mend(mend))
}

/// Why a bed has no edge that could be shaped.
fn no_edge(state: &State, bed: Bed) -> &'static str {
    if state.loops.loaded(bed).is_empty() {
        "No needle of that bed carries a stitch at this point."
    } else {
        "All its stitches are held at this point, and a held stitch stays where it is."
    }
}

fn put(moment: &Moment<'_>, put: &NeedlesPut) -> Option<Finding> {
    let nothing = put.changed.is_empty() && put.lost.is_empty() && put.off_bed.is_empty();
    if !nothing && let Operation::Hold(_) = moment.operation {
        return held_out_of_work(moment, put);
    }
    if nothing && let Some(found) = no_needles_beside(moment, put) {
        return Some(found);
    }
    nothing.then(|| {
        let (what, why, undone) = match moment.operation {
            Operation::InWork(_) => ("bring into work", "Whatever is named here is in work already.", "out of work"),
            Operation::OutOfWork(_) => ("put out of work", "Whatever is named here is out of work already.", "in work"),
            Operation::Hold(_) => ("hold", "A needle must be in work to be held, and not be held already.", "release"),
            _ => ("release", "Nothing that is named here is held.", "hold"),
        };
        let named: Both<NeedleSet> = put.named;
        let which = if named.is_empty() { String::new() } else { format!(": {}", needles(&named)) };
        RULE.finds(moment.span, format!("there is nothing here to {what}{which}"))
            .marked("changes nothing")
            .because(why)
            .mend(match once(moment) {
                Some(once) if !named.is_empty() => format!(
                    "{once} or end each pass with `{undone} {}`, so that the next one begins like the first.",
                    written(&named)
                ),
                Some(once) => format!("{once} or end each pass so that the next one begins like the first."),
                None => "Take the line out, or name other needles.".to_owned(),
            })
    })
}

/// What to do where the line does nothing in a later pass of a repeat only. In the first one it did something, else that
/// would have been said: whoever takes the line out loses that.
fn once(moment: &Moment<'_>) -> Option<String> {
    let (pass, of) = [moment.pass, moment.outer].into_iter().flatten().find(|(pass, _)| *pass > 1)?;
    Some(format!(
        "It does something in pass 1 and nothing in pass {pass} of {of}, so do not take it out. Write it before the repeat, \
         if once is enough;"
    ))
}

/// Needles are brought into work by a picture or the like, which is laid over those of the other bed, and there are none.
fn no_needles_beside(moment: &Moment<'_>, put: &NeedlesPut) -> Option<Finding> {
    let Operation::InWork(targets) = moment.operation else { return None };
    let bed = Bed::BOTH.into_iter().find(|&bed| targets[bed].is_some() && put.named[bed].is_empty())?;
    let other = bed.other();
    let alone = !matches!(targets[bed], Some(Pick::These(_))) && moment.state.in_work[other].is_empty();
    alone.then(|| {
        RULE.finds(moment.span, format!("no needles of the {other} bed are in work for this line to go by"))
            .marked("brings nothing into work")
            .because(format!(
                "Needles that come into work without being named, by a picture, `every 2` and the like, are laid over the \
                 needles in work of the other bed. Here the {other} bed has none."
            ))
            .mend({
                // As many needles on the left as on the right: the picture of two fits.
                let half = moment.machine.each_side.min(10);
                format!(
                    "Say over which needles: `in work {bed} \"|.\" over L{half}-R{half}`, or `in work {bed} every 2 over \
                     L{half}-R{half}`."
                )
            })
    })
}

/// Needles to hold that are out of work, among others that are held: the number typed is another than the one meant.
fn held_out_of_work(moment: &Moment<'_>, put: &NeedlesPut) -> Option<Finding> {
    let state = moment.state;
    let away = Both::from_fn(|bed| put.named[bed] - state.in_work[bed] - state.held[bed]);
    if away.is_empty() {
        return None;
    }
    Some(
        RULE.finds(moment.span, format!("{} {} out of work and cannot be held", needles(&away), is_are(away.len())))
            .marked("named here")
            .because("Held is a needle in work that the carriage leaves alone for a while.")
            .mend(format!("Name only needles in work: `hold {}`.", written(&put.changed))),
    )
}

/// After a row or a transfer the yarn and the stitches stay as they were, although they were meant to go on.
fn touches(seen: Seen<'_>, _: &Memory, usual: Touches) -> Touches {
    let moves = seen.row().is_some() || seen.carried().is_some();
    Touches { disturbs: if moves { Facts::LAST_ROW } else { Facts::NONE }, ..usual }
}

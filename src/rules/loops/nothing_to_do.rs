//! `nothing-to-do`

use crate::beds::{Bed, Both, Carried, Handled, NeedleSet, NeedlesPut, Operation, RowDone};
use crate::finding::{Finding, Severity};
use crate::play::Moment;
use crate::rules::words::{count, is_are, needles, on_bed, written};
use crate::rules::{LooksAt, Rule};

pub(crate) static RULE: Rule = Rule {
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
    looks_at: &[LooksAt::Row(row), LooksAt::Carried(carried), LooksAt::Handled(handled), LooksAt::Needles(put)],
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
    if !row.slip.is_empty() {
        return Some(
            RULE.finds(moment.span, "every needle in work slips, so this row knits nothing")
                .marked("knits nothing")
                .because("The carriage goes across, the yarn with it, and no needle takes it.")
                .mend("Say which needles knit; or write `free pass` where the carriage is only meant to get to the other side."),
        );
    }
    Some(
        RULE.finds(moment.span, "no needle is in work, so this row knits nothing")
            .marked("knits nothing")
            .because("Neither bed has a needle in work when the row is reached.")
            .mend("Bring needles into work first, for example `in work front L30-R30`."),
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
    let Operation::Row(said) = moment.operation else { return None };
    if !said.work.toward(row.toward)[bed].asks() {
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
            .mend("Take the line out, or look at the lines before it for where the stitches went.")
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
            .mend("Look at the lines before it: bring the needles into work first, or take this line out.")
    })
}

/// More was asked for than the fabric, the waste yarn or the edge has.
fn not_there(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    let held = Both::from_fn(|bed| handled.refused[bed] & moment.state.held[bed] & moment.state.loops.loaded(bed));
    let (what, why, mend) = match moment.operation {
        Operation::PickUp { from_waste, .. } => (
            format!(
                "there {} {} too few to pick up",
                is_are(handled.not_there),
                count(handled.not_there, "loop", "loops")
            ),
            if *from_waste { "Fewer loops are on waste yarn." } else { "Fewer loops have been knitted so far." },
            "Name fewer needles.",
        ),
        Operation::Decrease(change) if handled.refused.is_empty() => (
            format!("the {} bed has no edge to decrease at", change.bed),
            "No needle of that bed carries a stitch at this point.",
            "Take the line out, or name the other bed.",
        ),
        Operation::Decrease(change) => (
            format!("the {} edge has no neighbour to take the stitch", change.bed),
            "A decrease lays the edge stitch on the next needle inward, and that needle must carry a stitch.",
            "Decrease fewer stitches at once, or close the gap in the bed first.",
        ),
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
            "No needle of that bed carries a stitch at this point.",
            "Cast on first, or name the other bed.",
        ),
        _ => return None,
    };
    Some(RULE.finds(moment.span, what).marked("asked for here").because(why).mend(mend))
}

fn put(moment: &Moment<'_>, put: &NeedlesPut) -> Option<Finding> {
    let nothing = put.changed.is_empty() && put.lost.is_empty() && put.off_bed.is_empty();
    if !nothing && let Operation::Hold(_) = moment.operation {
        return held_out_of_work(moment, put);
    }
    nothing.then(|| {
        let (what, why) = match moment.operation {
            Operation::InWork(_) => ("bring into work", "Whatever is named here is in work already."),
            Operation::OutOfWork(_) => ("put out of work", "Whatever is named here is out of work already."),
            Operation::Hold(_) => ("hold", "A needle must be in work to be held, and not be held already."),
            _ => ("release", "Nothing that is named here is held."),
        };
        let named: Both<NeedleSet> = put.named;
        let which = if named.is_empty() { String::new() } else { format!(": {}", needles(&named)) };
        RULE.finds(moment.span, format!("there is nothing here to {what}{which}"))
            .marked("changes nothing")
            .because(why)
            .mend("Take the line out, or name other needles.")
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

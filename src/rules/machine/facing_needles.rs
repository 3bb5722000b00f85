//! `facing-needles`

use crate::beds::{Bed, Both, Gaiting, Handled, NeedleSet, Operation, RowDone};
use crate::catalogue::{Rule, Severity};
use crate::finding::{Finding, Fix};
use crate::play::Moment;
use crate::rules::cause::{Line, at, who};
use crate::rules::memory::{Deed, Memory, What};
use crate::rules::remedy::line_before;
use crate::rules::{Besides, Facts, LooksAt, Seen, Stands, Watch, picture};
use crate::source::Span;
use crate::words::spans::written;
use crate::words::{count, is_are, racking};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "facing-needles",
        severity: Severity::Error,
        summary: "Two needles that stand face to face both move in one row and strike each other.",
        why: "At opposite gaiting the needles of the two beds point at each other. If both of a facing pair come forward \
              in one pass, their hooks strike: needles bend and the carriage jams.",
        source: "a facing pair is never selected together at interlock gaiting: D. J. Spencer, Knitting Technology, 3rd \
                 ed., 2001, ch. 7",
        bad: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
cast on wound back
gaiting opposite
row both knit
gaiting between
bind off both",
        good: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
cast on wound back
gaiting between
row both knit
bind off both",
    },
    looks_at: &[LooksAt::Row(row), LooksAt::Handled(cast_on)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS.and(Facts::RACKING),
    besides: Besides {
        stands: Stands::UntilSetAnew(moves_apart),
        cause: Some(cause),
        fix: Some(fix),
        advice: Some(not_transferred),
        ..Besides::NOTHING
    },
};

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    // A row is looked at very often, and seldom at this gaiting.
    (moment.state.gaiting == Gaiting::Opposite).then(|| found(moment, &Both::from_fn(|bed| row.acting(bed))))?
}

/// A cast-on by the carriage is a row too.
fn cast_on(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    (handled.by_carriage && moment.state.gaiting == Gaiting::Opposite).then(|| found(moment, &handled.made))?
}

fn found(moment: &Moment<'_>, acting: &Both<NeedleSet>) -> Option<Finding> {
    let state = moment.state;
    let both = struck(moment, acting);
    let struck = both.front;
    let first = struck.first()?;
    let facing = state.facing(moment.machine, Bed::Front, [first].into_iter().collect()).first()?;
    let pairs = u64::from(struck.len());
    let mut finding = RULE
        .finds(moment.span, format!("front {first} and back {facing} stand face to face and would strike each other"))
        .marked(format!("{} in this row", count(pairs, "collision", "collisions")))
        .because(format!(
            "The gaiting is opposite and the beds are racked to {}, so {} of needles that both move {} hook to hook: front {struck}.",
            racking(state.racking),
            count(pairs, "pair", "pairs"),
            is_are(pairs)
        ))
        .mend(what_to_do(moment, &both));
    finding.picture = Some(picture::around(moment.machine, state, Bed::Front, first));
    Some(finding)
}

/// Those of the needles that face another of them.
fn struck(moment: &Moment<'_>, acting: &Both<NeedleSet>) -> Both<NeedleSet> {
    Both::from_fn(|bed| acting[bed] & moment.state.facing(moment.machine, bed.other(), acting[bed.other()]))
}

/// What mends it, where those needles strike each other. A needle that was empty before the row has most often been
/// emptied by a transfer and forgotten: it carries nothing else than a loop that was caught over it.
fn what_to_do(moment: &Moment<'_>, struck: &Both<NeedleSet>) -> String {
    let idle = Both::from_fn(|bed| struck[bed] - moment.state.loops.stitches(bed));
    let one_of_each = idle.front | moment.state.facing(moment.machine, Bed::Back, idle.back);
    if one_of_each != struck.front {
        return "Write `gaiting between` before the row, or move the row to before `gaiting opposite`; or let only one \
                needle of each pair work in it."
            .to_owned();
    }
    // A long list of single needles is no help.
    const MOST_RUNS: usize = 4;
    let out = match idle.iter().map(|(_, needles)| needles.runs().count()).sum() {
        0..=MOST_RUNS => format!("write `out of work {}` before the row", written(&idle)),
        _ => "put those out of work before the row".to_owned(),
    };
    format!(
        "One needle of each pair carried no stitch: {out}, or write `emptied go out of work` behind the transfer that \
         emptied it. If all shall knit, write `gaiting between` before the row."
    )
}

/// Whether an operation may bring the needles out of each other's way.
fn moves_apart(operation: &Operation) -> bool {
    use Operation as Is;
    matches!(
        operation,
        Is::Gaiting(_) | Is::InWork(_) | Is::OutOfWork(_) | Is::Hold(_) | Is::Release(_) | Is::Transfer { .. }
    )
}

fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    let mut lines = at(memory.last(What::Gaiting), "the gaiting is set here");
    if let (Seen::Done(moment), Some(row)) = (seen, seen.row()) {
        lines.extend(emptied_and_struck(memory, moment, row));
        let brought = brought_and_struck(memory, moment, row);
        lines.extend(
            brought.iter().flat_map(|(bed, needles)| who(memory, Deed::Brought, bed, *needles, "brought here")),
        );
    }
    lines
}

/// The needles that strike others that carry stitches too, and got theirs from the other bed.
fn brought_and_struck(memory: &Memory, moment: &Moment<'_>, row: &RowDone) -> Both<NeedleSet> {
    let struck = struck(moment, &Both::from_fn(|bed| row.acting(bed)));
    let both = Both::from_fn(|bed| {
        let across = struck[bed.other()] & moment.state.loops.stitches(bed.other());
        struck[bed] & moment.state.loops.stitches(bed) & moment.state.facing(moment.machine, bed.other(), across)
    });
    Both::from_fn(|bed| memory.who(Deed::Brought, bed, both[bed]).fold(NeedleSet::EMPTY, |all, (_, some)| all | some))
}

/// What to do where a transfer has put stitches face to face with others.
fn not_transferred(seen: Seen<'_>, memory: &Memory) -> Option<String> {
    let (Seen::Done(moment), row) = (seen, seen.row()?) else { return None };
    let brought = brought_and_struck(memory, moment, row);
    let [bed, both @ ..] = &Bed::BOTH.into_iter().filter(|&bed| !brought[bed].is_empty()).collect::<Vec<_>>()[..]
    else {
        return None;
    };
    if !both.is_empty() {
        return None;
    }
    let (bed, number) = (*bed, u64::from(brought[*bed].len()));
    let (stitches, them) = if number == 1 { ("stitch", "it") } else { ("stitches", "them") };
    Some(format!(
        "A transfer brought {} {stitches} to needles that face those of the {} bed, which carry stitches too. Leave {them} out of \
         that transfer; or knit the beds in turns, `row front knit` and then `row back knit`. Only where both shall knit in \
         one row, and no transfer comes before the gaiting is set back, write `gaiting between` before the row.",
        if number == 1 { "a".to_owned() } else { number.to_string() },
        bed.other()
    ))
}

/// The lines that emptied needles which strike others in that row, and carry nothing but a loop caught over them.
fn emptied_and_struck(memory: &Memory, moment: &Moment<'_>, row: &RowDone) -> Vec<Line> {
    let struck = struck(moment, &Both::from_fn(|bed| row.acting(bed)));
    let idle = |bed: Bed| struck[bed] - moment.state.loops.stitches(bed);
    Bed::BOTH.into_iter().flat_map(|bed| who(memory, Deed::Emptied, bed, idle(bed), "emptied here")).collect()
}

/// Not safe: perhaps only one needle of each pair was meant to work, or the needles out of work.
fn fix(span: Span, seen: Seen<'_>, _: &Memory) -> Option<Fix> {
    matches!(seen, Seen::Done(_)).then(|| line_before(span, "gaiting between"))
}

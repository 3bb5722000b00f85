//! From which earlier lines a finding follows: they are pointed at beside the line it is about.

use super::machine::facing_needles;
use super::memory::{Change, Deed, Memory};
use super::words::{count, on_bed};
use super::{PieceDone, Promised, Use};
use crate::beds::{Bed, Both, NeedleSet, Operation, Outcome, RowDone, RowSize};
use crate::finding::Finding;
use crate::plan::program::Promise;
use crate::play::Moment;
use crate::source::Span;

/// So many earlier lines are pointed at.
const MOST_LINES: usize = 3;

/// What a rule looked at when it found something.
#[derive(Debug, Clone, Copy)]
pub(super) enum Seen<'a> {
    /// An operation.
    Done(&'a Moment<'a>),
    /// A promise.
    Promise(&'a Promised<'a>),
    /// A repeat or a stitch.
    Use(&'a Use<'a>),
    /// The end of the piece.
    End(&'a PieceDone<'a>),
}

/// The finding with labels at the lines it follows from. `memory` knows what was done before what was seen.
pub(super) fn explained(mut finding: Finding, seen: Seen<'_>, memory: &Memory) -> Finding {
    let mut lines = lines(finding.rule.name, seen, memory);
    lines.retain(|(span, _)| *span != finding.at.span && finding.also.iter().all(|label| label.span != *span));
    let mut known: Vec<Span> = Vec::new();
    for (span, text) in lines {
        if known.len() < MOST_LINES && !known.contains(&span) {
            known.push(span);
            finding = finding.also(span, text);
        }
    }
    finding
}

fn lines(rule: &str, seen: Seen<'_>, memory: &Memory) -> Vec<(Span, String)> {
    let at = |span: Option<Span>, text: &str| span.map(|span| (span, text.to_owned())).into_iter().collect();
    match (rule, seen) {
        ("lost-stitch", Seen::Done(moment)) => {
            let Outcome::Carried(carried) = moment.outcome else { return Vec::new() };
            who(memory, Deed::PutOut, carried.to, carried.idle, "put out of work here")
        }
        ("unplanned-loop" | "adjacent-empties", Seen::Done(moment)) => {
            let Outcome::Row(row) = moment.outcome else { return Vec::new() };
            empty_since(memory, &row.caught)
        }
        ("facing-needles", Seen::Done(moment)) => {
            let mut lines: Vec<_> = at(memory.gaiting(), "the gaiting is set here");
            if let Outcome::Row(row) = moment.outcome {
                lines.extend(emptied_and_struck(memory, moment, row));
            }
            lines
        }
        ("there-and-back", Seen::Done(moment)) => {
            let Outcome::Carried(carried) = moment.outcome else { return Vec::new() };
            who(memory, Deed::Emptied, carried.to, carried.donors.shifted(carried.by), "emptied here")
        }
        ("not-opposite", _) => at(memory.gaiting(), "the gaiting is set here"),
        ("racking-range" | "no-way-back", _) => at(memory.racking(), "the beds are racked here last"),
        ("tight-transfer", Seen::Done(moment)) => {
            let Outcome::Carried(carried) = moment.outcome else { return Vec::new() };
            let Some(bed) = carried.ordinary_row else { return Vec::new() };
            at(memory.last_row(bed).map(|row| row.span), &format!("the last row on the {bed} bed"))
        }
        ("tubular-floats", Seen::Done(_)) => Bed::BOTH
            .into_iter()
            .filter_map(|bed| Some((memory.last_row(bed)?.span, "rows of the hem".to_owned())))
            .collect(),
        ("wrong-side", _) => match memory.free_pass() {
            Some(span) => at(Some(span), "a free pass takes the carriage across here"),
            None => kept(memory.side_kept().map(|(span, side)| (span, format!("carriage {side}")))),
        },
        ("cast-on-shares-a-loop", Seen::Done(moment)) => {
            let Outcome::Handled(handled) = moment.outcome else { return Vec::new() };
            set_out(memory, &handled.made)
        }
        ("hold-left-on", Seen::End(done)) => {
            let on = |bed| who(memory, Deed::Held, bed, done.state.held[bed], "put to hold here");
            Bed::BOTH.into_iter().flat_map(on).collect()
        }
        ("size-left-changed", Seen::Use(at)) => Bed::BOTH
            .into_iter()
            .filter(|&bed| at.before.sizes[bed] != at.after.sizes[bed])
            .filter_map(|bed| Some((memory.size(bed)?, "the size is changed here".to_owned())))
            .collect(),
        ("size-range", Seen::Done(moment)) => {
            let Operation::Row(row) = moment.operation else { return Vec::new() };
            Bed::BOTH
                .into_iter()
                .filter(|&bed| matches!(row.sizes[bed], Some(RowSize::By(_))))
                .filter_map(|bed| Some((memory.size(bed)?, "the size that it is counted from".to_owned())))
                .collect()
        }
        ("count-mismatch", Seen::Promise(promised)) => match *promised.promise {
            Promise::Stitches { front, back, .. } => changes(memory, Both { front, back }),
            Promise::Gaiting(_) => at(memory.gaiting(), "the gaiting is set here"),
            Promise::Racking(_) => at(memory.racking(), "the beds are racked here last"),
            Promise::Counter(_) => match memory.counter_kept() {
                Some((span, None)) => at(Some(span), "the counter is set back here"),
                promise => kept(promise.and_then(|(span, counter)| Some((span, format!("counter {}", counter?))))),
            },
            Promise::Carriage(_) => Vec::new(),
        },
        _ => Vec::new(),
    }
}

fn who(memory: &Memory, deed: Deed, bed: Bed, needles: NeedleSet, text: &str) -> Vec<(Span, String)> {
    memory.who(deed, bed, needles).map(|(span, needles)| (span, format!("{} {text}", on_bed(bed, needles)))).collect()
}

/// Since when those needles are empty: the lines that emptied them, or brought them into work and nothing more.
fn empty_since(memory: &Memory, caught: &Both<NeedleSet>) -> Vec<(Span, String)> {
    let mut lines = Vec::new();
    for (bed, &needles) in caught.iter() {
        let emptied = memory.who(Deed::Emptied, bed, needles).fold(NeedleSet::EMPTY, |all, (_, needles)| all | needles);
        lines.extend(who(memory, Deed::Emptied, bed, needles, "emptied here"));
        lines.extend(who(memory, Deed::BroughtIn, bed, needles - emptied, "brought into work here, empty"));
    }
    lines
}

/// The promise that was kept last.
fn kept(promise: Option<(Span, String)>) -> Vec<(Span, String)> {
    promise.map(|(span, it)| (span, format!("still as promised here: {it}"))).into_iter().collect()
}

/// The lines that emptied needles which strike others in that row, and carry nothing but a loop caught over them.
fn emptied_and_struck(memory: &Memory, moment: &Moment<'_>, row: &RowDone) -> Vec<(Span, String)> {
    let struck = facing_needles::struck(moment, &Both::from_fn(|bed| row.acting(bed)));
    let idle = |bed: Bed| struck[bed] - moment.state.loops.stitches(bed);
    Bed::BOTH.into_iter().flat_map(|bed| who(memory, Deed::Emptied, bed, idle(bed), "emptied here")).collect()
}

/// The lines that brought those needles into work.
fn set_out(memory: &Memory, needles: &Both<NeedleSet>) -> Vec<(Span, String)> {
    let set = |(bed, needles): (Bed, &NeedleSet)| memory.who(Deed::BroughtIn, bed, *needles);
    needles.iter().flat_map(set).map(|(span, _)| (span, "the needles are set here".to_owned())).collect()
}

/// The last lines that changed the number of stitches of the beds that are meant, without those that cancel each other.
fn changes(memory: &Memory, meant: Both<bool>) -> Vec<(Span, String)> {
    let text = |change: &Change| {
        let to = count(change.to, "stitch", "stitches");
        (change.span, format!("here the {} bed goes from {} to {to}", change.bed, change.from))
    };
    let mut changes: Vec<_> = memory.changes().filter(|change| meant[change.bed]).collect();
    // They would push out of sight the line from which it has been wrong.
    if changes.len() > MOST_LINES {
        for bed in Bed::BOTH {
            without_returns(&mut changes, bed);
        }
    }
    changes.into_iter().map(text).collect()
}

/// Takes out the changes of a bed that lead away from a number of stitches and back to it: none of them is why the
/// number is another now. The newest stand first.
fn without_returns(changes: &mut Vec<&Change>, bed: Bed) {
    let mut path: Vec<&Change> = Vec::new();
    for change in changes.iter().rev().copied().filter(|change| change.bed == bed) {
        // Of a line that is worked several times only the last time is known: where the numbers do not meet, others
        // lie between.
        let meets = |changes: &[&Change]| changes.windows(2).all(|pair| pair[0].to == pair[1].from);
        path.push(change);
        if let Some(left_at) = path.iter().rposition(|earlier| earlier.from == change.to)
            && meets(&path[left_at..])
        {
            path.truncate(left_at);
        }
    }
    changes.retain(|change| change.bed != bed || path.iter().any(|kept| std::ptr::eq(*kept, *change)));
}

//! From which earlier lines a finding follows: they are pointed at beside the line it is about.

use super::memory::{Deed, Memory};
use super::words::{count, on_bed};
use super::{PieceDone, Promised, Use};
use crate::beds::{Bed, Both, NeedleSet, Operation, Outcome, RowSize};
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
    let mut lines = lines(finding.rule, seen, memory);
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
        ("facing-needles" | "not-opposite", _) => at(memory.gaiting(), "the gaiting is set here"),
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
        ("wrong-side", Seen::Promise(_) | Seen::Done(_)) => {
            at(memory.free_pass(), "a free pass takes the carriage across here")
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
            Promise::Carriage(_) | Promise::Counter(_) => Vec::new(),
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

/// The last lines that changed the number of stitches of the beds that are meant.
fn changes(memory: &Memory, meant: Both<bool>) -> Vec<(Span, String)> {
    let text = |change: &super::memory::Change| {
        let to = count(change.to, "stitch", "stitches");
        (change.span, format!("here the {} bed goes from {} to {to}", change.bed, change.from))
    };
    memory.changes().filter(|change| meant[change.bed]).map(text).collect()
}

//! From which earlier lines a finding follows: they are pointed at beside the line it is about. Which they are stands
//! with the rule; here are the words that several rules use.

use super::memory::{Deed, Memory};
use super::{Seen, Watch};
use crate::beds::{Bed, Both, NeedleSet};
use crate::finding::Finding;
use crate::source::Span;
use crate::words::spans::on_bed;

/// So many earlier lines are pointed at.
pub(super) const MOST_LINES: usize = 3;

/// An earlier line, and what is to be said of it.
pub(crate) type Line = (Span, String);

/// The finding with labels at the lines it follows from. `memory` knows what was done before what was seen.
pub(super) fn explained(mut finding: Finding, watch: &Watch, seen: Seen<'_>, memory: &Memory) -> Finding {
    if let Some(mend) = watch.besides.advice.and_then(|advice| advice(seen, memory)) {
        finding.mend = mend;
    }
    let Some(cause) = watch.besides.cause else { return finding };
    let mut lines = cause(seen, memory);
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

/// The one line at which something was set, if any was.
pub(super) fn at(span: Option<Span>, text: &str) -> Vec<Line> {
    span.map(|span| (span, text.to_owned())).into_iter().collect()
}

/// The lines that did that to some of the needles as the last thing of its kind.
pub(super) fn who(memory: &Memory, deed: Deed, bed: Bed, needles: NeedleSet, text: &str) -> Vec<Line> {
    memory.who(deed, bed, needles).map(|(span, needles)| (span, format!("{} {text}", on_bed(bed, needles)))).collect()
}

/// Since when those needles are empty: the lines that emptied them, or brought them into work and nothing more.
pub(super) fn empty_since(memory: &Memory, caught: &Both<NeedleSet>) -> Vec<Line> {
    let mut lines = Vec::new();
    for (bed, &needles) in caught.iter() {
        let emptied = memory.who(Deed::Emptied, bed, needles).fold(NeedleSet::EMPTY, |all, (_, needles)| all | needles);
        lines.extend(who(memory, Deed::Emptied, bed, needles, "emptied here"));
        lines.extend(who(memory, Deed::BroughtIn, bed, needles - emptied, "brought into work here, empty"));
    }
    lines
}

/// The promise that was kept last.
pub(super) fn kept(promise: Option<Line>) -> Vec<Line> {
    promise.map(|(span, it)| (span, format!("still as promised here: {it}"))).into_iter().collect()
}

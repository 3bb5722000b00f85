//! The parts of a finding in words, for all who tell it.

use crate::clean;
use crate::finding::{Finding, Fix, Place};
use crate::source::{FileId, Sources};
use crate::words;

/// More second places than this are counted, not shown.
pub(super) const MOST_PLACES: usize = 6;

/// A place in words: `in piece "Scarf", row 12, pass 2 of 4`.
pub(super) fn place(place: &Place) -> String {
    let row = match place.row {
        0 => "before row 1".to_owned(),
        row => format!("row {row}"),
    };
    let pass = place.pass.map_or_else(String::new, |(number, of)| format!(", pass {number} of {of}"));
    let outer = place.outer.map_or_else(String::new, |(number, of)| format!(", in pass {number} of {of}"));
    format!("in piece \"{}\", {row}{pass}{outer}", place.piece)
}

/// How many second places are not shown; none where all are.
pub(super) fn more_places(finding: &Finding) -> Option<String> {
    let more = finding.also.len().checked_sub(MOST_PLACES).filter(|more| *more > 0)?;
    Some(words::count(more as u64, "more place", "more places"))
}

/// What a safe fix does, and the command that makes it: ``write `knit` (wale check --mend)``.
pub(super) fn safe_fix(sources: &Sources, finding: &Finding) -> Option<String> {
    let fix = finding.fix.as_ref().filter(|fix| fix.safe)?;
    Some(format!("{} (wale check --mend{})", fix.title, other_file(sources, fix)))
}

/// The name of the file that a fix changes, with a blank before it, where that is not the first of the pattern: only the
/// file that is asked for is mended.
fn other_file(sources: &Sources, fix: &Fix) -> String {
    match fix.edits.first().map(|edit| edit.span.file) {
        Some(file) if file != FileId::default() => {
            let name = clean::line(sources.get(file).name()).into_owned();
            if name.contains(' ') { format!(" \"{name}\"") } else { format!(" {name}") }
        }
        _ => String::new(),
    }
}

/// `only in size long`, `only in sizes short and long`; none where it holds for all.
pub(super) fn only_in(finding: &Finding) -> Option<String> {
    match finding.sizes.as_slice() {
        [] => None,
        [size] => Some(format!("only in size {size}")),
        sizes => Some(format!("only in sizes {}", words::list(sizes))),
    }
}

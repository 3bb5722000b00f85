//! Parts of what this room says: names shortened, listed, and the one that is nearest.

use crate::finding::Finding;
use crate::plan::rules;
use crate::source::Span;

/// A name in backticks each, with commas.
pub(super) fn listed(names: &[&str]) -> String {
    names.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
}

/// The known name that looks most like it.
pub(super) fn nearest<'n>(text: &str, known: &[&'n str]) -> Option<&'n str> {
    // Very long names cost much to compare and are no slips of the pen.
    const LONGEST: usize = 60;
    if text.len() > LONGEST {
        return None;
    }
    let short: Vec<&'n str> =
        known.iter().copied().filter(|name| name.len().abs_diff(text.len()) <= 4).take(200).collect();
    similar::get_close_matches(text, &short, 1, 0.6).first().copied()
}

/// The beginning of a text, for a message.
pub(super) fn clipped(text: &str) -> String {
    const MOST: usize = 48;
    let line = text.lines().next().unwrap_or_default().trim_end();
    if line.chars().count() <= MOST && line.len() == text.trim_end().len() {
        return line.to_owned();
    }
    format!("{}...", line.chars().take(MOST).collect::<String>().trim_end())
}

/// Something that may be said once was said again.
pub(super) fn twice(what: &str, again: Span, first: Span) -> Finding {
    rules::SAID_TWICE
        .finds(again, format!("{what} is given twice"))
        .also(first, "here it is the first time")
        .because("It would be left open which of the two counts.")
        .mend("Keep the one that is meant and take the other out.")
}

//! A comparison as a knitter reads it at the screen.

use super::form::{About, AtRow, Change, Comparison, Total, Verdict, Written};
use crate::tell::wrap::wrapped_to;
use crate::tell::{Ink, Screen};
use crate::words::{capital, list, times, total};

/// Changes that are shown of one sort; JSON has all of them.
const MOST_SHOWN: usize = 200;
/// Rows of a change that are named.
const MOST_ROWS: usize = 4;

/// The text of a comparison, broken at the width of the screen, with an end of line.
#[must_use]
pub fn text(comparison: &Comparison, screen: impl Into<Screen>) -> String {
    let mut page = Page { out: String::new(), screen: screen.into() };
    page.errors(comparison);
    page.verdict(comparison);
    for said in &comparison.left_out {
        page.line(0, None, said);
        page.out.push('\n');
    }
    page.changes(&comparison.knitting, comparison);
    if !comparison.words.is_empty() {
        if comparison.verdict == Verdict::Other {
            page.line(0, Some(Ink::Strong), "Written otherwise, and by itself no other work:");
            page.out.push('\n');
        }
        page.changes(&comparison.words, comparison);
    }
    page.totals(&comparison.totals);
    let kept = page.out.trim_end().len();
    page.out.truncate(kept);
    page.out.push('\n');
    page.out
}

struct Page {
    out: String,
    screen: Screen,
}

impl Page {
    fn line(&mut self, indent: usize, ink: Option<Ink>, text: &str) {
        let wrapped = wrapped_to(self.screen.width(), text, indent, indent + 2);
        self.out.push_str(&" ".repeat(indent));
        self.out.push_str(&self.screen.inked(ink, &wrapped));
        self.out.push('\n');
    }

    /// Errors first: what they hide cannot be compared.
    fn errors(&mut self, comparison: &Comparison) {
        let mut said = false;
        for pattern in [&comparison.old, &comparison.new] {
            if pattern.errors > 0 {
                let errors =
                    if pattern.errors == 1 { "1 error".to_owned() } else { format!("{} errors", pattern.errors) };
                let text = format!("{} has {errors}. `wale check` says which.", pattern.file);
                self.line(0, Some(Ink::Strong), &text);
                said = true;
            }
        }
        if said {
            self.line(0, None, "What is understood is compared; lines that are not are compared as they are written.");
            self.out.push('\n');
        }
    }

    fn verdict(&mut self, comparison: &Comparison) {
        let (old, new) = (&comparison.old.file, &comparison.new.file);
        let errors = comparison.old.errors + comparison.new.errors > 0;
        let same = if errors { "The same knitting, as far as it is understood" } else { "The same knitting" };
        let text = match (comparison.verdict, comparison.words.len()) {
            (Verdict::Same, 0) => format!("{same}: {old} and {new}."),
            (Verdict::Same, 1) => format!("{same}: {old} and {new}. This is written otherwise:"),
            (Verdict::Same, _) => format!("{same}: {old} and {new}. These are written otherwise:"),
            (Verdict::Other, _) => {
                let count = comparison.knitting.len() as u64;
                let changes = if count == 1 { "1 change".to_owned() } else { format!("{} changes", total(count)) };
                format!("{changes} in what is knitted, from {old} to {new}:")
            }
        };
        self.line(0, Some(Ink::Strong), &text);
        self.out.push('\n');
    }

    fn changes(&mut self, changes: &[Change], comparison: &Comparison) {
        let mut under: Option<&str> = None;
        for change in changes.iter().take(MOST_SHOWN) {
            let piece = change.piece.as_deref().filter(|_| change.about != About::Piece);
            if piece.is_some() && piece != under {
                self.line(0, Some(Ink::Strong), &format!("Piece \"{}\"", piece.unwrap_or_default()));
            }
            under = piece;
            self.change(change, comparison, if piece.is_some() { 2 } else { 0 });
        }
        if changes.len() > MOST_SHOWN {
            let left = changes.len() - MOST_SHOWN;
            let all = if comparison.left_out.is_empty() { "all of them" } else { "all that were found" };
            self.line(0, None, &format!("And {} more. `--format json` has {all}.", total(left as u64)));
            self.out.push('\n');
        }
    }

    fn change(&mut self, change: &Change, comparison: &Comparison, indent: usize) {
        let mut place: Vec<String> = Vec::new();
        place.extend(rows(&change.rows));
        let (old, new) = (change.old.as_ref(), change.new.as_ref());
        place.extend(lines(old, new, comparison));
        place.extend(within(change));
        let what = if place.is_empty() {
            capital(&change.what)
        } else {
            format!("{}: {}", capital(&place.join(", ")), change.what)
        };
        let mut text = format!("{what}.");
        if !change.sizes.is_empty() {
            text.push_str(&format!(" Only in {}.", sizes(&change.sizes)));
        }
        if !change.other_numbers_in.is_empty() {
            text.push_str(&format!(
                " In {} it is the same, with other needles or numbers.",
                sizes(&change.other_numbers_in)
            ));
        }
        self.line(indent, None, &text);
        let same = old.map(|old| &old.text) == new.map(|new| &new.text);
        for (written, label, ink) in [(old, "before", Some(Ink::Old)), (new, "now", Some(Ink::New))] {
            let Some(written) = written.filter(|_| !same) else { continue };
            for (number, line) in written.text.iter().enumerate() {
                let label = if number == 0 { label } else { "" };
                self.line(indent + 4, ink, &format!("{label:8}{line}"));
            }
        }
        self.out.push('\n');
    }

    fn totals(&mut self, totals: &[Total]) {
        if totals.is_empty() {
            return;
        }
        self.line(0, Some(Ink::Strong), "In all:");
        for one in totals {
            let size = one.size.as_ref().map_or_else(String::new, |size| format!(", size `{size}`"));
            let text = format!(
                "Piece \"{}\"{size}: {} {} instead of {}.",
                one.piece,
                total(one.new),
                one.what.words(),
                total(one.old)
            );
            self.line(2, None, &text);
        }
    }
}

/// `size `long``, `sizes `long` and `wide``.
fn sizes(names: &[String]) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    format!("{} {}", if names.len() == 1 { "size" } else { "sizes" }, list(&quoted))
}

/// `row 7`, `after row 5`, `row 534 (short) and row 710 (long)`; with the row that it was, if that is another.
fn rows(rows: &[AtRow]) -> Option<String> {
    let said = |at: &AtRow| {
        let where_is = |row: u64| match (at.after, row) {
            (true, 0) => "before row 1".to_owned(),
            (true, row) => format!("after row {row}"),
            (false, row) => format!("row {row}"),
        };
        match (at.old, at.new) {
            (Some(old), Some(new)) if old != new => Some(format!("{} ({old} before)", where_is(new))),
            (old, new) => new.or(old).map(where_is),
        }
    };
    let mut named: Vec<(String, Vec<&str>)> = Vec::new();
    for at in rows {
        let Some(text) = said(at) else { continue };
        let size = at.size.as_deref();
        match named.iter_mut().find(|(known, _)| *known == text) {
            Some((_, sizes)) => sizes.extend(size),
            None => named.push((text, size.into_iter().collect())),
        }
    }
    let one = named.len() == 1;
    let left = named.len().saturating_sub(MOST_ROWS);
    let mut texts: Vec<String> = named
        .iter()
        .take(MOST_ROWS)
        .map(
            |(text, sizes)| {
                if one || sizes.is_empty() { text.clone() } else { format!("{text} in size {}", sizes.join(", ")) }
            },
        )
        .collect();
    if left > 0 {
        texts.push(format!("{left} more places"));
    }
    (!texts.is_empty()).then(|| list(&texts))
}

/// `line 15`, `line 15, which was line 14`, with the file where it is not the pattern itself.
fn lines(old: Option<&Written>, new: Option<&Written>, comparison: &Comparison) -> Option<String> {
    let said = |written: &Written, main: &str| {
        if written.file == main {
            format!("line {}", written.line)
        } else {
            format!("line {} of {}", written.line, written.file)
        }
    };
    let before = old.map(|old| said(old, &comparison.old.file));
    let after = new.map(|new| said(new, &comparison.new.file));
    match (before, after) {
        (Some(before), Some(after)) if before == after => Some(after),
        (Some(before), Some(after)) => Some(format!("{after} ({before} before)")),
        (Some(before), None) => Some(format!("{before} before")),
        (None, after) => after,
    }
}

/// `in `half-cardigan`, worked 264 times`.
fn within(change: &Change) -> Vec<String> {
    let often = |repeat: &super::form::InRepeat| match repeat.times.as_slice() {
        [only] => times(*only),
        many => format!("{} times", many.iter().map(|times| total(*times)).collect::<Vec<_>>().join(" or ")),
    };
    let said = |repeat: &super::form::InRepeat| match &repeat.stitch {
        Some(stitch) => format!("in `{stitch}`, worked {}", often(repeat)),
        None => format!("repeated {}", often(repeat)),
    };
    change.repeats.iter().rev().map(said).collect()
}

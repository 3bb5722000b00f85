//! Notes at the ends of lines: which rows a line makes, and how many stitches there are then.

use super::desk::{Desk, Reading};
use super::knit::{self, Rows};
use super::text::Lines;
use crate::play::Manner;
use crate::source::Span;
use crate::syntax::tree::Statement;
use crate::tell::clean;
use gen_lsp_types::{InlayHint, Label, Position, Tooltip};
use std::collections::BTreeMap;

/// What is known of the rows of one statement: of each size and piece that does it.
type Known<'r> = BTreeMap<Span, Vec<(Option<&'r str>, &'r str, Rows)>>;

/// The notes of the lines from one to another, counted from 0, both included.
pub(super) fn hints(desk: &Desk<'_>, name: &str, first: u32, last: u32) -> Vec<InlayHint> {
    let mut readings = desk.readings_with(name);
    // A file that only defines things has no rows of its own, but a pattern that uses it has.
    let with_rows =
        readings.iter().position(|reading| reading.programs().iter().any(|program| !program.pieces.is_empty()));
    let Some(reading) = with_rows.map(|at| readings.swap_remove(at)) else { return Vec::new() };
    let Some((file, tree)) = reading.file(name) else { return Vec::new() };
    let known = known(&reading, desk.wanted);
    let lines = Lines::new(reading.sources.get(file).text(), desk.encoding);
    let mut hints = Vec::new();
    let mut open: Vec<&Statement> = tree.statements.iter().rev().collect();
    while let Some(statement) = open.pop() {
        open.extend(statement.body.iter().flat_map(|body| body.statements.iter().rev()));
        let line = lines.line_of(statement.span.end as usize) as u32;
        if let Some(rows) = known.get(&statement.span)
            && (first..=last).contains(&line)
        {
            hints.push(hint(rows, at_the_end(&lines, line)));
        }
    }
    hints
}

fn known<'r>(reading: &'r Reading, wanted: &dyn Fn() -> bool) -> Known<'r> {
    let mut known = Known::new();
    for program in reading.programs() {
        for piece in &program.pieces {
            for (span, rows) in knit::rows(piece, Manner::TELL, wanted) {
                known.entry(span).or_default().push((program.size.as_deref(), &piece.title, rows));
            }
        }
    }
    known
}

/// Behind the last word of a line.
fn at_the_end(lines: &Lines<'_>, line: u32) -> Position {
    let (start, text) = lines.line(line as usize);
    lines.position(start + text.trim_end().len())
}

fn hint(known: &[(Option<&str>, &str, Rows)], position: Position) -> InlayHint {
    // One at least, or it would not be there.
    let said: Vec<String> = known.iter().map(|(_, _, rows)| in_words(rows)).collect();
    let pieces = known.iter().any(|(_, title, _)| known.first().is_some_and(|first| first.1 != *title));
    let differ = said.iter().any(|words| Some(words) != said.first());
    let full = |(at, (size, title, _)): (usize, &(Option<&str>, &str, Rows))| {
        let size = size.map(|size| format!("size {}, ", clean::line(size))).unwrap_or_default();
        format!("{size}piece \"{}\": {}", clean::line(title), said.get(at).map_or("", String::as_str))
    };
    let mut label = said.first().cloned().unwrap_or_default();
    if differ && let Some((size, title, _)) = known.first() {
        let size = size.map(|size| format!("{}: ", clean::line(size))).unwrap_or_default();
        let of = if pieces { format!(" of \"{}\"", clean::line(title)) } else { String::new() };
        label = format!("{size}{label}{of}");
    }
    let all: Vec<String> = known.iter().enumerate().map(full).collect();
    InlayHint {
        position,
        label: Label::String(label),
        kind: None,
        text_edits: None,
        tooltip: Some(Tooltip::String(all.join("\n"))),
        padding_left: Some(true),
        padding_right: None,
        data: None,
    }
}

/// `row 5: 60 front, 59 back`, `rows 6 to 533: 60 front, 59 back`.
fn in_words(rows: &Rows) -> String {
    let Rows { first, last, stitches: (front, back) } = rows;
    let which = if first == last { format!("row {first}") } else { format!("rows {first} to {last}") };
    format!("{which}: {front} front, {back} back")
}

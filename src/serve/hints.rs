//! Notes at the ends of lines: which rows a line makes, and how many stitches there are then.

use super::desk::Desk;
use super::knit::Part;
use super::text::Lines;
use crate::clean;
use crate::knitted::Rows;
use crate::words;
use gen_lsp_types::{InlayHint, Label, Position, Tooltip};

/// The notes of the lines from one to another, counted from 0, both included.
pub(super) fn hints(desk: &Desk<'_>, name: &str, first: u32, last: u32) -> Vec<InlayHint> {
    let mut readings = desk.readings_with(name);
    // A file that only defines things has no rows of its own, but a pattern that uses it has.
    let with_rows =
        readings.iter().position(|reading| reading.programs().iter().any(|program| !program.pieces.is_empty()));
    let Some(reading) = with_rows.map(|at| readings.swap_remove(at)) else { return Vec::new() };
    let Some((file, tree)) = reading.file(name) else { return Vec::new() };
    let Some(known) = reading.rows(desk.wanted) else { return Vec::new() };
    let lines = Lines::new(reading.sources().get(file).text(), desk.encoding);
    let mut hints = Vec::new();
    for statement in tree.each() {
        let line = lines.line_of(statement.span.end as usize) as u32;
        if let Some(rows) = known.get(&statement.span)
            && (first..=last).contains(&line)
        {
            hints.push(hint(rows, at_the_end(&lines, line)));
        }
    }
    hints
}

/// Behind the last word of a line.
fn at_the_end(lines: &Lines<'_>, line: u32) -> Position {
    let (start, text) = lines.line(line as usize);
    lines.position(start + text.trim_end().len())
}

fn hint(known: &[Part], position: Position) -> InlayHint {
    let said: Vec<String> = known.iter().map(|part| in_words(&part.rows)).collect();
    let first = known.first();
    let pieces = known.iter().any(|part| first.is_some_and(|first| first.piece != part.piece));
    let differ = said.iter().any(|words| Some(words) != said.first());
    let size = |part: &Part, end: &str| {
        part.size.as_ref().map(|size| format!("{}{end}", clean::line(size))).unwrap_or_default()
    };
    let full = |(part, words): (&Part, &String)| {
        let size = size(part, ", ");
        format!("{size}piece \"{}\": {words}", clean::line(&part.piece))
    };
    // One at least, or it would not be there.
    let mut label = said.first().cloned().unwrap_or_default();
    if differ && let Some(first) = first {
        let of = if pieces { format!(" of \"{}\"", clean::line(&first.piece)) } else { String::new() };
        label = format!("{}{label}{of}", size(first, ": "));
    }
    let all: Vec<String> = known.iter().zip(&said).map(full).collect();
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
    let Rows { first, last, stitches } = rows;
    let which = words::rows(*first, *last);
    format!("{which}: {} front, {} back", stitches.front, stitches.back)
}

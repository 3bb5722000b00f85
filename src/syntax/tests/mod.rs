//! Tests of the room.

mod lines;
mod recovery;
mod statements;

use super::tree::{Block, Statement, Tree};
use crate::finding::Finding;
use crate::source::{FileId, Span};

/// Reads a text as file 0.
fn read(text: &str) -> (Tree, Vec<Finding>) {
    super::read(FileId(0), text)
}

/// Line and column (in characters), from 1, of a span's start.
fn place(text: &str, span: Span) -> (usize, usize) {
    let before = &text[..span.start as usize];
    let line_start = before.rfind('\n').map_or(0, |at| at + 1);
    (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1)
}

/// Rule, line and column of every finding.
fn places(text: &str) -> Vec<(&'static str, usize, usize)> {
    let (_, findings) = read(text);
    findings
        .iter()
        .map(|finding| {
            let (line, column) = place(text, finding.at.span);
            (finding.rule.name, line, column)
        })
        .collect()
}

/// The debug text of something without its spans and wrappers, so that people can read it.
fn plain(debug: &str) -> String {
    let mut text = debug.to_owned();
    while let Some(start) = text.find(", span: Span {") {
        let end = start + text[start..].find('}').expect("a span ends");
        text.replace_range(start..=end, "");
    }
    for (from, to) in [
        ("Number { units: ", "Decimal { "),
        (", decimals: 0", ""),
        (", decimals: ", "e-"),
        ("Name { text: ", "Name { "),
        ("Text { text: ", "Text { "),
        ("Quantity { values: ", "Quantity { "),
        (", unit: None", ""),
        (", rest: []", ""),
        ("Expression { first: ", "Expression { "),
        ("Operand { kind: ", "Operand { "),
        ("RowPart { kind: ", "RowPart { "),
        ("Promise { kind: ", "Promise { "),
    ] {
        text = text.replace(from, to);
    }
    for wrapper in ["Decimal", "Name", "Text", "Quantity", "Expression", "Operand", "RowPart", "Promise"] {
        text = unwrap(&text, wrapper);
    }
    text
}

/// Takes `wrapper { ... }` away around what it holds.
fn unwrap(text: &str, wrapper: &str) -> String {
    let mut text = text.to_owned();
    let open = format!("{wrapper} {{ ");
    let mut from = 0;
    while let Some(at) = text[from..].find(&open).map(|at| at + from) {
        if at > 0 && text.as_bytes()[at - 1].is_ascii_alphanumeric() {
            from = at + 1;
            continue;
        }
        let mut depth = 0;
        let mut end = None;
        for (offset, byte) in text.bytes().enumerate().skip(at) {
            match byte {
                b'{' => depth += 1,
                b'}' => {
                    depth -= 1;
                    if depth == 0 {
                        end = Some(offset);
                        break;
                    }
                }
                _ => {}
            }
        }
        let Some(end) = end else { break };
        let inner = text[at + open.len()..end].trim().to_owned();
        text.replace_range(at..=end, &inner);
    }
    text
}

/// Every span of a tree with the span it must lie in.
fn spans(tree: &Tree, length: usize) -> Vec<(Span, Span)> {
    let whole = Span { file: FileId(0), start: 0, end: length as u32 };
    let mut found = Vec::new();
    let mut open: Vec<(&[Statement], Span)> = vec![(&tree.statements, whole)];
    while let Some((statements, parent)) = open.pop() {
        for statement in statements {
            found.push((statement.span, parent));
            for inner in debug_spans(&format!("{:?}", statement.kind)) {
                found.push((inner, statement.span));
            }
            if let Some(Block { open: brace, close, statements }) = &statement.body {
                let end = close.map_or(parent.end, |close| close.end);
                found.push((*brace, parent));
                open.push((statements, Span { file: FileId(0), start: brace.start, end }));
            }
        }
    }
    found
}

/// Every span in a debug text.
fn debug_spans(debug: &str) -> Vec<Span> {
    let number = |text: &str, key: &str| {
        let at = text.find(key)? + key.len();
        let digits: String = text[at..].chars().take_while(char::is_ascii_digit).collect();
        digits.parse().ok()
    };
    debug
        .split("Span { ")
        .skip(1)
        .filter_map(|text| Some(Span { file: FileId(0), start: number(text, "start: ")?, end: number(text, "end: ")? }))
        .collect()
}

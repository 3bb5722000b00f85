//! What is said of the word and of the line under the pointer.

use super::desk::Desk;
use super::reading::Reading;
use super::text::Lines;
use super::{knit, words};
use crate::clean;
use crate::names::{Sort, Thing};
use crate::rules;
use crate::source::Span;
use crate::syntax::tree::{Kind, Statement};
use crate::write::at::{self, Standing};
use gen_lsp_types::{Contents, Hover, MarkupContent, MarkupKind};

/// Lines of a definition that are shown.
const MOST_LINES: usize = 16;

/// Everything there is to say of a place, in Markdown.
pub(super) fn hover(desk: &Desk<'_>, name: &str, at: usize) -> Option<Hover> {
    let reading = desk.reading(name)?;
    let (file, tree) = reading.file(name)?;
    let text = reading.sources().get(file).text();
    let lines = Lines::new(text, desk.encoding);
    let line_index = lines.line_of(at);
    let (start, line) = lines.line(line_index);
    let column = (at - start.min(at)).min(line.len());
    let inside = Inside::of(line, column);
    if inside == Inside::Comment {
        return None;
    }
    let statement = innermost(&tree.statements, &lines, line_index);
    let mut parts = Vec::new();
    let mut span = None;
    if inside == Inside::Words {
        parts.push(None);
    } else {
        let word = word_at(line, column);
        let place = start + word.start..start + word.end;
        let word = line.get(word).unwrap_or_default();
        span = (!word.is_empty()).then_some(place);
        let about = about_name(desk, name, at).or_else(|| about_rule(statement, at));
        parts.push(about.or_else(|| words::explained(word, line.trim_start())));
    }
    parts.push(statement.and_then(|statement| about_line(desk, name, statement)));
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    if parts.is_empty() {
        return None;
    }
    let value = parts.join("\n\n---\n\n");
    Some(Hover {
        contents: Contents::MarkupContent(MarkupContent { kind: MarkupKind::Markdown, value }),
        range: span.map(|span| lines.range(span)),
    })
}

/// Where in a line a place is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Inside {
    Plain,
    /// In quotation marks.
    Words,
    Comment,
}

impl Inside {
    pub(super) fn of(line: &str, column: usize) -> Self {
        let mut quoted = false;
        for (at, byte) in line.bytes().enumerate() {
            if at >= column {
                break;
            }
            match byte {
                b'"' => quoted = !quoted,
                b'#' if !quoted => return Self::Comment,
                _ => {}
            }
        }
        if quoted { Self::Words } else { Self::Plain }
    }
}

/// The word around a byte of a line; empty where there is none.
pub(super) fn word_at(line: &str, at: usize) -> std::ops::Range<usize> {
    let is_part = |character: char| character.is_alphanumeric() || character == '-';
    let (before, behind) = (line.get(..at).unwrap_or(line), line.get(at..).unwrap_or_default());
    let start = before.trim_end_matches(is_part).len();
    start..at + behind.find(|character| !is_part(character)).unwrap_or(behind.len())
}

/// The statement that begins in a line, the innermost where there are several.
fn innermost<'s>(statements: &'s [Statement], lines: &Lines<'_>, line: usize) -> Option<&'s Statement> {
    statements.iter().find_map(|statement| {
        let here = || (lines.line_of(statement.span.start as usize) == line).then_some(statement);
        innermost(statement.inner(), lines, line).or_else(here)
    })
}

fn about_name(desk: &Desk<'_>, name: &str, at: usize) -> Option<String> {
    desk.readings_with(name).iter().find_map(|reading| {
        let (file, _) = reading.file(name)?;
        let thing = reading.names().at(file, at)?.thing?;
        Some(defined(reading, reading.names().things.get(thing)?, name))
    })
}

/// What a name means, with its value and the lines that define it.
fn defined(reading: &Reading, thing: &Thing, here: &str) -> String {
    let source = reading.sources().get(thing.declared.file);
    let place = if source.name() == here {
        format!("line {}", source.position(thing.declared.start).line)
    } else {
        format!("line {} of {}", source.position(thing.declared.start).line, clean::line(short(source.name())))
    };
    let owner = thing.of.and_then(|stitch| reading.names().things.get(stitch));
    let what = match owner {
        Some(stitch) => format!("what the stitch **{}** asks for", stitch.name),
        None => format!("a {}", thing.sort.word()),
    };
    let mut text = format!("**{}** is {what}, given in {place}.", thing.name);
    if thing.sort == Sort::Value {
        let named = reading.values().iter().find(|value| *value.name == *thing.name);
        for worked in named.iter().flat_map(|value| value.values.iter().flatten()) {
            let of = worked.size.as_ref().map_or_else(|| "It is".to_owned(), |size| format!("In size {size} it is"));
            text.push_str(&format!("\n\n{of} {}.", worked.printed.as_deref().unwrap_or(worked.kind)));
        }
    }
    let whole = reading.names().statement(thing, reading.trees()).map_or(thing.declared, Statement::whole);
    let words = clean::block(reading.sources().words(whole)).into_owned();
    let mut shown: Vec<&str> = words.lines().take(MOST_LINES).collect();
    if words.lines().count() > MOST_LINES {
        shown.push("    # and so on");
    }
    text.push_str(&format!("\n\n```wale\n{}\n```", shown.join("\n")));
    text
}

/// The last part of a path.
pub(super) fn short(name: &str) -> &str {
    name.rsplit(['/', '\\']).next().unwrap_or(name)
}

fn about_rule(statement: Option<&Statement>, at: usize) -> Option<String> {
    let Kind::Allow(name, _) = &statement?.kind else { return None };
    let here = (name.span.start as usize..=name.span.end as usize).contains(&at);
    here.then(|| rules::find(&name.text)).flatten().map(words::rule)
}

/// How the beds stand after a line, in the first reading, size and piece that do it.
fn about_line(desk: &Desk<'_>, name: &str, statement: &Statement) -> Option<String> {
    for reading in desk.readings_with(name) {
        let (file, _) = reading.file(name)?;
        let span = Span { file, ..statement.span };
        let programs = reading.programs();
        for program in programs {
            for piece in &program.pieces {
                if let Some(after) = knit::after(piece, span, desk.wanted) {
                    let standing = at::standing(program, piece, &after.state);
                    let mut heading = format!("**After this line**, in piece \"{}\"", clean::line(&piece.title));
                    if let Some(size) = &program.size {
                        heading.push_str(&format!(", size {}", clean::line(size)));
                        if programs.len() > 1 {
                            heading.push_str(" (the other sizes may differ)");
                        }
                    }
                    for (of, stitch) in &after.repeats {
                        let what = stitch.as_ref().map_or("the repeat".to_owned(), |name| format!("the stitch {name}"));
                        heading.push_str(&format!(", in the first of {of} passes of {what}"));
                    }
                    return Some(in_markdown(&heading, &standing));
                }
                if !(desk.wanted)() {
                    return None;
                }
            }
        }
    }
    None
}

fn in_markdown(heading: &str, standing: &Standing) -> String {
    let mut text = format!("{heading}:\n");
    for (name, value) in &standing.settings {
        text.push_str(&format!("\n- {name}: {}", clean::line(value)));
    }
    for sentence in &standing.waiting {
        text.push_str(&format!("\n- {}", clean::line(sentence)));
    }
    if !standing.picture.is_empty() {
        text.push_str(&format!(
            "\n\n```text\n{}```\n\n{}",
            standing.picture.join("\n"),
            standing.marks.replace('*', "\\*")
        ));
    }
    text
}

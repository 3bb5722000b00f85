//! A finding as the renderer draws it, kept in lines until it is clear how wide they get: the renderer itself knows of no
//! width, and writes what is to be said of a place on one line.

use super::screen::{Ink, Screen};
use super::wrap::{columns, wrapped_to};
use codespan_reporting::diagnostic::{LabelStyle, Severity};
use codespan_reporting::term::WriteStyle;
use std::io;

/// Fewer columns than these are no room for a sentence beside its mark.
const LEAST_ROOM: usize = 20;
/// Where a sentence begins, behind the border, when there is no room for it beside its mark.
const BEHIND_BORDER: usize = 5;
/// The border of the frame, and all that goes on downward from a line to the next.
const BORDER: char = '│';

/// Some text in one ink.
#[derive(Debug, Clone)]
struct Run {
    ink: Option<Ink>,
    text: String,
}

type Line = Vec<Run>;

/// Lines of text with their ink.
#[derive(Debug, Default)]
pub(super) struct Snippet {
    lines: Vec<Line>,
    /// Whether the last line goes on.
    is_open: bool,
    ink: Option<Ink>,
}

impl Snippet {
    /// The text, with the sentences beside the marks, `labels`, broken where a line gets too long for the screen.
    pub(super) fn text(self, labels: &[&str], screen: Screen) -> String {
        let mut out = String::new();
        for line in self.lines.into_iter().flat_map(|line| fitted(line, labels, screen.width())) {
            // The frame leaves blanks at the end of empty lines; they are noise in a file or a comparison.
            let ends = line.iter().rposition(|run| !run.text.trim_end().is_empty()).map_or(0, |last| last + 1);
            for (at, run) in line.iter().take(ends).enumerate() {
                let text = if at + 1 == ends { run.text.trim_end() } else { &run.text };
                out.push_str(&screen.inked(run.ink, text));
            }
            out.push('\n');
        }
        out
    }

    fn push(&mut self, text: &str) {
        for (number, part) in text.split('\n').enumerate() {
            if number > 0 {
                self.is_open = false;
            }
            if number > 0 && part.is_empty() {
                continue;
            }
            if !self.is_open {
                self.lines.push(Line::new());
                self.is_open = true;
            }
            if let Some(line) = self.lines.last_mut() {
                match line.last_mut().filter(|run| run.ink == self.ink) {
                    Some(run) => run.text.push_str(part),
                    None => line.push(Run { ink: self.ink, text: part.to_owned() }),
                }
            }
        }
    }
}

/// The line, in as many as it takes if it ends in one of the labels and is too long.
fn fitted(line: Line, labels: &[&str], width: usize) -> Vec<Line> {
    let text: String = line.iter().map(|run| run.text.as_str()).collect();
    if columns(&text) <= width || !text.trim_start().starts_with(BORDER) {
        return vec![line];
    }
    let ends = |label: &&&str| !label.is_empty() && text.ends_with(**label);
    let Some(label) = labels.iter().filter(ends).max_by_key(|label| label.len()) else { return vec![line] };
    let before = text.len() - label.len();
    let ink = line.last().and_then(|run| run.ink);
    let mut marks = cut(line, before);
    let beside = columns(&text[..before]);
    // The columns of the frame are one each.
    let border = text.chars().position(|letter| letter == BORDER).unwrap_or(0);
    let has_room = beside + LEAST_ROOM <= width;
    let column = if has_room { beside } else { border + BEHIND_BORDER };
    let goes_on: String = text[..before]
        .chars()
        .map(|letter| if letter == BORDER { letter } else { ' ' })
        .chain(std::iter::repeat(' '))
        .take(column)
        .collect();
    let words = wrapped_to(width - column, label, 0, 0);
    let mut sentences = words.lines().map(|words| Run { ink, text: words.to_owned() });
    let mut lines = Vec::new();
    if has_room {
        marks.extend(sentences.next());
    }
    lines.push(marks);
    lines.extend(sentences.map(|sentence| vec![Run { ink: None, text: goes_on.clone() }, sentence]));
    lines
}

/// The first bytes of a line.
fn cut(line: Line, mut bytes: usize) -> Line {
    let mut kept = Line::new();
    for mut run in line {
        run.text.truncate(bytes);
        bytes -= run.text.len();
        kept.push(run);
        if bytes == 0 {
            break;
        }
    }
    kept
}

impl io::Write for Snippet {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.push(&String::from_utf8_lossy(bytes));
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl WriteStyle for Snippet {
    fn set_header(&mut self, severity: Severity) -> io::Result<()> {
        self.ink = Some(ink_of(severity));
        Ok(())
    }

    fn set_header_message(&mut self) -> io::Result<()> {
        self.ink = Some(Ink::Strong);
        Ok(())
    }

    fn set_line_number(&mut self) -> io::Result<()> {
        self.reset()
    }

    fn set_note_bullet(&mut self) -> io::Result<()> {
        self.reset()
    }

    fn set_source_border(&mut self) -> io::Result<()> {
        self.reset()
    }

    fn set_label(&mut self, severity: Severity, label_style: LabelStyle) -> io::Result<()> {
        self.ink = (label_style == LabelStyle::Primary).then(|| ink_of(severity));
        Ok(())
    }

    fn reset(&mut self) -> io::Result<()> {
        self.ink = None;
        Ok(())
    }
}

const fn ink_of(severity: Severity) -> Ink {
    match severity {
        Severity::Bug | Severity::Error => Ink::Error,
        Severity::Warning | Severity::Note | Severity::Help => Ink::Warning,
    }
}

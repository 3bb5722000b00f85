//! The paper that a sheet is written on: lines of at most [`WIDTH`] characters, with hanging indents, and never two
//! blank lines in a row.

use crate::clean;
use std::io::{self, Write};

/// The most characters on a line: it fits a narrow page in large type, and any terminal.
pub(super) const WIDTH: usize = 78;

/// Where a sheet goes.
pub(super) struct Paper<'w> {
    out: &'w mut dyn Write,
    gap: bool,
    begun: bool,
}

impl<'w> Paper<'w> {
    pub(super) fn new(out: &'w mut dyn Write) -> Self {
        Self { out, gap: false, begun: false }
    }

    /// A blank line before whatever comes next.
    pub(super) const fn gap(&mut self) {
        self.gap = true;
    }

    /// One sentence or several, `indent` characters from the left; lines that follow from the same text stand two
    /// further in, so that the ear and the eye find the next text.
    pub(super) fn say(&mut self, indent: usize, text: &str) -> io::Result<()> {
        self.hang(indent, indent + 2, text)
    }

    /// The same without the step to the right.
    pub(super) fn flat(&mut self, indent: usize, text: &str) -> io::Result<()> {
        self.hang(indent, indent, text)
    }

    fn hang(&mut self, indent: usize, hanging: usize, text: &str) -> io::Result<()> {
        for line in wrapped(text, indent, hanging) {
            self.drawn(&line)?;
        }
        Ok(())
    }

    /// A line that is used as it is.
    pub(super) fn drawn(&mut self, line: &str) -> io::Result<()> {
        if std::mem::take(&mut self.gap) && self.begun {
            writeln!(self.out)?;
        }
        self.begun = true;
        writeln!(self.out, "{}", line.trim_end())
    }

    /// A line across the paper.
    pub(super) fn rule(&mut self, mark: &str) -> io::Result<()> {
        self.drawn(&mark.repeat(WIDTH))
    }
}

/// Breaks a text into lines. Line breaks of the text stay, and so do blanks in a row; what could move the cursor of a
/// terminal is shown as a mark.
fn wrapped(text: &str, indent: usize, hanging: usize) -> Vec<String> {
    let text = clean::block(text);
    let mut lines: Vec<String> = Vec::new();
    for (number, paragraph) in text.trim_end().split('\n').enumerate() {
        let mut line = " ".repeat(if number == 0 { indent } else { hanging });
        let mut used = line.len();
        let mut fresh = true;
        for word in paragraph.split(' ') {
            for (part, piece) in pieces(word, WIDTH - hanging.max(indent).min(WIDTH / 2)).into_iter().enumerate() {
                let length = piece.chars().count();
                let blank = usize::from(!fresh && part == 0);
                if !fresh && used + blank + length > WIDTH {
                    lines.push(std::mem::replace(&mut line, " ".repeat(hanging)));
                    used = hanging;
                } else if blank == 1 {
                    line.push(' ');
                    used += 1;
                }
                line.push_str(&piece);
                used += length;
                fresh = false;
            }
        }
        lines.push(line);
    }
    lines
}

/// A word, cut where it is longer than a line.
fn pieces(word: &str, longest: usize) -> Vec<String> {
    let letters: Vec<char> = word.chars().collect();
    if letters.len() <= longest {
        return vec![word.to_owned()];
    }
    letters.chunks(longest).map(|part| part.iter().collect()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_wider_than_the_paper() {
        for text in ["a word and another ".repeat(30), "x".repeat(500), format!("short {}", "é".repeat(90))] {
            for indent in [0, 4, 30] {
                let lines = wrapped(&text, indent, indent + 2);
                assert!(lines.iter().all(|line| line.chars().count() <= WIDTH), "{lines:?}");
                let plain = |text: &str| text.chars().filter(|letter| *letter != ' ').collect::<String>();
                assert_eq!(plain(&lines.concat()), plain(&text));
            }
        }
    }

    #[test]
    fn blank_lines_do_not_pile_up_and_nothing_is_sent_to_the_terminal() {
        let mut out = Vec::new();
        let mut paper = Paper::new(&mut out);
        paper.gap();
        paper.say(0, "one").expect("memory");
        paper.gap();
        paper.gap();
        paper.say(2, "two \u{1b}[2J").expect("memory");
        assert_eq!(String::from_utf8(out).expect("text"), "one\n\n  two ␛[2J\n");
    }
}

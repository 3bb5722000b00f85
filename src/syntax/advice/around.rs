//! What is known around a line that cannot be read, as far as it can be seen from the words of the lines beside it.

use super::super::forms::Home;
use super::super::words::is_word_character;
use std::collections::HashSet;

/// So many lines are looked at, so that a text full of lines that cannot be read takes no longer than it must.
const MOST_LINES: usize = 2_000;

/// Where a line stands.
#[derive(Debug)]
pub(in super::super) struct Around<'t> {
    /// What the block around it holds; the top of a pattern is a block too. None where the line that opens the block cannot
    /// be read itself.
    pub(in super::super) home: Option<Home>,
    /// Whether it stands in a block.
    pub(in super::super) inside: bool,
    /// Whether a `{` follows it.
    pub(in super::super) opens: bool,
    /// The names of the pattern.
    pub(in super::super) declared: &'t HashSet<&'t str>,
    /// The whole text, and the byte of it where the line starts.
    pub(in super::super) text: &'t str,
    pub(in super::super) at: usize,
    /// The line.
    pub(in super::super) line: &'t str,
}

/// The first words of lines after which stitches may be on a bed that they name.
const BRINGS: [&str; 5] = ["in work", "cast on", "new loops", "pick up", "row"];

impl<'t> Around<'t> {
    /// The line itself, without its brace and comment.
    pub(super) const fn line(&self) -> &'t str {
        self.line
    }

    /// The bed that the stitches are on, as the lines before this one in its piece or stitch name it; what the lines
    /// after it name where none do before.
    pub(super) fn bed(&self) -> Option<&'static str> {
        let before = self.text.get(..self.at)?;
        let (mut front, mut back) = (false, false);
        let mut lines: Vec<&str> = Vec::new();
        let mut head = "";
        for line in before.lines().rev().take(MOST_LINES) {
            if ["piece ", "stitch ", "}"].iter().any(|first| line.trim_end().starts_with(first))
                || line.trim_start().starts_with("stitch ") && line.contains(" on ")
            {
                head = line;
                break;
            }
            lines.push(line);
        }
        for (words, front_too, back_too) in
            [(" on front", true, false), (" on back", false, true), (" on both", true, true)]
        {
            if head.starts_with("stitch ") && head.contains(words) {
                (front, back) = (front_too, back_too);
            }
        }
        for line in lines.iter().rev() {
            Self::follow(line, &mut front, &mut back);
        }
        if !front && !back {
            let after = self.text.get(self.at..).unwrap_or_default();
            let after = after.lines().skip(1).take(MOST_LINES).take_while(|line| !line.starts_with('}'));
            for line in after {
                Self::follow(line, &mut front, &mut back);
                if front || back {
                    break;
                }
            }
        }
        match (front, back) {
            (true, true) => Some("both"),
            (true, false) => Some("front"),
            (false, true) => Some("back"),
            (false, false) => None,
        }
    }

    fn follow(line: &str, front: &mut bool, back: &mut bool) {
        let line = line.split('#').next().unwrap_or_default().trim();
        let has = |word: &str| line.split(|letter: char| !is_word_character(letter)).any(|part| part == word);
        if BRINGS.iter().any(|first| line.starts_with(first)) {
            // A bed that is only brought into work to take stitches holds none yet.
            let knits = !line.starts_with("row") || !line.contains("slip");
            let there = line.starts_with("in work") && (*front || *back);
            if knits && !there {
                *front |= has("front") || has("both");
                *back |= has("back") || has("both");
                if line.starts_with("cast on") && !has("front") && !has("back") {
                    (*front, *back) = (*front || !*back, *back);
                }
            }
        } else if let Some(rest) = line.strip_prefix("transfer ") {
            // All stitches of a bed; of some of them the others stay.
            if rest.starts_with("back to front") {
                (*front, *back) = (true, false);
            } else if rest.starts_with("front to back") {
                (*front, *back) = (false, true);
            } else {
                (*front, *back) = (true, true);
            }
        } else if line == "out of work back" {
            *back = false;
        } else if line == "out of work front" {
            *front = false;
        }
    }

    /// The bed, or the word for one that only the knitter knows.
    pub(in super::super) fn bed_or_blank(&self) -> &'static str {
        self.bed().unwrap_or("BED")
    }

    /// Whether a row of the piece stands before the line.
    pub(super) fn has_rows(&self) -> bool {
        let before = self.text.get(..self.at).unwrap_or_default();
        let piece = before.lines().rev().take(MOST_LINES).take_while(|line| !line.starts_with("piece "));
        piece
            .into_iter()
            .any(|line| ["row ", "rows ", "tubular ", "work "].iter().any(|first| line.trim_start().starts_with(first)))
    }

    /// The names that the pattern gives to things of a sort, found by the first word of their lines.
    pub(super) fn is_name_of(&self, sort: &str, name: &str) -> bool {
        let gives = |line: &str| {
            let rest = line.trim_start().strip_prefix(sort).and_then(|rest| rest.strip_prefix(' '));
            rest.is_some_and(|rest| {
                rest.trim_start().split(|letter: char| !is_word_character(letter)).next() == Some(name)
            })
        };
        self.declared.contains(name) && self.text.lines().any(gives)
    }
}

//! An example of a rule as a whole pattern.

use super::forms::{Home, by_first_words};
use crate::catalogue::Rule;

impl Rule {
    const SMALL_MACHINE: &'static str = "machine small {\n    needles 20 each side\n    pitch 4.9 mm\n}\n";

    /// An example as a whole pattern: the inside of a piece is put into one, and a small machine and a yarn are added
    /// below where the example has none of its own.
    #[must_use]
    pub fn whole(example: &str) -> String {
        let has = |word: &str| example.lines().any(|line| line.trim_start().starts_with(word));
        let mut text = if example.lines().any(is_top_level) {
            format!("{example}\n")
        } else {
            format!("piece \"Example\" {{\n{example}\n}}\n")
        };
        if !has("machine ") {
            text.push_str(Self::SMALL_MACHINE);
        }
        if !has("yarn ") {
            text.push_str("yarn slate {}\n");
        }
        text
    }
}

/// Whether a line of an example stands at the top of a pattern and not in a piece.
fn is_top_level(line: &str) -> bool {
    by_first_words(line).is_some_and(|form| form.home == Some(Home::Top))
}

//! Breaks long sentences into lines.

use crate::clean;
use unicode_width::UnicodeWidthStr;

/// A word longer than this is shortened in its middle.
const LONGEST_WORD: usize = 160;

/// The columns that a text takes on a screen; letters of some alphabets take two.
pub(super) fn columns(text: &str) -> usize {
    text.width()
}

/// Cleans `text` and breaks it at blanks, so that no line is wider than `width`. `first` columns of the first line are taken already; every other line starts with
/// `indent` blanks. Line breaks of the text stay, and so do blanks in a row, because they mean something in a tile.
pub(crate) fn wrapped_to(width: usize, text: &str, first: usize, indent: usize) -> String {
    let text = clean::block(text);
    let mut out = String::new();
    for (number, paragraph) in text.trim_end().split('\n').enumerate() {
        if number > 0 {
            out.push('\n');
            out.push_str(&" ".repeat(indent));
        }
        let mut used = if number == 0 { first } else { indent };
        let mut at_start = true;
        for word in paragraph.trim_end().split(' ') {
            let word = shortened(word);
            let length = columns(&word);
            if !at_start && used + 1 + length > width {
                out.truncate(out.trim_end_matches(' ').len());
                out.push('\n');
                out.push_str(&" ".repeat(indent));
                used = indent;
            } else if !at_start {
                out.push(' ');
                used += 1;
            }
            out.push_str(&word);
            used += length;
            at_start = false;
        }
    }
    out
}

/// A word with its middle left out where it is far too long to be read.
fn shortened(word: &str) -> std::borrow::Cow<'_, str> {
    let length = word.chars().count();
    if length <= LONGEST_WORD {
        return word.into();
    }
    let head: String = word.chars().take(60).collect();
    let tail: String = word.chars().skip(length - 20).collect();
    format!("{head}…{tail}").into()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tell::Screen;

    fn wrapped(text: &str, first: usize, indent: usize) -> String {
        wrapped_to(Screen::WIDEST, text, first, indent)
    }

    #[test]
    fn no_line_is_wider_than_the_width() {
        let text = "The racking handle turns one step at a time. ".repeat(12);
        let out = wrapped(&text, 20, 4);
        for (number, line) in out.lines().enumerate() {
            let used = line.chars().count() + if number == 0 { 20 } else { 0 };
            assert!(used <= Screen::WIDEST, "{used} characters: {line}");
            assert!(number == 0 || line.starts_with("    The") || line.starts_with("    "), "{line}");
        }
        assert_eq!(out.split_whitespace().collect::<Vec<_>>(), text.split_whitespace().collect::<Vec<_>>());
    }

    #[test]
    fn blanks_in_a_tile_and_line_breaks_stay() {
        assert_eq!(wrapped("the tile \"|  .\"\nis short", 0, 2), "the tile \"|  .\"\n  is short");
    }

    #[test]
    fn a_word_without_end_loses_its_middle() {
        let out = wrapped(&"x".repeat(100_000), 0, 0);
        assert!(out.chars().count() < 100, "{}", out.len());
        assert!(out.contains('…'));
    }
}

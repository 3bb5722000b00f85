//! Places in a text as an editor counts them, and the edits that it sends.
//!
//! The protocol counts lines from 0 and ends them at `\n`, `\r\n` and `\r`; within a line it counts the units of the
//! encoding that was agreed on. Everything else in this crate counts bytes.

use crate::finding::Edit;
use crate::source::line_starts;
use gen_lsp_types::{Position, Range, TextEdit};

/// What a column counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Encoding {
    /// Bytes.
    Utf8,
    /// Units of 16 bits; a letter outside the basic plane is two of them.
    #[default]
    Utf16,
}

impl Encoding {
    fn length(self, character: char) -> usize {
        match self {
            Self::Utf8 => character.len_utf8(),
            Self::Utf16 => character.len_utf16(),
        }
    }
}

/// A text with its lines, as an editor counts them.
#[derive(Debug)]
pub(super) struct Lines<'t> {
    text: &'t str,
    encoding: Encoding,
    /// The first byte of each line.
    starts: Vec<usize>,
}

impl<'t> Lines<'t> {
    pub(super) fn new(text: &'t str, encoding: Encoding) -> Self {
        Self { text, encoding, starts: line_starts(text).collect() }
    }

    /// How many lines there are, one at least.
    pub(super) fn count(&self) -> usize {
        self.starts.len()
    }

    /// The line, from 0, that holds a byte.
    pub(super) fn line_of(&self, at: usize) -> usize {
        self.starts.partition_point(|&start| start <= at).saturating_sub(1)
    }

    /// The first byte of a line, and the line without what ends it. A line past the end is empty and stands at the end.
    pub(super) fn line(&self, index: usize) -> (usize, &'t str) {
        let end = self.text.len();
        let start = self.starts.get(index).copied().unwrap_or(end);
        let next = self.starts.get(index + 1).copied().unwrap_or(end);
        (start, self.text.get(start..next).unwrap_or_default().trim_end_matches(['\r', '\n']))
    }

    /// The byte at a position. A position past the end of a line is that end, one past the last line is the end of the
    /// text, and one inside a character is where the character begins.
    pub(super) fn offset(&self, position: Position) -> usize {
        let (start, line) = self.line(position.line as usize);
        let mut left = position.character as usize;
        let mut at = start;
        for character in line.chars() {
            let length = self.encoding.length(character);
            if left < length {
                break;
            }
            left -= length;
            at += character.len_utf8();
        }
        at
    }

    /// The position of a byte; of one past the end, that of the end.
    pub(super) fn position(&self, at: usize) -> Position {
        let index = self.line_of(at.min(self.text.len()));
        let (start, line) = self.line(index);
        let before = line.char_indices().take_while(|(place, character)| start + place + character.len_utf8() <= at);
        let character: usize = before.map(|(_, character)| self.encoding.length(character)).sum();
        Position { line: index as u32, character: character as u32 }
    }

    /// The positions of both ends of a byte range.
    pub(super) fn range(&self, range: std::ops::Range<usize>) -> Range {
        Range { start: self.position(range.start), end: self.position(range.end) }
    }

    /// An edit as the editor makes it.
    pub(super) fn edit(&self, edit: &Edit) -> TextEdit {
        TextEdit { range: self.range(edit.span.range()), new_text: edit.text.clone() }
    }
}

/// Puts `new` in the place of a range. Of a range whose ends are the wrong way round they are exchanged.
pub(super) fn change(text: &mut String, range: Range, new: &str, encoding: Encoding) {
    let lines = Lines::new(text, encoding);
    let (one, other) = (lines.offset(range.start), lines.offset(range.end));
    text.replace_range(one.min(other)..one.max(other), new);
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn at(line: u32, character: u32) -> Position {
        Position { line, character }
    }

    // The letter 𝄞 is outside the basic plane: 4 bytes, 2 units of 16 bits. é is 2 bytes and 1 unit.
    const TEXT: &str = "a𝄞b\r\né𝄞𝄞x\rlast\n";

    #[test]
    fn columns_are_counted_in_the_agreed_units() {
        let (eight, sixteen) = (Lines::new(TEXT, Encoding::Utf8), Lines::new(TEXT, Encoding::Utf16));
        let b = TEXT.find('b').expect("it is there");
        let x = TEXT.find('x').expect("it is there");
        assert_eq!((eight.position(b), sixteen.position(b)), (at(0, 5), at(0, 3)));
        assert_eq!((eight.position(x), sixteen.position(x)), (at(1, 10), at(1, 5)));
        assert_eq!((eight.offset(at(1, 10)), sixteen.offset(at(1, 5))), (x, x));
        assert_eq!(sixteen.count(), 4);
    }

    #[test]
    fn a_place_that_is_not_there_is_the_nearest_before_it() {
        let lines = Lines::new(TEXT, Encoding::Utf16);
        // In the middle of the letter.
        assert_eq!(lines.offset(at(0, 2)), 1);
        // Past the end of a line, and of the text.
        assert_eq!(lines.offset(at(0, 99)), TEXT.find('\r').expect("it is there"));
        assert_eq!(lines.offset(at(99, 0)), TEXT.len());
        assert_eq!(lines.offset(at(u32::MAX, u32::MAX)), TEXT.len());
        assert_eq!(lines.position(usize::MAX), at(3, 0));
        assert_eq!(Lines::new("", Encoding::Utf8).position(0), at(0, 0));
    }

    #[test]
    fn edits_are_made_where_they_are_meant() {
        for (encoding, column) in [(Encoding::Utf8, 5), (Encoding::Utf16, 3)] {
            let mut text = TEXT.to_owned();
            change(&mut text, Range { start: at(0, column), end: at(1, 0) }, "-", encoding);
            assert_eq!(text, "a𝄞-é𝄞𝄞x\rlast\n");
            // The wrong way round.
            change(&mut text, Range { start: at(9, 9), end: at(0, 0) }, "", encoding);
            assert_eq!(text, "");
        }
    }

    proptest! {
        #[test]
        fn lines_are_counted_as_in_findings(text in "[a𝄞é\r\n ]{0,40}") {
            let mut sources = crate::source::Sources::default();
            let file = sources.add("a.wale", text.as_str());
            let lines = Lines::new(&text, Encoding::Utf16);
            for (at, _) in text.char_indices() {
                let line = sources.get(file).position(at as u32).line;
                prop_assert_eq!(lines.position(at).line + 1, line);
            }
        }

        #[test]
        fn there_and_back(text in "[a𝄞é\r\n ]{0,40}", sixteen: bool) {
            let encoding = if sixteen { Encoding::Utf16 } else { Encoding::Utf8 };
            let lines = Lines::new(&text, encoding);
            for (at, _) in text.char_indices() {
                // Between the two characters that end a line together there is no position.
                if at == 0 || &text.as_bytes()[at - 1..=at] != b"\r\n" {
                    prop_assert_eq!(lines.offset(lines.position(at)), at);
                }
            }
        }

        #[test]
        fn no_position_is_a_danger(text in "[a𝄞é\r\n ]{0,20}", line: u32, character: u32, l in 0u32..9, c in 0u32..9) {
            for encoding in [Encoding::Utf8, Encoding::Utf16] {
                for position in [at(line, character), at(l, c)] {
                    let offset = Lines::new(&text, encoding).offset(position);
                    prop_assert!(text.is_char_boundary(offset));
                }
            }
        }
    }
}

//! Slips of the pen of which it is certain what was meant, so that they can be mended without asking.
//!
//! The measure is strict, because a guess that is wrong costs a piece: only words of the language are put right, never
//! names, numbers or units, for 120 cm and 120 m read as well as each other; at its place nothing else of the language may be like the word; and the whole line must read afterwards. So a
//! sentence that was never meant as an instruction is left alone.

use super::reach::{LONGEST_WORD, cutoff, farthest, nearest, reads, word_at, words_there};

use super::piece::Piece;
use super::{unit, words};
use crate::finding::{Edit, Fix};
use crate::source::Span;
use std::collections::BTreeSet;
use std::ops::Range;

/// More slips than this in one line are no slips.
const MOST_SLIPS: usize = 6;

/// The fix of a line whose first slip is the word at `span`, for which `meant` was perhaps meant: all slips of the line
/// if every one is certain, and only this one, to be looked at, if not.
pub(super) fn fix(piece: Piece<'_>, start: u32, line: &str, span: Span, meant: &str) -> Fix {
    let certain = certain(line).filter(|slips| slips.first().is_some_and(|(_, word)| word == meant));
    let Some(slips) = certain else { return Fix::new(format!("write `{meant}`"), span, meant) };
    let words: Vec<String> = slips.iter().map(|(_, word)| format!("`{word}`")).collect();
    let edit = |(range, text): (Range<usize>, String)| {
        Edit::new(piece.span(start + range.start as u32, start + range.end as u32), text)
    };
    Fix { title: format!("write {}", words.join(", ")), edits: slips.into_iter().map(edit).collect(), safe: true }
}

/// The slips of a line in their order, each with what it should be; none when one is not certain.
fn certain(line: &str) -> Option<Vec<(Range<usize>, String)>> {
    let mut mended = line.to_owned();
    let mut slips = Vec::new();
    // How much longer the mended text is than the line, up to the last slip.
    let mut longer = 0_isize;
    let mut reached = 0;
    while !reads(&mended) {
        let (at, expected) = farthest(&mended);
        let range = word_at(&mended, at);
        if slips.len() == MOST_SLIPS || range.start < reached {
            return None;
        }
        let word = mended.get(range.clone())?;
        let meant = meant(word, &words_there(&mended, range.start, &expected))?;
        if unit::chooses(&mended, range.start, word, meant) {
            return None;
        }
        let original = |at: usize| at.checked_add_signed(-longer);
        slips.push((original(range.start)?..original(range.end)?, meant.to_owned()));
        reached = range.start + meant.len();
        longer += meant.len() as isize - range.len() as isize;
        mended.replace_range(range, meant);
    }
    Some(slips)
}

/// The one word of the language that can have been meant, of those that may stand there.
fn meant<'w>(word: &str, there: &[&'w str]) -> Option<&'w str> {
    // A word that is right elsewhere may stand where something before it is missing.
    if word.len() > LONGEST_WORD || words::is_needle(word) || words::is_keyword(word) {
        return None;
    }
    let there: BTreeSet<&'w str> = there.iter().copied().collect();
    let there: Vec<&'w str> = there.into_iter().collect();
    if let Some(same) = there.iter().find(|known| known.eq_ignore_ascii_case(word)) {
        return (*same != word).then_some(*same);
    }
    let small = word.to_lowercase();
    let near = nearest(&small, &there)?;
    // With a second word as near as that it could be either.
    let alike = similar::get_close_matches(small.as_str(), &there, 2, cutoff(small.chars().count()));
    (alike == [near]).then_some(near)
}

#[cfg(test)]
mod tests {
    use super::certain;

    fn mended(line: &str) -> Option<String> {
        let mut text = line.to_owned();
        for (range, word) in certain(line)?.into_iter().rev() {
            text.replace_range(range, &word);
        }
        Some(text)
    }

    #[test]
    fn what_is_certain_is_put_right() {
        for (line, right) in [
            ("row front knitt", "row front knit"),
            ("Row Front Knit", "row front knit"),
            ("rwo frnt knit, bakc tuck", "row front knit, back tuck"),
            ("trasfer back to front, joning", "transfer back to front, joining"),
            ("count 2/15 nm", "count 2/15 Nm"),
            ("gaiting oposite", "gaiting opposite"),
        ] {
            assert_eq!(mended(line).as_deref(), Some(right), "{line}");
        }
    }

    #[test]
    fn what_could_be_two_things_is_left_alone() {
        for line in [
            // No instruction, even where a word of it is near to one.
            "raw material comes from the mooring",
            "Knit to the end and turn",
            // Names and needles are the knitter's own.
            "work halfCardigan 3 times",
            "row front knit on X3",
            // The second slip is not certain.
            "rwo front zzzz",
            // Near to two words.
            "rowss 4 front knit",
            // The number before it is missing.
            "let holes = every over L8-R8",
            // Units: the piece would be a hundred times as long, or a tenth.
            "let length = 120 mc",
            "let length = 120 (160) mn",
            "let length = 120 mk",
            "let length = 120 ms",
            "let length = 120 mx",
            "work rib for 30 cn",
            "supply 200 gk",
            "count 2/15 txe",
            "count 30 dtx",
            "work rib for 20 rosw",
            "expect 60 stitchs front",
            "",
        ] {
            assert_eq!(mended(line), None, "{line}");
        }
    }
}

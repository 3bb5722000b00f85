//! How far a line can be read, what could stand where reading stops, and which words are near to the one that does.

use super::expected::{Expected, expectation};
use super::grammar::{Grammar, Rule};
use super::words::{SAMPLES, UNITS, is_word_character};
use pest::Parser as _;
use pest::error::{ErrorVariant, InputLocation};
use std::ops::Range;

/// The longest word that is compared with the language's words.
pub(super) const LONGEST_WORD: usize = 32;
/// The longest word that is printed in a message.
const LONGEST_SHOWN: usize = 40;
/// How many things a message lists that might have stood there.
const MOST_EXPECTED: usize = 4;
/// In longer lines no changes are tried.
const LONGEST_TRIED: usize = 200;

/// Whether it costs little to try changes of the line.
pub(super) const fn is_short(line: &str) -> bool {
    line.len() <= LONGEST_TRIED
}

/// Whether a line reads from end to end.
pub(super) fn reads(line: &str) -> bool {
    Grammar::parse(Rule::line, line).is_ok()
}

/// How far the line can be read, and what could have stood there.
pub(super) fn farthest(line: &str) -> (usize, Vec<Rule>) {
    // With a blank behind the last word, what is missing is the word after it.
    let (at, expected) = farthest_in(line, &format!("{line} "));
    let before = line.get(..at).unwrap_or_default();
    let start = before.trim_end_matches(is_word_character).len();
    if start == 0 || start == at || !line.get(at..).unwrap_or_default().starts_with(is_word_character) {
        return (at, expected);
    }
    // It stopped in the middle of a word, `knitt`: what could have stood in the place of the whole word?
    let cut = line.get(..start).unwrap_or_default();
    farthest_in(line, &format!("{cut}\u{1}"))
}

/// How far the beginning of a line can be read, and what could stand there.
pub(super) fn farthest_at(before: &str) -> (usize, Vec<Rule>) {
    // No word has this character in it, so reading stops there if it comes that far.
    match Grammar::parse(Rule::line, &format!("{before}\u{1}")) {
        Ok(_) => (before.len(), Vec::new()),
        Err(error) => {
            let at = match error.location {
                InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
            };
            match error.variant {
                ErrorVariant::ParsingError { positives, .. } => (at.min(before.len()), positives),
                ErrorVariant::CustomError { .. } => (at.min(before.len()), Vec::new()),
            }
        }
    }
}

fn farthest_in(line: &str, read: &str) -> (usize, Vec<Rule>) {
    let Err(error) = Grammar::parse(Rule::line, read) else { return (0, Vec::new()) };
    let at = match error.location {
        InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
    };
    let expected = match error.variant {
        ErrorVariant::ParsingError { positives, .. } => positives,
        ErrorVariant::CustomError { .. } => Vec::new(),
    };
    let first = first_word(line);
    if at < first.end && SAMPLES.iter().any(|(known, _)| line.get(first.clone()) == Some(known)) {
        // The first word is right, and directly behind it stands something that has no name.
        let behind = line.get(first.end..).unwrap_or_default();
        return (first.end + behind.len() - behind.trim_start().len(), Vec::new());
    }
    (at.min(line.len()), expected)
}

pub(super) fn first_word(line: &str) -> Range<usize> {
    0..line.find(|character| !is_word_character(character)).unwrap_or(line.len())
}

/// The word around a byte: all of it, also when the byte is in its middle; a single sign if no word is there, and
/// nothing at the end of the line.
pub(super) fn word_at(line: &str, at: usize) -> Range<usize> {
    let (before, behind) = (line.get(..at).unwrap_or(line), line.get(at..).unwrap_or_default());
    let length = behind.find(|character| !is_word_character(character)).unwrap_or(behind.len());
    if length > 0 {
        return before.trim_end_matches(is_word_character).len()..at + length;
    }
    at..at + behind.chars().next().map_or(0, char::len_utf8)
}

pub(super) fn shown(word: &str) -> String {
    if word.chars().count() <= LONGEST_SHOWN {
        return format!("`{word}`");
    }
    let head: String = word.chars().take(LONGEST_SHOWN).collect();
    format!("`{head}...`")
}

/// The first words that a line may begin with.
fn first_words() -> impl Iterator<Item = &'static str> {
    SAMPLES.iter().map(|(word, _)| *word)
}

/// The words that may stand at the place.
pub(super) fn words_there(line: &str, word_start: usize, expected: &[Rule]) -> Vec<&'static str> {
    if word_start == 0 {
        return first_words().collect();
    }
    let there = expected.iter().filter_map(|rule| expectation(*rule)).flat_map(Expected::words);
    // A number is read together with its unit, so that the grammar does not say that one could have stood there.
    let units = if behind_number(line, word_start) { UNITS } else { &[] };
    let mut words: Vec<&str> = Vec::new();
    for word in there.chain(units.iter().copied()) {
        if !words.contains(&word) {
            words.push(word);
        }
    }
    words
}

/// Whether the word that begins there stands behind a number, which may have others for other sizes in brackets.
pub(super) fn behind_number(line: &str, word_start: usize) -> bool {
    let before = line.get(..word_start).unwrap_or_default().trim_end();
    let before = match before.strip_suffix(')') {
        Some(inside) => inside.rsplit_once('(').map_or("", |(before, _)| before.trim_end()),
        None => before,
    };
    let number = before.rsplit(|character| !(is_word_character(character) || character == '.')).next();
    number.is_some_and(|number| number.starts_with(|first: char| first.is_ascii_digit()))
}

/// Whether the grammar reads that word as a name.
pub(super) fn is_name(word: &str) -> bool {
    Grammar::parse(Rule::name, word).is_ok_and(|read| read.as_str().len() == word.len())
}

/// Whether the line can be read past the word at `place` when that is written in its stead.
pub(super) fn goes_on(line: &str, place: &Range<usize>, instead: &str) -> bool {
    let mut mended = line.to_owned();
    mended.replace_range(place.clone(), instead);
    reads(&mended) || farthest(&mended).0 >= place.start + instead.len()
}

/// How like each other two words must be, from 0 to 1, for a word of that many letters.
pub(super) const fn cutoff(length: usize) -> f32 {
    if length <= 4 { 0.66 } else { 0.72 }
}

/// The known word that is truly near: few letters differ, and it begins alike or has the same letters.
pub(super) fn nearest<'w>(word: &str, known: &[&'w str]) -> Option<&'w str> {
    let length = word.chars().count();
    if !(2..=LONGEST_WORD).contains(&length) {
        return None;
    }
    let cutoff = cutoff(length);
    let letters = |word: &str| {
        let mut letters: Vec<char> = word.chars().collect();
        letters.sort_unstable();
        letters
    };
    similar::get_close_matches(word, known, 3, cutoff).into_iter().find(|near| {
        // In a short word one letter is much: it must begin alike or have its letters in another order.
        let alike = length > 4 || near.chars().next() == word.chars().next() || letters(near) == letters(word);
        // `unhold` is no slip for `hold`, but its very opposite.
        let opposite = word.strip_prefix("un").is_some_and(|rest| rest == *near);
        *near != word && alike && !opposite && near.chars().count().abs_diff(length) <= 2
    })
}

/// `Behind `row front`` for the beginning of a sentence.
pub(super) fn behind(line: &str, at: usize) -> String {
    let before = line.get(..at).unwrap_or_default().trim_end();
    // All of the line where it is short: three words of it can begin in the middle of an instruction.
    let words: Vec<&str> = before.split_whitespace().collect();
    let whole = words.join(" ");
    let tail = if whole.len() > LONGEST_SHOWN { words[words.len().saturating_sub(3)..].join(" ") } else { whole };
    if tail.is_empty() || tail.len() > LONGEST_SHOWN { "Here".to_owned() } else { format!("Behind `{tail}`") }
}

/// What may stand there, in friendly order: `a bed, a comma or the end of the line`.
pub(super) fn list(expected: &[Rule]) -> Option<String> {
    let mut known: Vec<(u8, &str)> = Vec::new();
    for Expected { order, called: text, .. } in expected.iter().filter_map(|rule| expectation(*rule)) {
        if !known.iter().any(|(_, other)| *other == text) {
            known.push((order, text));
        }
    }
    known.sort_by_key(|(order, _)| *order);
    let more = known.len() > MOST_EXPECTED;
    known.truncate(MOST_EXPECTED);
    let texts: Vec<&str> = known.into_iter().map(|(_, text)| text).collect();
    let (last, first) = texts.split_last()?;
    Some(match (first.is_empty(), more) {
        (true, _) => (*last).to_owned(),
        (false, false) => format!("{} or {last}", first.join(", ")),
        (false, true) => format!("{}, {last} or the like", first.join(", ")),
    })
}

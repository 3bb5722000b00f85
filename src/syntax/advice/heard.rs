//! The words of a line as they are heard: small letters, numbers as numbers, needles as needles, and no marks between.

use super::super::words::{is_needle, is_small_needle};
use std::cell::Cell;

/// The words of a line, of which those that were understood are ticked off.
#[derive(Debug)]
pub(super) struct Heard {
    words: Vec<(String, Cell<bool>)>,
}

const NUMBERS: &[(&str, u64)] = &[
    ("a-dozen", 12),
    ("eight", 8),
    ("eleven", 11),
    ("fifteen", 15),
    ("fifty", 50),
    ("five", 5),
    ("forty", 40),
    ("four", 4),
    ("hundred", 100),
    ("nine", 9),
    ("one", 1),
    ("six", 6),
    ("seven", 7),
    ("sixty", 60),
    ("ten", 10),
    ("thirty", 30),
    ("three", 3),
    ("twelve", 12),
    ("twenty", 20),
    ("two", 2),
];

/// Words that say nothing that a line of the language would have to say.
const EMPTY: &[&str] = &[
    "a", "again", "all", "an", "and", "at", "bed", "beds", "by", "for", "from", "in", "it", "needle", "needles", "now",
    "of", "on", "please", "st", "stitch", "stitches", "sts", "the", "then", "to", "using", "with",
];

impl Heard {
    /// The words of a line.
    pub(super) fn new(line: &str) -> Self {
        let mut words: Vec<String> = Vec::new();
        let parts = line.split(|letter: char| letter.is_whitespace() || ",;:()=".contains(letter));
        for part in
            parts.map(|part| part.trim_matches(['.', '!', '"', '\''])).filter(|part| !part.is_empty() && *part != "-")
        {
            let small = part.to_lowercase();
            let number = NUMBERS.iter().find(|(name, _)| *name == small).map(|(_, number)| number.to_string());
            if is_small_needle(&small) && !small.starts_with(|first: char| first.is_ascii_digit()) {
                words.push(small.to_uppercase());
            } else if let Some(number) = number {
                words.push(number);
            } else if let Some((count, unit)) = glued(&small) {
                words.extend([count, unit]);
            } else {
                words.push(small);
            }
        }
        Self { words: words.into_iter().map(|word| (word, Cell::new(false))).collect() }
    }

    /// Forgets what was understood.
    pub(super) fn begin(&self) -> &Self {
        self.words.iter().for_each(|(_, used)| used.set(false));
        self
    }

    fn left(&self) -> impl Iterator<Item = (usize, &str)> {
        self.words.iter().enumerate().filter(|(_, (_, used))| !used.get()).map(|(at, (word, _))| (at, word.as_str()))
    }

    fn tick(&self, from: usize, count: usize) {
        self.words.iter().skip(from).take(count).for_each(|(_, used)| used.set(true));
    }

    fn word(&self, at: usize) -> &str {
        self.words.get(at).filter(|(_, used)| !used.get()).map_or("", |(word, _)| word)
    }

    /// Understands the first of these phrases that is there; says which.
    pub(super) fn phrase<'p>(&self, phrases: &[&'p str]) -> Option<&'p str> {
        phrases.iter().copied().find(|phrase| {
            let parts: Vec<&str> = phrase.split(' ').collect();
            let found = self
                .left()
                .map(|(at, _)| at)
                .find(|&at| parts.iter().enumerate().all(|(behind, part)| self.word(at + behind) == *part));
            if let Some(at) = found {
                self.tick(at, parts.len());
            }
            found.is_some()
        })
    }

    /// Whether one of these phrases is there; it is understood.
    pub(super) fn says(&self, phrases: &[&str]) -> bool {
        self.phrase(phrases).is_some()
    }

    /// Whether the line begins with one of these phrases; it is understood.
    pub(super) fn begins(&self, phrases: &[&str]) -> bool {
        phrases.iter().any(|phrase| {
            let parts: Vec<&str> = phrase.split(' ').collect();
            let there = parts.iter().enumerate().all(|(at, part)| self.word(at) == *part);
            if there {
                self.tick(0, parts.len());
            }
            there
        })
    }

    /// Whether that is the second word of the line.
    pub(super) fn begins_next(&self, word: &str) -> bool {
        self.word(1) == word
    }

    /// The first number that is left.
    pub(super) fn number(&self) -> Option<u64> {
        let (at, number) = self.left().find_map(|(at, word)| Some((at, whole_number(word)?)))?;
        self.tick(at, 1);
        Some(number)
    }

    /// The first number that is left, which may have a part, as it is written.
    pub(super) fn measure(&self) -> Option<String> {
        let is =
            |word: &str| word.parse::<f64>().is_ok() && word.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
        let (at, word) = self.left().find(|(_, word)| is(word)).map(|(at, word)| (at, word.to_owned()))?;
        self.tick(at, 1);
        Some(word)
    }

    /// A number with one of these words behind it.
    pub(super) fn number_of(&self, units: &[&str]) -> Option<u64> {
        let (at, number) = self.left().find_map(|(at, word)| {
            let number = whole_number(word)?;
            units.contains(&self.word(at + 1)).then_some((at, number))
        })?;
        self.tick(at, 2);
        Some(number)
    }

    /// A number with one of these words before it.
    pub(super) fn number_behind(&self, words: &[&str]) -> Option<u64> {
        let (at, number) = self.left().find_map(|(at, word)| {
            let number = words.contains(&word).then(|| whole_number(self.word(at + 1)))??;
            Some((at, number))
        })?;
        self.tick(at, 2);
        Some(number)
    }

    /// How often: `8 times`, `x 8`, `8 x`, `twice`.
    pub(super) fn times(&self) -> Option<u64> {
        if self.says(&["twice"]) {
            return Some(2);
        }
        self.number_of(&["times", "x", "×", "time"]).or_else(|| self.number_behind(&["x", "×"]))
    }

    /// The first word for which `known` has something.
    pub(super) fn find<T>(&self, known: impl Fn(&str) -> Option<T>) -> Option<T> {
        let (at, found) = self.left().find_map(|(at, word)| Some((at, known(word)?)))?;
        self.tick(at, 1);
        Some(found)
    }

    /// `front`, `back` or `both`.
    pub(super) fn bed(&self) -> Option<&'static str> {
        self.phrase(&["front", "back", "both"])
    }

    /// `left` or `right`.
    pub(super) fn side(&self) -> Option<&'static str> {
        let side = self.phrase(&["left", "right", "l", "r", "lefthand", "righthand", "left-hand", "right-hand"])?;
        Some(if side.starts_with('l') { "left" } else { "right" })
    }

    /// Needles, as the language writes a selection of them.
    pub(super) fn needles(&self) -> Option<String> {
        if let Some(needles) = self.find(|word| is_needle(word).then(|| word.to_owned())) {
            return Some(needles);
        }
        if self.says(&["every second", "every other", "every 2nd", "every 2 nd", "alternate"]) {
            return Some("every 2".to_owned());
        }
        if self.says(&["every third", "every 3rd"]) {
            return Some("every 3".to_owned());
        }
        if self.says(&["every fourth", "every 4th"]) {
            return Some("every 4".to_owned());
        }
        self.number_behind(&["every"]).map(|number| format!("every {number}"))
    }

    /// Whether every word was understood or says nothing.
    pub(super) fn done(&self) -> bool {
        self.left().all(|(_, word)| EMPTY.contains(&word))
    }

    /// The words that are left, but for those that say nothing.
    pub(super) fn rest(&self) -> Vec<&str> {
        self.left().map(|(_, word)| word).filter(|word| !EMPTY.contains(word)).collect()
    }
}

fn whole_number(word: &str) -> Option<u64> {
    (word.len() <= 9 && word.bytes().all(|byte| byte.is_ascii_digit())).then(|| word.parse().ok())?
}

/// `4x`, `10cm`, `6th`: a number and what is written at once behind it.
fn glued(word: &str) -> Option<(String, String)> {
    let at = word.find(|letter: char| !letter.is_ascii_digit() && letter != '.').filter(|&at| at > 0)?;
    let (number, unit) = word.split_at(at);
    matches!(unit, "x" | "cm" | "mm" | "m" | "in" | "g" | "st" | "nd" | "rd" | "th" | "sts" | "rows")
        .then(|| (number.to_owned(), unit.to_owned()))
}

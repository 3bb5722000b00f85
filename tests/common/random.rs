//! Texts by chance, always the same ones for the same seed.
#![allow(dead_code, missing_docs, unreachable_pub)]

/// A small generator of numbers (xorshift; G. Marsaglia, Xorshift RNGs, 2003, quoted from memory).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        let mut dice = Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1);
        dice.roll();
        dice
    }

    pub fn roll(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    /// Less than `end`, or 0.
    pub fn below(&mut self, end: usize) -> usize {
        if end == 0 { 0 } else { (self.roll() >> 11) as usize % end }
    }

    pub fn pick<'a, T: ?Sized>(&mut self, from: &[&'a T]) -> &'a T {
        from[self.below(from.len())]
    }
}

/// Words that are none of the language's own, and signs.
const OTHERS: &[&str] = &[
    "{",
    "}",
    "{\n",
    "}\n",
    "(",
    ")",
    ",",
    "=",
    "+",
    "-",
    "*",
    "/",
    "\"",
    "\"|.\"",
    "\"Scarf\"",
    "#",
    "\n",
    "\r\n",
    "\t",
    " ",
    "X O .",
    "L5",
    "R3",
    "L5-R5",
    "R5-L5",
    "L128-R128",
    "slate",
    "rib",
    "ribs",
    "club",
    "half",
    "a-b",
    "é",
    "ﬁ",
    "\u{202e}",
    "\u{1b}",
    "\0",
    "\u{feff}",
    "<<<<<<< HEAD",
    "=======",
    "Row",
    "KNIT",
    "naïve",
    "🧶",
];

/// Numbers that something may stumble over.
const NUMBERS: &[&str] = &[
    "0",
    "1",
    "2",
    "3",
    "4",
    "5",
    "7",
    "12",
    "20",
    "64",
    "90",
    "128",
    "255",
    "256",
    "1000000",
    "4294967296",
    "1000000000000000000",
    "10000000000000000000000000000000000000000",
    "0.5",
    "2.25",
    "0.0000001",
    "3 (4, 5)",
    "1 (2)",
    "-1",
];

/// One word: of the language, a number, or something else.
pub fn word(dice: &mut Dice) -> &'static str {
    match dice.below(10) {
        0..6 => dice.pick(wale::syntax::keywords()),
        6..8 => dice.pick(NUMBERS),
        _ => dice.pick(OTHERS),
    }
}

/// A text of words.
pub fn words(dice: &mut Dice, most: usize) -> String {
    let mut text = String::new();
    for _ in 0..dice.below(most) {
        text.push_str(word(dice));
        text.push_str(if dice.below(6) == 0 { "\n" } else { " " });
    }
    text
}

/// A text with some slips in it: pieces of it or of another left out, doubled, exchanged, and words put in.
pub fn slipped(dice: &mut Dice, text: &str, other: &str) -> String {
    let mut text = text.to_owned();
    for _ in 0..=dice.below(4) {
        let lines: Vec<&str> = text.split_inclusive('\n').collect();
        let at = dice.below(lines.len());
        text = match dice.below(7) {
            // A line gone, doubled, or from elsewhere.
            0 => joined(&lines, at, &[]),
            1 => joined(&lines, at, &[lines[at], lines[at]]),
            2 => {
                let others: Vec<&str> = other.split_inclusive('\n').collect();
                joined(&lines, at, &[lines[at], dice.pick(&others)])
            }
            3 => {
                let there = dice.below(lines.len());
                let mut lines = lines.clone();
                lines.swap(at, there);
                lines.concat()
            }
            // A word for another.
            4 | 5 => {
                let words: Vec<&str> = lines[at].split_inclusive(' ').collect();
                let place = dice.below(words.len());
                let mut line = joined(&words, place, &[word(dice), " "]);
                if !line.ends_with('\n') && dice.below(4) > 0 {
                    line.push('\n');
                }
                joined(&lines, at, &[&line])
            }
            // Characters.
            _ => {
                let mut characters: Vec<char> = text.chars().collect();
                let place = dice.below(characters.len());
                match dice.below(4) {
                    0 => drop(characters.drain(place..(place + 1 + dice.below(8)).min(characters.len()))),
                    1 => characters.truncate(place),
                    2 => characters.insert(place, odd(dice)),
                    _ => characters.splice(place..place, word(dice).chars()).for_each(drop),
                }
                characters.into_iter().collect()
            }
        };
        if text.is_empty() {
            break;
        }
    }
    text
}

/// A character from the blocks of Unicode that hold the look-alikes of plain ones: Latin, Greek, Cyrillic, digits of
/// other scripts, punctuation and full-width forms.
fn odd(dice: &mut Dice) -> char {
    const BLOCKS: [(u32, u32); 8] = [
        (0x80, 0x24f),
        (0x370, 0x52f),
        (0x660, 0x66f),
        (0x960, 0x96f),
        (0x2000, 0x206f),
        (0x2200, 0x22ff),
        (0x3000, 0x303f),
        (0xff00, 0xffef),
    ];
    let (first, last) = BLOCKS[dice.below(BLOCKS.len())];
    char::from_u32(first + dice.below((last - first + 1) as usize) as u32).unwrap_or('\u{a0}')
}

fn joined(parts: &[&str], at: usize, instead: &[&str]) -> String {
    parts[..at].iter().chain(instead).chain(&parts[at + 1..]).copied().collect()
}

/// How many random cases a law is tried on: always the same ones. `PROPTEST_CASES` in the environment asks for another
/// number, and then for new ones every time.
pub fn cases(usual: u32) -> proptest::test_runner::Config {
    use proptest::test_runner::{Config, RngSeed};
    let asked = std::env::var("PROPTEST_CASES").ok().and_then(|text| text.parse().ok());
    let rng_seed = if asked.is_some() { RngSeed::Random } else { RngSeed::Fixed(1) };
    let cases = asked.unwrap_or(usual);
    // Random patterns are often too long to be written out; those are passed over.
    let max_global_rejects = cases.saturating_mul(20);
    Config { cases, max_global_rejects, failure_persistence: None, rng_seed, ..Config::default() }
}

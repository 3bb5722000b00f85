//! What may stand at a place of a line, for whoever is still writing it.

use super::expected::expectation;
use super::grammar::Rule;
use super::reach::farthest_at;
use super::words::{SAMPLES, keywords};

/// What may stand behind the beginning of a line.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Next {
    /// The words of the language, each with what it is called in a sentence or with a line that has it there.
    pub words: Vec<(&'static str, &'static str)>,
    /// Whether a name of the pattern may stand there.
    pub name: bool,
    /// Whether needles may, `L30-R30`.
    pub needles: bool,
    /// Whether words in quotation marks may.
    pub quoted: bool,
}

/// What may follow `before`, the beginning of a line up to the word that is being written, without that word. At the start
/// of a line these are the first words of all lines.
#[must_use]
pub fn next(before: &str) -> Next {
    if before.trim_start().is_empty() {
        let words = SAMPLES.iter().filter_map(|(word, samples)| Some((*word, *samples.first()?))).collect();
        return Next { words, quoted: true, ..Next::default() };
    }
    let (at, mut expected) = farthest_at(before);
    // What holds others stands for what it can begin with.
    if expected.contains(&Rule::promise) {
        expected.extend([Rule::carriage_word, Rule::counter, Rule::gaiting_start, Rule::racking_start, Rule::name]);
    }
    if expected.contains(&Rule::argument) {
        expected.push(Rule::name);
    }
    let begun = before.get(at..).unwrap_or_default();
    let mut words = Vec::new();
    let mut add = |word: &'static str, called: &'static str| {
        if !words.iter().any(|(known, _)| *known == word) {
            words.push((word, called));
        }
    };
    for expected in expected.iter().filter_map(|rule| expectation(*rule)) {
        for word in expected.ways.iter().filter_map(|way| word_behind(way, begun)) {
            add(word, expected.called);
        }
    }
    // Two words that begin a line together have no name of their own; the samples have them.
    // The one behind `let` is a name that happens to be a word of the language.
    for (_, samples) in SAMPLES.iter().filter(|(first, _)| *first != "let") {
        for sample in samples {
            if let Some(word) = word_behind(sample, before).filter(|word| keywords().contains(word)) {
                add(word, sample);
            }
        }
    }
    if !begun.is_empty() {
        return Next { words, ..Next::default() };
    }
    let has = |rule| expected.contains(&rule);
    Next { words, name: has(Rule::name), needles: has(Rule::needles), quoted: has(Rule::words) }
}

/// The word that stands in some words behind exactly those that are written already.
fn word_behind(words: &'static str, begun: &str) -> Option<&'static str> {
    let mut rest = words.split_whitespace();
    begun.split_whitespace().all(|word| rest.next() == Some(word)).then(|| rest.next()).flatten()
}

#[cfg(test)]
mod tests {
    use super::next;

    fn words(before: &str) -> Vec<&'static str> {
        let mut words: Vec<&str> = next(before).words.into_iter().map(|(word, _)| word).collect();
        words.sort_unstable();
        words
    }

    #[test]
    fn what_follows_is_what_the_grammar_takes() {
        assert_eq!(words("gaiting "), ["between", "opposite"]);
        assert_eq!(words("    row front "), ["knit", "slip", "tuck"]);
        assert!(words("row front knit, ").contains(&"back"), "{:?}", words("row front knit, "));
        assert!(words("cast on ").contains(&"zigzag"));
        // Words that stand behind each other.
        assert_eq!(words("in work front 30 each "), ["side"]);
        assert_eq!(words("row front knit, to "), ["left", "right"]);
        assert_eq!(words("out "), ["of"]);
        assert_eq!(words("out of "), ["work"]);
        assert_eq!(words("increase front 1 at each "), ["edge"]);
        assert_eq!(words("pick up front L5 from "), ["waste"]);
        assert_eq!(words("pick up front L5 from waste "), ["yarn"]);
        assert!(words("stitch ").contains(&"size") && words("transfer ").contains(&"carriage"));
        assert_eq!(words("transfer back to front, emptied stay "), ["in"]);
        assert!(words("").contains(&"transfer") && words("  ").contains(&"piece"));
        assert!(next("work ").name && next("thread ").name && !next("gaiting ").name);
        assert!(next("in work front ").needles && !next("row ").needles);
        assert!(next("note ").quoted);
        assert!(words("expect carriage left, ").contains(&"counter") && next("work rib (").name);
    }

    #[test]
    fn behind_what_cannot_be_read_nothing_is_known() {
        assert_eq!(words("nonsense and more "), [""; 0]);
        assert_eq!(words("row zzz "), [""; 0]);
        assert_eq!(words("let "), [""; 0]);
    }
}

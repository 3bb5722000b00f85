//! What may stand at a place of a line, for whoever is still writing it.

use super::bad::expected_at;
use super::grammar::Rule;
use super::words::{SAMPLES, expectation};

/// What may stand behind the beginning of a line.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Next {
    /// The words of the language, each with what it is called in a sentence.
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
        return Next { words: SAMPLES.to_vec(), quoted: true, ..Next::default() };
    }
    let expected = expected_at(before);
    let mut words = Vec::new();
    for (_, called, there) in expected.iter().filter_map(|rule| expectation(*rule)) {
        // Of several words behind each other, as in `to left`, the first is the one that stands here; words that may
        // stand for each other are named in the sentence one by one.
        for word in there.iter().filter(|word| called.contains(&format!("`{word}")) || there.len() == 1) {
            if !words.iter().any(|(known, _)| known == word) {
                words.push((*word, called));
            }
        }
    }
    let has = |rule| expected.contains(&rule);
    Next { words, name: has(Rule::name), needles: has(Rule::needles), quoted: has(Rule::words) }
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
        assert!(words("").contains(&"transfer") && words("  ").contains(&"piece"));
        assert!(next("work ").name && next("thread ").name && !next("gaiting ").name);
        assert!(next("in work front ").needles && !next("row ").needles);
        assert!(next("note ").quoted);
    }

    #[test]
    fn behind_what_cannot_be_read_nothing_is_known() {
        assert_eq!(words("nonsense and more "), [""; 0]);
        assert_eq!(words("row zzz "), [""; 0]);
    }
}

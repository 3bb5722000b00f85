//! The words of the language and a sample of every kind of line, from the table of statements and what lines share.

use super::classes::{SHARED, WordClass};
use super::forms;
use std::collections::BTreeSet;
use std::sync::LazyLock;
use unicode_normalization::char::is_combining_mark;

/// The units that a number can have behind it, as the grammar's rule `unit` has them.
pub(super) const UNITS: &[&str] =
    &["rows", "row", "stitches", "stitch", "needles", "needle", "cm", "mm", "m", "in", "kg", "g"];

/// Words that the grammar reads as names and the tree knows.
pub(crate) const SELECTIONS: [&str; 2] = ["empty", "loaded"];

/// All words with their classes, some of them several times.
fn classed() -> impl Iterator<Item = &'static (WordClass, &'static [&'static str])> {
    SHARED.iter().chain(forms::all().flat_map(|form| form.words))
}

/// The words of each class, in the order of the alphabet. Like the other lists worked out only when they are asked for: it is
/// a tenth of the work of checking a short pattern.
static CLASSED: LazyLock<[Vec<&'static str>; WordClass::ALL.len()]> = LazyLock::new(|| {
    WordClass::ALL.map(|class| {
        let of_class = classed().filter(|(of, _)| *of == class);
        let words: BTreeSet<&str> = of_class.flat_map(|(_, words)| *words).copied().collect();
        words.into_iter().collect()
    })
});

static KEYWORDS: LazyLock<Vec<&'static str>> = LazyLock::new(|| {
    let words: BTreeSet<&str> = WordClass::ALL.iter().flat_map(|class| class.words()).copied().collect();
    words.into_iter().filter(|word| !SELECTIONS.contains(word)).chain(SELECTIONS).collect()
});

impl WordClass {
    /// The words of the class, in the order of the alphabet. Each of [`keywords`] is in exactly one class.
    #[must_use]
    pub fn words(self) -> &'static [&'static str] {
        let at = Self::ALL.iter().position(|class| *class == self);
        at.and_then(|at| CLASSED.get(at)).map_or(&[], Vec::as_slice)
    }
}

/// The class of a word of the language, nothing for any other.
#[must_use]
pub fn class(word: &str) -> Option<WordClass> {
    classed().find(|(_, words)| words.contains(&word)).map(|(class, _)| *class)
}

/// Every word of the language, in the order of the alphabet, but for `empty` and `loaded`, which stand at its end.
#[must_use]
pub fn keywords() -> &'static [&'static str] {
    &KEYWORDS
}

/// Whether that is one of the language's words.
pub(crate) fn is_keyword(word: &str) -> bool {
    class(word).is_some()
}

/// The first words of lines, each with lines that can be read.
pub(super) static SAMPLES: LazyLock<Vec<(&'static str, Vec<&'static str>)>> = LazyLock::new(|| {
    let mut known: Vec<(&str, Vec<&str>)> = Vec::new();
    for form in forms::all().filter(|form| !form.samples.is_empty()) {
        let Some(word) = form.first_word() else { continue };
        match known.iter_mut().find(|(first, _)| *first == word) {
            Some((_, samples)) => samples.extend(form.samples),
            None => known.push((word, form.samples.to_vec())),
        }
    }
    known
});

/// A line that can be read, or several with "or" between them, which begin with that word: for a place between backticks.
#[must_use]
pub fn sample(first: &str) -> Option<String> {
    SAMPLES.iter().find(|(word, _)| *word == first).map(|(_, samples)| samples.join("` or `"))
}

/// A letter, a digit, a mark on a letter or `-`: what words are made of.
pub(super) fn is_word_character(character: char) -> bool {
    character.is_alphanumeric() || character == '-' || is_combining_mark(character)
}

/// `a` or `an`, whichever the word asks for.
pub(super) fn article(word: &str) -> &'static str {
    let small = word.to_lowercase();
    if small.starts_with(['a', 'e', 'i', 'o']) || small.starts_with("un") || small.starts_with("up") {
        "an"
    } else {
        "a"
    }
}

/// `L30`, `L30-R29`.
pub(super) fn is_needle(word: &str) -> bool {
    is_needle_with(word, 'L', 'R')
}

/// `l30`, `l30-r29`: a needle in small letters.
pub(super) fn is_small_needle(word: &str) -> bool {
    is_needle_with(word, 'l', 'r')
}

fn is_needle_with(word: &str, left: char, right: char) -> bool {
    let mut parts = 0;
    word.split('-').all(|part| {
        parts += 1;
        parts <= 2
            && part
                .strip_prefix([left, right])
                .is_some_and(|digits| !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit()))
    })
}

#[cfg(test)]
mod tests {
    use super::{WordClass, class, keywords};
    use crate::syntax::PHRASES;

    #[test]
    fn every_word_of_the_language_has_one_class_and_no_other_word_has_any() {
        let mut classed: Vec<&str> = WordClass::ALL.iter().flat_map(|class| class.words()).copied().collect();
        classed.sort_unstable();
        let mut words = keywords().to_vec();
        words.sort_unstable();
        assert_eq!(classed, words);
    }

    #[test]
    fn classes_keep_the_order_of_the_alphabet_and_have_names_of_their_own() {
        let mut names: Vec<&str> = WordClass::ALL.iter().map(|class| class.name()).collect();
        for class in WordClass::ALL {
            assert!(class.words().is_sorted(), "{}", class.name());
        }
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), WordClass::ALL.len());
    }

    #[test]
    fn phrases_are_of_words_of_the_language() {
        for (at, (phrase, _)) in PHRASES.iter().enumerate() {
            assert!(phrase.split(' ').count() > 1 && phrase.split(' ').all(|word| class(word).is_some()), "{phrase}");
            assert!(PHRASES[at + 1..].iter().all(|(later, _)| !later.starts_with(phrase)), "{phrase}");
        }
    }

    #[test]
    fn words_that_are_none_of_the_language_have_no_class() {
        assert_eq!(class("knit"), Some(WordClass::Action));
        assert_eq!(class("half-cardigan"), None);
        assert_eq!(class("Knit"), None);
    }
}

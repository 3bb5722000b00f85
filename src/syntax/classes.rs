//! What sort of word each word of the language is, so that every editor colours it the same way.
//!
//! A class says what a word does in a line, as far as one word alone can tell. The few words that belong together and mean
//! something else than each alone are in [`PHRASES`].

/// The sort of a word. Few on purpose: a pattern in more colours than these no longer reads well.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum WordClass {
    /// Gives something a name or a title: `machine`, `stitch`, `piece`.
    Declaration,
    /// Says how often or how long: `repeat`, `times`, `follow`.
    Structure,
    /// What the hands or the carriage do in a line: `row`, `transfer`, `bind off`.
    Operation,
    /// What a needle does in a row: `knit`, `tuck`, `slip`.
    Action,
    /// A bed: `front`, `back`, `both`.
    Bed,
    /// A side or a place between the sides: `left`, `centre`, `edge`.
    Side,
    /// Chooses needles: `all`, `every`, `loaded`, `elsewhere`.
    Selection,
    /// How the beds and the carriage stand or are set: `gaiting`, `opposite`, `loosened`.
    Setting,
    /// A unit, or what a value stands for: `cm`, `stitches`, `number`.
    Unit,
    /// A line of a machine, a yarn or a gauge: `pitch`, `longest`, `fibre`.
    Profile,
    /// Speaks to the knitter: `note`, `mark`, `remind`.
    Speech,
    /// What is counted on, and what is allowed: `expect`, `allow`, `because`.
    Promise,
    /// Ties the others together: `to`, `on`, `and`.
    Link,
}

use WordClass::{
    Action, Bed, Declaration, Link, Operation, Profile, Promise, Selection, Setting, Side, Speech, Structure, Unit,
};

impl WordClass {
    /// Every class, in the order in which they stand here.
    pub const ALL: [Self; 13] = [
        Declaration,
        Structure,
        Operation,
        Action,
        Bed,
        Side,
        Selection,
        Setting,
        Unit,
        Profile,
        Speech,
        Promise,
        Link,
    ];

    /// The name of the class, one word in small letters, for the names that editors' files need.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Declaration => "declaration",
            Structure => "structure",
            Operation => "operation",
            Action => "action",
            Bed => "bed",
            Side => "side",
            Selection => "selection",
            Setting => "setting",
            Unit => "unit",
            Profile => "profile",
            Speech => "speech",
            Promise => "promise",
            Link => "link",
        }
    }

    /// The words of the class, in the order of the alphabet. Each of [`super::keywords`] is in exactly one class.
    #[must_use]
    #[rustfmt::skip]
    pub const fn words(self) -> &'static [&'static str] {
        match self {
            Declaration => &[
                "chart", "fabric", "gauge", "let", "machine", "make", "pattern", "piece", "section", "sizes", "stitch", "use",
                "yarn",
            ],
            Structure => &["evenly", "follow", "for", "repeat", "shape", "times", "work"],
            Operation => &[
                "arrange", "bind", "cast", "chain", "cross", "decrease", "drop", "free", "hold", "increase", "joining", "loops",
                "move", "new", "off", "onto", "open", "out", "pass", "pick", "rack", "release", "reset", "row", "rows", "thread",
                "transfer", "tubular", "up", "waste", "wound", "zigzag",
            ],
            Action => &["knit", "slip", "tuck"],
            Bed => &["back", "bed", "beds", "both", "front"],
            Side => &["centre", "edge", "left", "right", "side"],
            Selection => &[
                "all", "but", "each", "elsewhere", "empty", "every", "first", "leftmost", "loaded", "none", "rightmost",
            ],
            Setting => &[
                "between", "carriage", "counter", "emptied", "gaiting", "go", "hand", "inset", "loosened", "opposite", "racking",
                "size", "stay", "tightened",
            ],
            Unit => &[
                "Ne", "Nm", "cm", "denier", "dtex", "g", "kg", "length", "m", "mm", "needle", "needles", "number", "selection",
                "stitches", "tex", "worsted",
            ],
            Profile => &[
                "adjacent", "ball", "colour", "count", "fibre", "float", "half", "handle", "lever", "longest", "most", "pitch",
                "relaxed", "selectors", "slack", "step", "strands", "tucks", "unwashed", "wait", "washed", "widest",
            ],
            Speech => &["mark", "note", "remind"],
            Promise => &["allow", "because", "expect"],
            Link => &["a", "and", "at", "by", "from", "in", "of", "on", "or", "over", "the", "to", "with"],
        }
    }
}

/// Words that belong together, with one blank between them, and their class where it is not that of each word alone. A
/// longer one stands before a shorter one that it begins with.
pub const PHRASES: &[(&str, WordClass)] = &[
    ("cast on", Operation),
    ("in work", Operation),
    ("out of work", Operation),
    ("stitch sizes", Setting),
    ("stitch size", Setting),
    ("waste yarn", Operation),
];

/// The class of a word of the language, nothing for any other.
#[must_use]
pub fn class(word: &str) -> Option<WordClass> {
    WordClass::ALL.into_iter().find(|class| class.words().contains(&word))
}

#[cfg(test)]
mod tests {
    use super::{PHRASES, WordClass, class};
    use crate::syntax::keywords;

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

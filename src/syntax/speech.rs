//! The words of lines that only say something to the knitter: nothing happens on the machine. One row a word, and whatever
//! is made of such a line is made from its row.

use super::classes::WordClass;
use super::grammar::Rule;

/// What is known of such a word.
struct Row {
    /// The word, as it is written, read and traced.
    word: &'static str,
    /// Its line in the grammar.
    rule: Rule,
    /// A line that can be read.
    samples: &'static [&'static str],
    /// The word with its class.
    words: &'static [(WordClass, &'static [&'static str])],
    /// What it is, in a sentence.
    about: &'static str,
    /// How the sheet begins what it says.
    heading: &'static str,
    /// What it is called in a comparison, and what another in its place is.
    called: (&'static str, &'static str),
    /// Whether it names a place of the piece.
    is_place: bool,
}

macro_rules! speech {
    ($($name:ident, $word:literal, $says:literal { $($known:tt)+ })+) => {
        /// A word that begins a line which only says something to the knitter.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum SpeechWord {
            $(#[doc = concat!("`", $word, " \"...\"`")] $name,)+
        }

        impl SpeechWord {
            /// All of them.
            pub const ALL: &[Self] = &[$(Self::$name),+];

            const fn row(self) -> &'static Row {
                match self {
                    $(Self::$name => &Row {
                        word: $word,
                        samples: &[concat!($word, " \"", $says, "\"")],
                        words: &[(WordClass::Speech, &[$word])],
                        $($known)+
                    },)+
                }
            }
        }
    };
}

speech! {
    Note, "note", "hang the weights" {
        rule: Rule::note,
        about: "A note for the knitter.",
        heading: "Note",
        called: ("a note", "another note"),
        is_place: false,
    }
    Mark, "mark", "armhole" {
        rule: Rule::mark,
        about: "A named place.",
        heading: "Mark this place",
        called: ("a mark", "another mark"),
        is_place: true,
    }
}

impl SpeechWord {
    /// The word that a line of that rule begins with; none for lines of another sort.
    pub(super) fn of_rule(rule: Rule) -> Option<Self> {
        Self::ALL.iter().copied().find(|word| word.row().rule == rule)
    }

    /// Lines that begin with it and can be read.
    pub(super) const fn samples(self) -> &'static [&'static str] {
        self.row().samples
    }

    /// What it brings into the language.
    pub(super) const fn words(self) -> &'static [(WordClass, &'static [&'static str])] {
        self.row().words
    }

    /// The word itself: `note`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        self.row().word
    }

    /// What it is, in a sentence: `A note for the knitter.`
    #[must_use]
    pub const fn about(self) -> &'static str {
        self.row().about
    }

    /// How the sheet begins what it says: `Mark this place`.
    #[must_use]
    pub const fn heading(self) -> &'static str {
        self.row().heading
    }

    /// What it is called in a comparison, and what another in its place is: `a note`, `another note`.
    #[must_use]
    pub const fn called(self) -> (&'static str, &'static str) {
        self.row().called
    }

    /// Whether it names a place of the piece, which an outline shows.
    #[must_use]
    pub const fn is_place(self) -> bool {
        self.row().is_place
    }
}

//! What is known of each sort of line, in one table, from which all else that goes by first words is worked out.

mod table;

use super::classes::WordClass;
pub(crate) use table::{all, form};
pub use table::{sort, sorts};

/// The places where statements stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Home {
    /// Outside every block.
    Top,
    /// In a `machine`.
    Machine,
    /// In a `yarn`.
    Yarn,
    /// In a `gauge`.
    Gauge,
    /// In a `chart`.
    Chart,
    /// In a `fabric`.
    Fabric,
    /// In a piece, a section, a stitch or a block of these.
    Work,
    /// In a `shape`.
    Shape,
}

/// What is not known any more after a line that could not be understood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Unsure {
    /// Everything is: the line changes nothing on the machine.
    Nothing,
    /// Rows and settings; the stitches are still on the needles that held them.
    Rows,
    /// Which needles hold stitches.
    Beds,
}

/// What is known of one sort of line.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Form {
    /// Its first words, up to where it differs from all others; empty for a line that begins with what it is about.
    pub(crate) first: &'static str,
    /// Lines of that sort, shown where one that begins like it cannot be read.
    pub(crate) samples: &'static [&'static str],
    /// Where it belongs; none for what could not be read.
    pub(crate) home: Option<Home>,
    /// What the block behind it holds; none for a line that has no block.
    pub(crate) block: Option<Home>,
    /// Whether it gives something a name.
    pub(crate) names: bool,
    /// What is not known after it when it could not be understood.
    pub(crate) unsure: Unsure,
    /// What it means, where the language reference has it in a section of its own and not in a table.
    #[cfg_attr(not(feature = "serve"), expect(dead_code, reason = "told by the language server only"))]
    pub(crate) means: Option<&'static str>,
    /// The words that lines of this sort bring into the language.
    pub(crate) words: &'static [(WordClass, &'static [&'static str])],
}

impl Form {
    const fn new(home: Option<Home>, first: &'static str, samples: &'static [&'static str]) -> Self {
        Self { first, samples, home, block: None, names: false, unsure: Unsure::Beds, means: None, words: &[] }
    }

    const fn block(self, holds: Home) -> Self {
        Self { block: Some(holds), ..self }
    }

    const fn unsure(self, unsure: Unsure) -> Self {
        Self { unsure, ..self }
    }

    const fn means(self, means: &'static str) -> Self {
        Self { means: Some(means), ..self }
    }

    const fn words(self, words: &'static [(WordClass, &'static [&'static str])]) -> Self {
        Self { words, ..self }
    }

    /// The first word of such lines; none for a line that begins with what it is about.
    pub(crate) fn first_word(&self) -> Option<&'static str> {
        self.first.split(' ').next().filter(|word| !word.is_empty())
    }
}

/// The sorts of line that begin with that word.
pub(crate) fn beginning_with(word: &str) -> impl Iterator<Item = &'static Form> {
    all().filter(move |form| form.first_word().is_some_and(|first| first == word))
}

/// Whether lines that begin with that word give something a name.
pub(crate) fn gives_a_name(word: &str) -> bool {
    beginning_with(word).any(|form| form.names)
}

/// The sort of line that a line is by its first words, whether it can be read or not. Blanks before it are not passed over.
pub(crate) fn by_first_words(line: &str) -> Option<&'static Form> {
    let begins = |form: &&Form| {
        let behind = line.strip_prefix(form.first).filter(|_| !form.first.is_empty());
        behind.is_some_and(|behind| behind.is_empty() || behind.starts_with(' '))
    };
    all().filter(begins).max_by_key(|form| form.first.len())
}

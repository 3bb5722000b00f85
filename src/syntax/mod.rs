//! From text to a tree with the place of everything.
//!
//! The grammar cuts a text into statements, braces and what cannot be read. `blocks` puts the blocks together,
//! `statements`, `rows` and `expressions` turn words into the tree, and `bad` explains what could not be read. `tidy`
//! writes the parts down again with the same blanks everywhere.

mod advice;
mod alphabet;
mod bad;
mod bad_line;
mod blocks;
mod classes;
mod cut;
mod example;
mod expected;
mod expressions;
pub(crate) mod forms;
mod habits;
mod line;
mod meant;
mod needles;
mod next;
mod piece;
mod reach;
mod rows;
pub(crate) mod rules;
mod slip;
mod special;
mod speech;
mod statements;
#[cfg(test)]
mod tests;
mod tidy;
pub mod tree;
mod unit;
mod walk;
mod words;

use crate::finding::Finding;
use crate::source::FileId;
use tree::Tree;

pub(crate) use advice::{around_the_centre, meant_in_a_piece};
pub use classes::{PHRASES, WordClass};
pub use expected::called;
pub use forms::{sort, sorts};
pub use next::{Next, next};
pub use tidy::{Tidied, tidy};
#[cfg(feature = "serve")]
pub(crate) use words::SELECTIONS;
pub(crate) use words::is_keyword;
pub use words::{class, keywords, sample};

/// The parser that is made from `grammar/wale.pest`.
mod grammar {
    #![allow(unreachable_pub, missing_docs)]

    /// Cuts a text into its parts.
    #[derive(pest_derive::Parser)]
    #[grammar = "../grammar/wale.pest"]
    pub(super) struct Grammar;
}

/// How many blocks may stand inside one another.
pub const DEEPEST_BLOCK: usize = 64;

/// How many findings are listed for one text.
pub const MOST_FINDINGS: usize = 200;

/// Reads a text. Whatever cannot be read is reported, each line once, and all the rest is in the tree all the same.
///
/// Takes time in proportion to the length of the text. Spans are byte offsets in `text`, which must not be longer than
/// [`crate::source::Sources::LONGEST_TEXT`].
#[must_use]
pub fn read(file: FileId, text: &str) -> (Tree, Vec<Finding>) {
    #[cfg(test)]
    crate::counted::note(crate::counted::Work::Parsed);
    blocks::read(file, text)
}

/// Whether that can be the value of a name: a number with its unit, needles, a sum of such.
pub(crate) fn is_value(text: &str) -> bool {
    !text.contains('"') && reach::is_short(text) && reach::reads(&format!("let value = {text}"))
}

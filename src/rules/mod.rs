//! Everything the checker knows, one rule a file, and the table of them.
//!
//! A rule looks at plain facts of the play ([`Moment`] and what belongs to it) and says a [`Finding`] or nothing.
//! Its texts are what `wale explain` prints; its two examples are run by the tests.

mod cause;
mod check;
mod follow;
mod memory;
mod picture;
mod remedy;
mod table;
mod words;

mod fabric;
mod language;
mod loops;
mod machine;
mod promises;
mod writing;

pub use check::{check_piece, check_piece_in, check_piece_while, unknown_allows};
pub use remedy::fit_fixes;
pub use table::{ALL, find};

use crate::beds::{Bed, Carried, Handled, Machine, NeedlesPut, Ragged, RowDone, Setting, State};
use crate::finding::{Finding, Severity};
use crate::plan::program::{Piece, Promise, Repeat};
use crate::play::Moment;
use crate::source::Span;
use crate::syntax::forms::{Home, by_first_words};

/// A rule: what it says of itself, and what it looks at.
#[derive(Debug)]
pub struct Rule {
    /// Its name, kebab-case, in the trade's words. It reads well after the word `allow`.
    pub name: &'static str,
    /// Whether it stops a pattern or only warns.
    pub severity: Severity,
    /// What it finds, in one line.
    pub summary: &'static str,
    /// Why that matters, in a knitter's words.
    pub why: &'static str,
    /// Where its numbers come from: the profile, a published source, or common practice.
    pub source: &'static str,
    /// A pattern, or the inside of a piece, that breaks exactly this rule.
    pub bad: &'static str,
    /// The same, mended.
    pub good: &'static str,
    /// What it looks at; empty for a rule that is found while the text is read.
    pub looks_at: &'static [LooksAt],
}

/// The moments at which a rule can look.
#[derive(Debug, Clone, Copy)]
pub enum LooksAt {
    /// A row.
    Row(fn(&Moment<'_>, &RowDone) -> Option<Finding>),
    /// Stitches that went to other needles.
    Carried(fn(&Moment<'_>, &Carried) -> Option<Finding>),
    /// Loops made or taken off.
    Handled(fn(&Moment<'_>, &Handled) -> Option<Finding>),
    /// Needles put in or out of work, to hold or back.
    Needles(fn(&Moment<'_>, &NeedlesPut) -> Option<Finding>),
    /// A setting.
    Setting(fn(&Moment<'_>, &Setting) -> Option<Finding>),
    /// A tile that does not fit the working width.
    Unfit(fn(&Moment<'_>, Bed, Ragged) -> Option<Finding>),
    /// A promise.
    Promise(fn(&Promised<'_>) -> Option<Finding>),
    /// The use of a stitch begins.
    StitchBegins(fn(&Use<'_>) -> Option<Finding>),
    /// The first pass of a repeat, or of a stitch, is done.
    FirstPass(fn(&Use<'_>) -> Option<Finding>),
    /// The piece is done.
    PieceEnd(fn(&PieceDone<'_>) -> Option<Finding>),
}

/// A promise and the beds where it is reached.
#[derive(Debug, Clone, Copy)]
pub struct Promised<'a> {
    /// What is promised.
    pub promise: &'a Promise,
    /// The words of this promise.
    pub span: Span,
    /// The beds.
    pub state: &'a State,
}

/// A repeat, or a stitch in use.
#[derive(Debug, Clone, Copy)]
pub struct Use<'a> {
    /// The repeat.
    pub repeat: &'a Repeat,
    /// The statement.
    pub span: Span,
    /// The beds before the first pass.
    pub before: &'a State,
    /// The beds after it; the same as before when nothing is played yet.
    pub after: &'a State,
}

/// A piece that was played to its end.
#[derive(Debug, Clone, Copy)]
pub struct PieceDone<'a> {
    /// The piece.
    pub piece: &'a Piece,
    /// The machine.
    pub machine: &'a Machine,
    /// The beds at the end.
    pub state: &'a State,
}

impl Rule {
    /// A finding of this rule at a place.
    #[must_use]
    pub fn finds(&self, span: Span, what: impl Into<String>) -> Finding {
        Finding::new(self.name, self.severity, span, what)
    }

    const SMALL_MACHINE: &'static str = "machine small {\n    needles 20 each side\n    pitch 5 mm\n}\n";

    /// An example as a whole pattern: the inside of a piece is put into one, and a small machine and a yarn are added
    /// below where the example has none of its own.
    #[must_use]
    pub fn whole(example: &str) -> String {
        let has = |word: &str| example.lines().any(|line| line.trim_start().starts_with(word));
        let mut text = if example.lines().any(is_top_level) {
            format!("{example}\n")
        } else {
            format!("piece \"Example\" {{\n{example}\n}}\n")
        };
        if !has("machine ") {
            text.push_str(Self::SMALL_MACHINE);
        }
        if !has("yarn ") {
            text.push_str("yarn slate {}\n");
        }
        text
    }
}

/// Whether a line of an example stands at the top of a pattern and not in a piece.
fn is_top_level(line: &str) -> bool {
    by_first_words(line).is_some_and(|form| form.home == Some(Home::Top))
}

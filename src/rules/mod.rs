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
mod loops;
mod machine;
mod promises;

pub use check::{check_piece, check_piece_in, check_piece_while, unknown_allows};
pub(crate) use promises::needless_allow::NEEDLESS_ALLOW;
pub use remedy::fit_fixes;
pub use table::{ALL, find, is_found_in_reading};

use crate::beds::{Bed, Carried, Handled, Machine, NeedlesPut, Ragged, RowDone, Setting, State};
use crate::catalogue::Rule;
use crate::finding::Finding;
use crate::plan::program::{Piece, Promise, Repeat};
use crate::play::Moment;
use crate::source::Span;

/// A rule that looks on while a piece is played.
#[derive(Debug)]
pub(crate) struct Watch {
    /// What it says of itself.
    pub(crate) rule: &'static Rule,
    /// What it looks at.
    pub(crate) looks_at: &'static [LooksAt],
}

/// Rules about how somebody knits rather than about one place: who does so once does so everywhere.
pub(crate) static HABITS: &[&Rule] = &[loops::tight_transfer::RULE.rule];

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

impl Watch {
    /// A finding of this rule at a place.
    fn finds(&self, span: Span, what: impl Into<String>) -> Finding {
        self.rule.finds(span, what)
    }
}

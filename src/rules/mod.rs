//! Everything the checker knows, one rule a file, and the table of them.
//!
//! A rule looks at plain facts of the play ([`Moment`] and what belongs to it) and says a [`Finding`] or nothing.
//! Its texts are what `wale explain` prints; its two examples are run by the tests.

mod cause;
mod check;
mod facts;
mod follow;
mod memory;
mod mind;
mod picture;
mod remedy;
mod search;
mod table;

mod fabric;
mod loops;
mod machine;
mod promises;

pub use check::{CheckedPiece, check_piece, check_piece_in, check_piece_while, unknown_allows};
pub(crate) use facts::{Facts, Stands, Touches};
pub use remedy::fit_fixes;
pub use table::{ALL, find, is_found_in_reading};

use crate::beds::{Bed, Carried, Handled, Machine, NeedlesPut, Outcome, Ragged, RowDone, Setting, State};
use crate::catalogue::Rule;
use crate::finding::{Finding, Fix};
use crate::plan::program::{Piece, Promise, Repeat};
use crate::play::Moment;
use crate::source::Span;
use memory::Memory;

/// A rule that looks on while a piece is played.
#[derive(Debug)]
pub(crate) struct Watch {
    /// What it says of itself.
    pub(crate) rule: &'static Rule,
    /// What it looks at; nothing for what the checker finds about the play as a whole.
    pub(crate) looks_at: &'static [LooksAt],
    /// What is not as the pattern thinks once it has found something.
    pub(crate) disturbs: Facts,
    /// What must be as the pattern thinks for its findings to mean something.
    pub(crate) rests_on: Facts,
    /// What only some rules have.
    pub(crate) besides: Besides,
}

/// The change that mends a finding at a place, made of what was seen.
type Mends = fn(Span, Seen<'_>, &Memory) -> Option<Fix>;

/// What only some rules have.
#[derive(Debug)]
pub(crate) struct Besides {
    /// What a finding disturbs and rests on, made of the usual, where that hangs on what was seen.
    touches: Option<fn(Seen<'_>, &Memory, Touches) -> Touches>,
    /// How long a finding stands.
    pub(crate) stands: Stands,
    /// The earlier lines that a finding follows from; [`cause`] points at them.
    cause: Option<fn(Seen<'_>, &Memory) -> Vec<cause::Line>>,
    /// The change that mends a finding at a place, made by the words of [`remedy`]. Whether it is safe, and why, is said
    /// beside it.
    fix: Option<Mends>,
}

impl Besides {
    /// Nothing: it is said at each line anew, points at no other, and cannot be mended by one change.
    pub(crate) const NOTHING: Self = Self { touches: None, stands: Stands::AtItsLine, cause: None, fix: None };
}

/// An `allow` that silences nothing.
#[cfg(feature = "serve")]
pub(crate) static NEEDLESS_ALLOW: &Rule = promises::needless_allow::RULE.rule;

/// Rules about how somebody knits rather than about one place: who does so once does so everywhere.
pub(crate) static HABITS: &[&Rule] = &[loops::loose_transfer::RULE.rule, loops::tight_transfer::RULE.rule];

/// The moments at which a rule can look.
#[derive(Debug, Clone, Copy)]
pub enum LooksAt {
    /// Any operation, beside what the rule keeps in mind ([`mind::Mindful`]): the `look` of its file is asked.
    Mindful,
    /// A promise, beside what the rule keeps in mind: the `promised` of its file is asked.
    MindfulOfPromises,
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

/// What a rule looked at when it found something.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Seen<'a> {
    /// An operation.
    Done(&'a Moment<'a>),
    /// A promise.
    Promise(&'a Promised<'a>),
    /// A repeat or a stitch.
    Use(&'a Use<'a>),
    /// The end of the piece.
    End(&'a PieceDone<'a>),
}

impl<'a> Seen<'a> {
    fn outcome(self) -> Option<&'a Outcome> {
        if let Self::Done(moment) = self { Some(moment.outcome) } else { None }
    }

    /// The row, if it was one.
    fn row(self) -> Option<&'a RowDone> {
        if let Some(Outcome::Row(row)) = self.outcome() { Some(row) } else { None }
    }

    /// The stitches that were carried, if any were.
    fn carried(self) -> Option<&'a Carried> {
        if let Some(Outcome::Carried(carried)) = self.outcome() { Some(carried) } else { None }
    }

    /// The loops that were made or taken off, if any were.
    fn handled(self) -> Option<&'a Handled> {
        if let Some(Outcome::Handled(handled)) = self.outcome() { Some(handled) } else { None }
    }
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

    /// What a finding about what was seen has to do with the facts.
    fn touches(&self, seen: Seen<'_>, memory: &Memory) -> Touches {
        let usual = Touches { disturbs: self.disturbs, rests_on: self.rests_on };
        self.besides.touches.map_or(usual, |touches| touches(seen, memory, usual))
    }
}

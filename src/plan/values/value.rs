//! What an expression may stand for, and what a count must be.

use crate::beds::Pick;
use crate::plan::values::quantity::{Amount, Measure};

/// What an expression stands for.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::plan) enum Value {
    /// A number of something.
    Amount(Amount),
    /// Needles. The flag is `false` where the selection hangs on a parameter that stands for nothing yet.
    Selection(Pick, bool),
}

impl Value {
    /// What a message calls it.
    pub(in crate::plan) fn words(&self) -> &'static str {
        match self {
            Self::Amount(amount) => amount.measure.words(),
            Self::Selection(..) => "a selection of needles",
        }
    }

    /// Whether it is not known yet.
    pub(in crate::plan) fn is_unknown(&self) -> bool {
        match self {
            Self::Amount(amount) => amount.exact.is_none(),
            Self::Selection(_, known) => !known,
        }
    }
}

/// How far a `let` has been worked out.
#[derive(Debug, Clone)]
pub(in crate::plan) enum LetState {
    /// It is being worked out, so meeting it again means that it stands for itself.
    Open,
    /// Done; none when it could not be read.
    Done(Option<Value>),
}

/// What a count must be.
#[derive(Debug, Clone, Copy)]
pub(in crate::plan) struct Wanted {
    /// What is counted, for messages: `the number of repeats`.
    pub(in crate::plan) what: &'static str,
    /// Which kinds of number will do.
    pub(in crate::plan) measures: &'static [Measure],
    /// The least that makes sense.
    pub(in crate::plan) least: u64,
    /// The most that is worked out.
    pub(in crate::plan) most: u64,
}

/// How many pieces to make.
pub(in crate::plan) const MAKE: Wanted =
    Wanted { what: "the number of pieces to make", measures: &[Measure::Number], least: 1, most: 10_000 };

//! One operation of a record with what stands around it: all that is needed to say it in words.

use super::{Deed, Stood};
use crate::beds::{Machine, Operation, Outcome};
use crate::plan::program::YarnInfo;

/// An operation that was done, between two standings of the beds.
#[derive(Debug, Clone, Copy)]
pub struct Done<'a> {
    /// The machine.
    pub machine: &'a Machine,
    /// The yarns of the pattern.
    pub yarns: &'a [YarnInfo],
    /// What was done and what came of it.
    pub deed: &'a Deed,
    /// How the beds stood before it.
    pub before: &'a Stood,
    /// How they stood after it.
    pub after: &'a Stood,
}

impl<'a> Done<'a> {
    /// What was done.
    #[must_use]
    pub const fn operation(&self) -> &'a Operation {
        &self.deed.operation
    }

    /// What came of it.
    #[must_use]
    pub const fn outcome(&self) -> &'a Outcome {
        &self.deed.outcome
    }
}

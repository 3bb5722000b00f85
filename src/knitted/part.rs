//! The entries of a record.

use super::Stood;
use crate::beds::{Operation, Outcome};
use crate::plan::program::{Promise, Speech, StepId};
use crate::source::Span;
use std::collections::HashMap;
use std::sync::Arc;

/// What was done: an operation and what came of it. Places in a record where the same came of the same step share it.
#[derive(Debug, PartialEq, Eq)]
pub struct Deed {
    /// The step it is.
    pub step: StepId,
    /// The statement it comes from.
    pub span: Span,
    /// What was done.
    pub operation: Operation,
    /// What came of it.
    pub outcome: Outcome,
}

/// Deeds that may come again.
#[derive(Debug, Default)]
pub(super) struct Deeds(HashMap<StepId, Vec<Arc<Deed>>>);

impl Deeds {
    /// Outcomes of one step that are looked at: going left, going right, and a few turns of a pattern.
    const KEPT: usize = 4;

    /// The deed of that step with that outcome.
    pub(super) fn shared(&mut self, step: StepId, span: Span, operation: &Operation, outcome: &Outcome) -> Arc<Deed> {
        let known = self.0.entry(step).or_default();
        if let Some(deed) = known.iter().find(|deed| deed.outcome == *outcome) {
            return Arc::clone(deed);
        }
        let deed = Arc::new(Deed { step, span, operation: operation.clone(), outcome: outcome.clone() });
        if known.len() == Self::KEPT {
            known.remove(0);
        }
        known.push(Arc::clone(&deed));
        deed
    }

    pub(super) fn clear(&mut self) {
        self.0.clear();
    }
}

/// One thing in a record.
#[derive(Debug)]
pub enum Entry {
    /// Something was done; how the beds stood afterwards.
    Did(Arc<Deed>, Stood),
    /// Something is said to the knitter.
    Said(Speech),
    /// Something is promised of the beds, in that statement.
    Promised(Promise, Span),
    /// A block of work.
    Block(Block),
    /// Work that comes several times.
    Repeated(Repeated),
    /// A repeat that was played before from the same state and is taken as done, under the number that is remembered
    /// with it; how the beds stand then, but for the counting of rows.
    AsBefore(u64, Stood),
}

/// What stands over a block.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Heading {
    /// The title of a section.
    Section(Arc<str>),
    /// That a rule is silenced.
    Allow,
}

/// A block of work, or as much of it as stands in one part of the record.
#[derive(Debug)]
pub struct Block {
    /// What stands over it.
    pub heading: Heading,
    /// The work.
    pub entries: Vec<Entry>,
    /// Whether it begins in this part of the record.
    pub begins: bool,
    /// Whether it ends in this part of the record.
    pub ends: bool,
}

/// Work that comes several times, or as much of it as stands in one part of the record.
#[derive(Debug)]
pub struct Repeated {
    /// The statement.
    pub span: Span,
    /// How often it comes.
    pub times: u64,
    /// The stitch that is worked; none for other repeats.
    pub stitch: Option<Arc<str>>,
    /// Whether this is one row, so that passes are rows.
    pub single_row: bool,
    /// How the beds stood before the first pass.
    pub before: Stood,
    /// The passes in order.
    pub passes: Vec<Passes>,
    /// Whether it begins in this part of the record.
    pub begins: bool,
    /// Whether it ends in this part of the record.
    pub ends: bool,
    /// The number under which it is remembered, if it may be taken as done later.
    pub remembered: Option<u64>,
}

impl Repeated {
    /// As it goes on in the next part of the record, with no passes as yet.
    pub(super) fn goes_on(&self) -> Self {
        let (stitch, before) = (self.stitch.clone(), self.before.clone());
        Self { stitch, before, passes: Vec::new(), begins: false, ..*self }
    }
}

/// Passes of a repeat.
#[derive(Debug)]
pub enum Passes {
    /// One that was played.
    Played(Pass),
    /// Some that were counted: the last ones that were played come again and again.
    Counted {
        /// How many of the last passes played make up what comes again.
        period: u64,
        /// How many times more that comes.
        times: u64,
        /// How the beds stood before that period.
        from: Stood,
        /// How they stood after it.
        to: Stood,
        /// How they stand after all of them.
        after: Stood,
    },
}

/// One pass that was played, or as much of it as stands in one part of the record.
#[derive(Debug)]
pub struct Pass {
    /// Which it is, from 1.
    pub number: u64,
    /// How the beds stood before it.
    pub before: Stood,
    /// The work.
    pub entries: Vec<Entry>,
    /// Whether it begins in this part of the record.
    pub begins: bool,
}

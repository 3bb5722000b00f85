//! Steps on the way.

use crate::plan::lower::occupancy::Occupancy;
use crate::plan::program::{Step, Steps, StitchUse};

/// Steps on the way.
#[derive(Debug, Default)]
pub(super) struct Draft {
    /// The steps.
    pub(super) steps: Vec<Step>,
    /// How many rows they are.
    pub(super) rows: u128,
    /// How deep the steps are nested.
    pub(super) height: usize,
    /// Whether a statement in it could not be understood, so that the rows are not all.
    pub(super) gap: bool,
    /// What is known of the beds, inside a definition.
    pub(super) beds: Option<Occupancy>,
}

/// A definition with the values it was given.
#[derive(Debug)]
pub(super) struct Instance {
    /// Its steps, shared by all places that work it with the same values.
    pub(super) steps: Steps,
    /// The rows of one pass.
    pub(super) rows: u128,
    /// Whether a line of it could not be understood.
    pub(super) gap: bool,
    /// How deep its steps are nested.
    pub(super) height: usize,
    /// What it says of itself.
    pub(super) used: StitchUse,
}

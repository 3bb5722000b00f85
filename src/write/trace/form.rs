//! The form of a trace. These types are the format: they change only together with [`Trace::VERSION`], whatever
//! happens to the types inside the compiler.
//!
//! Needles are written in spans, `L30-R30` or `R5`, from left to right. Directions and sides are words. What is empty,
//! or has nothing to say, is left out.

#[cfg(test)]
use super::entry::Entry;
use super::entry::Source;
use super::operations::Operations;
#[cfg(test)]
use super::totals::Totals;
use super::totals::TotalsToCome;
use super::words::{BedWord, HalfStepWord, SideWord, TakesWord};
#[cfg(test)]
use schemars::JsonSchema;
use serde::Serialize;

/// Every operation of a pattern, one after the other, with the repeats played out.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields, title = "A wale operation trace"))]
pub struct Trace<'a> {
    /// The version of this format; it is raised when a reader of the version before would misread it.
    pub trace: u32,
    /// The title of the pattern; null where it has none.
    pub pattern: Option<&'a str>,
    /// The sizes, in the order of the pattern; one without a name where the pattern has no sizes.
    pub sizes: Vec<TracedSize<'a>>,
}

impl Trace<'_> {
    /// The version of the format.
    pub const VERSION: u32 = 1;
}

/// The pattern in one size.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct TracedSize<'a> {
    /// The name of the size; null where the pattern has no sizes.
    pub size: Option<&'a str>,
    /// The yarns.
    pub yarns: Vec<TracedYarn<'a>>,
    /// The pieces, in the order of the pattern.
    pub pieces: Vec<TracedPiece<'a>>,
}

/// A yarn.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct TracedYarn<'a> {
    /// Its name in the pattern; the operations call it so.
    pub name: &'a str,
    /// Its count, as written: `2/15 Nm`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub count: Option<&'a str>,
    /// Its colour in words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub colour: Option<&'a str>,
    /// What it is made of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fibre: Option<&'a str>,
}

/// One piece.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct TracedPiece<'a> {
    /// Its title.
    pub piece: &'a str,
    /// How many to make.
    pub make: u64,
    /// The line that opens it.
    pub source: Source<'a>,
    /// The machine.
    pub machine: TracedMachine<'a>,
    /// What is done, from an empty machine on: nothing in work, no loops, gaiting between, racking at the centre, the
    /// carriage at the left, no yarn.
    #[cfg_attr(test, schemars(with = "Vec<Entry<'static>>"))]
    pub operations: Operations<'a>,
    /// What came of it.
    #[cfg_attr(test, schemars(with = "Totals"))]
    pub totals: TotalsToCome,
}

/// A machine.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct TracedMachine<'a> {
    /// Its name in the pattern.
    pub name: &'a str,
    /// Needles on each side of the centre, on both beds: `L1` to this one, `R1` to this one.
    pub needles_each_side: u32,
    /// Distance of neighbouring needles in millimetres, where the profile says.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pitch_mm: Option<f64>,
    /// The bed that racking moves.
    pub racking_bed: BedWord,
    /// Steps of racking to the left of the centre.
    pub racking_left: u32,
    /// Steps of racking to the right of the centre.
    pub racking_right: u32,
    /// What makes the half step between the two gaitings.
    pub half_step_with: HalfStepWord,
    /// The side to which a back needle stands half a needle beside the front needle of its name, at gaiting `between` with
    /// the racking at the centre.
    pub half_step_to: SideWord,
    /// The ways of the transfer carriage; left out where there is none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub transfer_carriage: Vec<TracedWay>,
    /// What the transfer carriage can be set to take; left out where the profile does not say.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub transfer_carriage_takes: Vec<TakesWord>,
    /// Where the beds stand for a transfer, in the words of the profile; left out where that is just face to face.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub transfer_place: Option<&'a str>,
    /// Whether a needle emptied by a transfer stays in work where the pattern does not say.
    pub emptied_needles_stay_in_work: bool,
}

/// A way of the transfer carriage.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct TracedWay {
    /// The bed it takes stitches to.
    pub to: BedWord,
    /// The side from which it must be slid; left out where that may be either.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<SideWord>,
}

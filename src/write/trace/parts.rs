//! The needles of an operation by what they do, for the form of a trace.

use super::words::{BedWord, SideWord, Size, Spans, ToolWord};
#[cfg(test)]
use schemars::JsonSchema;
use serde::Serialize;

/// Needles that change their position.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub struct NeedlesPut {
    /// Those of the front bed.
    #[serde(skip_serializing_if = "PutBed::is_empty")]
    pub front: PutBed,
    /// Those of the back bed.
    #[serde(skip_serializing_if = "PutBed::is_empty")]
    pub back: PutBed,
}

/// Needles of one bed that change their position.
#[derive(Debug, Default, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct PutBed {
    /// Those that were not so before.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub changed: Spans,
    /// Those of them that lost their loops by it.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub lost: Spans,
}

impl PutBed {
    pub(super) fn is_empty(&self) -> bool {
        self.changed.is_empty() && self.lost.is_empty()
    }
}

/// What one bed does in a row.
#[derive(Debug, Default, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct RowBed {
    /// Needles that knit: each draws one new loop through everything it carries.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub knit: Spans,
    /// Needles that tuck: each takes a loop and keeps what it carries.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub tuck: Spans,
    /// Needles in work that slip.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub slip: Spans,
    /// Of the needles that knit or tuck, those that were empty: each catches a loop that is no stitch yet.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub caught: Spans,
    /// The stitch size of this row; left out where none is set, and where the bed makes no loop.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub size: Option<Size>,
}

impl RowBed {
    pub(super) fn is_empty(&self) -> bool {
        self.knit.is_empty() && self.tuck.is_empty() && self.slip.is_empty()
    }
}

/// What is done by hand to both beds.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub struct Handled {
    /// The needles of the front bed.
    #[serde(skip_serializing_if = "HandledBed::is_empty")]
    pub front: HandledBed,
    /// The needles of the back bed.
    #[serde(skip_serializing_if = "HandledBed::is_empty")]
    pub back: HandledBed,
}

/// What is done to the needles of one bed, by hand or in a cast-on row.
#[derive(Debug, Default, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct HandledBed {
    /// Needles that take one new loop each; it counts as a stitch. Those that are not held are in work afterwards.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub made: Spans,
    /// Needles on which one loop each is hung again. Those that are not held are in work afterwards.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub picked_up: Spans,
    /// Needles from which all loops are taken. They keep their position.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub taken: Spans,
    /// Needles named that had nothing to give.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub empty: Spans,
    /// Needles named that could not take a loop.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub refused: Spans,
}

impl HandledBed {
    pub(super) fn is_empty(&self) -> bool {
        [self.made, self.picked_up, self.taken, self.empty, self.refused].iter().all(Spans::is_empty)
    }
}

/// How far loops go.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct Distance {
    /// In needle numbers.
    pub needles: u32,
    /// To that side; null where the number is 0.
    pub toward: Option<SideWord>,
}

impl Distance {
    /// So many needle numbers to the right.
    pub(super) const fn of(by: i32) -> Self {
        Self { needles: by.unsigned_abs(), toward: SideWord::of(by) }
    }
}

/// Stitches that go from needle to needle. All are taken off before any is laid; on a needle that carries something
/// they lie on top.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub struct Carried {
    /// The bed they come from.
    pub from: BedWord,
    /// The bed they go to.
    pub to: BedWord,
    /// How far they go, in needle numbers: 0 is the needle of the same name.
    pub by: Distance,
    /// The needles that give all their loops.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub donors: Spans,
    /// The needles that get them, in the order of the donors, without the lost ones.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub receivers: Spans,
    /// Receivers that had a loop already and now carry more.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub joined: Spans,
    /// Donors whose loops are lost: there is no receiver, or it is out of work.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub lost: Spans,
    /// Needles named that had nothing to give.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub empty: Spans,
    /// Donors that go out of work, being empty.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub put_out_of_work: Spans,
    /// The tool that the pattern asks for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tool: Option<ToolWord>,
}

/// Stitches of one bed that move together.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct Group {
    /// How far they go.
    pub by: Distance,
    /// The needles that give all their loops.
    pub donors: Spans,
    /// The needles that get them, in the order of the donors.
    pub receivers: Spans,
}

/// Stitches added or taken off at edges of a bed, one edge after the other.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub struct Edges {
    /// The bed.
    pub bed: BedWord,
    /// The edges where it was done.
    pub edges: Vec<Edge>,
}

/// One edge that grows or shrinks.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct Edge {
    /// Which edge.
    pub side: SideWord,
    /// The edge stitches that move; left out where none do.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub group: Option<Group>,
    /// Receivers that had a loop already and now carry more.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub joined: Spans,
    /// Needles on which a new loop is wound; it counts as a stitch.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub made: Spans,
    /// Needles that come into work, held ones among them.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub put_in_work: Spans,
    /// Needles that go out of work, being empty.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub put_out_of_work: Spans,
}

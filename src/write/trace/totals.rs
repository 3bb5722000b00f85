//! What came of a piece, written behind its entries.

use super::entry::Ledger;
use super::words::Spans;
#[cfg(test)]
use schemars::JsonSchema;
use serde::Serialize;
use std::cell::Cell;
use std::rc::Rc;

/// What came of a piece.
#[derive(Debug, Clone, Copy, Default, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct Totals {
    /// Entries in the list.
    pub entries: u64,
    /// Rows of the piece.
    pub rows: u64,
    /// Whether the piece was played to its end; false where a needle carried so many loops that no machine goes on.
    pub whole: bool,
    /// Where every loop is at the end.
    pub ledger: Ledger,
    /// The front bed at the end.
    pub front: BedAtEnd,
    /// The back bed at the end.
    pub back: BedAtEnd,
}

/// One bed at the end of a piece.
#[derive(Debug, Clone, Copy, Default, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct BedAtEnd {
    /// Needles in work.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub in_work: Spans,
    /// Needles held.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub held: Spans,
    /// Needles that carry a loop.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub loaded: Spans,
    /// Needles that carry a stitch.
    #[serde(skip_serializing_if = "Spans::is_empty")]
    pub stitches: Spans,
}

/// Totals that are known once the operations before them have been written.
#[derive(Debug, Clone, Default)]
pub struct TotalsToCome(Rc<Cell<Totals>>);

impl TotalsToCome {
    pub(super) fn are(&self, totals: Totals) {
        self.0.set(totals);
    }
}

impl Serialize for TotalsToCome {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.0.get().serialize(serializer)
    }
}

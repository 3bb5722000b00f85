//! How large a pattern may be.

/// Blocks and stitches in each other.
pub(super) const MOST_DEPTH: usize = 64;
/// Sizes of a pattern.
pub(super) const MOST_SIZES: usize = 64;
/// Rows of a piece: far more than anybody knits, and small enough to count with.
pub(super) const MOST_ROWS: u128 = 1_000_000_000_000_000;

/// Steps that all sizes together may keep in memory.
pub(super) const MOST_STEPS: usize = 1_000_000;

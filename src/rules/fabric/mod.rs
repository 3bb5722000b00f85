//! Rules about the fabric: tucks, floats, sizes, repeats that close.

pub(super) mod adjacent_tucks;
pub(super) mod edge_tuck;
pub(super) mod hold_left_on;
pub(super) mod long_float;
pub(super) mod open_repeat;
pub(super) mod ragged_repeat;
pub(super) mod size_left_changed;
pub(super) mod tuck_pile;

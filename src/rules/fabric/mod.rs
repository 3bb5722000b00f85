//! Rules about the fabric: tucks, floats, sizes, repeats that close.

pub(super) mod adjacent_tucks;
pub(super) mod cast_on_racking_kept;
pub(super) mod cast_on_size_kept;
pub(super) mod edge_tuck;
pub(super) mod held_at_carriage_side;
pub(super) mod held_transfer;
pub(super) mod hold_left_on;
pub(super) mod lone_edge;
pub(super) mod long_float;
pub(super) mod many_tucks;
pub(super) mod no_slant;
pub(super) mod open_repeat;
pub(super) mod ragged_repeat;
pub(super) mod size_left_changed;
pub(super) mod slit_in_tube;
pub(super) mod stitch_pile;
pub(super) mod stretched_hold;
pub(super) mod tight_cross;
pub(super) mod tubular_floats;
pub(super) mod tuck_pile;
pub(super) mod turn;
pub(super) mod unsupported_tuck;
pub(super) mod wide_cable;

//! Rules about needles, beds, racking and carriage.

pub(super) mod facing_needles;
pub(super) mod far_move;
pub(super) mod needle_in_the_way;
pub(super) mod no_selector;
pub(super) mod no_way_back;
pub(super) mod not_by_carriage;
pub(super) mod not_opposite;
pub(super) mod off_bed;
pub(super) mod racked_two_steps;
pub(super) mod racking_range;
pub(super) mod racking_strain;
pub(super) mod size_range;
pub(super) mod too_long_to_check;
pub(super) mod wrong_bed;
pub(super) mod wrong_side;
pub(super) mod yarn_not_at_this_side;

pub(super) use too_long_to_check::too_long_to_check;

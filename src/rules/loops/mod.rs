//! Rules about stitches: none lost, none doubled, none made unseen.

pub(super) mod adjacent_empties;
pub(super) mod cast_on_shares_a_loop;
pub(super) mod doubled_stitch;
pub(super) mod eyelet_becomes_ladder;
pub(super) mod far_bind_off;
pub(super) mod left_on_needles;
pub(super) mod left_on_waste;
pub(super) mod loose_transfer;
pub(super) mod lost_stitch;
pub(super) mod no_needle_found;
pub(super) mod no_yarn;
pub(super) mod nothing_to_do;
pub(super) mod odd_last_needle;
mod refused_decrease;
pub(super) mod there_and_back;
pub(super) mod tight_transfer;
pub(super) mod too_few_to_pick_up;
pub(super) mod transfer_size;
pub(super) mod unplanned_loop;

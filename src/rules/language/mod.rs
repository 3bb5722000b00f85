//! Rules about what a pattern says: names, units, values, what stands where. Their findings are made while the program
//! is worked out.

pub(super) mod circular_use;
pub(super) mod divided_by_zero;
pub(super) mod duplicate_name;
pub(super) mod empty_row;
pub(super) mod endless_definition;
pub(super) mod hand_only;
pub(super) mod misplaced_line;
pub(super) mod missing_bed;
pub(super) mod missing_line;
pub(super) mod missing_needles;
pub(super) mod mixed_and_or;
pub(super) mod no_gauge;
pub(super) mod no_machine;
pub(super) mod no_rows;
pub(super) mod not_a_whole_number;
pub(super) mod not_fixed;
pub(super) mod not_side_by_side;
pub(super) mod not_there_yet;
pub(super) mod one_bed;
pub(super) mod out_of_range;
pub(super) mod reserved_word;
pub(super) mod said_twice;
pub(super) mod too_large;
pub(super) mod uneven_chart;
pub(super) mod uneven_move;
pub(super) mod unit_mismatch;
pub(super) mod unknown_name;
pub(super) mod unreadable_file;
pub(super) mod unused_name;
pub(super) mod wrong_count_of_sizes;
pub(super) mod wrong_details;
pub(super) mod wrong_mark;

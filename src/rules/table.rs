//! The table of all rules.

use super::{LooksAt, Rule, fabric, loops, machine, promises};
use crate::beds::RowDone;
use crate::finding::Finding;
use crate::play::Moment;
use std::sync::LazyLock;

/// Every rule, by name.
pub static ALL: &[&Rule] = &[
    &loops::adjacent_empties::RULE,
    &fabric::adjacent_tucks::RULE,
    &loops::cast_on_shares_a_loop::RULE,
    &promises::count_mismatch::RULE,
    &loops::doubled_stitch::RULE,
    &fabric::edge_tuck::RULE,
    &machine::facing_needles::RULE,
    &fabric::hold_left_on::RULE,
    &loops::left_on_needles::RULE,
    &fabric::long_float::RULE,
    &loops::lost_stitch::RULE,
    &promises::needless_allow::RULE,
    &machine::no_selector::RULE,
    &machine::no_way_back::RULE,
    &loops::no_yarn::RULE,
    &machine::not_opposite::RULE,
    &loops::nothing_to_do::RULE,
    &loops::odd_last_needle::RULE,
    &machine::off_bed::RULE,
    &fabric::open_repeat::RULE,
    &machine::racked_two_steps::RULE,
    &machine::racking_range::RULE,
    &fabric::ragged_repeat::RULE,
    &fabric::size_left_changed::RULE,
    &machine::size_range::RULE,
    &loops::tight_transfer::RULE,
    &machine::too_long_to_check::RULE,
    &fabric::tuck_pile::RULE,
    &loops::unplanned_loop::RULE,
    &machine::wrong_bed::RULE,
    &machine::wrong_side::RULE,
];

/// The rule of that name.
#[must_use]
pub fn find(name: &str) -> Option<&'static Rule> {
    ALL.iter().copied().find(|rule| rule.name == name)
}

type OfARow = (&'static Rule, fn(&Moment<'_>, &RowDone) -> Option<Finding>);

/// The rules that look at rows. Rows are by far the most frequent operation, so their rules are picked out once.
pub(super) fn rules_of_a_row() -> &'static [OfARow] {
    static RULES: LazyLock<Vec<OfARow>> = LazyLock::new(|| {
        ALL.iter()
            .flat_map(|rule| rule.looks_at.iter().map(move |looks_at| (*rule, looks_at)))
            .filter_map(|(rule, looks_at)| match looks_at {
                LooksAt::Row(look) => Some((rule, *look)),
                _ => None,
            })
            .collect()
    });
    &RULES
}

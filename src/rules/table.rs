//! The table of all rules.

use super::{LooksAt, Watch, fabric, loops, machine, promises};
use crate::beds::RowDone;
use crate::catalogue::Rule;
use crate::finding::Finding;
use crate::play::Moment;
use crate::{plan, syntax};
use std::sync::LazyLock;

/// The rules that look on while a piece is played, by name: in this order they are asked.
pub(super) static WATCHES: &[&Watch] = &[
    &loops::adjacent_empties::RULE,
    &fabric::adjacent_tucks::RULE,
    &loops::cast_on_shares_a_loop::RULE,
    &promises::count_mismatch::RULE,
    &loops::doubled_stitch::RULE,
    &fabric::edge_tuck::RULE,
    &loops::eyelet_becomes_ladder::RULE,
    &machine::facing_needles::RULE,
    &machine::far_move::RULE,
    &fabric::held_at_carriage_side::RULE,
    &fabric::hold_left_on::RULE,
    &loops::left_on_needles::RULE,
    &fabric::lone_edge::RULE,
    &fabric::long_float::RULE,
    &loops::lost_stitch::RULE,
    &machine::needle_in_the_way::RULE,
    &promises::needless_allow::RULE,
    &loops::no_needle_found::RULE,
    &machine::no_selector::RULE,
    &fabric::no_slant::RULE,
    &machine::no_way_back::RULE,
    &loops::no_yarn::RULE,
    &machine::not_opposite::RULE,
    &loops::nothing_to_do::RULE,
    &loops::odd_last_needle::RULE,
    &machine::off_bed::RULE,
    &fabric::open_repeat::RULE,
    &machine::racked_two_steps::RULE,
    &machine::racking_range::RULE,
    &machine::racking_strain::RULE,
    &fabric::ragged_repeat::RULE,
    &fabric::size_left_changed::RULE,
    &machine::size_range::RULE,
    &fabric::stitch_pile::RULE,
    &fabric::stretched_hold::RULE,
    &loops::there_and_back::RULE,
    &loops::tight_transfer::RULE,
    &machine::too_long_to_check::RULE,
    &fabric::tubular_floats::RULE,
    &fabric::tuck_pile::RULE,
    &loops::unplanned_loop::RULE,
    &fabric::unsupported_tuck::RULE,
    &fabric::wide_cable::RULE,
    &machine::wrong_bed::RULE,
    &machine::wrong_side::RULE,
    &machine::yarn_not_at_this_side::RULE,
];

/// Every rule, by name.
pub static ALL: LazyLock<Vec<&'static Rule>> = LazyLock::new(|| {
    let tables = plan::rules::RULES.into_iter().chain([syntax::rules::RULES]);
    let watches = WATCHES.iter().map(|watch| watch.rule);
    let mut all: Vec<&Rule> = tables.flatten().copied().chain(watches).collect();
    all.sort_unstable();
    // What planning and playing both find is said by one rule, which stands in two tables.
    all.dedup();
    all
});

/// The rule of that name.
#[must_use]
pub fn find(name: &str) -> Option<&'static Rule> {
    ALL.iter().copied().find(|rule| rule.name == name)
}

/// Whether it is found while the text is read, and not while it is played. Such a rule cannot be silenced.
#[must_use]
pub fn is_found_in_reading(rule: &Rule) -> bool {
    !WATCHES.iter().any(|watch| watch.rule == rule && !watch.looks_at.is_empty())
}

type OfARow = (&'static Watch, fn(&Moment<'_>, &RowDone) -> Option<Finding>);

/// The rules that look at rows. Rows are by far the most frequent operation, so their rules are picked out once.
pub(super) fn rules_of_a_row() -> &'static [OfARow] {
    static RULES: LazyLock<Vec<OfARow>> = LazyLock::new(|| {
        let looks = WATCHES.iter().flat_map(|watch| watch.looks_at.iter().map(|looks_at| (*watch, looks_at)));
        looks
            .filter_map(|(watch, looks_at)| if let LooksAt::Row(look) = looks_at { Some((watch, *look)) } else { None })
            .collect()
    });
    &RULES
}

#[cfg(test)]
mod tests {
    use super::{ALL, WATCHES};

    #[test]
    fn the_tables_are_sorted_and_their_names_are_kebab_case() {
        for pair in WATCHES.windows(2) {
            let (one, other) = (pair[0].rule, pair[1].rule);
            assert!(one < other, "`{one}` should not stand before `{other}`");
        }
        for rule in ALL.iter() {
            let plain = |word: &str| !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_lowercase());
            assert!(rule.name.split('-').all(plain), "`{rule}` is not in kebab-case");
        }
    }
}

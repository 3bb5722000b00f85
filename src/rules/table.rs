//! The table of all rules.

use super::{LooksAt, Rule, fabric, language, loops, machine, promises, writing};
use crate::beds::RowDone;
use crate::finding::Finding;
use crate::play::Moment;
use std::sync::LazyLock;

/// Every rule, by name.
pub static ALL: &[&Rule] = &[
    &loops::adjacent_empties::RULE,
    &fabric::adjacent_tucks::RULE,
    &writing::capital_word::RULE,
    &loops::cast_on_shares_a_loop::RULE,
    &language::circular_use::RULE,
    &writing::control_character::RULE,
    &promises::count_mismatch::RULE,
    &language::divided_by_zero::RULE,
    &loops::doubled_stitch::RULE,
    &language::duplicate_name::RULE,
    &fabric::edge_tuck::RULE,
    &language::empty_row::RULE,
    &language::endless_definition::RULE,
    &loops::eyelet_becomes_ladder::RULE,
    &machine::facing_needles::RULE,
    &machine::far_move::RULE,
    &language::hand_only::RULE,
    &fabric::held_at_carriage_side::RULE,
    &fabric::hold_left_on::RULE,
    &loops::left_on_needles::RULE,
    &fabric::lone_edge::RULE,
    &fabric::long_float::RULE,
    &writing::look_alike_character::RULE,
    &loops::lost_stitch::RULE,
    &writing::merge_marker::RULE,
    &language::misplaced_line::RULE,
    &language::missing_bed::RULE,
    &writing::missing_block::RULE,
    &language::missing_line::RULE,
    &language::missing_needles::RULE,
    &writing::misspelt_word::RULE,
    &language::mixed_and_or::RULE,
    &machine::needle_in_the_way::RULE,
    &promises::needless_allow::RULE,
    &writing::needless_block::RULE,
    &language::no_gauge::RULE,
    &language::no_machine::RULE,
    &loops::no_needle_found::RULE,
    &language::no_rows::RULE,
    &machine::no_selector::RULE,
    &fabric::no_slant::RULE,
    &machine::no_way_back::RULE,
    &loops::no_yarn::RULE,
    &language::not_a_whole_number::RULE,
    &language::not_fixed::RULE,
    &machine::not_opposite::RULE,
    &language::not_side_by_side::RULE,
    &language::not_there_yet::RULE,
    &writing::not_tidied::RULE,
    &loops::nothing_to_do::RULE,
    &loops::odd_last_needle::RULE,
    &machine::off_bed::RULE,
    &language::one_bed::RULE,
    &fabric::open_repeat::RULE,
    &language::out_of_range::RULE,
    &machine::racked_two_steps::RULE,
    &machine::racking_range::RULE,
    &machine::racking_strain::RULE,
    &fabric::ragged_repeat::RULE,
    &language::reserved_word::RULE,
    &language::said_twice::RULE,
    &fabric::size_left_changed::RULE,
    &machine::size_range::RULE,
    &fabric::stitch_pile::RULE,
    &writing::stray_brace::RULE,
    &fabric::stretched_hold::RULE,
    &loops::there_and_back::RULE,
    &loops::tight_transfer::RULE,
    &writing::too_deep::RULE,
    &language::too_large::RULE,
    &machine::too_long_to_check::RULE,
    &writing::too_many_findings::RULE,
    &fabric::tubular_floats::RULE,
    &fabric::tuck_pile::RULE,
    &writing::unclosed_brace::RULE,
    &writing::unclosed_quote::RULE,
    &language::uneven_chart::RULE,
    &language::uneven_move::RULE,
    &language::unit_mismatch::RULE,
    &language::unknown_name::RULE,
    &loops::unplanned_loop::RULE,
    &language::unreadable_file::RULE,
    &writing::unreadable_line::RULE,
    &fabric::unsupported_tuck::RULE,
    &language::unused_name::RULE,
    &fabric::wide_cable::RULE,
    &machine::wrong_bed::RULE,
    &language::wrong_count_of_sizes::RULE,
    &language::wrong_details::RULE,
    &language::wrong_mark::RULE,
    &machine::wrong_side::RULE,
    &machine::yarn_not_at_this_side::RULE,
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

#[cfg(test)]
mod tests {
    use super::ALL;
    use crate::plan::RULES_OF_PLAN;
    use crate::syntax::RULES_OF_SYNTAX;

    #[test]
    fn the_table_is_sorted_and_its_names_are_kebab_case() {
        for pair in ALL.windows(2) {
            assert!(pair[0].name < pair[1].name, "`{}` should not stand before `{}`", pair[0].name, pair[1].name);
        }
        for rule in ALL {
            let plain = |word: &str| !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_lowercase());
            assert!(rule.name.split('-').all(plain), "`{}` is not in kebab-case", rule.name);
        }
    }

    #[test]
    fn every_name_that_reading_and_planning_use_is_in_the_table() {
        for name in RULES_OF_SYNTAX.iter().chain(RULES_OF_PLAN) {
            assert!(super::find(name).is_some(), "`{name}` has no rule");
        }
        for rule in ALL.iter().filter(|rule| rule.is_found_in_reading()) {
            let made = RULES_OF_SYNTAX.contains(&rule.name) || RULES_OF_PLAN.contains(&rule.name);
            let played = ["needless-allow", "too-long-to-check"].contains(&rule.name);
            assert!(made || played, "nothing makes `{}`", rule.name);
        }
    }
}

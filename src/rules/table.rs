//! The table of all rules.

use super::mind::Mindful;
use super::{LooksAt, Promised, Watch, fabric, loops, machine, promises};
use crate::beds::RowDone;
use crate::catalogue::Rule;
use crate::finding::Finding;
use crate::plan::program::Promise;
use crate::play::Moment;
use crate::{plan, syntax};
use std::sync::LazyLock;

/// Makes the table of the rules that look on while a piece is played, and one value of all that they keep in mind.
macro_rules! watches {
    ($($room:ident::$rule:ident $(minding $Mind:ident)? $(keeping $Kept:ident for $promises:ident)?,)*) => {
        /// The rules that look on while a piece is played, by name: in this order they are asked.
        pub(super) static WATCHES: &[&Watch] = &[$(&$room::$rule::RULE),*];

        /// What the rules keep in mind.
        #[derive(Debug, Clone, Default, PartialEq)]
        pub(super) struct Minds {
            $($($rule: $room::$rule::$Mind,)? $($rule: $room::$rule::$Kept,)?)*
        }

        impl Minds {
            /// They are told of what was done.
            pub(super) fn after(&mut self, moment: &Moment<'_>) {
                $(
                    $(<$room::$rule::$Mind as Mindful>::after(&mut self.$rule, moment);)?
                    $(<$room::$rule::$Kept as Mindful>::after(&mut self.$rule, moment);)?
                )*
            }

            /// They are told of a promise.
            pub(super) fn promised(&mut self, promise: &Promise) {
                $(
                    $(<$room::$rule::$Mind as Mindful>::promised(&mut self.$rule, promise);)?
                    $(<$room::$rule::$Kept as Mindful>::promised(&mut self.$rule, promise);)?
                )*
            }
        }

        /// The rules that look beside what they keep in mind.
        static MINDFUL: &[(&Watch, LookMindful)] = &[
            $($((&$room::$rule::RULE, |minds, moment| {
                let mind: &$room::$rule::$Mind = &minds.$rule;
                $room::$rule::look(moment, mind)
            }),)?)*
        ];

        /// Those of them that look at promises beside what they keep in mind.
        static MINDFUL_OF_PROMISES: &[(&Watch, LookMindfulAtPromise)] = &[
            $($((&$room::$rule::RULE, |minds, promised| {
                $room::$rule::$promises(promised, &minds.$rule)
            }),)?)*
        ];
    };
}

watches! {
    loops::adjacent_empties,
    fabric::adjacent_tucks,
    fabric::cast_on_racking_kept minding Served,
    loops::cast_on_shares_a_loop,
    fabric::cast_on_size_kept minding Kept,
    promises::count_mismatch,
    loops::doubled_stitch,
    fabric::edge_tuck,
    loops::eyelet_becomes_ladder,
    machine::facing_needles,
    loops::far_bind_off,
    machine::far_move,
    fabric::held_at_carriage_side,
    fabric::held_transfer,
    fabric::hold_left_on,
    loops::left_on_needles,
    loops::left_on_waste,
    fabric::lone_edge,
    fabric::long_float,
    loops::loose_transfer,
    loops::lost_stitch,
    fabric::many_tucks,
    machine::needle_in_the_way,
    promises::needless_allow,
    loops::no_needle_found,
    machine::no_selector,
    fabric::no_slant minding LastStand,
    machine::no_way_back,
    loops::no_yarn,
    machine::not_by_carriage,
    machine::not_opposite,
    loops::nothing_to_do,
    loops::odd_last_needle,
    machine::off_bed,
    fabric::open_repeat,
    machine::racked_two_steps minding PulledFrom,
    machine::racking_range,
    machine::racking_strain minding PulledFrom,
    fabric::ragged_repeat,
    fabric::size_left_changed,
    machine::size_range,
    fabric::slit_in_tube minding Course,
    fabric::stitch_pile,
    fabric::stretched_hold minding Waits,
    loops::there_and_back minding JustCarried,
    fabric::tight_cross,
    loops::tight_transfer,
    loops::too_few_to_pick_up,
    machine::too_long_to_check,
    promises::tube_mismatch keeping Turns for promised,
    fabric::tubular_floats minding Hem,
    fabric::tuck_pile,
    loops::unplanned_loop,
    fabric::unsupported_tuck,
    fabric::wide_cable,
    machine::wrong_bed,
    machine::wrong_side,
    machine::yarn_not_at_this_side,
}

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

type LookMindful = fn(&Minds, &Moment<'_>) -> Option<Finding>;

/// How that rule looks beside what it keeps in mind.
pub(super) fn mindful(watch: &Watch) -> Option<LookMindful> {
    MINDFUL.iter().find(|(mindful, _)| mindful.rule == watch.rule).map(|(_, look)| *look)
}

type LookMindfulAtPromise = fn(&Minds, &Promised<'_>) -> Option<Finding>;

/// How that rule looks at a promise beside what it keeps in mind.
pub(super) fn mindful_of_promises(watch: &Watch) -> Option<LookMindfulAtPromise> {
    MINDFUL_OF_PROMISES.iter().find(|(mindful, _)| mindful.rule == watch.rule).map(|(_, look)| *look)
}

/// How a rule looks at a row.
#[derive(Clone, Copy)]
pub(super) enum LookAtRow {
    /// As it is.
    Plain(fn(&Moment<'_>, &RowDone) -> Option<Finding>),
    /// Beside what the rule keeps in mind.
    Mindful(LookMindful),
}

/// The rules that look at rows. Rows are by far the most frequent operation, so their rules are picked out once.
pub(super) fn rules_of_a_row() -> &'static [(&'static Watch, LookAtRow)] {
    static RULES: LazyLock<Vec<(&Watch, LookAtRow)>> = LazyLock::new(|| {
        let looks = WATCHES.iter().flat_map(|watch| watch.looks_at.iter().map(|looks_at| (*watch, looks_at)));
        let at_row = |(watch, looks_at)| match looks_at {
            &LooksAt::Row(look) => Some((watch, LookAtRow::Plain(look))),
            LooksAt::Mindful => mindful(watch).map(|look| (watch, LookAtRow::Mindful(look))),
            _ => None,
        };
        looks.filter_map(at_row).collect()
    });
    &RULES
}

#[cfg(test)]
mod tests {
    use super::{ALL, LooksAt, MINDFUL, WATCHES};

    #[test]
    fn who_keeps_something_in_mind_looks_beside_it() {
        let looks = WATCHES.iter().filter(|watch| watch.looks_at.iter().any(|at| matches!(at, LooksAt::Mindful)));
        let mindful: Vec<_> = MINDFUL.iter().map(|(watch, _)| watch.rule).collect();
        assert_eq!(looks.map(|watch| watch.rule).collect::<Vec<_>>(), mindful);
    }

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

//! Which findings only follow from an earlier one: one mistake is said once. Most follow by a fact that one disturbs and
//! the other rests on; how long they stand is kept in [`Standing`]. A few pairs are left that share no fact.

use super::fabric::{
    adjacent_tucks, edge_tuck, held_transfer, hold_left_on, lone_edge, no_slant, tuck_pile, unsupported_tuck,
};
use super::loops::{
    adjacent_empties, cast_on_shares_a_loop, doubled_stitch, eyelet_becomes_ladder, lost_stitch, nothing_to_do,
    unplanned_loop,
};
use super::machine::{
    facing_needles, needle_in_the_way, racked_two_steps, racking_range, wrong_side, yarn_not_at_this_side,
};
use super::table::WATCHES;
use super::{Facts, Stands, Watch};
use crate::beds::Operation;
use crate::catalogue::Rule;
use std::sync::LazyLock;

/// When a finding comes of another one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum When {
    /// At a later line.
    Later,
    /// In the very same row, where the other one is an error.
    AtOnce,
    /// Before it: an error that comes to light late, and a warning that the same mistake has made until then. The beds
    /// drift by a step in each pass, and only at the end of the racking is that an error.
    Before,
    /// On the same line, of which a warning only says less: a bed that tucks all over tucks at its edge too.
    OnTheLine,
}

/// The pairs that share no fact: when which findings come of which one.
static PAIRS: &[(When, &Watch, &[&Watch])] = &[
    (When::Later, &eyelet_becomes_ladder::RULE, &[&nothing_to_do::RULE]),
    (When::Later, &facing_needles::RULE, &[&no_slant::RULE]),
    // Where the end stitches of one bed stand alone, its tucks there lie side by side.
    (When::Later, &lone_edge::RULE, &[&adjacent_tucks::RULE, &lone_edge::RULE]),
    (When::Later, &no_slant::RULE, &[&no_slant::RULE]),
    (When::Later, &tuck_pile::RULE, &[&unsupported_tuck::RULE]),
    // One row too many or too few turns the side of every yarn after it.
    (When::Later, &yarn_not_at_this_side::RULE, &[&yarn_not_at_this_side::RULE]),
    (When::AtOnce, &adjacent_tucks::RULE, &[&edge_tuck::RULE]),
    (When::AtOnce, &eyelet_becomes_ladder::RULE, &[&nothing_to_do::RULE]),
    // Which of two facing needles the yarn meets first is not known, so neither is whether two others share a loop.
    (
        When::AtOnce,
        &facing_needles::RULE,
        &[&adjacent_empties::RULE, &cast_on_shares_a_loop::RULE, &nothing_to_do::RULE, &unplanned_loop::RULE],
    ),
    // A needle out of work that a crossing names is empty as well.
    (When::AtOnce, &lost_stitch::RULE, &[&nothing_to_do::RULE]),
    // The carriage knits over what is on the needles already: who shares a loop there is not known.
    (When::AtOnce, &doubled_stitch::RULE, &[&cast_on_shares_a_loop::RULE]),
    // Held needles that gave their stitches away stand in the way of those that took them, and are held to the end.
    (When::Before, &needle_in_the_way::RULE, &[&held_transfer::RULE]),
    (When::Later, &needle_in_the_way::RULE, &[&hold_left_on::RULE]),
    (When::AtOnce, &racking_range::RULE, &[&racked_two_steps::RULE]),
    (When::AtOnce, &unplanned_loop::RULE, &[&nothing_to_do::RULE]),
    (When::AtOnce, &wrong_side::RULE, &[&adjacent_tucks::RULE, &edge_tuck::RULE]),
    (When::Before, &racking_range::RULE, &[&adjacent_tucks::RULE, &edge_tuck::RULE, &lone_edge::RULE]),
    (When::OnTheLine, &tuck_pile::RULE, &[&adjacent_tucks::RULE, &edge_tuck::RULE]),
];

/// Whether a finding of `rule` probably is the same mistake as one of `root`, without a fact that they share.
pub(super) fn comes(when: When, rule: &Rule, root: &Rule) -> bool {
    let is_pair = |(then, first, follow): &(When, &Watch, &[&Watch])| {
        *then == when && first.rule == root && follow.iter().any(|watch| watch.rule == rule)
    };
    PAIRS.iter().any(is_pair)
}

/// The rules whose findings stand longer than a line, with their places in the set of those that were said.
static LASTING: LazyLock<Vec<(&Watch, u32)>> = LazyLock::new(|| {
    let lasting = WATCHES.iter().copied().filter(|watch| !matches!(watch.besides.stands, Stands::AtItsLine));
    lasting.zip(0..).map(|(watch, place)| (watch, 1 << place)).collect()
});

/// What is said once for as long as a setting stands, or a block lasts, or a fabric hangs on the needles: small sets.
/// The checker goes by them besides the beds, so they are part of what a repeat is known by.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Standing {
    /// The findings that are not said again themselves.
    said: u32,
    /// The facts of the fabric that were disturbed at an earlier moment, and at this one.
    astray: Facts,
    astray_now: Facts,
    /// Whether the fabric has been taken off, and nothing is cast on since.
    taken_off: bool,
}

impl Standing {
    /// The rule's place in the set; nothing for a rule that is said at each line anew.
    fn bit(watch: &Watch) -> u32 {
        if matches!(watch.besides.stands, Stands::AtItsLine) {
            return 0;
        }
        LASTING.iter().find(|(lasting, _)| lasting.rule == watch.rule).map_or(0, |(_, bit)| *bit)
    }

    /// That was found; it need not be said again from now on, if it stands longer than its line.
    pub(super) fn found(&mut self, watch: &Watch) {
        self.said |= Self::bit(watch);
    }

    /// Whether that was said already and still stands.
    pub(super) fn holds(self, watch: &Watch) -> bool {
        self.said != 0 && self.said & Self::bit(watch) != 0
    }

    /// An operation was done that may set things anew.
    pub(super) fn did(&mut self, operation: &Operation) {
        self.end(|stands| matches!(stands, Stands::UntilSetAnew(ends) if ends(operation)));
    }

    /// A stitch or a section has ended.
    pub(super) fn block_ends(&mut self) {
        self.end(|stands| matches!(stands, Stands::ToTheEndOfTheBlock));
    }

    fn end(&mut self, ends: impl Fn(&Stands) -> bool) {
        if self.said != 0 {
            let over =
                LASTING.iter().filter(|(watch, _)| ends(&watch.besides.stands)).fold(0, |all, (_, bit)| all | bit);
            self.said &= !over;
        }
    }

    /// Those facts are disturbed; what rests on them is silenced from the next moment on.
    pub(super) fn disturbed(&mut self, facts: Facts) {
        self.astray_now = self.astray_now.and(facts.of_a_fabric());
    }

    /// The next moment begins.
    pub(super) fn goes_on(&mut self) {
        self.astray = self.astray.and(std::mem::take(&mut self.astray_now));
    }

    /// Whether one of those facts was disturbed at an earlier moment.
    pub(super) fn is_astray(self, facts: Facts) -> bool {
        self.astray.meet(facts)
    }

    /// Loops are on the needles or not. The first ones after a fabric was taken off begin anew.
    pub(super) fn begins_anew(&mut self, loops: bool) {
        if self.taken_off && loops {
            (self.astray, self.astray_now, self.taken_off) = (Facts::NONE, Facts::NONE, false);
        }
    }

    /// The last loops of a fabric were taken off the needles, as the pattern says.
    pub(super) fn taken_off(&mut self) {
        self.taken_off = true;
    }
}

//! Stitches added and taken off at the edges of a bed.

use super::super::machine::Machine;
use super::super::needle::{Both, Needle, NeedleSet, Side};
use super::super::operation::EdgeChange;
use super::super::outcome::{Handled, Outcome};
use super::super::state::State;

impl State {
    /// Each named edge grows by `change.by` needles. In the simple form a loop is wound on each new needle; with an
    /// inset that many edge stitches move out first, and the needles they leave are filled from their neighbours.
    pub(super) fn increase(&mut self, machine: &Machine, change: &EdgeChange) -> Outcome {
        let mut handled = Handled { no_yarn: self.yarn.is_none(), ..Handled::default() };
        for side in named_sides(change) {
            let loaded = self.loops.loaded(change.bed);
            let outward = outward(side);
            let by = change.by as i32;
            let new = edge_needles(loaded, side, 1)
                .first()
                .map_or(NeedleSet::EMPTY, |edge| needles_from(i32::from(edge.0) + outward, by, outward));
            handled.named[change.bed] |= new;
            let group = edge_needles(loaded, side, change.inset);
            // A group moves on the prongs of one tool, so it must stand side by side; with a gap in it a stitch would
            // come to lie on a needle out of work.
            let apart = group.len() < change.inset || group.runs().count() > 1;
            if apart || new.len() < change.by || !(new - machine.bed()).is_empty() {
                handled.off_bed[change.bed] |= new - machine.bed();
                handled.refused[change.bed] |= new;
                handled.not_there += u64::from(change.by);
                continue;
            }
            self.in_work[change.bed] |= new;
            self.held[change.bed] -= new;
            let mut fill = new;
            if change.inset > 0 {
                let lifted = self.loops.lift(change.bed, group);
                self.loops.lay(change.bed, lifted, by * outward);
                fill = (group | new) - self.loops.loaded(change.bed);
            }
            let mut made = Both::default();
            made[change.bed] = fill;
            self.make_stitches(&made, self.new_loop());
            handled.made[change.bed] |= fill;
        }
        Outcome::Handled(handled)
    }

    /// Each named edge loses `change.by` stitches: the edge stitches, with an inset that many of them together, move in
    /// and lie on their neighbours; the emptied needles go out of work.
    pub(super) fn decrease(&mut self, change: &EdgeChange) -> Outcome {
        let mut handled = Handled::default();
        for side in named_sides(change) {
            let bed = change.bed;
            let loaded = self.loops.loaded(bed);
            let moving = change.by.max(change.inset);
            let group = edge_needles(loaded, side, moving);
            let inward = -outward(side) * change.by as i32;
            let landing = group.shifted(inward);
            handled.named[bed] |= group;
            // Every stitch must land on a needle that carries one or that the group itself leaves.
            if group.len() < moving || !(landing - loaded).is_empty() || landing.len() < moving {
                handled.refused[bed] |= group;
                handled.not_there += u64::from(change.by);
                continue;
            }
            let lifted = self.loops.lift(bed, group);
            handled.joined[bed] |= landing & self.loops.loaded(bed);
            self.loops.lay(bed, lifted, inward);
            let emptied = group - self.loops.loaded(bed);
            handled.taken[bed] |= emptied;
            self.in_work[bed] -= emptied;
            self.held[bed] -= emptied;
        }
        Outcome::Handled(handled)
    }
}

fn named_sides(change: &EdgeChange) -> impl Iterator<Item = Side> {
    [(change.left, Side::Left), (change.right, Side::Right)]
        .into_iter()
        .filter(|(named, _)| *named)
        .map(|(_, side)| side)
}

/// The direction away from the middle at that edge, as a step of needle numbers to the right.
const fn outward(side: Side) -> i32 {
    match side {
        Side::Left => -1,
        Side::Right => 1,
    }
}

/// That many needles of a set, counted from its edge.
fn edge_needles(set: NeedleSet, side: Side, count: u32) -> NeedleSet {
    match side {
        Side::Left => set.iter().take(count as usize).collect(),
        Side::Right => set.iter().skip(set.len().saturating_sub(count) as usize).collect(),
    }
}

/// `count` needles from number `start` on, in steps of `step`; those that no bed can have are left out.
fn needles_from(start: i32, count: i32, step: i32) -> NeedleSet {
    (0..count).filter_map(|index| u8::try_from(start + index * step).ok()).map(Needle).collect()
}

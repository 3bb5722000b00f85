//! Stitches added and taken off at the edges of a bed.

use super::super::machine::Machine;
use super::super::needle::{Bed, Both, Needle, NeedleSet, Side};
use super::super::operation::EdgeChange;
use super::super::outcome::{EdgeDone, Handled, Outcome};
use super::super::state::State;

impl State {
    /// The stitches of a bed whose edges are shaped. Held stitches wait: the half of a neck that is knitted has its own
    /// edge beside the half that is held.
    #[must_use]
    pub fn shaped(&self, bed: Bed) -> NeedleSet {
        self.loops.loaded(bed) - self.held[bed]
    }

    /// Each named edge grows by `change.by` needles. In the simple form a loop is wound on each new needle; with an
    /// inset that many edge stitches move out first, and the needles they leave are filled from their neighbours.
    pub(super) fn increase(&mut self, machine: &Machine, change: &EdgeChange) -> Outcome {
        let mut handled = Handled { no_yarn: self.yarn.is_none(), ..Handled::default() };
        let bed = change.bed;
        for side in named_sides(change) {
            let shaped = self.shaped(bed);
            let Some(edge) = shaped.outermost(side) else {
                handled.not_there += u64::from(change.by);
                continue;
            };
            let new = needles_beyond(edge, side, change.by);
            let past_end = u64::from(change.by - new.len());
            let group = shaped.from_edge(side, change.inset);
            // A group moves on the prongs of one tool, so it must stand side by side; with a gap in it a stitch would
            // come to lie on a needle out of work.
            let apart = group.len() < change.inset || group.runs().count() > 1;
            let taken = !(new & self.loops.loaded(bed)).is_empty();
            if apart || taken || past_end > 0 || !(new - machine.bed()).is_empty() {
                handled.off_bed[bed] |= new - machine.bed();
                handled.past_end += past_end;
                handled.refused[bed] |= new;
                handled.not_there += u64::from(change.by);
                continue;
            }
            self.in_work[bed] |= new;
            self.held[bed] -= new;
            let by = side.outward(change.by);
            let lifted = self.loops.lift(bed, group);
            self.loops.lay(bed, lifted, by);
            let made = (group | new) - self.loops.loaded(bed);
            self.make_stitches(&Both::only(bed, made), self.new_loop());
            handled.made[bed] |= made;
            let (joined, put_out) = (NeedleSet::EMPTY, NeedleSet::EMPTY);
            handled.edges.push(EdgeDone { side, moved: group, by, joined, made, put_in: new, put_out });
        }
        Outcome::Handled(handled)
    }

    /// Each named edge loses `change.by` stitches: the edge stitches, with an inset that many of them together, move in
    /// and lie on their neighbours; the emptied needles go out of work.
    pub(super) fn decrease(&mut self, change: &EdgeChange) -> Outcome {
        let mut handled = Handled::default();
        for side in named_sides(change) {
            let bed = change.bed;
            let shaped = self.shaped(bed);
            let moving = change.by.max(change.inset);
            let group = shaped.from_edge(side, moving);
            let inward = side.other().outward(change.by);
            let landing = group.shifted(inward);
            // Every stitch must land on a needle that carries one or that the group itself leaves.
            if landing.len() < moving || !(landing - shaped).is_empty() {
                handled.refused[bed] |= group;
                handled.not_there += u64::from(change.by);
                continue;
            }
            let lifted = self.loops.lift(bed, group);
            let joined = landing & self.loops.loaded(bed);
            handled.joined[bed] |= joined;
            self.loops.lay(bed, lifted, inward);
            let emptied = group - self.loops.loaded(bed);
            handled.taken[bed] |= emptied;
            let (made, put_in) = (NeedleSet::EMPTY, NeedleSet::EMPTY);
            handled.edges.push(EdgeDone { side, moved: group, by: inward, joined, made, put_in, put_out: emptied });
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

/// The next `count` needles outside that one; those that no bed can have are left out.
fn needles_beyond(edge: Needle, side: Side, count: u32) -> NeedleSet {
    let numbers =
        (1..=count).filter_map(|places| u8::try_from(i32::from(edge.0).saturating_add(side.outward(places))).ok());
    numbers.map(Needle).collect()
}

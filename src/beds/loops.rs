//! The loops on the needles of both beds.
//!
//! Each needle carries a stack of loops, the oldest at the bottom. A whole row makes equal loops on many needles, so
//! they are kept in *layers*: one loop and the set of needles that carry it. A needle's stack is then the layers it
//! stands in, in their order. Only where stitches are laid on stitches does the order differ from needle to needle;
//! such a needle has its stack written out as a *pile*. Knitting it makes it plain again.

use super::drawn::Drawn;
use super::needle::{Bed, Both, Needle, NeedleSet};
use super::operation::{Loop, Place};
use super::yarn::Yarn;
use std::collections::BTreeMap;

#[derive(Debug, Clone, PartialEq, Eq)]
struct Layer {
    what: Loop,
    needles: Both<NeedleSet>,
}

/// All loops on both beds.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Loops {
    layers: Vec<Layer>,
    piles: BTreeMap<Place, Vec<Loop>>,
    piled: Both<NeedleSet>,
    loaded: Both<NeedleSet>,
    stitches: Both<NeedleSet>,
}

/// Loops that are pulled sideways because the beds are no longer racked as they were when the loops were made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Strain {
    /// The row that made them.
    pub made: u64,
    /// Where the racking bed stood then.
    pub made_at: i32,
    /// The needles that carry them.
    pub needles: Both<NeedleSet>,
}

/// Stacks taken off a bed, to be laid on needles again before anything else changes the layers.
pub(super) struct Lifted {
    donors: NeedleSet,
    by_layer: Vec<NeedleSet>,
    piles: Vec<(Needle, Vec<Loop>)>,
    stitches: NeedleSet,
}

impl Loops {
    /// The needles of a bed that carry at least one loop.
    #[must_use]
    pub fn loaded(&self, bed: Bed) -> NeedleSet {
        self.loaded[bed]
    }

    /// The needles of a bed that carry a stitch: a loop that was cast on, or has been knitted at least once. A loop
    /// caught over an empty needle is not one yet.
    #[must_use]
    pub fn stitches(&self, bed: Bed) -> NeedleSet {
        self.stitches[bed]
    }

    /// The loops of one needle, the oldest first.
    #[must_use]
    pub fn stack(&self, bed: Bed, needle: Needle) -> Vec<Loop> {
        if let Some(pile) = self.piles.get(&(bed, needle)) {
            return pile.clone();
        }
        self.layers.iter().filter(|layer| layer.needles[bed].contains(needle)).map(|layer| layer.what).collect()
    }

    /// The needles that carry more than `most` caught loops.
    #[must_use]
    pub fn caught_more_than(&self, most: u32) -> Both<NeedleSet> {
        let caught_layers = self.layers.iter().filter(|layer| layer.what.caught).count();
        let mut over = Both::same(NeedleSet::EMPTY);
        if caught_layers > most as usize {
            for bed in Bed::BOTH {
                // at_least[k] holds the needles seen in more than k caught layers so far.
                let mut at_least = vec![NeedleSet::EMPTY; most as usize + 1];
                for layer in self.layers.iter().filter(|layer| layer.what.caught) {
                    let mut carry = layer.needles[bed];
                    for count in &mut at_least {
                        let already = *count & carry;
                        *count |= carry;
                        carry = already;
                    }
                }
                over[bed] = at_least[most as usize];
            }
        }
        for (&(bed, needle), pile) in &self.piles {
            if pile.iter().filter(|what| what.caught).count() > most as usize {
                over[bed].insert(needle);
            }
        }
        over
    }

    /// The loops between the beds that are pulled over more than `slack` steps when the racking bed stands at
    /// `racking`: those of the row that is pulled most.
    #[must_use]
    pub fn strained(&self, racking: i32, slack: u32) -> Option<Strain> {
        let of_layers = self.layers.iter().map(|layer| (layer.what, layer.needles));
        let of_piles = self.piles.iter().flat_map(|(&(bed, needle), pile)| {
            let mut needles = Both::same(NeedleSet::EMPTY);
            needles[bed].insert(needle);
            pile.iter().map(move |what| (*what, needles))
        });
        let pulled = |what: &Loop| if what.between { what.racking.abs_diff(racking) } else { 0 };
        let mut most: Option<Strain> = None;
        for (what, needles) in of_layers.chain(of_piles).filter(|(what, _)| pulled(what) > slack) {
            match &mut most {
                Some(strain) if (strain.made, strain.made_at) == (what.made, what.racking) => {
                    Bed::BOTH.iter().for_each(|&bed| strain.needles[bed] |= needles[bed]);
                }
                Some(strain) if strain.made_at.abs_diff(racking) >= pulled(&what) => {}
                _ => most = Some(Strain { made: what.made, made_at: what.racking, needles }),
            }
        }
        most
    }

    /// Which of those needles carry a loop of which `is_meant` says so; the row that made all such loops, none when several
    /// rows did; and their yarn and how they were drawn,
    /// none when not all are alike.
    pub(super) fn that_are(
        &self,
        bed: Bed,
        of: NeedleSet,
        is_meant: impl Fn(&Loop) -> bool,
    ) -> (NeedleSet, Option<u64>, Option<(Yarn, Drawn)>) {
        let mut needles = NeedleSet::EMPTY;
        let mut found: Option<(Loop, bool, bool)> = None;
        let mut note = |what: &Loop, on: NeedleSet| {
            if !on.is_empty() && is_meant(what) {
                needles |= on;
                found = Some(found.map_or((*what, true, true), |(first, one_row, alike)| {
                    let same = (first.yarn, first.drawn) == (what.yarn, what.drawn);
                    (first, one_row && first.made == what.made, alike && same)
                }));
            }
        };
        for layer in &self.layers {
            note(&layer.what, layer.needles[bed] & of);
        }
        for needle in (self.piled[bed] & of).iter() {
            for what in self.piles.get(&(bed, needle)).into_iter().flatten() {
                note(what, NeedleSet::span(needle, needle));
            }
        }
        let row = found.and_then(|(first, one_row, _)| one_row.then_some(first.made));
        (needles, row, found.and_then(|(first, _, alike)| alike.then_some((first.yarn, first.drawn))))
    }

    /// How many loops there are in all.
    #[must_use]
    pub fn count(&self) -> u64 {
        let in_layers: u64 = self.layers.iter().map(|layer| layer.needles.len()).sum();
        let in_piles: u64 = self.piles.values().map(|pile| pile.len() as u64).sum();
        in_layers + in_piles
    }

    /// Takes every loop off those needles and says how many there were.
    pub(super) fn clear(&mut self, needles: &Both<NeedleSet>) -> u64 {
        let mut taken = 0;
        for layer in &mut self.layers {
            for bed in Bed::BOTH {
                let hit = layer.needles[bed] & needles[bed];
                taken += u64::from(hit.len());
                layer.needles[bed] -= hit;
            }
        }
        for bed in Bed::BOTH {
            for needle in (self.piled[bed] & needles[bed]).iter() {
                taken += self.piles.remove(&(bed, needle)).map_or(0, |pile| pile.len() as u64);
            }
            self.piled[bed] -= needles[bed];
            self.loaded[bed] -= needles[bed];
            self.stitches[bed] -= needles[bed];
        }
        self.tidy();
        taken
    }

    /// Lays one loop on top of each of those needles.
    pub(super) fn add(&mut self, needles: &Both<NeedleSet>, what: Loop) {
        let mut flat = *needles;
        for bed in Bed::BOTH {
            for needle in (self.piled[bed] & needles[bed]).iter() {
                self.piles.entry((bed, needle)).or_default().push(what);
            }
            flat[bed] -= self.piled[bed];
            self.loaded[bed] |= needles[bed];
            if !what.caught {
                self.stitches[bed] |= needles[bed];
            }
        }
        if flat.is_empty() {
            return;
        }
        if let Some(top) = self.layers.last_mut()
            && top.what == what
            && Bed::BOTH.iter().all(|&bed| !top.needles[bed].meets(&flat[bed]))
        {
            Bed::BOTH.iter().for_each(|&bed| top.needles[bed] |= flat[bed]);
        } else {
            self.layers.push(Layer { what, needles: flat });
        }
    }

    /// Draws one new loop through everything on each of those needles, all of them loaded, and says through how many.
    pub(super) fn knit(&mut self, needles: &Both<NeedleSet>, what: Loop) -> u64 {
        // By far the most rows knit just the needles that one layer holds: then only its loop is new.
        if let [layer] = self.layers.as_mut_slice()
            && layer.needles == *needles
            && self.piles.is_empty()
        {
            layer.what = what;
            self.stitches = *needles;
            return needles.len();
        }
        let through = self.clear(needles);
        self.add(needles, what);
        through
    }

    /// Makes ready for those needles' loops to go to the other bed at that racking: there they lie straight, whatever
    /// the racking at which they were made, and their yarn runs from bed to bed if others of the row stay behind.
    pub(super) fn settle(&mut self, bed: Bed, donors: NeedleSet, racking: i32) {
        let mut at = 0;
        while let Some(layer) = self.layers.get_mut(at) {
            at += 1;
            let going = layer.needles[bed] & donors;
            let between = layer.needles[bed] != going;
            let what = Loop { racking, between, ..layer.what };
            if going.is_empty() || what == layer.what {
                continue;
            }
            let mut needles = Both::same(NeedleSet::EMPTY);
            needles[bed] = going;
            if layer.needles == needles {
                layer.what = what;
            } else {
                layer.needles[bed] -= going;
                self.layers.insert(at, Layer { what, needles });
                at += 1;
            }
        }
        for needle in (self.piled[bed] & donors).iter() {
            for what in self.piles.entry((bed, needle)).or_default() {
                what.racking = racking;
            }
        }
    }

    /// Takes the stacks of those needles off; they must be loaded.
    pub(super) fn lift(&mut self, bed: Bed, donors: NeedleSet) -> Lifted {
        let by_layer = self
            .layers
            .iter_mut()
            .map(|layer| {
                let hit = layer.needles[bed] & donors;
                layer.needles[bed] -= hit;
                hit
            })
            .collect();
        let piles = (self.piled[bed] & donors)
            .iter()
            .filter_map(|needle| Some((needle, self.piles.remove(&(bed, needle))?)))
            .collect();
        let stitches = self.stitches[bed] & donors;
        self.piled[bed] -= donors;
        self.loaded[bed] -= donors;
        self.stitches[bed] -= donors;
        Lifted { donors, by_layer, piles, stitches }
    }

    /// Lays lifted stacks on the needles `by` places to the right, on top of what those carry. All receivers must be
    /// needles that exist.
    pub(super) fn lay(&mut self, bed: Bed, lifted: Lifted, by: i32) {
        self.lay_without_tidying(bed, lifted, by);
        self.tidy();
    }

    /// Lays two lifted groups of one bed, each by its own way.
    pub(super) fn lay_two(&mut self, bed: Bed, first: (Lifted, i32), second: (Lifted, i32)) {
        self.lay_without_tidying(bed, first.0, first.1);
        self.lay_without_tidying(bed, second.0, second.1);
        self.tidy();
    }

    fn lay_without_tidying(&mut self, bed: Bed, lifted: Lifted, by: i32) {
        let landing = lifted.donors.shifted(by);
        let joined = landing & self.loaded[bed];
        for needle in joined.iter() {
            let mut pile = self.stack(bed, needle);
            let donor = moved(needle, -by);
            match lifted.piles.iter().find(|(from, _)| *from == donor) {
                Some((_, stack)) => pile.extend(stack),
                None => pile.extend(
                    self.layers
                        .iter()
                        .zip(&lifted.by_layer)
                        .filter(|(_, hit)| hit.contains(donor))
                        .map(|(layer, _)| layer.what),
                ),
            }
            self.piles.insert((bed, needle), pile);
        }
        for (layer, hit) in self.layers.iter_mut().zip(&lifted.by_layer) {
            layer.needles[bed] -= joined;
            layer.needles[bed] |= hit.shifted(by) - joined;
        }
        for (from, stack) in lifted.piles {
            let needle = moved(from, by);
            if !joined.contains(needle) {
                self.piles.insert((bed, needle), stack);
                self.piled[bed].insert(needle);
            }
        }
        self.piled[bed] |= joined;
        self.loaded[bed] |= landing;
        self.stitches[bed] |= lifted.stitches.shifted(by);
    }

    /// Forgets layers that no needle carries any more.
    pub(super) fn tidy(&mut self) {
        self.layers.retain(|layer| !layer.needles.is_empty());
    }

    /// Whether the loops are the same but for the row numbers, which are counted back from `now` and `other_now`; what
    /// is older than `old` rows is of one age.
    pub(super) fn same_but_for_time(&self, now: u64, other: &Self, other_now: u64, old: u64) -> bool {
        let alike = |one: &Loop, two: &Loop| {
            (now - one.made).min(old) == (other_now - two.made).min(old) && *one == Loop { made: one.made, ..*two }
        };
        self.loaded == other.loaded
            && self.stitches == other.stitches
            && self.layers.len() == other.layers.len()
            && self.piles.len() == other.piles.len()
            && self
                .layers
                .iter()
                .zip(&other.layers)
                .all(|(one, two)| one.needles == two.needles && alike(&one.what, &two.what))
            && self.piles.iter().zip(&other.piles).all(|((place, one), (other_place, two))| {
                place == other_place && one.len() == two.len() && one.iter().zip(two).all(|(one, two)| alike(one, two))
            })
    }

    /// Renumbers the rows in which the loops were made.
    pub(super) fn redate(&mut self, mut date: impl FnMut(u64) -> u64) {
        for layer in &mut self.layers {
            layer.what.made = date(layer.what.made);
        }
        for what in self.piles.values_mut().flatten() {
            what.made = date(what.made);
        }
    }

    /// The rows in which loops were made, in a fixed order: layers first, then piles.
    pub(super) fn dates(&self) -> impl Iterator<Item = u64> {
        let in_layers = self.layers.iter().map(|layer| layer.what.made);
        in_layers.chain(self.piles.values().flatten().map(|what| what.made))
    }
}

/// The needle `by` places to the right; the caller knows that it exists.
fn moved(needle: Needle, by: i32) -> Needle {
    Needle((i32::from(needle.0) + by) as u8)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beds::{Drawn, Yarn};

    fn front(set: impl IntoIterator<Item = u8>) -> Both<NeedleSet> {
        Both { front: set.into_iter().map(Needle).collect(), back: NeedleSet::EMPTY }
    }

    fn stitch(made: u64) -> Loop {
        Loop { made, yarn: Yarn(0), caught: false, racking: 0, between: false, drawn: Drawn::ByCastOn }
    }

    fn tuck(made: u64) -> Loop {
        Loop { made, yarn: Yarn(0), caught: true, racking: 0, between: false, drawn: Drawn::ByCastOn }
    }

    #[test]
    fn a_moved_stack_lies_on_top_in_its_own_order() {
        let mut loops = Loops::default();
        loops.add(&front([10, 11]), stitch(1));
        loops.add(&front([11]), tuck(2));
        let lifted = loops.lift(Bed::Front, front([11]).front);
        loops.lay(Bed::Front, lifted, -1);
        assert_eq!(loops.stack(Bed::Front, Needle(10)), [stitch(1), stitch(1), tuck(2)]);
        assert_eq!(loops.stack(Bed::Front, Needle(11)), []);
        assert_eq!(loops.count(), 3);
        assert_eq!(loops.stitches(Bed::Front).len(), 1);
        assert_eq!(loops.knit(&front([10]), stitch(3)), 3);
        assert_eq!(loops.stack(Bed::Front, Needle(10)), [stitch(3)]);
    }

    #[test]
    fn a_block_may_move_over_its_own_needles() {
        let mut loops = Loops::default();
        loops.add(&front([10]), stitch(1));
        loops.add(&front([11]), stitch(2));
        loops.add(&front([12]), stitch(3));
        let lifted = loops.lift(Bed::Front, front([10, 11, 12]).front);
        loops.lay(Bed::Front, lifted, 1);
        let made = |needle| loops.stack(Bed::Front, Needle(needle)).first().map(|what| what.made);
        assert_eq!([made(10), made(11), made(12), made(13)], [None, Some(1), Some(2), Some(3)]);
    }

    #[test]
    fn tucks_are_counted_in_layers_and_in_piles() {
        let mut loops = Loops::default();
        loops.add(&front([1, 2, 3]), stitch(1));
        for row in 2..5 {
            loops.add(&front([2]), tuck(row));
        }
        loops.add(&front([3]), tuck(5));
        assert_eq!(loops.caught_more_than(2).front, front([2]).front);
        assert_eq!(loops.caught_more_than(3).front, NeedleSet::EMPTY);
        let lifted = loops.lift(Bed::Front, front([2]).front);
        loops.lay(Bed::Front, lifted, 1);
        assert_eq!(loops.caught_more_than(3).front, front([3]).front);
    }

    #[test]
    fn the_strain_told_is_that_of_the_row_pulled_most() {
        let both = |needle| Both::same([needle].into_iter().map(Needle).collect());
        let between = |made, racking| Loop { racking, between: true, ..stitch(made) };
        let mut loops = Loops::default();
        for (needle, racking) in [(10, 1), (11, 4), (12, 2)] {
            loops.add(&both(needle), between(needle.into(), racking));
        }
        let strain = loops.strained(0, 0).expect("three rows are pulled");
        assert_eq!((strain.made, strain.made_at, strain.needles), (11, 4, both(11)));
        // At 3 the first row is pulled over 2 steps, the others over 1: so much slack there is.
        assert_eq!(loops.strained(3, 1).map(|strain| strain.made), Some(10));
        assert_eq!(loops.strained(3, 2), None);
        // What lies on a stack of several is pulled with its row.
        let lifted = loops.lift(Bed::Front, front([11]).front);
        loops.lay(Bed::Front, lifted, 1);
        let strain = loops.strained(0, 2).expect("the second row is pulled");
        assert_eq!(strain.needles, Both { front: front([12]).front, back: front([11]).front });
    }

    #[test]
    fn loops_that_are_transferred_lie_straight_and_run_to_those_left_behind() {
        let made = |racking, between| Loop { racking, between, ..stitch(1) };
        let mut loops = Loops::default();
        loops.add(&front([1, 2, 3]), made(0, false));
        // A part of a row: its yarn runs from bed to bed, and both parts are layers that some needle carries.
        loops.settle(Bed::Front, front([2]).front, 2);
        assert_eq!(loops.stack(Bed::Front, Needle(2)), [made(2, true)]);
        assert_eq!(loops.stack(Bed::Front, Needle(1)), [made(0, false)]);
        assert!(loops.layers.iter().all(|layer| !layer.needles.front.is_empty()), "{:?}", loops.layers);
        assert_eq!(loops.layers.len(), 2);
        // The rest of the row: nothing of it stays behind.
        loops.settle(Bed::Front, front([1, 3]).front, 2);
        assert_eq!(loops.stack(Bed::Front, Needle(3)), [made(2, false)]);
        // None of a row.
        let before = loops.clone();
        loops.settle(Bed::Front, front([7]).front, 5);
        assert_eq!(loops, before);
    }

    #[test]
    fn ordinary_loops_are_known_with_the_row_that_made_them() {
        let loose = |made| Loop { drawn: Drawn::ByHand, ..stitch(made) };
        let mut loops = Loops::default();
        loops.add(&front([1, 2, 3]), stitch(4));
        loops.knit(&front([1]), loose(5));
        let of = |loops: &Loops, set: &[u8]| {
            let ordinary = |what: &Loop| what.drawn.is_ordinary();
            let (needles, row, _) = loops.that_are(Bed::Front, front(set.iter().copied()).front, ordinary);
            (needles, row)
        };
        assert_eq!(of(&loops, &[1]), (NeedleSet::EMPTY, None));
        assert_eq!(of(&loops, &[1, 2, 3, 9]), (front([2, 3]).front, Some(4)));
        // A loose stitch laid on an ordinary one, and an ordinary one carried along the bed.
        let lifted = loops.lift(Bed::Front, front([1]).front);
        loops.lay(Bed::Front, lifted, 1);
        assert_eq!(of(&loops, &[2]), (front([2]).front, Some(4)));
        loops.add(&front([2]), tuck(6));
        assert_eq!(of(&loops, &[2]), (front([2]).front, None), "two rows made them");
        loops.knit(&front([2]), loose(7));
        assert_eq!(of(&loops, &[2]), (NeedleSet::EMPTY, None));
    }

    #[test]
    fn loops_are_the_same_but_for_time_when_their_ages_are() {
        let of = |made: [u64; 2], between| {
            let mut loops = Loops::default();
            loops.add(&front([1, 2]), Loop { between, ..stitch(made[0]) });
            loops.add(&front([2]), tuck(made[1]));
            loops
        };
        let same = |one: &Loops, now, other: &Loops, then| one.same_but_for_time(now, other, then, 32);
        assert!(same(&of([3, 4], false), 5, &of([13, 14], false), 15));
        assert!(!same(&of([3, 4], false), 5, &of([13, 14], false), 16));
        assert!(!same(&of([3, 4], false), 5, &of([3, 4], true), 5));
        // Past a certain age all are old.
        assert!(same(&of([3, 99], false), 100, &of([40, 199], false), 200));
        assert!(!same(&of([69, 99], false), 100, &of([168, 199], false), 200));
        // A loose loop is not like an ordinary one.
        let mut loose = Loops::default();
        loose.add(&front([1, 2]), Loop { drawn: Drawn::ByHand, ..stitch(3) });
        loose.add(&front([2]), tuck(4));
        assert!(!same(&of([3, 4], false), 5, &loose, 5));
        // Stacks of several parts, too.
        let piled = |made| {
            let mut loops = of(made, false);
            let lifted = loops.lift(Bed::Front, front([2]).front);
            loops.lay(Bed::Front, lifted, -1);
            loops
        };
        assert!(same(&piled([3, 4]), 5, &piled([13, 14]), 15));
        assert!(!same(&piled([3, 4]), 5, &piled([13, 15]), 15));
    }
}

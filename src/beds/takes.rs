//! What a transfer carriage takes: whether it can be set so that those stitches go, and no others.

use super::machine::{Machine, Takes};
use super::needle::{Bed, Both, NeedleSet};

/// Stitches that are to go across, and what hangs on the beds before they do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Going {
    /// The bed they come from.
    pub from: Bed,
    /// Their needles.
    pub donors: NeedleSet,
    /// The needles of both beds that carry loops before.
    pub loaded: Both<NeedleSet>,
    /// Steps of the racking bed to the right of its centre.
    pub racking: i32,
}

impl Going {
    /// How the carriage of that machine can be set to take these stitches and no others; none when it cannot, or when
    /// the profile does not say what it takes.
    #[must_use]
    pub fn setting(&self, machine: &Machine) -> Option<Takes> {
        machine.transfer_takes.iter().copied().find(|takes| self.by(machine, *takes))
    }

    /// Whether a carriage set so would take them and no others.
    #[must_use]
    pub fn by(&self, machine: &Machine, takes: Takes) -> bool {
        match takes {
            Takes::EveryStitch => self.is_whole_bed(),
            Takes::EverySecond => self.is_every_second(),
            Takes::LoneStitches => self.is_whole_bed() && self.side_by_side(machine).is_empty(),
            Takes::PickedNeedles => machine.selectors[self.from],
        }
    }

    /// Whether every stitch of the bed goes.
    #[must_use]
    pub fn is_whole_bed(&self) -> bool {
        self.donors == self.loaded[self.from]
    }

    /// Whether they are all that hang on every second needle, counted from one of them.
    #[must_use]
    pub fn is_every_second(&self) -> bool {
        self.donors == self.every_second()
    }

    /// The stitches of the bed on the first of these needles and on every second one to both sides of it.
    #[must_use]
    pub fn every_second(&self) -> NeedleSet {
        let Some(first) = self.donors.first() else { return NeedleSet::EMPTY };
        self.loaded[self.from].iter().filter(|needle| needle.0 % 2 == first.0 % 2).collect()
    }

    /// The needles among them whose neighbour on the right goes too, with no stitch of the other bed between the two as
    /// the beds stand at gaiting `between`.
    #[must_use]
    pub fn side_by_side(&self, machine: &Machine) -> NeedleSet {
        let (offset, half) = (machine.back_offset(self.racking), machine.half_step());
        // Half a pitch right of a needle stands the one of the other bed that this many places bring to its number.
        let between = match self.from {
            Bed::Front => self.loaded[Bed::Back].shifted(offset - (1 - half) / 2),
            Bed::Back => self.loaded[Bed::Front].shifted(-offset - (half + 1) / 2),
        };
        (self.donors & self.donors.shifted(-1)) - between
    }
}

#[cfg(test)]
mod tests {
    use super::{Bed, Both, Going, Machine, NeedleSet, Takes};
    use crate::beds::{Needle, Side};

    fn needles(numbers: &[u8]) -> NeedleSet {
        numbers.iter().map(|number| Needle(*number)).collect()
    }

    fn going(from: Bed, donors: &[u8], front: &[u8], back: &[u8]) -> Going {
        Going { from, donors: needles(donors), loaded: Both { front: needles(front), back: needles(back) }, racking: 0 }
    }

    #[test]
    fn every_second_is_counted_from_the_first_that_goes_and_leaves_none_out() {
        let machine = Machine::new("club", 90);
        let second =
            |donors: &[u8]| going(Bed::Front, donors, &[100, 101, 102, 103, 104], &[]).by(&machine, Takes::EverySecond);
        assert!(second(&[100, 102, 104]) && second(&[101, 103]));
        assert!(!second(&[102, 104]), "100 would go too");
        assert!(!second(&[100, 101, 102, 103, 104]));
        // Where only every second needle has a stitch, all of them go.
        assert!(going(Bed::Front, &[100, 102], &[100, 102], &[101]).by(&machine, Takes::EverySecond));
    }

    #[test]
    fn lone_stitches_have_one_of_the_other_bed_between_them() {
        let mut machine = Machine::new("club", 90);
        let beside = |machine: &Machine, going: Going| going.side_by_side(machine);
        // Every needle of both beds: the yarn goes zigzag from bed to bed.
        let full = |from| going(from, &[100, 101, 102], &[100, 101, 102], &[100, 101, 102]);
        for way in [Side::Right, Side::Left] {
            machine.half_step_to = way;
            assert_eq!(beside(&machine, full(Bed::Front)), NeedleSet::EMPTY, "{way}");
            assert_eq!(beside(&machine, full(Bed::Back)), NeedleSet::EMPTY, "{way}");
        }
        // One stitch behind: between front 100 and 101 at a half step to the right, outside them to the left.
        let one = going(Bed::Front, &[100, 101], &[100, 101], &[100]);
        machine.half_step_to = Side::Right;
        assert_eq!(beside(&machine, one), NeedleSet::EMPTY);
        machine.half_step_to = Side::Left;
        assert_eq!(beside(&machine, one), needles(&[100]));
        // Racked one step to the left, the back bed's 102 stands there.
        machine.half_step_to = Side::Right;
        let racked = Going { racking: -1, ..going(Bed::Front, &[100, 101], &[100, 101], &[101]) };
        assert_eq!(beside(&machine, racked), NeedleSet::EMPTY);
        assert_eq!(beside(&machine, Going { racking: 0, ..racked }), needles(&[100]));
        // Needles apart are lone whatever hangs behind.
        assert!(going(Bed::Back, &[100, 102], &[], &[100, 102]).by(&machine, Takes::LoneStitches));
        assert!(!going(Bed::Back, &[100], &[], &[100, 102]).by(&machine, Takes::LoneStitches), "102 would go too");
    }

    #[test]
    fn the_first_setting_that_fits_is_named() {
        let mut machine = Machine::new("club", 90);
        let all = going(Bed::Front, &[100, 101], &[100, 101], &[]);
        assert_eq!(all.setting(&machine), None, "nothing is known");
        machine.transfer_takes = vec![Takes::EverySecond, Takes::EveryStitch, Takes::PickedNeedles];
        assert_eq!(all.setting(&machine), Some(Takes::EveryStitch));
        assert_eq!(going(Bed::Front, &[101], &[100, 101], &[]).setting(&machine), Some(Takes::EverySecond));
        let three = going(Bed::Front, &[100, 101], &[100, 101, 102], &[]);
        assert_eq!(three.setting(&machine), Some(Takes::PickedNeedles));
        machine.selectors.front = false;
        assert_eq!(three.setting(&machine), None);
    }
}

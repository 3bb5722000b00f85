//! How the beds stand to each other, and where that puts their needles and the end of a yarn.

use super::machine::Machine;
use super::needle::{Bed, Both, Needle, NeedleSet, Side};
use super::operation::Gaiting;

/// How the beds stand to each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Standing {
    /// How they stand when the racking bed is at its centre.
    pub gaiting: Gaiting,
    /// Steps of the racking bed to the right of its centre.
    pub racking: i32,
}

impl Standing {
    /// How many numbers to the right of a needle of `bed` its facing needle on the other bed is, at opposite gaiting.
    #[must_use]
    pub fn facing_shift(self, machine: &Machine, bed: Bed) -> i32 {
        let offset = machine.back_offset(self.racking);
        match bed {
            Bed::Front => -offset,
            Bed::Back => offset,
        }
    }

    /// Where a needle stands, in half pitches from the far left of the front bed.
    #[must_use]
    pub fn half_pitches(self, machine: &Machine, bed: Bed, needle: Needle) -> i32 {
        match bed {
            Bed::Front => 2 * i32::from(needle.0),
            Bed::Back => {
                let half = if self.gaiting == Gaiting::Between { machine.half_step() } else { 0 };
                2 * (i32::from(needle.0) + machine.back_offset(self.racking)) + half
            }
        }
    }

    /// The needle of a bed that stands at a place, in half pitches from the far left of the front bed; none where the
    /// bed has no needle.
    #[must_use]
    pub fn needle_at(self, machine: &Machine, bed: Bed, place: i32) -> Option<Needle> {
        let halves = place - self.half_pitches(machine, bed, Needle(0));
        let needle = Needle(u8::try_from(halves / 2).ok()?);
        (halves % 2 == 0 && machine.bed().contains(needle)).then_some(needle)
    }

    /// Those needles in the order in which the yarn meets them when the carriage goes to `toward`, each with its
    /// place in half pitches. Of two facing needles the front one comes first.
    #[must_use]
    pub fn yarn_path(self, machine: &Machine, acting: &Both<NeedleSet>, toward: Side) -> Vec<(i32, Bed, Needle)> {
        let mut path: Vec<_> = Bed::BOTH
            .into_iter()
            .flat_map(|bed| acting[bed].iter().map(move |needle| (bed, needle)))
            .map(|(bed, needle)| (self.half_pitches(machine, bed, needle), bed, needle))
            .collect();
        path.sort_by_key(|&(place, bed, _)| (if toward == Side::Right { place } else { -place }, bed));
        path
    }
}

/// Where a yarn hangs after a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct YarnEnd {
    /// The side to which its last row went.
    pub side: Side,
    /// The last needle of each bed that took it in that row; none on both beds when hand work has moved it since.
    pub needles: Both<Option<Needle>>,
}

impl YarnEnd {
    /// The needle of both beds that is farthest out on that side, where the yarn hangs, with its place in half pitches;
    /// of two that stand face to face the front one. None when hand work has moved the yarn since.
    #[must_use]
    pub fn hangs_at(&self, machine: &Machine, standing: Standing) -> Option<(i32, Bed, Needle)> {
        let inward = if self.side == Side::Left { 1 } else { -1 };
        Bed::BOTH
            .into_iter()
            .filter_map(|bed| {
                self.needles[bed].map(|needle| (standing.half_pitches(machine, bed, needle), bed, needle))
            })
            .min_by_key(|(place, ..)| inward * place)
    }
}

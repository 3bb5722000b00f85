//! What a machine can do: its profile, as the checker needs it.

use super::needle::{Bed, Both, Needle, NeedleSet, Side};
use super::yarn::{StitchSize, Yarn};
use std::collections::BTreeMap;

/// A limit and where its number comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limit<T> {
    /// The value.
    pub value: T,
    source: Option<&'static str>,
}

impl<T> Limit<T> {
    /// The value for a profile that names none, and where it is from.
    const fn default_of(value: T, source: &'static str) -> Self {
        Self { value, source: Some(source) }
    }

    /// A value that the profile gives.
    pub const fn given(value: T) -> Self {
        Self { value, source: None }
    }

    /// Whether the profile gives it.
    #[must_use]
    pub const fn is_given(&self) -> bool {
        self.source.is_none()
    }

    /// Where the number comes from, for a message.
    #[must_use]
    pub fn origin(&self) -> String {
        match self.source {
            None => "the machine's profile".to_owned(),
            Some(source) => format!("{source}, since the profile names none"),
        }
    }
}

/// How long a float may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FloatLimit {
    /// In thousandths of a millimetre.
    Micrometres(i64),
    /// In needles passed by.
    Needles(u32),
}

/// Which way the transfer carriage can work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TransferWay {
    /// The bed it takes stitches to.
    pub to: Bed,
    /// The side it must start from; either when none.
    pub from: Option<Side>,
}

/// What a transfer carriage can be set to take from a bed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Takes {
    /// Every stitch of the bed at once.
    EveryStitch,
    /// Those of every second needle.
    EverySecond,
    /// Every stitch of the bed, where no two of neighbouring needles follow each other without one of the other bed in
    /// between.
    LoneStitches,
    /// Those of needles that the bed's selectors pick.
    PickedNeedles,
}

/// The profile of a machine.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Machine {
    /// Its name in the pattern.
    pub name: String,
    /// Needles on each side of the centre, 1 to 128, the same on both beds.
    pub each_side: u32,
    /// Distance of neighbouring needles in thousandths of a millimetre, where the profile says.
    pub pitch: Option<i64>,
    /// The bed that racking moves.
    pub racking_bed: Bed,
    /// Steps of racking to the left of the centre.
    pub racking_left: u32,
    /// Steps of racking to the right of the centre.
    pub racking_right: u32,
    /// Whether the profile says which bed racks, and how far; else the numbers are ours (common practice, no source).
    pub racking_named: bool,
    /// Whether the half step between the two gaitings is made with the racking handle.
    pub half_step_by_handle: bool,
    /// The side to which a back needle stands, at gaiting `between`, of the front needle of its name. Right where no
    /// profile says otherwise (common practice, no source).
    pub half_step_to: Side,
    /// Which beds can pick needles for a row.
    pub selectors: Both<bool>,
    /// Which beds can hold needles.
    pub hold: Both<bool>,
    /// The ways of the transfer carriage; empty when there is none.
    pub transfer_carriage: Vec<TransferWay>,
    /// What the transfer carriage can be set to take; empty when nothing is known of it.
    pub transfer_takes: Vec<Takes>,
    /// Where the beds stand for a transfer, in the words of the profile, where that is not just face to face.
    pub transfer_place: Option<String>,
    /// The smallest and the largest stitch size at which stitches are knitted that are transferred, in hundredths, where the
    /// profile says.
    pub transfer_sizes: Option<(StitchSize, StitchSize)>,
    /// The stitch size at which plain rows of a yarn are knitted on this machine, for each yarn that says it.
    pub plain_sizes: BTreeMap<Yarn, StitchSize>,
    /// Tucks one needle may take before it knits. Spencer 2001, p. 96, gives up to 4 in normal conditions.
    pub most_tucks: Limit<u32>,
    /// Neighbours of one bed that may tuck in one row. Spencer 2001, p. 96, gives generally no more than 2.
    pub most_adjacent_tucks: Limit<u32>,
    /// The longest float: 25 mm by default. Interweave's glossary, on stranding by hand: no longer than 1 inch (2.5 cm).
    pub longest_float: Limit<FloatLimit>,
    /// Steps of racking that a loop between the beds can follow.
    pub racking_slack: Limit<u32>,
    /// Steps of racking between two rows. Buck 1921, ch. IV: one course between steps; more "should never be done".
    pub racking_step: Limit<u32>,
    /// Rows that a stitch may wait while its neighbours knit.
    pub longest_wait: Limit<u32>,
    /// Stitches that may cross over others at once.
    pub widest_cross: Limit<u32>,
    /// Smallest and largest stitch size, in hundredths of a size.
    pub stitch_sizes: Limit<(i32, i32)>,
    /// Whether a needle emptied by a transfer stays in work.
    pub emptied_stay: Limit<bool>,
}

impl Machine {
    /// A profile with that name and width and our defaults for all else.
    #[must_use]
    pub fn new(name: impl Into<String>, each_side: u32) -> Self {
        Self {
            name: name.into(),
            each_side,
            pitch: None,
            racking_bed: Bed::Back,
            racking_left: 5,
            racking_right: 5,
            racking_named: false,
            half_step_by_handle: false,
            half_step_to: Side::Right,
            selectors: Both::same(true),
            hold: Both::same(true),
            transfer_carriage: Vec::new(),
            transfer_takes: Vec::new(),
            transfer_place: None,
            transfer_sizes: None,
            plain_sizes: BTreeMap::new(),
            most_tucks: Limit::default_of(4, "from Spencer 2001, p. 96"),
            most_adjacent_tucks: Limit::default_of(2, "from Spencer 2001, p. 96"),
            longest_float: Limit::default_of(
                FloatLimit::Micrometres(25_000),
                "from Interweave's glossary, on stranding by hand",
            ),
            racking_slack: Limit::default_of(2, "common practice, no source"),
            racking_step: Limit::default_of(1, "from Buck 1921, ch. IV"),
            longest_wait: Limit::default_of(4, "as for tucks, from Spencer 2001, p. 96"),
            widest_cross: Limit::default_of(3, "common practice, no source"),
            stitch_sizes: Limit::default_of((0, 1000), "common practice, no source"),
            emptied_stay: Limit::default_of(true, "common practice, no source"),
        }
    }

    /// All needles of a bed.
    #[must_use]
    pub fn bed(&self) -> NeedleSet {
        NeedleSet::each_side(self.each_side)
    }

    /// The needle farthest left and the one farthest right.
    #[must_use]
    pub fn ends(&self) -> (Needle, Needle) {
        let half = (NeedleSet::WIDTH / 2) as u32;
        let each_side = self.each_side.clamp(1, half);
        (Needle((half - each_side) as u8), Needle((half + each_side - 1) as u8))
    }

    /// How many places the back bed stands to the right of the front bed when the moving bed is at `position`
    /// (steps to the right of the centre).
    #[must_use]
    pub fn back_offset(&self, position: i32) -> i32 {
        match self.racking_bed {
            Bed::Back => position,
            Bed::Front => -position,
        }
    }

    /// How many half pitches a back needle stands to the right of the front needle of its name at gaiting `between`, with
    /// the beds at the centre: 1 or -1.
    #[must_use]
    pub const fn half_step(&self) -> i32 {
        match self.half_step_to {
            Side::Right => 1,
            Side::Left => -1,
        }
    }

    /// How many needles a float may pass by without being too long.
    #[must_use]
    pub fn float_needles(&self) -> u32 {
        match self.longest_float.value {
            FloatLimit::Needles(needles) => needles,
            // A float that passes k needles spans k + 1 pitches. Without a pitch in the profile the usual
            // 4.5 mm stands in (common practice, no source), as does the message.
            FloatLimit::Micrometres(length) => {
                let pitch = self.pitch.unwrap_or(Self::USUAL_PITCH).max(1);
                u32::try_from(length / pitch).unwrap_or(u32::MAX).saturating_sub(1)
            }
        }
    }

    /// The pitch that is taken when a profile names none, in thousandths of a millimetre.
    pub const USUAL_PITCH: i64 = 4_500;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_float_of_a_length_passes_one_needle_less_than_it_spans_pitches() {
        let mut machine = Machine::new("club", 90);
        let mut passes = |limit, pitch| {
            machine.longest_float.value = limit;
            machine.pitch = pitch;
            machine.float_needles()
        };
        assert_eq!(passes(FloatLimit::Micrometres(25_000), Some(5_000)), 4);
        assert_eq!(passes(FloatLimit::Micrometres(24_999), Some(5_000)), 3);
        assert_eq!(passes(FloatLimit::Micrometres(25_000), None), 4, "25 / 4.5 is 5 and a half");
        assert_eq!(passes(FloatLimit::Micrometres(3_000), Some(5_000)), 0);
        assert_eq!(passes(FloatLimit::Needles(7), None), 7);
    }
}

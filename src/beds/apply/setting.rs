//! Settings that move no loop: gaiting, racking, stitch size, carriage side, counter.

use super::super::machine::Machine;
use super::super::needle::{Bed, Both, Side};
use super::super::operation::Gaiting;
use super::super::outcome::{Outcome, Setting};
use super::super::state::State;
use super::super::yarn::{StitchSize, Yarn};
use super::made;

impl State {
    pub(super) fn set_gaiting(&mut self, gaiting: Gaiting) -> Outcome {
        made(std::mem::replace(&mut self.gaiting, gaiting) != gaiting)
    }

    pub(super) fn rack_to(&mut self, machine: &Machine, place: i32) -> Outcome {
        let (left, right) = (i64::from(machine.racking_left), i64::from(machine.racking_right));
        if !(-left..=right).contains(&i64::from(place)) {
            return Outcome::Setting(Setting::RackedPastEnd { asked: place });
        }
        let from = std::mem::replace(&mut self.racking, place);
        if from == place { made(false) } else { Outcome::Setting(Setting::Racked { from }) }
    }

    /// Changes the yarn in the feeder; the one that was there is left hanging where it is.
    pub(super) fn thread(&mut self, yarn: Yarn) -> Outcome {
        let before = self.yarn.replace(yarn);
        if before == Some(yarn) {
            return made(false);
        }
        if let Some((before, end)) = before.zip(self.yarn_end) {
            self.left_hanging.insert(before, end);
        }
        self.yarn_end = self.left_hanging.remove(&yarn);
        made(true)
    }

    /// Cuts the yarn in the feeder off from the fabric.
    pub(super) fn cut_yarn(&mut self) -> Outcome {
        made(self.yarn_end.take().is_some())
    }

    pub(super) fn set_sizes(&mut self, sizes: &Both<Option<StitchSize>>) -> Outcome {
        let mut changed = false;
        for bed in Bed::BOTH {
            if let Some(size) = sizes[bed] {
                changed |= self.sizes[bed].replace(size) != Some(size);
            }
        }
        made(changed)
    }

    pub(super) fn place_carriage(&mut self, side: Side) -> Outcome {
        if self.row > 0 && self.carriage != side {
            return Outcome::Setting(Setting::CarriageHasStarted { asked: side });
        }
        made(std::mem::replace(&mut self.carriage, side) != side)
    }

    pub(super) fn reset_counter(&mut self) -> Outcome {
        self.resets += 1;
        made(std::mem::replace(&mut self.counter, 0) != 0)
    }

    pub(super) fn free_pass(&mut self) -> Outcome {
        self.carriage = self.carriage.other();
        Outcome::FreePass
    }
}

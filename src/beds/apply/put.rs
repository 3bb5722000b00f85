//! Needles into work, out of work, to hold and back.

use super::super::machine::Machine;
use super::super::needle::{Bed, Both, NeedleSet};
use super::super::operation::{Pick, Targets};
use super::super::outcome::{NeedlesPut, Outcome};
use super::super::pick::Ground;
use super::super::state::State;
use super::Unfit;

impl State {
    pub(super) fn bring_into_work(&mut self, machine: &Machine, targets: &Targets) -> Result<Outcome, Unfit> {
        let mut put = NeedlesPut::default();
        for bed in Bed::BOTH {
            let Some(pick) = &targets[bed] else { continue };
            // These needles are not in work yet. What counts from those in work looks at the other bed, to which they
            // will stand face to face.
            let other = bed.other();
            let beside = match &targets[other] {
                Some(Pick::These(needles)) => *needles & machine.bed(),
                _ => NeedleSet::EMPTY,
            };
            let ground = Ground { of: self.in_work[other] | beside, loaded: self.loops.loaded(other) };
            let all = pick.resolve(&ground).map_err(|ragged| (bed, ragged))?;
            put.named[bed] = all & machine.bed();
            put.off_bed[bed] = all - machine.bed();
        }
        for bed in Bed::BOTH {
            put.changed[bed] = put.named[bed] - self.in_work[bed];
            self.in_work[bed] |= put.named[bed];
            self.held[bed] -= put.named[bed];
        }
        Ok(Outcome::Needles(put))
    }

    pub(super) fn put_out_of_work(&mut self, machine: &Machine, targets: &Targets) -> Result<Outcome, Unfit> {
        let mut put = self.named(machine, targets, |state, bed| state.in_work[bed] | state.held[bed])?;
        for bed in Bed::BOTH {
            put.changed[bed] = put.named[bed] & (self.in_work[bed] | self.held[bed]);
            put.lost[bed] = put.changed[bed] & self.loops.loaded(bed);
            self.in_work[bed] -= put.named[bed];
            self.held[bed] -= put.named[bed];
        }
        // The carriage does not move such a needle any more: its loop is stretched until it breaks or falls.
        self.ledger.lost += self.take_off(&put.lost);
        Ok(Outcome::Needles(put))
    }

    pub(super) fn hold(&mut self, machine: &Machine, targets: &Targets) -> Result<Outcome, Unfit> {
        let mut put = self.named(machine, targets, |state, bed| state.in_work[bed])?;
        for bed in Bed::BOTH {
            put.changed[bed] = put.named[bed] & self.in_work[bed];
        }
        self.swap(&put.changed, |state| (&mut state.in_work, &mut state.held));
        Ok(Outcome::Needles(put))
    }

    pub(super) fn release(&mut self, machine: &Machine, targets: &Targets) -> Result<Outcome, Unfit> {
        let mut put = self.named(machine, targets, |state, bed| state.held[bed])?;
        for bed in Bed::BOTH {
            put.changed[bed] = put.named[bed] & self.held[bed];
        }
        self.swap(&put.changed, |state| (&mut state.held, &mut state.in_work));
        Ok(Outcome::Needles(put))
    }

    /// Moves needles from one of the two position sets to the other.
    fn swap(
        &mut self,
        needles: &Both<NeedleSet>,
        sets: impl Fn(&mut Self) -> (&mut Both<NeedleSet>, &mut Both<NeedleSet>),
    ) {
        let (from, to) = sets(self);
        for bed in Bed::BOTH {
            from[bed] -= needles[bed];
            to[bed] |= needles[bed];
        }
    }
}

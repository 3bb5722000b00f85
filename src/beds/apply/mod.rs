//! One operation, done to a state. The same function serves the checker, the trace and every other reader.

mod edge;
mod hand;
mod put;
mod row;
mod setting;
mod transfer;

#[cfg(test)]
mod tests;

use super::drawn::Drawn;
use super::machine::Machine;
use super::needle::{Bed, Both, NeedleSet};
use super::operation::{CastOn, Loop, Operation, Pick, Targets};
use super::outcome::{Handled, NeedlesPut, Outcome, Setting};
use super::pick::{Ground, Ragged};
use super::state::State;
use super::yarn::Yarn;

/// The bed whose tile did not fit, and how.
type Unfit = (Bed, Ragged);

impl State {
    /// Does one operation and says what happened. Never fails: what cannot be done is left undone, or done as a
    /// machine would do it, and the outcome says so.
    pub fn apply(&mut self, machine: &Machine, operation: &Operation) -> Outcome {
        let outcome = match operation {
            Operation::InWork(targets) => self.bring_into_work(machine, targets),
            Operation::OutOfWork(targets) => self.put_out_of_work(machine, targets),
            Operation::Hold(targets) => self.hold(machine, targets),
            Operation::Release(targets) => self.release(machine, targets),
            Operation::Gaiting(gaiting) => Ok(self.set_gaiting(*gaiting)),
            Operation::RackBy(steps) => Ok(self.rack_to(machine, self.racking.saturating_add(*steps))),
            Operation::RackTo(place) => Ok(self.rack_to(machine, *place)),
            Operation::Thread(yarn) => Ok(self.thread(*yarn)),
            Operation::StitchSize(sizes) => Ok(self.set_sizes(sizes)),
            Operation::Carriage(side) => Ok(self.place_carriage(*side)),
            Operation::ResetCounter => Ok(self.reset_counter()),
            Operation::Row(row) => self.knit_row(row),
            Operation::FreePass => Ok(self.free_pass()),
            Operation::CastOn(how, targets) => self.cast_on(machine, *how, targets),
            Operation::NewLoops(targets) => self.cast_on(machine, CastOn::Wound, targets),
            Operation::Transfer { from, pick, joining, emptied_stay, tool } => {
                self.transfer(machine, *from, pick.as_ref(), *joining, *emptied_stay, *tool)
            }
            Operation::Move { from, pick, to, by, joining, emptied_stay } => {
                self.move_by_hand(machine, *from, pick, *to, *by, *joining, *emptied_stay)
            }
            Operation::Cross { bed, over, under } => Ok(self.cross(machine, *bed, *over, *under)),
            Operation::Increase(change) => Ok(self.increase(machine, change)),
            Operation::Decrease(change) => Ok(self.decrease(change)),
            Operation::Drop(targets) => self.take_to(machine, targets, |ledger| &mut ledger.dropped),
            Operation::PickUp { targets, from_waste } => self.pick_up(machine, targets, from_waste.as_ref()),
            Operation::BindOff(targets) => self.take_to(machine, targets, |ledger| &mut ledger.bound_off),
            Operation::OntoWaste(targets, waste) => self.take_onto_waste(machine, targets, waste),
            Operation::CutYarn => Ok(self.cut_yarn()),
        };
        debug_assert_eq!(self.ledger.difference(), 0, "the ledger balances after {operation:?}");
        debug_assert_eq!(self.ledger.on_needles, self.loops.count(), "the ledger knows every loop after {operation:?}");
        let outcome = outcome.unwrap_or_else(|(bed, ragged)| Outcome::Unfit(bed, ragged));
        if let Outcome::Handled(handled) = &outcome {
            self.go_on_with_yarn(machine, operation, handled);
        }
        outcome
    }

    /// Says where the yarn hangs after work by hand. It may have been done with the yarn that hangs there, which then
    /// hangs elsewhere or has been cut.
    fn go_on_with_yarn(&mut self, machine: &Machine, operation: &Operation, handled: &Handled) {
        let did_nothing = handled.made.is_empty() && handled.taken.is_empty();
        if handled.by_carriage || did_nothing {
            // The yarn hangs as it hung, or as the row has left it.
        } else if matches!(operation, Operation::BindOff(_) | Operation::OntoWaste(..)) {
            self.let_go_of_yarn(machine, operation);
        } else if let Some(end) = &mut self.yarn_end {
            end.needles = Both::same(None);
        }
    }

    /// Stitches have been bound off, or taken onto waste yarn: says whether the yarn in the feeder hangs as it hung.
    fn let_go_of_yarn(&mut self, machine: &Machine, operation: &Operation) {
        // Waste yarn is a thread of its own. A bind-off is made with the yarn that hangs at those stitches; if other
        // stitches are bound off, it is made with a piece by itself.
        let stays = self.loops.count() > 0
            && match (operation, &self.yarn_end) {
                (Operation::BindOff(_), Some(end)) => end
                    .hangs_at(machine, self.standing())
                    .is_some_and(|(_, bed, at)| self.loops.loaded(bed).contains(at)),
                _ => true,
            };
        if !stays {
            self.yarn_end = None;
        }
    }

    /// The needles a pick means on a bed, out of those in work.
    fn picked(&self, bed: Bed, pick: &Pick) -> Result<NeedleSet, Unfit> {
        self.picked_of(bed, pick, self.in_work[bed])
    }

    /// The needles a pick means on a bed, out of those given.
    fn picked_of(&self, bed: Bed, pick: &Pick, of: NeedleSet) -> Result<NeedleSet, Unfit> {
        pick.resolve(&Ground { of, loaded: self.loops.loaded(bed) }).map_err(|ragged| (bed, ragged))
    }

    /// The needles that targets name, cut to the beds; what the beds do not have stands apart.
    fn named(
        &self,
        machine: &Machine,
        targets: &Targets,
        of: impl Fn(&Self, Bed) -> NeedleSet,
    ) -> Result<NeedlesPut, Unfit> {
        let mut put = NeedlesPut::default();
        for bed in Bed::BOTH {
            if let Some(pick) = &targets[bed] {
                let all = self.picked_of(bed, pick, of(self, bed))?;
                put.named[bed] = all & machine.bed();
                put.off_bed[bed] = all - machine.bed();
            }
        }
        Ok(put)
    }

    /// A loop as it is made now by hand.
    fn new_loop(&self) -> Loop {
        let yarn = self.yarn.unwrap_or(Yarn(0));
        Loop { made: self.row, yarn, caught: false, racking: self.racking, between: false, drawn: Drawn::ByHand }
    }

    /// Lays that new stitch loop on each of those needles.
    fn make_stitches(&mut self, needles: &Both<NeedleSet>, what: Loop) {
        self.loops.add(needles, what);
        let count = needles.len();
        self.ledger.made += count;
        self.ledger.on_needles += count;
    }

    /// Takes all loops off those needles; the caller books them in the ledger.
    fn take_off(&mut self, needles: &Both<NeedleSet>) -> u64 {
        let taken = self.loops.clear(needles);
        self.ledger.on_needles -= taken;
        taken
    }
}

/// A setting that could be made.
fn made(changed: bool) -> Outcome {
    Outcome::Setting(Setting::Made { changed })
}

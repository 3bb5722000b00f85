//! Stitches from needle to needle: between the beds, within one bed, and crossed.

use super::super::drawn::Fit;
use super::super::machine::Machine;
use super::super::needle::{Bed, Both, NeedleSet};
use super::super::operation::{Gaiting, Pick, Tool};
use super::super::outcome::{Carried, Crossing, Group, Misfits, Outcome};
use super::super::state::State;
use super::Unfit;

impl State {
    pub(super) fn transfer(
        &mut self,
        machine: &Machine,
        from: Bed,
        pick: Option<&Pick>,
        joining: bool,
        emptied_stay: Option<bool>,
        tool: Option<Tool>,
    ) -> Result<Outcome, Unfit> {
        let named = match pick {
            Some(pick) => self.picked(from, pick)?,
            None => self.loops.loaded(from),
        };
        let by = self.standing().facing_shift(machine, from);
        let mut carried = Carried {
            not_facing: self.gaiting != Gaiting::Opposite,
            tool,
            transfer: true,
            ..self.nothing_carried(from, from.other(), by, named, joining)
        };
        if !carried.not_facing {
            self.carry(machine, &mut carried, named, emptied_stay);
        }
        Ok(Outcome::Carried(carried))
    }

    #[expect(clippy::too_many_arguments, reason = "one for each part of the operation, which is matched in one place")]
    pub(super) fn move_by_hand(
        &mut self,
        machine: &Machine,
        from: Bed,
        pick: &Pick,
        to: Bed,
        by: i32,
        joining: bool,
        emptied_stay: Option<bool>,
    ) -> Result<Outcome, Unfit> {
        let named = self.picked(from, pick)?;
        let mut carried = self.nothing_carried(from, to, by, named, joining);
        self.carry(machine, &mut carried, named, emptied_stay);
        Ok(Outcome::Carried(carried))
    }

    /// A move by hand of those needles, before anything has moved.
    fn nothing_carried(&self, from: Bed, to: Bed, by: i32, named: NeedleSet, joining: bool) -> Carried {
        Carried {
            from,
            to,
            by,
            empty: named - self.loops.loaded(from),
            donors: NeedleSet::EMPTY,
            joined: NeedleSet::EMPTY,
            joining,
            into_idle: NeedleSet::EMPTY,
            idle: NeedleSet::EMPTY,
            past_end: NeedleSet::EMPTY,
            put_out: NeedleSet::EMPTY,
            held: Both::default(),
            not_facing: false,
            tool: Some(Tool::Hand),
            transfer: false,
            ordinary: NeedleSet::EMPTY,
            tight: Misfits::default(),
            large: Misfits::default(),
            crossing: None,
        }
    }

    /// Says which donors carry loops that were drawn too small to be carried together, or too large.
    fn judge_sizes(&self, machine: &Machine, carried: &mut Carried) {
        let (from, to, donors) = (carried.from, carried.to, carried.donors);
        let misfits = |wrong: Fit| {
            let (needles, made, alike) =
                self.loops.that_are(from, donors, |what| what.drawn.fit(what.yarn, machine) == wrong);
            let last_row_of = |bed: &Bed| made.is_some_and(|made| self.last_row[*bed] == made);
            Misfits { needles, row: [from, to].into_iter().find(last_row_of), alike }
        };
        (carried.tight, carried.large) = (misfits(Fit::Tight), misfits(Fit::Large));
        carried.ordinary = self.loops.that_are(from, donors, |what| what.drawn.is_ordinary()).0;
    }

    /// Carries the loops of the named needles `carried.by` places to the right, onto bed `carried.to`.
    fn carry(&mut self, machine: &Machine, carried: &mut Carried, named: NeedleSet, emptied_stay: Option<bool>) {
        let (from, to, by) = (carried.from, carried.to, carried.by);
        carried.donors = named & self.loops.loaded(from);
        if from != to {
            self.judge_sizes(machine, carried);
            if !carried.donors.is_empty() {
                Bed::BOTH.into_iter().for_each(|bed| self.plain_rows[bed].transferred());
            }
        }
        let receivers_that_exist = machine.bed().shifted(-by);
        carried.past_end = carried.donors - receivers_that_exist;
        let stays_empty = |state: &Self| {
            // A needle that gives its stitches away and takes others in the same move stays in work.
            let ready = state.in_work[to] | state.held[to];
            if from == to { ready | carried.donors } else { ready }
        };
        carried.into_idle = (carried.donors & receivers_that_exist) - stays_empty(self).shifted(-by);
        carried.idle = carried.into_idle.shifted(by);
        if from != to {
            carried.held[from] = carried.donors & self.held[from];
            carried.held[to] = carried.donors.shifted(by) & self.held[to];
        }
        let lost = carried.past_end | carried.into_idle;
        let arriving = carried.donors - lost;

        let mut lost_of = Both::default();
        lost_of[from] = lost;
        self.ledger.lost += self.take_off(&lost_of);
        if from != to {
            self.loops.settle(from, arriving, self.racking);
        }
        let lifted = self.loops.lift(from, arriving);
        carried.joined = arriving.shifted(by) & self.loops.loaded(to);
        self.loops.lay(to, lifted, by);

        if !emptied_stay.unwrap_or(machine.emptied_stay.value) {
            carried.put_out = carried.donors - self.loops.loaded(from);
            self.in_work[from] -= carried.put_out;
            self.held[from] -= carried.put_out;
        }
    }

    pub(super) fn cross(&mut self, machine: &Machine, bed: Bed, over: NeedleSet, under: NeedleSet) -> Outcome {
        // Each group moves by the width of the other one; the group on the left moves right.
        let toward_right = over.first() < under.first();
        let sign = if toward_right { 1 } else { -1 };
        let (over_by, under_by) = (sign * under.len() as i32, -sign * over.len() as i32);
        let both = over | under;
        let loaded = self.loops.loaded(bed);
        let ready = self.in_work[bed] | self.held[bed];
        let into_idle = |group: NeedleSet, by: i32| (group & loaded).shifted(by) - ready;
        let (by, idle) = match into_idle(over, over_by) {
            none if none.is_empty() => (under_by, into_idle(under, under_by)),
            idle => (over_by, idle),
        };
        let by = if idle.is_empty() { over_by } else { by };
        let past_end = both - machine.bed();
        let crossing = Crossing {
            over: Group { needles: over, by: over_by },
            under: Group { needles: under, by: under_by },
            missing: (both - ready) | past_end,
        };
        let mut carried = Carried {
            donors: both & loaded,
            into_idle: idle.shifted(-by),
            idle,
            past_end,
            crossing: Some(crossing),
            ..self.nothing_carried(bed, bed, by, both, false)
        };
        self.judge_sizes(machine, &mut carried);
        // A needle out of work cannot be crossed onto; then nothing is done.
        if crossing.missing.is_empty() {
            let lifted_over = self.loops.lift(bed, over & loaded);
            let lifted_under = self.loops.lift(bed, under & loaded);
            self.loops.lay_two(bed, (lifted_under, under_by), (lifted_over, over_by));
        }
        Outcome::Carried(carried)
    }
}

//! Loops made and taken off by hand: cast-on, new loops, pick up, drop, bind off, onto waste yarn.

use super::super::drawn::{Drawn, PlainRows};
use super::super::machine::Machine;
use super::super::needle::{Bed, Both, NeedleSet};
use super::super::operation::{CastOn, Loop, Targets, Waste};
use super::super::outcome::{Handled, Outcome};
use super::super::standing::YarnEnd;
use super::super::state::{Ledger, State};
use super::Unfit;
use std::sync::Arc;

impl State {
    pub(super) fn cast_on(&mut self, machine: &Machine, how: CastOn, targets: &Targets) -> Result<Outcome, Unfit> {
        let put = self.named(machine, targets, |state, bed| state.in_work[bed])?;
        let by_carriage = matches!(how, CastOn::Zigzag | CastOn::Open);
        let mut handled = Handled {
            off_bed: put.off_bed,
            by_carriage,
            began: self.yarn_end.filter(|_| by_carriage),
            no_yarn: self.yarn.is_none(),
            ..Handled::default()
        };
        if by_carriage {
            self.row += 1;
            self.counter += 1;
            self.carriage = self.carriage.other();
        }
        for bed in Bed::BOTH {
            // The carriage serves only needles in work; by hand a needle is brought forward as it is cast on.
            let ready = if by_carriage { self.in_work[bed] } else { !NeedleSet::EMPTY };
            handled.made[bed] = (put.named[bed] & ready) - self.loops.loaded(bed);
            handled.refused[bed] = put.named[bed] - handled.made[bed];
            self.in_work[bed] |= handled.made[bed] - self.held[bed];
        }
        let crosses = by_carriage && !handled.made.front.is_empty() && !handled.made.back.is_empty();
        let drawn = if by_carriage { Drawn::ByCastOn } else { Drawn::ByHand };
        self.make_stitches(&handled.made, Loop { between: crosses, drawn, ..self.new_loop() });
        if by_carriage {
            for bed in Bed::BOTH.into_iter().filter(|&bed| !handled.made[bed].is_empty()) {
                // It is made tightly; what is usual on the bed only its rows say.
                self.plain_rows[bed] = PlainRows::default();
            }
            // One that makes nothing carries the yarn along all the same.
            let needles = match Both::from_fn(|bed| handled.made[bed].outermost(self.carriage)) {
                Both { front: None, back: None } => handled.began.map_or(Both::same(None), |began| began.needles),
                needles => needles,
            };
            self.yarn_end = self.yarn.map(|_| YarnEnd { side: self.carriage, needles });
        }
        Ok(Outcome::Handled(handled))
    }

    pub(super) fn pick_up(
        &mut self,
        machine: &Machine,
        targets: &Targets,
        from_waste: Option<&Waste>,
    ) -> Result<Outcome, Unfit> {
        let put = self.named(machine, targets, |state, bed| state.in_work[bed])?;
        let asked = put.named.len();
        let there = from_waste.map_or(self.ledger.knitted_through, |waste| self.on_waste(waste));
        let mut handled = Handled { off_bed: put.off_bed, ..Handled::default() };
        if asked > there {
            handled.not_there = asked - there;
            handled.refused = put.named;
            return Ok(Outcome::Handled(handled));
        }
        handled.made = put.named;
        for bed in Bed::BOTH {
            self.in_work[bed] |= put.named[bed] - self.held[bed];
        }
        // The loop was made before: it comes back, so nothing is booked as made.
        let what = self.new_loop();
        self.loops.add(&handled.made, what);
        self.ledger.on_needles += asked;
        match from_waste {
            Some(waste) => {
                self.ledger.on_waste -= asked;
                self.book_on(waste, |named| named.saturating_sub(asked));
            }
            None => self.ledger.knitted_through -= asked,
        }
        Ok(Outcome::Handled(handled))
    }

    pub(super) fn take_onto_waste(
        &mut self,
        machine: &Machine,
        targets: &Targets,
        waste: &Waste,
    ) -> Result<Outcome, Unfit> {
        let before = self.ledger.on_waste;
        let outcome = self.take_to(machine, targets, |ledger| &mut ledger.on_waste);
        let more = self.ledger.on_waste - before;
        self.book_on(waste, |named| named.saturating_add(more));
        outcome
    }

    /// Books what comes to a waste yarn with a name or leaves it. What the others hold is what is left of the ledger.
    fn book_on(&mut self, waste: &Waste, change: impl FnOnce(u64) -> u64) {
        if let Some(name) = &waste.0 {
            let named = change(self.on_waste(waste));
            self.waste.insert(Arc::clone(name), named);
        }
    }

    /// Takes the loops of the named needles off and books them in that column of the ledger.
    pub(super) fn take_to(
        &mut self,
        machine: &Machine,
        targets: &Targets,
        column: fn(&mut Ledger) -> &mut u64,
    ) -> Result<Outcome, Unfit> {
        let put = self.named(machine, targets, |state, bed| state.in_work[bed] | state.held[bed])?;
        let mut handled = Handled { off_bed: put.off_bed, ..Handled::default() };
        for bed in Bed::BOTH {
            handled.taken[bed] = put.named[bed] & self.loops.loaded(bed);
            handled.empty[bed] = put.named[bed] - handled.taken[bed];
        }
        let taken = self.take_off(&handled.taken);
        *column(&mut self.ledger) += taken;
        Ok(Outcome::Handled(handled))
    }
}

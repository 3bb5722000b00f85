//! What the head of a sheet says, gathered while the piece is played.

use super::row;
use crate::beds::{Bed, Both, CastOn, Gaiting, NeedleSet, Operation, Outcome, State, StitchSize, Tool, Yarn};
use crate::plan::program::Piece;
use crate::play::{Flow, Manner, Moment, Watcher, play};
use std::collections::BTreeSet;
use std::ops::ControlFlow;

/// What a piece needs, and how it ends.
#[derive(Debug, Default)]
pub(super) struct Needs {
    /// Needles used, of each bed.
    pub(super) needles: Both<NeedleSet>,
    /// Stitches of each bed where there are most of both together.
    pub(super) widest: Both<u64>,
    /// How far the bed is racked to the left and to the right of the centre, in steps.
    pub(super) racked: (u32, u32),
    /// How the beds stand in rows and transfers, in the order of use.
    pub(super) gaitings: Vec<Gaiting>,
    /// Stitch sizes set.
    pub(super) sizes: BTreeSet<StitchSize>,
    /// Stitch sizes of single rows that are not set otherwise.
    pub(super) sizes_once: BTreeSet<StitchSize>,
    /// Yarns, in the order of use.
    pub(super) yarns: Vec<Yarn>,
    /// On which beds needles are held.
    pub(super) hold: Both<bool>,
    /// On which beds needles are picked for a row.
    pub(super) selection: Both<bool>,
    /// Whether the transfer carriage is asked for.
    pub(super) transfer_carriage: bool,
    /// Whether stitches are transferred by whatever tool there is.
    pub(super) transfer: bool,
    /// Whether stitches are moved with the hand tool.
    pub(super) hand_tool: bool,
    /// Whether the comb is hung.
    pub(super) comb: bool,
    /// Whether a chain is cast on, which is made with a latch tool.
    pub(super) chain: bool,
    /// Whether waste yarn is used.
    pub(super) waste_yarn: bool,
    /// The beds at the first row or cast-on, and where the carriage stands before it.
    pub(super) set_out: Option<State>,
    /// The beds at the end.
    pub(super) end: State,
    /// The beds before the operation, as long as the set-out is not known.
    before: State,
}

impl Needs {
    /// Plays the piece and gathers, where nobody plays it anyway.
    pub(super) fn of(piece: &Piece) -> Self {
        let mut needs = Self::default();
        let (end, _) = play(piece, Manner::CHECK, &mut needs);
        needs.ended(&end)
    }

    /// What was gathered of a piece that has been played to its end.
    pub(super) fn ended(self, end: &State) -> Self {
        Self { end: end.clone(), sizes_once: &self.sizes_once - &self.sizes, ..self }
    }

    fn stands(&mut self, state: &State) {
        if !self.gaitings.contains(&state.gaiting) {
            self.gaitings.push(state.gaiting);
        }
        let steps = state.racking.unsigned_abs();
        if state.racking < 0 {
            self.racked.0 = self.racked.0.max(steps);
        } else {
            self.racked.1 = self.racked.1.max(steps);
        }
    }

    /// Gathers from one operation.
    pub(super) fn gather(&mut self, moment: &Moment<'_>) {
        let state = moment.state;
        match moment.outcome {
            Outcome::Row(done) => {
                self.stands(state);
                let at_work = row::at_work(done);
                for bed in Bed::BOTH {
                    self.needles[bed] |= at_work[bed];
                    self.selection[bed] |= done.selected[bed];
                    if done.sizes[bed] != state.sizes[bed] {
                        self.sizes_once.extend(done.sizes[bed]);
                    }
                }
            }
            Outcome::Carried(carried) => {
                self.stands(state);
                match (carried.tool, carried.transfer) {
                    (Some(Tool::Carriage), _) => self.transfer_carriage = true,
                    (None, true) => self.transfer = true,
                    _ => self.hand_tool = true,
                }
            }
            Outcome::Handled(handled) if handled.by_carriage => {
                self.comb = true;
                self.stands(state);
            }
            _ => {}
        }
        match moment.operation {
            Operation::Thread(yarn) if !self.yarns.contains(yarn) => self.yarns.push(*yarn),
            Operation::StitchSize(sizes) => self.sizes.extend([sizes.front, sizes.back].into_iter().flatten()),
            Operation::CastOn(CastOn::Open, _)
            | Operation::OntoWaste(_)
            | Operation::PickUp { from_waste: true, .. } => self.waste_yarn = true,
            Operation::CastOn(CastOn::Chain, _) => self.chain = true,
            Operation::Increase(change) => self.hand_tool |= change.inset > 0,
            Operation::Decrease(_) | Operation::PickUp { .. } => self.hand_tool = true,
            _ => {}
        }
        let counts = Both::from_fn(|bed: Bed| state.stitch_count(bed));
        if counts.front + counts.back > self.widest.front + self.widest.back {
            self.widest = counts;
        }
        for bed in Bed::BOTH {
            self.needles[bed] |= state.loops.loaded(bed);
            self.hold[bed] |= !state.held[bed].is_empty();
        }
        if self.set_out.is_none() {
            if matches!(moment.outcome, Outcome::Row(_) | Outcome::Handled(_)) {
                self.set_out = Some(State { carriage: self.before.carriage, ..state.clone() });
            } else {
                self.before = state.clone();
            }
        }
    }
}

impl Watcher for Needs {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        self.gather(moment);
        ControlFlow::Continue(())
    }
}

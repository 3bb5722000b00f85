//! What the head of a sheet says, gathered from the record of what was knitted.

use super::row;
use super::transfer::Way;
use crate::beds::{Bed, Both, CastOn, Gaiting, Machine, NeedleSet, Operation, Outcome, StitchSize, Takes, Yarn};
use crate::knitted::{Asked, Deed, Done, Ended, Entry, Passes, Stood, follow};
use crate::plan::program::Piece;
use crate::play::{Flow, Manner};
use std::collections::BTreeSet;

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
    /// Whether stitches are transferred that the carriage or the hand tool can take.
    pub(super) transfer: bool,
    /// What the transfer carriage is set to take.
    pub(super) takes: BTreeSet<Takes>,
    /// Whether stitches are moved with the hand tool.
    pub(super) hand_tool: bool,
    /// Whether the comb is hung.
    pub(super) comb: bool,
    /// Whether a chain is cast on, which is made with a latch tool.
    pub(super) chain: bool,
    /// Whether waste yarn is used.
    pub(super) waste_yarn: bool,
    /// The beds at the first row or cast-on, with the carriage where it stands before it.
    pub(super) set_out: Option<Stood>,
    /// Rows of the piece.
    pub(super) rows: u64,
    /// How the beds stand.
    now: Stood,
}

impl Needs {
    /// Plays the piece and gathers, where nobody plays it anyway.
    pub(super) fn of(piece: &Piece) -> Self {
        let mut needs = Self::default();
        let ended = follow(piece, Asked { manner: Manner::CHECK, ..Asked::TELL }, &mut |part| {
            needs.gather(&piece.machine, &part.entries);
            Flow::Continue(())
        });
        needs.ended(&ended)
    }

    /// What was gathered of a piece, when its record has ended so.
    pub(super) fn ended(self, ended: &Ended) -> Self {
        let sizes_once = &self.sizes_once - &self.sizes;
        Self { rows: ended.end.row, widest: ended.widest, sizes_once, ..self }
    }

    /// Gathers from a part of the record.
    pub(super) fn gather(&mut self, machine: &Machine, entries: &[Entry]) {
        for entry in entries {
            match entry {
                Entry::Did(deed, after) => self.did(machine, deed, after),
                Entry::Block(block) => self.gather(machine, &block.entries),
                Entry::Repeated(repeated) => {
                    for passes in &repeated.passes {
                        match passes {
                            Passes::Played(pass) => self.gather(machine, &pass.entries),
                            Passes::Counted { after, .. } => self.now = after.clone(),
                        }
                    }
                }
                Entry::AsBefore(_, after) => self.now = after.clone(),
                Entry::Said(_) | Entry::Promised(..) => {}
            }
        }
    }

    fn stands(&mut self, state: &Stood) {
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

    fn did(&mut self, machine: &Machine, deed: &Deed, state: &Stood) {
        match &deed.outcome {
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
                let way = Way::of(Done { machine, yarns: &[], deed, before: &self.now, after: state }, carried);
                match (way.carriage, way.hand) {
                    (true, false) => self.transfer_carriage = true,
                    (true, true) => self.transfer = true,
                    (false, _) => self.hand_tool = true,
                }
                self.takes.extend(way.setting);
            }
            Outcome::Handled(handled) if handled.by_carriage => {
                self.comb = true;
                self.stands(state);
            }
            _ => {}
        }
        match &deed.operation {
            Operation::Thread(yarn) if !self.yarns.contains(yarn) => self.yarns.push(*yarn),
            Operation::StitchSize(sizes) => self.sizes.extend([sizes.front, sizes.back].into_iter().flatten()),
            Operation::CastOn(CastOn::Open, _)
            | Operation::OntoWaste(..)
            | Operation::PickUp { from_waste: Some(_), .. } => self.waste_yarn = true,
            Operation::CastOn(CastOn::Chain, _) => self.chain = true,
            Operation::Increase(change) => self.hand_tool |= change.inset > 0,
            Operation::Decrease(_) | Operation::PickUp { .. } => self.hand_tool = true,
            _ => {}
        }
        for bed in Bed::BOTH {
            self.needles[bed] |= state.needles.loaded[bed];
            self.hold[bed] |= !state.needles.held[bed].is_empty();
        }
        if self.set_out.is_none() && matches!(deed.outcome, Outcome::Row(_) | Outcome::Handled(_)) {
            self.set_out = Some(Stood { carriage: self.now.carriage, ..state.clone() });
        }
        self.now = state.clone();
    }
}

//! What tells one operation from another: as it is written, and as it is done.

use super::sequence::key_of;
use crate::beds::{Bed, Both, EdgeChange, Gaiting, Machine, Operation, Outcome, Row, RowDone, Setting};
use crate::knitted::{Done, Stood};

/// What an operation only claims or allows; it is worked the same without.
pub(super) fn claims(operation: &Operation) -> Vec<String> {
    match operation {
        Operation::Row(row) => {
            let toward = row.toward.map(|side| format!("to {side}"));
            toward.into_iter().chain(row.new_loops.then(|| "new loops".to_owned())).collect()
        }
        Operation::Transfer { joining: true, .. } | Operation::Move { joining: true, .. } => vec!["joining".to_owned()],
        _ => Vec::new(),
    }
}

/// The key of an operation as it is written, without what it only claims. `yarn` names the yarn of a `thread`.
pub(super) fn written<'a>(operation: &Operation, yarn: impl Fn(u16) -> &'a str) -> u128 {
    match operation {
        Operation::Thread(number) => key_of(&("thread", yarn(number.0))),
        Operation::Row(row) => key_of(&Operation::Row(Row { toward: None, new_loops: false, ..row.clone() })),
        Operation::Transfer { .. } | Operation::Move { .. } => {
            let mut plain = operation.clone();
            if let Operation::Transfer { joining, .. } | Operation::Move { joining, .. } = &mut plain {
                *joining = false;
            }
            key_of(&plain)
        }
        Operation::Decrease(change) => key_of(&Operation::Decrease(moving(*change))),
        other => key_of(other),
    }
}

/// As many edge stitches move as are taken off, whether that is written or not.
fn moving(change: EdgeChange) -> EdgeChange {
    EdgeChange { inset: change.inset.max(change.by), ..change }
}

/// The key of what an operation did: which needles did what, and with what. Nothing in it counts rows, so that the same
/// work has the same key in whatever row it is done.
pub(super) fn done<'a>(done: Done<'_>, yarn: impl Fn(u16) -> &'a str) -> u128 {
    let set = settings(done.machine, done.after);
    match (done.operation(), done.outcome()) {
        (_, Outcome::Unfit(bed, ragged)) => key_of(&("unfit", bed, ragged.tile, ragged.width)),
        (Operation::Thread(number), _) => key_of(&("thread", yarn(number.0), set)),
        (Operation::RackBy(_) | Operation::RackTo(_), outcome) => {
            let asked = match outcome {
                Outcome::Setting(Setting::RackedPastEnd { asked }) => *asked,
                _ => done.after.racking,
            };
            key_of(&("rack", done.machine.back_offset(asked), set))
        }
        (_, Outcome::Setting(_)) => key_of(&("setting", done.operation(), set)),
        (operation, Outcome::Needles(put)) => {
            key_of(&("needles", std::mem::discriminant(operation), put.changed, put.lost, set))
        }
        (_, Outcome::Row(row)) => key_of(&("row", row_done(row), set)),
        (_, Outcome::FreePass) => key_of(&("free pass", set)),
        (Operation::Transfer { from, tool, .. }, Outcome::Carried(carried)) => {
            key_of(&("transfer", from, tool, carried_done(carried), set))
        }
        (Operation::Move { from, to, by, .. }, Outcome::Carried(carried)) => {
            key_of(&("move", from, to, by, carried_done(carried), set))
        }
        (operation, Outcome::Carried(carried)) => key_of(&("carried", operation, carried_done(carried), set)),
        (operation, Outcome::Handled(handled)) => {
            let what = match operation {
                Operation::CastOn(how, _) => key_of(&("cast on", how)),
                Operation::Increase(change) => key_of(&("increase", change)),
                Operation::Decrease(change) => key_of(&("decrease", moving(*change))),
                Operation::PickUp { from_waste, .. } => key_of(&("pick up", from_waste)),
                Operation::OntoWaste(_, waste) => key_of(&("onto waste yarn", waste)),
                other => key_of(&std::mem::discriminant(other)),
            };
            let needles = (handled.made, handled.taken, handled.refused, handled.empty);
            key_of(&("handled", what, needles, handled.by_carriage, set))
        }
    }
}

/// How the machine is set, which every operation leaves behind.
fn settings(machine: &Machine, stood: &Stood) -> impl std::hash::Hash + use<> {
    // Which of two neighbours of the two beds takes the yarn first hangs on which way the half step goes.
    let half_step = (stood.gaiting == Gaiting::Between).then_some(machine.half_step_to);
    // The same steps to the left are another fabric where the other bed is racked.
    let racking = machine.back_offset(stood.racking);
    (half_step, stood.carriage, stood.gaiting, racking, stood.sizes, stood.row == 0, stood.stitches())
}

/// The key of an operation as a part of the whole work; none where it does no work by itself. Which needles are in work or
/// held counts with what is done on them, so that it is the same in how many lines and in which order they are put there.
pub(super) fn part_of_the_work(done: Done<'_>, key: u128) -> Option<u128> {
    let idle = match (done.operation(), done.outcome()) {
        (_, Outcome::Needles(put)) => {
            let lost = put.lost;
            lost.front.is_empty() && lost.back.is_empty()
        }
        (Operation::Increase(_) | Operation::Decrease(_), Outcome::Handled(handled)) => {
            handled.edges.is_empty() && handled.refused.is_empty() && handled.past_end == 0 && handled.not_there == 0
        }
        _ => false,
    };
    (!idle).then(|| key_of(&(key, &done.after.needles.in_work, &done.after.needles.held)))
}

fn row_done(row: &RowDone) -> impl std::hash::Hash + use<> {
    // A bed that makes no loop has no stitch size.
    let sizes = Both::from_fn(|bed: Bed| row.sizes[bed].filter(|_| !row.acting(bed).is_empty()));
    (row.toward, row.knit, row.tuck, row.slip, row.caught, sizes, row.no_yarn)
}

fn carried_done(carried: &crate::beds::Carried) -> impl std::hash::Hash + use<> {
    let lost = carried.into_idle | carried.past_end;
    (carried.by, carried.donors, carried.joined, lost, carried.empty, carried.put_out, carried.not_facing)
}

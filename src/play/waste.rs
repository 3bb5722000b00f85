//! Stitches that go from piece to piece on waste yarn.
//!
//! Pieces are worked in the order of the text. What a piece finds on a waste yarn with a name is known before it is played
//! and stands with it as plain data ([`WasteHere`]), so that whoever plays a piece by itself plays what is knitted. Only
//! where a piece picks up what an earlier one has put there are the pieces up to it played for their numbers.

use super::{Budget, Manner, Watcher, play_counted};
use crate::beds::{Operation, State, Waste};
use crate::plan::program::{Piece, Program, StepId, StepKind, Steps, WasteHere, name_of};
use crate::source::Span;
use std::collections::{BTreeMap, HashSet};

/// Enough stitches for every line that asks, where it is not known how many there are.
const NOT_KNOWN: u64 = u32::MAX as u64;

/// The beds before a piece.
pub(super) fn beginning(piece: &Piece) -> State {
    let brought = piece.waste.iter().filter(|here| here.picked_up.is_some());
    State::with_waste(brought.map(|here| (&here.waste, here.stitches.unwrap_or(NOT_KNOWN))))
}

/// Finds out what each piece of a program finds on the waste yarns with a name. Where the budget does not reach, the number is
/// not known.
pub(crate) fn hand_over(program: &mut Program, budget: &Budget) {
    let lines: Vec<BTreeMap<Waste, Lines>> = program.pieces.iter().map(|piece| lines(&piece.steps)).collect();
    let used: HashSet<&Waste> =
        lines.iter().flatten().filter(|(_, lines)| lines.picked_up.is_some()).map(|(waste, _)| waste).collect();
    // What is on each waste yarn between two pieces, and the line that put stitches there last.
    let mut now: BTreeMap<Waste, (Option<u64>, Option<Span>)> = BTreeMap::new();
    for (at, piece) in program.pieces.iter_mut().enumerate() {
        let (here, later) = (&lines[at], &lines[at + 1..]);
        piece.waste = here
            .iter()
            .map(|(waste, lines)| {
                let (stitches, put_by) = now.get(waste).copied().unwrap_or((Some(0), None));
                let is_last = !later.iter().any(|lines| lines.contains_key(waste));
                let is_used = used.contains(waste);
                WasteHere { waste: waste.clone(), picked_up: lines.picked_up, stitches, put_by, is_used, is_last }
            })
            .collect();
        let picks_up_later = |here: &WasteHere| {
            later.iter().any(|lines| lines.get(&here.waste).is_some_and(|lines| lines.picked_up.is_some()))
        };
        let goes_on = piece.waste.iter().any(|here| !here.is_last && (picks_up_later(here) || here.put_by.is_some()));
        if goes_on {
            let end = play_counted(piece, budget.within(Manner::CHECK), &mut Nobody);
            budget.spend(end.operations);
            for here in &piece.waste {
                let left = if end.stop.is_none() { here.left(&end.state, piece.make) } else { None };
                // More than there are is told of with the piece.
                let left = left.map(|left| u64::try_from(left).unwrap_or_default());
                let put = lines[at].get(&here.waste).and_then(|lines| lines.put).or(here.put_by);
                now.insert(here.waste.clone(), (left, put));
            }
        } else {
            for here in &piece.waste {
                let put = lines[at].get(&here.waste).and_then(|lines| lines.put).or(here.put_by);
                now.insert(here.waste.clone(), (here.stitches, put));
            }
        }
    }
}

impl WasteHere {
    /// How many stitches are on it when the piece has been made as often as it is to be made, and ends each time as it ends
    /// once; less than none where the pieces pick up more than there are. None where it is not known.
    pub(crate) fn left(&self, end: &State, make: u64) -> Option<i128> {
        let before = self.stitches?;
        let begun = if self.picked_up.is_some() { before } else { 0 };
        let change = i128::from(end.on_waste(&self.waste)) - i128::from(begun);
        Some(i128::from(before) + change * i128::from(make))
    }
}

/// Nobody wants to know what happens on the way.
struct Nobody;

impl Watcher for Nobody {}

/// Which lines of a piece are about a waste yarn.
#[derive(Default)]
struct Lines {
    /// The last one that takes stitches onto it.
    put: Option<Span>,
    /// The first one that picks up from it.
    picked_up: Option<Span>,
}

/// The waste yarns with a name that lines in those steps are about. What is worked at several places is looked at once.
fn lines(steps: &Steps) -> BTreeMap<Waste, Lines> {
    fn look(steps: &Steps, found: &mut BTreeMap<Waste, Lines>, looked_at: &mut HashSet<Option<StepId>>) {
        if !looked_at.insert(name_of(steps)) {
            return;
        }
        for step in steps.iter() {
            match &step.kind {
                StepKind::Do(Operation::OntoWaste(_, waste)) if waste.0.is_some() => {
                    found.entry(waste.clone()).or_default().put = Some(step.span);
                }
                StepKind::Do(Operation::PickUp { from_waste: Some(waste), .. }) if waste.0.is_some() => {
                    found.entry(waste.clone()).or_default().picked_up.get_or_insert(step.span);
                }
                StepKind::Repeat(repeat) => look(&repeat.steps, found, looked_at),
                StepKind::Section(_, steps) | StepKind::Allow { steps, .. } => look(steps, found, looked_at),
                _ => {}
            }
        }
    }
    let mut found = BTreeMap::new();
    look(steps, &mut found, &mut HashSet::new());
    found
}

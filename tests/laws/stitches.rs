//! What rows and transfers keep.

use super::operations::{machine, operations, row};
use proptest::prelude::*;
use wale::beds::*;

fn after(machine: &Machine, operations: &[Operation]) -> State {
    let mut state = State::default();
    for operation in operations {
        state.apply(machine, operation);
    }
    state
}

/// Everything on the needles of a bed, from left to right: the row, the yarn and the kind of each loop. How its yarn is
/// stretched is measured anew from where it was last handled, so that is left out.
fn stacks(state: &State, bed: Bed) -> Vec<Vec<(u64, Yarn, bool)>> {
    let plain = |what: Loop| (what.made, what.yarn, what.caught);
    (0..=255).map(|at| state.loops.stack(bed, Needle(at)).into_iter().map(plain).collect()).collect()
}

proptest! {
    #![proptest_config(super::cases(400))]

    #[test]
    fn a_row_without_new_loops_keeps_the_counts(machine in machine(), before in operations(20), row in row()) {
        let mut state = after(&machine, &before);
        let then = state.clone();
        let Outcome::Row(done) = state.apply(&machine, &row) else { return Ok(()) };
        for bed in Bed::BOTH {
            let (was, is) = (then.loops.loaded(bed), state.loops.loaded(bed));
            prop_assert_eq!(is, was | done.caught[bed], "only an empty needle that catches the yarn becomes loaded");
            // A loop that was only caught becomes a stitch when it is knitted, and nothing else makes one.
            let became = (was - then.loops.stitches(bed)) & done.knit[bed];
            prop_assert_eq!(state.loops.stitches(bed), then.loops.stitches(bed) | became);
            if done.caught[bed].is_empty() && became.is_empty() {
                prop_assert_eq!(state.stitch_count(bed), then.stitch_count(bed));
            }
        }
        prop_assert_eq!(state.ledger.lost, then.ledger.lost);
    }

    #[test]
    fn a_transfer_there_and_back_changes_nothing(
        machine in machine(), before in operations(20), chosen in 0_u8..16, from_front in any::<bool>(),
    ) {
        let mut state = after(&machine, &before);
        state.apply(&machine, &Operation::Gaiting(Gaiting::Opposite));
        let from = if from_front { Bed::Front } else { Bed::Back };
        let to = from.other();
        // Stitches whose facing needle is in work and empty, so that nothing joins and nothing is lost.
        let free = (state.in_work[to] | state.held[to]) - state.loops.loaded(to);
        let can = state.loops.loaded(from) & state.facing(&machine, to, free);
        let donors: NeedleSet =
            can.iter().enumerate().filter(|(at, _)| chosen >> at & 1 == 1).map(|(_, needle)| needle).collect();
        let receivers = state.facing(&machine, from, donors);
        prop_assert_eq!(receivers.len(), donors.len());
        let then = state.clone();
        let transfer = |from, needles| Operation::Transfer {
            from, pick: Some(Pick::These(needles)), joining: false, emptied_stay: Some(true), tool: None,
        };
        state.apply(&machine, &transfer(from, donors));
        prop_assert_eq!(state.loops.loaded(to), then.loops.loaded(to) | receivers);
        prop_assert_eq!(state.loops.loaded(from), then.loops.loaded(from) - donors);
        state.apply(&machine, &transfer(to, receivers));
        for bed in Bed::BOTH {
            prop_assert_eq!(stacks(&state, bed), stacks(&then, bed));
            prop_assert_eq!(state.loops.stitches(bed), then.loops.stitches(bed));
        }
        prop_assert_eq!((state.in_work, state.held, state.ledger), (then.in_work, then.held, then.ledger));
    }
}

//! What an operation says it did, against the beds before and after it.

use super::operations::{machine, operation, operations};
use proptest::prelude::*;
use wale::beds::*;

/// The needles of both beds that carry loops.
fn loaded(state: &State) -> u64 {
    Bed::BOTH.into_iter().map(|bed| u64::from(state.loops.loaded(bed).len())).sum()
}

proptest! {
    #![proptest_config(super::cases(1_500))]

    #[test]
    fn where_stitches_join_one_needle_fewer_carries_any(
        machine in machine(), before in operations(12), last in operation(),
    ) {
        let mut state = State::default();
        for operation in &before {
            state.apply(&machine, operation);
        }
        let then = state.clone();
        match state.apply(&machine, &last) {
            Outcome::Carried(carried) if !matches!(last, Operation::Cross { .. }) => {
                let lost = u64::from((carried.into_idle | carried.past_end).len());
                prop_assert_eq!(loaded(&state) + lost + u64::from(carried.joined.len()), loaded(&then), "{:?}", last);
                prop_assert!((carried.donors - then.loops.loaded(carried.from)).is_empty(), "{:?}", last);
            }
            Outcome::Carried(carried) => {
                let Operation::Cross { bed, over, under } = &last else { unreachable!("it is one") };
                prop_assert_eq!(carried.donors, (*over | *under) & then.loops.loaded(*bed));
                prop_assert_eq!(carried.empty, (*over | *under) - then.loops.loaded(*bed));
                prop_assert_eq!(loaded(&state), loaded(&then));
            }
            Outcome::Handled(handled) if matches!(last, Operation::Decrease(_)) => {
                // Where a bed is narrow, both edges may lay stitches on the same needle: each edge counts its own.
                let joined: u64 = handled.edges.iter().map(|edge| u64::from(edge.joined.len())).sum();
                prop_assert_eq!(loaded(&state) + joined, loaded(&then), "{:?}", last);
                for bed in Bed::BOTH {
                    prop_assert_eq!(handled.taken[bed], then.loops.loaded(bed) - state.loops.loaded(bed));
                }
            }
            Outcome::Handled(handled) if !matches!(last, Operation::Increase(_)) => {
                // An increase with an inset fills the needles inside it: what is made there was loaded before.
                for bed in Bed::BOTH {
                    let (was, is) = (then.loops.loaded(bed), state.loops.loaded(bed));
                    prop_assert_eq!(handled.taken[bed], was - is, "{:?}", last);
                    prop_assert!((is - was - handled.made[bed]).is_empty(), "{:?}", last);
                }
            }
            _ => {}
        }
    }
}

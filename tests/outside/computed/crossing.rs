//! Crossings as permutations.
//!
//! S. Markande and E. Matsumoto, "Knotty knits are tangles on tori", Bridges 2020: a cable joins a row of loops to a
//! permutation of the same loops. Inversions are counted here; a crossing of m over n has m times n of them.

use crate::outside::hand::Said;
use std::collections::BTreeMap;
use wale::beds::{Bed, Both, Machine, Needle, NeedleSet, Operation, Pick, State, Yarn};

const FIRST: u8 = 124;

/// `count` stitches in a row, each in a yarn of its own.
fn coloured(machine: &Machine, count: u8) -> State {
    let mut state = State::default();
    for at in 0..count {
        let one = NeedleSet::span(Needle(FIRST + at), Needle(FIRST + at));
        state.apply(machine, &Operation::Thread(Yarn(u16::from(at))));
        state.apply(machine, &Operation::NewLoops(Both { front: Some(Pick::These(one)), back: None }));
    }
    state
}

/// The yarns from left to right.
fn order(state: &State, count: u8) -> Vec<u16> {
    let yarn = |at| {
        let stack = state.loops.stack(Bed::Front, Needle(FIRST + at));
        assert_eq!(stack.len(), 1);
        stack[0].yarn.0
    };
    (0..count).map(yarn).collect()
}

fn inversions(order: &[u16]) -> usize {
    (0..order.len()).flat_map(|at| order[at..].iter().map(move |later| order[at] > *later)).filter(|it| *it).count()
}

fn group(from: u8, count: u8) -> NeedleSet {
    NeedleSet::span(Needle(FIRST + from), Needle(FIRST + from + count - 1))
}

/// A crossing of these groups on the front bed, right or wrong.
type Crossing = fn(NeedleSet, NeedleSet) -> Operation;

fn right(over: NeedleSet, under: NeedleSet) -> Operation {
    Operation::Cross { bed: Bed::Front, over, under }
}

/// The group behind is taken one stitch too small.
fn one_left_out(over: NeedleSet, under: NeedleSet) -> Operation {
    let last = under.iter().filter(|at| Some(*at) != under.last() || under.len() == 1).collect();
    Operation::Cross { bed: Bed::Front, over, under: last }
}

/// The groups are taken off and hung where they were.
fn not_crossed(_: NeedleSet, _: NeedleSet) -> Operation {
    Operation::ResetCounter
}

#[test]
fn a_crossing_of_m_over_n_has_m_times_n_inversions() {
    assert_eq!(inverts(right), Ok(()));
    for wrong in [one_left_out as Crossing, not_crossed] {
        assert!(inverts(wrong).is_err());
    }
}

fn inverts(cross: Crossing) -> Said {
    let machine = Machine::new("small", 10);
    for over in 1..=4 {
        for under in 1..=4 {
            for over_is_left in [true, false] {
                let mut state = coloured(&machine, over + under);
                let (left, right) = if over_is_left { (over, under) } else { (under, over) };
                let (left_set, right_set) = (group(0, left), group(left, right));
                let (front, behind) = if over_is_left { (left_set, right_set) } else { (right_set, left_set) };
                state.apply(&machine, &cross(front, behind));
                let order = order(&state, over + under);
                agree!(inversions(&order), usize::from(over) * usize::from(under), "{over} over {under}: {order:?}");
                // Within a group nothing changes places.
                let expected: Vec<u16> = (u16::from(left)..u16::from(left + right)).chain(0..u16::from(left)).collect();
                agree!(order, expected, "{over} over {under}");
                agree!(state.stitch_count(Bed::Front), u64::from(over + under), "{over} over {under}: stitches");
            }
        }
    }
    Ok(())
}

#[test]
fn crossings_of_one_by_one_reach_every_order_in_as_many_steps_as_it_has_inversions() {
    assert_eq!(reaches(right), Ok(()));
    assert!(reaches(not_crossed).is_err());
}

fn reaches(cross: Crossing) -> Said {
    // Orders of 4 stitches by inversions: 1, 3, 5, 6, 5, 3, 1 (the Mahonian numbers; from memory).
    let machine = Machine::new("small", 10);
    let mut reached = BTreeMap::from([(order(&coloured(&machine, 4), 4), 0)]);
    let mut edge = vec![coloured(&machine, 4)];
    for step in 1.. {
        let mut next = Vec::new();
        for state in &edge {
            for at in 0..3 {
                let mut crossed = state.clone();
                let (over, under) = (group(at, 1), group(at + 1, 1));
                crossed.apply(&machine, &cross(over, under));
                if let std::collections::btree_map::Entry::Vacant(place) = reached.entry(order(&crossed, 4)) {
                    place.insert(step);
                    next.push(crossed);
                }
            }
        }
        if next.is_empty() {
            break;
        }
        edge = next;
    }
    let mut counts = vec![0; 7];
    for (order, steps) in &reached {
        agree!(inversions(order), *steps, "{order:?}");
        counts[*steps] += 1;
    }
    agree!(counts, [1, 3, 5, 6, 5, 3, 1], "orders by inversions");
    Ok(())
}

//! The beds around a needle, drawn in text.

use crate::beds::{Bed, Machine, Needle, State};
use crate::draw::{Drawing, key};
use crate::words;

/// Needles shown on each side of the marked one.
const AROUND: i32 = 7;

/// Both beds around a needle, as they stand after the line that the finding is about; the needle is marked. The back
/// bed is shown above the front bed, shifted as it stands, and the marks that occur are explained.
pub(super) fn around(machine: &Machine, state: &State, bed: Bed, needle: Needle) -> String {
    let middle = state.half_pitches(machine, bed, needle);
    let (from, to) = (middle - 2 * AROUND, middle + 2 * AROUND);
    let drawing = Drawing { machine, state };
    let rows = [Bed::Back, Bed::Front].map(|row| (row, drawing.marks(row, from, to)));
    let mut text = String::new();
    for (row, marks) in &rows {
        text.push_str(&format!("{:<7}{}\n", row.to_string(), marks.trim_end()));
        if *row == bed {
            let column = 7 + (middle - from) as usize;
            text.push_str(&" ".repeat(column));
            text.push_str(&format!("^ {bed} {needle}\n"));
        }
    }
    let racked = words::racking(state.racking);
    text.push_str(&format!("after this line; gaiting {}, racked to {racked}\n", state.gaiting));
    text.push_str(&key(rows.iter().map(|(_, marks)| marks.as_str())));
    text
}

#[cfg(test)]
mod tests {
    use super::around;
    use crate::beds::{
        Action, Bed, BedWork, Both, Machine, Needle, NeedleSet, Operation, Pick, Row, Side, State, Work,
    };

    fn needle(side: Side, count: u32) -> Needle {
        Needle::new(side, count).expect("a needle")
    }

    /// Four needles of each bed in work, and a row on the front bed that catches a loop on each of its needles.
    fn beds(machine: &Machine) -> State {
        let mut state = State::default();
        let span = NeedleSet::span(needle(Side::Left, 2), needle(Side::Right, 2));
        state.apply(machine, &Operation::InWork(Both::from_fn(|_| Some(Pick::These(span)))));
        let work = Both { front: BedWork::whole(Action::Knit), back: BedWork::whole(Action::Slip) };
        let row = Row { work: Work::Same(work), sizes: Both::same(None), toward: None, new_loops: true };
        state.apply(machine, &Operation::Row(row));
        state
    }

    #[test]
    fn the_mark_stands_under_its_needle() {
        let machine = Machine::new("small", 3);
        let state = beds(&machine);
        insta::assert_snapshot!(around(&machine, &state, Bed::Front, needle(Side::Left, 1)), @"
        back              . | | | | .
        front            . o o o o .
                             ^ front L1
        after this line; gaiting between, racked to the centre
        | in work and empty, . out of work, o a loop that is no stitch yet
        ");
    }

    #[test]
    fn a_racked_bed_is_drawn_where_it_stands() {
        let machine = Machine::new("small", 3);
        let mut state = beds(&machine);
        state.apply(&machine, &Operation::RackTo(2));
        insta::assert_snapshot!(around(&machine, &state, Bed::Back, needle(Side::Left, 2)), @"
        back               . | | | | .
                             ^ back L2
        front         . o o o o .
        after this line; gaiting between, racked to 2 steps right of the centre
        | in work and empty, . out of work, o a loop that is no stitch yet
        ");
    }
}

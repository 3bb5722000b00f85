//! The beds around a needle, drawn in text.

use crate::beds::{Bed, Machine, Needle, State};
use crate::draw::{Drawing, key};
use crate::finding::Picture;
use crate::words;

/// Needles shown on each side of the marked one.
const AROUND: i32 = 7;

/// Both beds around a needle, as they stand after the line that the finding is about; the needle is marked. The back
/// bed is shown above the front bed, shifted as it stands, and the marks that occur are explained.
pub(super) fn around(machine: &Machine, state: &State, bed: Bed, needle: Needle) -> Picture {
    const MARGIN: usize = Picture::MARGIN;
    let middle = state.half_pitches(machine, bed, needle);
    let (from, to) = (middle - 2 * AROUND, middle + 2 * AROUND);
    let drawing = Drawing { machine, state };
    let rows = [Bed::Back, Bed::Front].map(|row| (row, drawing.marks(row, from, to)));
    let mut drawn = String::new();
    for (row, marks) in &rows {
        drawn.push_str(&format!("{:<MARGIN$}{}\n", row.to_string(), marks.trim_end()));
        if *row == bed {
            let column = MARGIN + (middle - from) as usize;
            drawn.push_str(&" ".repeat(column));
            drawn.push_str(&format!("^ {bed} {needle}\n"));
        }
    }
    let (gaiting, racked) = (state.gaiting, words::racking(state.racking));
    let key = key(rows.iter().map(|(_, marks)| marks.as_str()));
    let [back, front] = [Bed::Back, Bed::Front].map(|row| drawing.words(row, from, to));
    Picture {
        drawn,
        below: format!("after this line; gaiting {gaiting}, racked to {racked}\n{key}"),
        words: format!(
            "around {bed} {needle}, after this line, with the gaiting {gaiting} and racked to {racked}. Back bed: {}. Front \
             bed: {}",
            said(back),
            said(front)
        ),
    }
}

/// What there is of a bed, which may end before.
fn said(needles: String) -> String {
    if needles.is_empty() { "no needle there".to_owned() } else { needles }
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
        let picture = around(&machine, &state, Bed::Front, needle(Side::Left, 1));
        insta::assert_snapshot!(picture.text(), @"
        back              . | | | | .
        front            . o o o o .
                             ^ front L1
        after this line; gaiting between, racked to the centre
        | in work and empty, . out of work, o a loop that is no stitch yet
        ");
        insta::assert_snapshot!(picture.words, @"around front L1, after this line, with the gaiting between and racked to the centre. Back bed: L3 and R3 out of work, L2 to R2 in work and empty. Front bed: L3 and R3 out of work, L2 to R2 with a loop that is no stitch yet");
    }

    #[test]
    fn a_racked_bed_is_drawn_where_it_stands() {
        let machine = Machine::new("small", 3);
        let mut state = beds(&machine);
        state.apply(&machine, &Operation::RackTo(2));
        let picture = around(&machine, &state, Bed::Back, needle(Side::Left, 2));
        insta::assert_snapshot!(picture.text(), @"
        back               . | | | | .
                             ^ back L2
        front         . o o o o .
        after this line; gaiting between, racked to 2 steps right of the centre
        | in work and empty, . out of work, o a loop that is no stitch yet
        ");
    }
}

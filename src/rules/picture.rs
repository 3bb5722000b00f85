//! The beds around a needle, drawn in text.

use crate::beds::{Bed, Gaiting, Machine, Needle, State};

/// Needles shown on each side of the marked one.
const AROUND: i32 = 7;

/// Both beds around a needle, as they stand after the line that the finding is about: `|` in work and empty, a digit
/// for the loops it carries, `o` a loop that is no stitch yet, `h` held, `.` out of work; the needle is marked. The
/// back bed is shown above the front bed, shifted as it stands. Only the marks that occur are explained.
pub(super) fn around(machine: &Machine, state: &State, bed: Bed, needle: Needle) -> String {
    let middle = state.half_pitches(machine, bed, needle);
    let (from, to) = (middle - 2 * AROUND, middle + 2 * AROUND);
    let mut text = String::new();
    let mut seen: Vec<char> = Vec::new();
    for row in [Bed::Back, Bed::Front] {
        text.push_str(if row == Bed::Back { "back   " } else { "front  " });
        let line: String = (from..=to)
            .map(|place| needle_at(machine, state, row, place).map_or(' ', |needle| mark(state, row, needle)))
            .collect();
        seen.extend(line.chars());
        text.push_str(line.trim_end());
        text.push('\n');
        if row == bed {
            let column = 7 + (middle - from) as usize;
            text.push_str(&" ".repeat(column));
            text.push_str(&format!("^ {bed} {needle}\n"));
        }
    }
    let stand = match state.gaiting {
        Gaiting::Between => "between",
        Gaiting::Opposite => "opposite",
    };
    let racked = super::words::racking(state.racking);
    text.push_str(&format!("after this line; gaiting {stand}, racked to {racked}\n"));
    let explained: Vec<&str> = MARKS
        .iter()
        .filter(|(marks, _)| seen.iter().any(|seen| marks.contains(*seen)))
        .map(|(_, words)| *words)
        .collect();
    text.push_str(&explained.join(", "));
    text
}

/// What the marks say.
const MARKS: [(&str, &str); 5] = [
    ("|", "| in work and empty"),
    (".", ". out of work"),
    ("h", "h held"),
    ("o", "o a loop that is no stitch yet"),
    ("123456789", "a digit counts the loops on a needle"),
];

/// The needle of a bed that stands at a place in half pitches.
fn needle_at(machine: &Machine, state: &State, bed: Bed, place: i32) -> Option<Needle> {
    let origin = state.half_pitches(machine, bed, Needle(0));
    let halves = place - origin;
    if halves % 2 != 0 {
        return None;
    }
    let needle = Needle(u8::try_from(halves / 2).ok()?);
    machine.bed().contains(needle).then_some(needle)
}

fn mark(state: &State, bed: Bed, needle: Needle) -> char {
    let loops = if state.loops.loaded(bed).contains(needle) { state.loops.stack(bed, needle).len() } else { 0 };
    match loops {
        _ if state.held[bed].contains(needle) => 'h',
        0 if state.in_work[bed].contains(needle) => '|',
        0 => '.',
        _ if !state.loops.stitches(bed).contains(needle) => 'o',
        1..=9 => char::from(b'0' + loops as u8),
        _ => '9',
    }
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

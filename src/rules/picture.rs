//! The beds around a needle, drawn in text.

use crate::beds::{Bed, Gaiting, Machine, Needle, State};

/// Needles shown on each side of the marked one.
const AROUND: i32 = 7;

/// Both beds around a needle: `|` in work and empty, a digit for the loops it carries, `h` held, `.` out of work; the
/// needle is marked. The back bed is shown above the front bed, shifted as it stands.
pub(super) fn around(machine: &Machine, state: &State, bed: Bed, needle: Needle) -> String {
    let middle = state.half_pitches(machine, bed, needle);
    let (from, to) = (middle - 2 * AROUND, middle + 2 * AROUND);
    let mut text = String::new();
    for row in [Bed::Back, Bed::Front] {
        text.push_str(if row == Bed::Back { "back   " } else { "front  " });
        let line: String = (from..=to)
            .map(|place| needle_at(machine, state, row, place).map_or(' ', |needle| mark(machine, state, row, needle)))
            .collect();
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
    text.push_str(&format!(
        "gaiting {stand}, racked to {racked}; | in work, . out of work, h held, a digit counts loops"
    ));
    text
}

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

fn mark(_machine: &Machine, state: &State, bed: Bed, needle: Needle) -> char {
    let loops = if state.loops.loaded(bed).contains(needle) { state.loops.stack(bed, needle).len() } else { 0 };
    match loops {
        _ if state.held[bed].contains(needle) => 'h',
        0 if state.in_work[bed].contains(needle) => '|',
        0 => '.',
        1..=9 => char::from(b'0' + loops as u8),
        _ => '9',
    }
}

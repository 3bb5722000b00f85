//! Both beds drawn in text, around the needles that are in use.

use crate::beds::{Bed, Machine, Needle, NeedleSet, State};

/// What the marks mean.
pub(super) const MARKS: &str = "Marks: | in work and empty, a digit counts loops, * ten loops or more, h held, . out of \
                                work. A name begins over or under its own needle.";

/// Needles out of work that are shown beyond the ones in use.
const BEYOND: i32 = 2;

/// Half pitches in one line; what is wider goes on below.
const WIDTH: i32 = 72;

/// The beds as they stand, the back bed above the front bed, with their needles named; one part for every so many
/// needles. Empty where no needle is in use.
pub(super) fn parts(machine: &Machine, state: &State) -> Vec<String> {
    let used = |bed: Bed| state.in_work[bed] | state.held[bed] | state.loops.loaded(bed);
    let edges = |bed: Bed, needles: NeedleSet| {
        let at = |needle: Needle| state.half_pitches(machine, bed, needle);
        needles.first().zip(needles.last()).map(|(first, last)| (at(first), at(last)))
    };
    let widest = |of: &dyn Fn(Bed) -> NeedleSet| {
        let each = Bed::BOTH.into_iter().filter_map(|bed| edges(bed, of(bed)));
        each.reduce(|one, other| (one.0.min(other.0), one.1.max(other.1)))
    };
    let (Some(used), Some(there)) = (widest(&used), widest(&|_| machine.bed())) else { return Vec::new() };
    let from = (used.0 - 2 * BEYOND).max(there.0);
    let to = (used.1 + 2 * BEYOND).min(there.1);
    let starts = (from..=to).step_by(WIDTH as usize);
    starts.map(|start| part(machine, state, start, to.min(start + WIDTH - 1))).collect()
}

fn part(machine: &Machine, state: &State, from: i32, to: i32) -> String {
    let row = |bed: Bed| -> String {
        (from..=to)
            .map(|place| needle_at(machine, state, bed, place).map_or(' ', |needle| mark(state, bed, needle)))
            .collect()
    };
    let lines = [
        ("", ruler(machine, state, Bed::Back, from, to)),
        ("back", row(Bed::Back)),
        ("front", row(Bed::Front)),
        ("", ruler(machine, state, Bed::Front, from, to)),
    ];
    lines.iter().map(|(name, line)| format!("{name:<7}{line}").trim_end().to_owned() + "\n").collect()
}

/// The names of every tenth needle and of those beside the centre.
fn ruler(machine: &Machine, state: &State, bed: Bed, from: i32, to: i32) -> String {
    let mut line = String::new();
    for place in from..=to {
        let Some(needle) = needle_at(machine, state, bed, place) else { continue };
        let (_, number) = needle.counted();
        let column = (place - from) as usize;
        if (number == 1 || number % 10 == 0) && line.len() <= column {
            line = format!("{line:<column$}{needle}");
        }
    }
    line
}

/// The needle of a bed that stands at a place in half pitches.
fn needle_at(machine: &Machine, state: &State, bed: Bed, place: i32) -> Option<Needle> {
    let halves = place - state.half_pitches(machine, bed, Needle(0));
    if halves % 2 != 0 {
        return None;
    }
    let needle = Needle(u8::try_from(halves / 2).ok()?);
    machine.bed().contains(needle).then_some(needle)
}

fn mark(state: &State, bed: Bed, needle: Needle) -> char {
    if state.held[bed].contains(needle) {
        return 'h';
    }
    match state.loops.stack(bed, needle).len() {
        0 if state.in_work[bed].contains(needle) => '|',
        0 => '.',
        loops @ 1..=9 => char::from(b'0' + loops as u8),
        _ => '*',
    }
}

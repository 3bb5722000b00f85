//! Both beds drawn in text, around the needles that are in use.

use crate::beds::{Machine, State};
use crate::draw::{Drawing, key};

/// Needles out of work that are shown beyond the ones in use.
const BEYOND: i32 = 2;

/// Half pitches in one line; what is wider goes on below.
const WIDTH: i32 = 72;

/// The beds as they stand, the back bed above the front bed, with their needles named; one part for every so many
/// needles. Empty where no needle is in use.
pub(super) fn parts(machine: &Machine, state: &State) -> Vec<String> {
    let drawing = Drawing { machine, state };
    let in_use = drawing.extent(|bed| drawing.used(bed));
    let (Some(used), Some(there)) = (in_use, drawing.extent(|_| machine.bed())) else { return Vec::new() };
    let from = (used.0 - 2 * BEYOND).max(there.0);
    let to = (used.1 + 2 * BEYOND).min(there.1);
    let part = |start: i32| -> String {
        let strip = drawing.strip(start, to.min(start + WIDTH - 1));
        strip.iter().map(|(name, line)| format!("{name:<7}{line}").trim_end().to_owned() + "\n").collect()
    };
    (from..=to).step_by(WIDTH as usize).map(part).collect()
}

/// What the marks in those parts mean.
pub(super) fn marks(parts: &[String]) -> String {
    // The names of beds and needles are no marks.
    let drawn = parts.iter().flat_map(|part| part.lines()).filter(|line| !line.starts_with(' '));
    let marks = drawn.filter_map(|line| line.get(7..));
    format!("Marks: {}. A name begins over or under its own needle.", key(marks))
}

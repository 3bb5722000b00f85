//! Both beds drawn in text, around the needles that are in use.

use crate::beds::{Machine, State};
use crate::draw::{Drawing, key};

/// Needles out of work that are shown beyond the ones in use.
const BEYOND: i32 = 2;

/// Half pitches in one line at the most; what is wider goes on below.
const WIDEST: i32 = 72;
/// Columns before them: the name of the bed, and how far the lines are set in.
const BEFORE: i32 = 9;

/// The beds as they stand, the back bed above the front bed, with their needles named; one part for as many
/// needles as there is room for in `columns`. Empty where no needle is in use.
pub(super) fn parts(machine: &Machine, state: &State, columns: usize) -> Vec<String> {
    let room = i32::try_from(columns).unwrap_or(i32::MAX).saturating_sub(BEFORE);
    // An even number, so that each part begins with the same bed.
    let width = room.clamp(2, WIDEST) & !1;
    let drawing = Drawing { machine, state };
    let in_use = drawing.extent(|bed| drawing.used(bed));
    let (Some(used), Some(there)) = (in_use, drawing.extent(|_| machine.bed())) else { return Vec::new() };
    let from = (used.0 - 2 * BEYOND).max(there.0);
    let to = (used.1 + 2 * BEYOND).min(there.1);
    let part = |start: i32| -> String {
        let strip = drawing.strip(start, to.min(start + width - 1));
        strip.iter().map(|(name, line)| format!("{name:<7}{line}").trim_end().to_owned() + "\n").collect()
    };
    (from..=to).step_by(width as usize).map(part).collect()
}

/// What the marks in those parts mean.
pub(super) fn marks(parts: &[String]) -> String {
    // The names of beds and needles are no marks.
    let drawn = parts.iter().flat_map(|part| part.lines()).filter(|line| !line.starts_with(' '));
    let marks = drawn.filter_map(|line| line.get(7..));
    format!("Marks: {}. A name begins over or under its own needle.", key(marks))
}

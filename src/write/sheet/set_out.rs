//! The set-out of the needles: in words, and drawn in text, the back bed above the front bed, each needle where it stands.

use crate::beds::{Bed, Gaiting, Machine, State};
use crate::draw::Drawing;
use crate::knitted::Stood;
use crate::words;

/// Columns of one strip; one column is half a needle pitch.
const STRIP: i32 = 64;
/// Columns of an end of a set-out that is drawn by its ends only.
const END: i32 = 24;

/// How the needles stand before the first row.
#[derive(Debug)]
pub(super) struct SetOut {
    /// In words, one thing a line.
    pub(super) lines: Vec<String>,
    /// Drawn, in parts; empty where no needle is in use.
    pub(super) picture: Vec<Strip>,
}

/// A part of the picture.
#[derive(Debug)]
pub(super) struct Strip {
    /// What is said above it; empty where that is nothing.
    pub(super) title: &'static str,
    /// Its lines, each with the name of the bed it is of; names of needles stand in lines without one.
    pub(super) lines: [(&'static str, String); 4],
}

impl SetOut {
    /// As the beds stood then.
    pub(super) fn of(machine: &Machine, stood: &Stood) -> Self {
        let needles = &stood.needles;
        let mut lines = Vec::new();
        for bed in Bed::BOTH {
            let name = words::bed_name(bed);
            let set = needles.in_work[bed];
            if set.is_empty() {
                lines.push(format!("{name} bed: no needle in work."));
            } else {
                let count = words::total_of(u64::from(set.len()), "needle", "needles");
                lines.push(format!("{name} bed: {} in work, {count}.", words::needles(set)));
            }
            if !needles.held[bed].is_empty() {
                lines.push(format!("{name} bed: {} held.", words::needles(needles.held[bed])));
            }
        }
        let gaiting = match stood.gaiting {
            Gaiting::Between => "between, each needle facing a gap",
            Gaiting::Opposite => "opposite, needles face to face",
        };
        lines.push(format!("Gaiting {gaiting}. Racking at {}.", words::racking(stood.racking)));
        lines.push(format!("Carriage on the {}.", stood.carriage));
        Self { lines, picture: picture(machine, stood) }
    }
}

fn picture(machine: &Machine, stood: &Stood) -> Vec<Strip> {
    // The set-out is taken at the first row or cast-on, but the needles are set before it, when all are still empty.
    let empty = State {
        in_work: stood.needles.in_work,
        held: stood.needles.held,
        gaiting: stood.gaiting,
        racking: stood.racking,
        ..State::default()
    };
    let drawing = Drawing { machine, state: &empty };
    let Some((from, to)) = drawing.extent(|bed| drawing.used(bed)) else { return Vec::new() };
    // One needle more on each side shows where the work ends.
    let (from, to) = (from - 2, to + 2);
    let whole = |bed: Bed| drawing.used(bed).runs().count() <= 1;
    let parts: Vec<(&'static str, i32, i32)> = if to - from < STRIP {
        vec![("", from, to)]
    } else if whole(Bed::Front) && whole(Bed::Back) {
        vec![
            ("The left end:", from, from + END),
            ("All needles are in work from there to the right end:", to - END, to),
        ]
    } else {
        (from..=to).step_by(STRIP as usize).map(|at| ("", at, (at + STRIP - 1).min(to))).collect()
    };
    parts.into_iter().map(|(title, from, to)| Strip { title, lines: drawing.strip(from, to) }).collect()
}

//! The set-out of the needles, drawn in text: the back bed above the front bed, each needle where it stands.

use super::paper::{Paper, WIDTH};
use crate::beds::{Bed, Gaiting, Loops, Machine, State};
use crate::draw::Drawing;
use crate::words;
use std::io;

/// Columns taken by the names of the beds.
const MARGIN: usize = 9;
/// Columns of one strip; one column is half a needle pitch.
const STRIP: i32 = 64;
/// Columns of an end of a set-out that is drawn by its ends only.
const END: i32 = 24;

/// Draws the set-out and says it in words.
///
/// # Errors
/// Those of the paper.
pub(super) fn set_out(paper: &mut Paper<'_>, machine: &Machine, state: &State) -> io::Result<()> {
    paper.gap();
    paper.flat(0, "The needles at the start, as you sit before them")?;
    for bed in Bed::BOTH {
        let name = words::bed_name(bed);
        let set = state.in_work[bed];
        if set.is_empty() {
            paper.say(4, &format!("{name} bed: no needle in work."))?;
        } else {
            let count = words::total_of(u64::from(set.len()), "needle", "needles");
            paper.say(4, &format!("{name} bed: {} in work, {count}.", words::needles(set)))?;
        }
        if !state.held[bed].is_empty() {
            paper.say(4, &format!("{name} bed: {} held.", words::needles(state.held[bed])))?;
        }
    }
    let gaiting = match state.gaiting {
        Gaiting::Between => "between, each needle facing a gap",
        Gaiting::Opposite => "opposite, needles face to face",
    };
    paper.say(4, &format!("Gaiting {gaiting}. Racking at {}.", words::racking(state.racking)))?;
    paper.say(4, &format!("Carriage on the {}.", state.carriage))?;
    picture(paper, machine, state)
}

fn picture(paper: &mut Paper<'_>, machine: &Machine, state: &State) -> io::Result<()> {
    // The set-out is taken at the first row or cast-on, but the needles are set before it, when all are still empty.
    let empty = State { loops: Loops::default(), ..state.clone() };
    let drawing = Drawing { machine, state: &empty };
    let Some((from, to)) = drawing.extent(|bed| drawing.used(bed)) else { return Ok(()) };
    // One needle more on each side shows where the work ends.
    let (from, to) = (from - 2, to + 2);
    paper.gap();
    paper.flat(4, "| in work   . out of work   h held")?;
    let whole = |bed: Bed| drawing.used(bed).runs().count() <= 1;
    let parts: Vec<(&str, i32, i32)> = if to - from < STRIP {
        vec![("", from, to)]
    } else if whole(Bed::Front) && whole(Bed::Back) {
        vec![
            ("The left end:", from, from + END),
            ("All needles are in work from there to the right end:", to - END, to),
        ]
    } else {
        (from..=to).step_by(STRIP as usize).map(|at| ("", at, (at + STRIP - 1).min(to))).collect()
    };
    for (title, from, to) in parts {
        paper.gap();
        if !title.is_empty() {
            paper.flat(4, title)?;
            paper.gap();
        }
        drawing.strip(from, to).iter().try_for_each(|(name, line)| paper.drawn(&labelled(name, line)))?;
    }
    Ok(())
}

fn labelled(name: &str, text: &str) -> String {
    let line = format!("{name:>width$}  {text}", width = MARGIN - 2);
    debug_assert!(line.chars().count() <= WIDTH);
    line
}

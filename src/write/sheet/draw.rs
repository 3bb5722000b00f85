//! The set-out of the needles, drawn in text: the back bed above the front bed, each needle where it stands.

use super::paper::{Paper, WIDTH};
use crate::beds::{Bed, Gaiting, Machine, Needle, NeedleSet, State};
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
    let place = |bed: Bed, needle: Needle| state.half_pitches(machine, bed, needle);
    let used = |bed: Bed| state.in_work[bed] | state.held[bed];
    let ends = |bed: Bed| Some((place(bed, used(bed).first()?), place(bed, used(bed).last()?)));
    let spans: Vec<(i32, i32)> = Bed::BOTH.into_iter().filter_map(ends).collect();
    let (Some(from), Some(to)) = (spans.iter().map(|span| span.0).min(), spans.iter().map(|span| span.1).max()) else {
        return Ok(());
    };
    // One needle more on each side shows where the work ends.
    let (from, to) = (from - 2, to + 2);
    paper.gap();
    paper.flat(4, "| in work   . out of work   h held")?;
    let whole = |bed: Bed| used(bed).runs().count() <= 1;
    if to - from < STRIP {
        strip(paper, machine, state, from, to)
    } else if whole(Bed::Front) && whole(Bed::Back) {
        paper.gap();
        paper.flat(4, "The left end:")?;
        strip(paper, machine, state, from, from + END)?;
        paper.gap();
        paper.flat(4, "All needles are in work from there to the right end:")?;
        strip(paper, machine, state, to - END, to)
    } else {
        let mut at = from;
        while at <= to {
            paper.gap();
            strip(paper, machine, state, at, (at + STRIP - 1).min(to))?;
            at += STRIP;
        }
        Ok(())
    }
}

/// Draws the places from the first to the last, in half pitches.
fn strip(paper: &mut Paper<'_>, machine: &Machine, state: &State, from: i32, to: i32) -> io::Result<()> {
    paper.gap();
    paper.drawn(&labelled("", &labels(machine, state, Bed::Back, from, to)))?;
    for (bed, name) in [(Bed::Back, "back"), (Bed::Front, "front")] {
        let marks: String = (from..=to).map(|place| mark(machine, state, bed, place)).collect();
        paper.drawn(&labelled(name, &marks))?;
    }
    paper.drawn(&labelled("", &labels(machine, state, Bed::Front, from, to)))
}

fn labelled(name: &str, text: &str) -> String {
    let line = format!("{name:>width$}  {text}", width = MARGIN - 2);
    debug_assert!(line.chars().count() <= WIDTH);
    line
}

/// The needle of a bed that stands at a place.
fn needle_at(machine: &Machine, state: &State, bed: Bed, place: i32) -> Option<Needle> {
    let halves = place - state.half_pitches(machine, bed, Needle(0));
    let needle = Needle(u8::try_from(halves / 2).ok()?);
    (halves % 2 == 0 && machine.bed().contains(needle)).then_some(needle)
}

fn mark(machine: &Machine, state: &State, bed: Bed, place: i32) -> char {
    match needle_at(machine, state, bed, place) {
        None => ' ',
        Some(needle) if state.in_work[bed].contains(needle) => '|',
        Some(needle) if state.held[bed].contains(needle) => 'h',
        Some(_) => '.',
    }
}

/// The names of the needles at the ends of what is in work, on both sides of the centre, and every tenth.
fn labels(machine: &Machine, state: &State, bed: Bed, from: i32, to: i32) -> String {
    let width = usize::try_from(to - from + 1).unwrap_or(0);
    let mut line: Vec<char> = vec![' '; width];
    let used: NeedleSet = state.in_work[bed] | state.held[bed];
    let named = |needle: Needle| {
        let (_, number) = needle.counted();
        let edge = Some(needle) == used.first() || Some(needle) == used.last();
        if edge { Some(2) } else { (number == 1 || number.is_multiple_of(10)).then_some(1) }
    };
    for rank in [2, 1] {
        for place in from..=to {
            let Some(needle) = needle_at(machine, state, bed, place).filter(|needle| named(*needle) == Some(rank))
            else {
                continue;
            };
            let label = needle.to_string();
            let start = usize::try_from(place - from).unwrap_or(0);
            let end = start + label.len();
            // A blank must stay on each side of a label.
            let room = start.saturating_sub(1)..(end + 1).min(width);
            if end <= width && line[room].iter().all(|letter| *letter == ' ') {
                for (offset, letter) in label.chars().enumerate() {
                    line[start + offset] = letter;
                }
            }
        }
    }
    line.into_iter().collect()
}

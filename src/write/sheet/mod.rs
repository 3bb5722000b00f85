//! The row sheet: what a knitter works from at the machine, in plain words, one column, to be read at arm's length or
//! aloud.
//!
//! A piece is played once: what its head says is gathered (`needs`) and what comes again is put together (`fold`) on the
//! way, so that a repeat is written once however often it is worked. Only where so much is held that it has to be written
//! before the play ends (`follow`), the head is gathered by a play of its own.

mod change;
mod draw;
mod end;
mod fold;
mod follow;
mod head;
mod item;
mod layout;
mod needs;
mod paper;
mod remind;
mod row;
pub(crate) mod said;

use crate::plan::program::{Piece, Program};
use crate::play::{Manner, play};
use needs::Needs;
use paper::Paper;
use std::io::{self, Write};

/// Writes the row sheets of those programs, one sheet for each size and piece; only the piece with that title if one is
/// given. The text is UTF-8, its lines have 78 characters at most.
///
/// A sheet is meant for programs without errors. Where something cannot be done it says so and goes on; it never panics.
/// Memory does not grow with the rows; time grows with what is played, and repeats are not played to their end.
///
/// # Errors
/// Those of `out`.
pub fn write(out: &mut dyn Write, programs: &[&Program], piece: Option<&str>) -> io::Result<()> {
    let mut paper = Paper::new(out);
    for program in programs {
        for wanted in program.pieces.iter().filter(|wanted| piece.is_none_or(|title| title == wanted.title)) {
            one(&mut paper, program, wanted)?;
        }
    }
    Ok(())
}

/// Everything above the rows.
fn top(paper: &mut Paper<'_>, program: &Program, piece: &Piece, needs: &Needs) -> io::Result<()> {
    paper.gap();
    head::write(paper, program, piece, needs)?;
    if let Some(state) = &needs.set_out {
        draw::set_out(paper, &piece.machine, state)?;
    }
    paper.gap();
    paper.rule("-")?;
    paper.gap();
    paper.flat(0, "The work")
}

fn one(paper: &mut Paper<'_>, program: &Program, piece: &Piece) -> io::Result<()> {
    let mut follower = follow::Follower::new(paper, program, piece);
    let (end, stop) = play(piece, Manner::TELL, &mut follower);
    follower.finish(&end, stop)?;
    paper.gap();
    paper.rule("-")?;
    end::write(paper, &end, stop)
}

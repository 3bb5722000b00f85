//! The row sheet: what a knitter works from at the machine, in plain words, one column, to be read at arm's length or
//! aloud.
//!
//! A sheet is data first: its head, the needles at the start, the work with what comes again put together, and its end.
//! They are found in the record of what was knitted, for which the piece is played once. Then it is laid out
//! as text. Only a record that is handed on in parts, because no memory should hold it, is laid out part by part, and its
//! head is found by a play of its own.

mod change;
mod end;
mod fold;
mod head;
mod item;
mod layout;
mod needs;
mod paper;
mod remind;
mod row;
pub(crate) mod said;
mod set_out;
mod spoken;
mod text;
mod transfer;
mod work;

use crate::knitted::{Asked, follow};
use crate::plan::program::{Piece, Program};
use crate::play::{Budget, Flow, Manner, Stop};
use end::End;
use head::Head;
use needs::Needs;
use paper::Paper;
use set_out::SetOut;
use std::io::{self, Write};
use work::Work;

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
    let mut first = true;
    let budget = Budget::default();
    for program in programs {
        for wanted in program.pieces.iter().filter(|wanted| piece.is_none_or(|title| title == wanted.title)) {
            one(&mut paper, program, wanted, std::mem::replace(&mut first, false), &budget)?;
        }
    }
    Ok(())
}

fn one(paper: &mut Paper<'_>, program: &Program, piece: &Piece, first: bool, budget: &Budget) -> io::Result<()> {
    let mut needs = Needs::default();
    let mut work = Work::new(&piece.machine, &program.yarns);
    let mut headed = false;
    let mut written = Ok(());
    let asked = Asked { manner: budget.within(Manner::TELL), ..Asked::TELL };
    let ended = follow(piece, asked, &mut |part| {
        if !headed {
            needs.gather(&piece.machine, &part.entries);
        }
        work.add(&part.entries);
        if !part.last {
            written = (|| {
                if !std::mem::replace(&mut headed, true) {
                    top(paper, program, piece, &Needs::of(piece), first)?;
                }
                layout::write(paper, &work.spill())
            })();
        }
        if written.is_ok() { Flow::Continue(()) } else { Flow::Break(Stop::Enough) }
    });
    budget.spend(ended.operations);
    written?;
    if !headed {
        // A check takes repeats as done, and so comes further with as many operations.
        let too_long = ended.stop == Some(Stop::TooLong);
        let needs = if too_long { Needs::of(piece) } else { needs.ended(&ended) };
        top(paper, program, piece, &needs, first)?;
    }
    layout::write(paper, &work.finish())?;
    text::end(paper, &End::of(&ended.end, ended.stop))
}

/// Everything above the rows.
fn top(paper: &mut Paper<'_>, program: &Program, piece: &Piece, needs: &Needs, first: bool) -> io::Result<()> {
    let set_out = needs.set_out.as_ref().map(|stood| SetOut::of(&piece.machine, stood));
    text::top(paper, &Head::of(program, piece, needs), set_out.as_ref(), first)
}

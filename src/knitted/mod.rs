//! What was knitted: a piece of one size as it came from the needles, as plain data.
//!
//! The record is a tree of the same shape as the work: what was done stands in the sections and the passes of repeats in
//! which it was done, each with how the beds stood after it. Passes that the play has counted stand there as a number and
//! not one by one, so that a repeat of a billion passes is a record of a few. Whoever writes of a piece (the sheet, the
//! state at a row, the rows of a line, what changed) reads the record and follows no play of its own.
//!
//! A piece of which no two passes are alike would fill the memory. So the record is handed on in parts: of most pieces in
//! one, of those in as many as it takes, each about [`MOST_HELD`] entries long. A section or a repeat that is open where a
//! part ends goes on in the next.

mod done;
mod part;
mod recorder;
mod rows;
mod stood;

pub use done::Done;
pub use part::{Block, Deed, Entry, Heading, Pass, Passes, Repeated};
pub use rows::{Rows, rows};
pub use stood::{Needles, Stood};

use crate::beds::{Both, State};
use crate::plan::program::Piece;
use crate::play::{Flow, Manner, Stop, play_counted};
use recorder::Recorder;

/// Entries held at most before they are handed on.
pub const MOST_HELD: usize = 20_000;

/// Operations between two questions whether somebody still waits for what is found.
pub(crate) const ASKED_EVERY: u64 = 1024;

/// What is asked of a record.
#[derive(Clone, Copy)]
pub struct Asked<'a> {
    /// How the piece is played. Where repeats may be taken from memory, an entry says so.
    pub manner: Manner,
    /// The row after which the whole state of the beds is kept, 0 for right before the first one; none for no row.
    pub state_after: Option<u64>,
    /// Whether somebody still waits for it; asked now and then.
    pub wanted: &'a dyn Fn() -> bool,
}

impl Asked<'_> {
    /// A record to be told, with repeats as repeats.
    pub const TELL: Self = Self { manner: Manner::TELL, state_after: None, wanted: &|| true };
}

/// How a record ended.
#[derive(Debug)]
pub struct Ended {
    /// The beds at the end.
    pub end: State,
    /// Why the play ended before the piece did, if it did.
    pub stop: Option<Stop>,
    /// How many operations were done.
    pub operations: u64,
    /// Stitches of each bed where there are most of both together.
    pub widest: Both<u64>,
    /// The beds after the row that was asked for, if it was reached; right before the first row that is always.
    pub kept: Option<State>,
}

/// A part of a record.
#[derive(Debug)]
pub struct Part {
    /// What stands in it.
    pub entries: Vec<Entry>,
    /// Whether it is the last.
    pub last: bool,
}

/// Plays a piece once and hands on what was knitted, part by part and in order; `take` says whether to go on. The last
/// part is handed on when the play has ended, unless nobody wants it any more.
pub fn follow(piece: &Piece, asked: Asked<'_>, take: &mut dyn FnMut(Part) -> Flow) -> Ended {
    let mut recorder = Recorder::new(asked, take);
    let end = play_counted(piece, asked.manner, &mut recorder);
    recorder.finish(end)
}

//! What the play of a pattern says about its lines: how the beds stand after one, and which rows it makes.

use crate::beds::{Bed, State};
use crate::plan::program::{Piece, Promise, Repeat};
use crate::play::{Block, Flow, Manner, Moment, Skipped, Stop, Watcher, play};
use crate::source::Span;
use std::collections::BTreeMap;

/// Moments after which it is asked whether somebody still wants to know.
const ASKED_EVERY: u64 = 1024;

/// The beds after a line, where it is done for the first time.
#[derive(Debug)]
pub(super) struct After {
    pub(super) state: State,
    /// The repeats in which it stands, the innermost first: how many passes, and the stitch that is worked.
    pub(super) repeats: Vec<(u64, Option<String>)>,
}

/// How the beds stand after a statement has been done for the first time; none where the piece never does it.
pub(super) fn after(piece: &Piece, span: Span, wanted: &dyn Fn() -> bool) -> Option<After> {
    let mut watcher =
        Until { span, wanted, moments: 0, open: Vec::new(), inside: 0, done: false, after: None, given_up: false };
    play(piece, Manner::TELL, &mut watcher);
    watcher.after.filter(|_| !watcher.given_up)
}

struct Until<'w> {
    span: Span,
    wanted: &'w dyn Fn() -> bool,
    moments: u64,
    /// The open repeats: where, how many passes, which stitch.
    open: Vec<(Span, u64, Option<String>)>,
    /// How many of the open ones are the statement itself.
    inside: usize,
    done: bool,
    after: Option<After>,
    given_up: bool,
}

impl Until<'_> {
    fn note(&mut self, state: &State) {
        match &mut self.after {
            Some(after) => after.state.clone_from(state),
            None => {
                let around = self.open.iter().rev().filter(|(span, of, _)| *span != self.span && *of > 1);
                let repeats = around.map(|(_, of, stitch)| (*of, stitch.clone())).collect();
                self.after = Some(After { state: state.clone(), repeats });
            }
        }
    }

    /// Something else begins or ends: what follows does not belong to the first time.
    fn something_else(&mut self) {
        self.done |= self.after.is_some() && self.inside == 0;
    }
}

impl Watcher for Until<'_> {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        self.moments += 1;
        if self.moments.is_multiple_of(ASKED_EVERY) && !(self.wanted)() {
            self.given_up = true;
            return Flow::Break(Stop::Enough);
        }
        if moment.span != self.span {
            self.something_else();
        }
        if self.done {
            return Flow::Break(Stop::Enough);
        }
        if moment.span == self.span {
            self.note(moment.state);
        }
        Flow::Continue(())
    }

    fn promised(&mut self, _: &Promise, span: Span, state: &State, _: Option<(u64, u64)>) {
        let within = span.file == self.span.file && self.span.start <= span.start && span.end <= self.span.end;
        if within && !self.done {
            self.note(state);
        } else {
            self.something_else();
        }
    }

    fn begins(&mut self, block: &Block<'_>, _: &State) {
        let Block::Repeat(repeat, span) = block else { return self.something_else() };
        if *span == self.span && !self.done {
            self.inside += 1;
        } else {
            self.something_else();
        }
        self.open.push((*span, repeat.times, repeat.stitch.as_ref().map(|stitch| stitch.name.clone())));
    }

    fn ends(&mut self, block: &Block<'_>, state: &State) {
        let Block::Repeat(_, span) = block else { return self.something_else() };
        self.open.pop();
        if *span == self.span && self.inside > 0 {
            self.inside -= 1;
            self.note(state);
        }
        self.something_else();
    }

    fn pass_begins(&mut self, _: &Repeat, _: u64, _: &State) {
        self.something_else();
    }
}

/// The rows that a line makes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Rows {
    pub(super) first: u64,
    pub(super) last: u64,
    /// Stitches on the front and on the back bed after the first time.
    pub(super) stitches: (u64, u64),
}

/// Which rows each statement of a piece makes; statements that make none are left out. What is known of a piece that
/// cannot be played to its end goes as far as it was played.
pub(super) fn rows(piece: &Piece, manner: Manner, wanted: &dyn Fn() -> bool) -> BTreeMap<Span, Rows> {
    let mut watcher = Counting { wanted, moments: 0, row: 0, open: Vec::new(), rows: BTreeMap::new() };
    play(piece, manner, &mut watcher);
    watcher.rows
}

struct Counting<'w> {
    wanted: &'w dyn Fn() -> bool,
    moments: u64,
    row: u64,
    /// The open repeats: where, and the row before the first of it.
    open: Vec<(Span, u64)>,
    rows: BTreeMap<Span, Rows>,
}

impl Counting<'_> {
    fn made(&mut self, span: Span, first: u64, state: &State, again: bool) {
        let stitches = (state.stitch_count(Bed::Front), state.stitch_count(Bed::Back));
        let rows = self.rows.entry(span).or_insert(Rows { first, last: state.row, stitches });
        // A line that makes several rows running is not done before the last of them.
        if again && rows.first == first {
            rows.stitches = stitches;
        }
        rows.first = rows.first.min(first);
        rows.last = rows.last.max(state.row);
    }
}

impl Watcher for Counting<'_> {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        self.moments += 1;
        if self.moments.is_multiple_of(ASKED_EVERY) && !(self.wanted)() {
            return Flow::Break(Stop::Enough);
        }
        if moment.state.row > self.row {
            self.made(moment.span, self.row + 1, moment.state, false);
            self.row = moment.state.row;
        }
        Flow::Continue(())
    }

    fn begins(&mut self, block: &Block<'_>, state: &State) {
        if let Block::Repeat(_, span) = block {
            self.open.push((*span, state.row));
        }
    }

    fn ends(&mut self, block: &Block<'_>, state: &State) {
        if let Block::Repeat(..) = block
            && let Some((span, before)) = self.open.pop()
            && state.row > before
        {
            self.made(span, before + 1, state, true);
        }
    }

    fn skipped(&mut self, skipped: &Skipped<'_>, after: &State) {
        let further = skipped.times.saturating_mul(skipped.to.row.saturating_sub(skipped.from.row));
        for rows in self.rows.values_mut().filter(|rows| rows.last > skipped.from.row) {
            rows.last = rows.last.saturating_add(further);
        }
        self.row = after.row;
    }
}

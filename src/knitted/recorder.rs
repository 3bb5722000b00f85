//! The one watcher that makes a record while a piece is played.

use super::part::{Block, Deeds, Entry, Heading, Pass, Passes, Repeated};
use super::{ASKED_EVERY, Asked, Ended, MOST_HELD, Part, Stood};
use crate::beds::{Both, Outcome, State};
use crate::plan::program::{Promise, Repeat};
use crate::play::{self, End, Flow, Moment, Skipped, Speech, Stop, Watcher};
use crate::source::Span;
use std::ops::ControlFlow;
use std::sync::Arc;

/// Something that has begun and not ended.
enum Open {
    /// What stands over a block, and whether it begins in this part of the record.
    Block(Heading, bool),
    /// A repeat with the passes that have ended, and the one that is under way: its number, how the beds stood before it,
    /// and whether it begins in this part of the record.
    Repeat(Box<Repeated>, Option<(u64, Stood, bool)>),
}

pub(super) struct Recorder<'a> {
    asked: Asked<'a>,
    take: &'a mut dyn FnMut(Part) -> Flow,
    /// What is open, the outermost first, each with the entries that stood before it on the level around it.
    open: Vec<(Open, Vec<Entry>)>,
    /// The entries of the innermost.
    entries: Vec<Entry>,
    held: usize,
    operations: u64,
    deeds: Deeds,
    stood: Stood,
    widest: Both<u64>,
    kept: Option<State>,
}

impl<'a> Recorder<'a> {
    pub(super) fn new(asked: Asked<'a>, take: &'a mut dyn FnMut(Part) -> Flow) -> Self {
        Self {
            asked,
            take,
            open: Vec::new(),
            entries: Vec::new(),
            held: 0,
            operations: 0,
            deeds: Deeds::default(),
            stood: Stood::default(),
            widest: Both::default(),
            kept: (asked.state_after == Some(0)).then(State::default),
        }
    }

    /// Hands on what is left, when the play has ended so.
    pub(super) fn finish(mut self, end: End) -> Ended {
        let End { state, stop, operations } = end;
        if stop != Some(Stop::Enough) {
            // There is nothing left to be stopped.
            let _ = self.hand_on(true);
        }
        Ended { end: state, stop, operations, widest: self.widest, kept: self.kept }
    }

    fn push(&mut self, entry: Entry) {
        self.held += 1;
        self.entries.push(entry);
    }

    fn stands(&mut self, state: &State) {
        self.stood = Stood::of(state, Some(&self.stood));
    }

    /// Keeps the state if it is the one that is asked for.
    fn keep(&mut self, state: &State) {
        let is_it = match self.asked.state_after {
            // It is the last one of these.
            Some(0) => state.row == 0,
            Some(row) => self.kept.is_none() && state.row >= row,
            None => false,
        };
        if is_it {
            self.kept = Some(state.clone());
        }
    }

    /// Opens something, with no entries as yet.
    fn open(&mut self, open: Open) {
        let around = std::mem::take(&mut self.entries);
        self.open.push((open, around));
    }

    /// Ends what was opened last; `whole` says whether it ends altogether or goes on in the next part of the record.
    fn close(&mut self, whole: bool) -> Option<Open> {
        let (open, around) = self.open.pop()?;
        let entries = std::mem::replace(&mut self.entries, around);
        let (entry, goes_on) = match open {
            Open::Block(heading, begins) => {
                let goes_on = Open::Block(heading.clone(), false);
                (Entry::Block(Block { heading, entries, begins, ends: whole }), goes_on)
            }
            Open::Repeat(mut repeated, pass) => {
                let next = repeated.goes_on();
                let under_way = pass.as_ref().map(|(number, before, _)| (*number, before.clone(), false));
                if let Some((number, before, begins)) = pass {
                    repeated.passes.push(Passes::Played(Pass { number, before, entries, begins }));
                }
                repeated.ends = whole;
                (Entry::Repeated(*repeated), Open::Repeat(Box::new(next), under_way))
            }
        };
        self.push(entry);
        Some(goes_on)
    }

    /// Ends the pass of the innermost repeat that is under way, and begins that one.
    fn turn(&mut self, next: Option<u64>) {
        let before = self.stood.clone();
        if let Some((Open::Repeat(repeated, pass), _)) = self.open.last_mut() {
            let entries = std::mem::take(&mut self.entries);
            let next = next.map(|number| (number, before, true));
            if let Some((number, before, begins)) = std::mem::replace(pass, next) {
                repeated.passes.push(Passes::Played(Pass { number, before, entries, begins }));
            }
        }
    }

    /// Hands on everything there is. What is open goes on in the next part of the record.
    fn hand_on(&mut self, last: bool) -> Flow {
        let mut reopened = Vec::new();
        while let Some(open) = self.close(false) {
            reopened.push(open);
        }
        let entries = std::mem::take(&mut self.entries);
        while let Some(open) = reopened.pop() {
            self.open(open);
        }
        self.held = 0;
        self.deeds.clear();
        (self.take)(Part { entries, last })
    }

    /// A row that is one pass of its repeat begins that pass.
    fn turn_to(&mut self, pass: Option<(u64, u64)>) {
        if let (Some((number, _)), Some((Open::Repeat(repeated, under_way), _))) = (pass, self.open.last())
            && repeated.single_row
            && under_way.as_ref().is_none_or(|(now, ..)| *now != number)
        {
            self.turn(Some(number));
        }
    }
}

impl Watcher for Recorder<'_> {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        self.operations += 1;
        if self.operations.is_multiple_of(ASKED_EVERY) && !(self.asked.wanted)() {
            return Flow::Break(Stop::Enough);
        }
        self.turn_to(moment.pass);
        let deed = self.deeds.shared(moment.step, moment.span, moment.operation, moment.outcome);
        let jammed = matches!(moment.outcome, Outcome::Row(done) if done.jammed);
        if !jammed {
            self.keep(moment.state);
        }
        self.stands(moment.state);
        let stitches = self.stood.stitches();
        if stitches.front + stitches.back > self.widest.front + self.widest.back {
            self.widest = stitches;
        }
        self.push(Entry::Did(deed, self.stood.clone()));
        if self.held > MOST_HELD { self.hand_on(false) } else { ControlFlow::Continue(()) }
    }

    fn said(&mut self, speech: &Speech, _: &State) {
        self.push(Entry::Said(speech.clone()));
    }

    fn promised(&mut self, promise: &Promise, span: Span, _: &State, _: Option<(u64, u64)>) {
        self.push(Entry::Promised(*promise, span));
    }

    fn begins(&mut self, block: &play::Block<'_>, _: &State) {
        self.open(match block {
            play::Block::Section(title) => Open::Block(Heading::Section(Arc::from(*title)), true),
            play::Block::Allow(..) => Open::Block(Heading::Allow, true),
            play::Block::Repeat(repeat, span) => {
                let repeated = Repeated {
                    span: *span,
                    times: repeat.times,
                    stitch: repeat.stitch.as_ref().map(|stitch| Arc::from(stitch.name.as_str())),
                    single_row: repeat.single_row,
                    before: self.stood.clone(),
                    passes: Vec::new(),
                    begins: true,
                    ends: false,
                    remembered: None,
                };
                Open::Repeat(Box::new(repeated), None)
            }
        });
    }

    fn ends(&mut self, _: &play::Block<'_>, _: &State) {
        self.close(true);
    }

    fn pass_begins(&mut self, _: &Repeat, pass: u64, _: &State) {
        self.turn(Some(pass));
    }

    fn skipped(&mut self, skipped: &Skipped<'_>, after: &State) {
        self.turn(None);
        let (from, to) = (Stood::of(skipped.from, None), self.stood.clone());
        self.stands(after);
        if self.asked.state_after == Some(0) {
            self.keep(after);
        }
        let after = self.stood.clone();
        if let Some((Open::Repeat(repeated, _), _)) = self.open.last_mut() {
            let (period, times) = (skipped.period, skipped.times);
            repeated.passes.push(Passes::Counted { period, times, from, to, after });
        }
    }

    fn remembered(&mut self, number: u64) {
        if let Some(Entry::Repeated(repeated)) = self.entries.last_mut() {
            repeated.remembered = Some(number);
        }
    }

    fn done_again(&mut self, number: u64, after: &State) {
        self.stands(after);
        if self.asked.state_after == Some(0) {
            self.keep(after);
        }
        self.push(Entry::AsBefore(number, self.stood.clone()));
    }
}

//! Plays a piece to see what each operation does: which row it is, what the sheet says of it, and what is done in all.

use super::key::done;
use super::sequence::{Sequence, key_of};
use super::work::Work;
use crate::beds::{Bed, Both, NeedleSet, Outcome, State};
use crate::plan::program::{Piece, Repeat, YarnInfo};
use crate::play::{Block, Flow, Manner, Moment, Skipped, Watcher, play};
use crate::write::sheet::said::{Before, Said, said};
use std::collections::HashMap;
use std::ops::ControlFlow;
use std::rc::Rc;

/// What the needles of each bed do in a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Sets {
    pub(super) knit: Both<NeedleSet>,
    pub(super) tuck: Both<NeedleSet>,
    pub(super) slip: Both<NeedleSet>,
}

/// The words of an operation.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Told {
    /// As on the sheet.
    pub(super) said: Said,
    /// The needles, if it is a row.
    pub(super) sets: Option<Sets>,
}

/// An operation as it was first done.
#[derive(Debug, Clone)]
pub(super) struct Met {
    /// Its number as a row of the piece; for what is done between two rows, the row before it.
    pub(super) row: u64,
    /// Its words.
    pub(super) told: Rc<Told>,
    /// The section it stands in.
    pub(super) section: Option<Rc<str>>,
    /// What it did then.
    first: u128,
    /// All that it ever did.
    pub(super) all: u128,
    /// How often it was played.
    times: u64,
}

impl Met {
    /// Whether two operations do the same. Of two that are not played equally often, the first time counts.
    pub(super) fn does_like(&self, other: &Self) -> bool {
        self.all == other.all || self.times != other.times && self.first == other.first
    }
}

/// What a piece does.
#[derive(Debug)]
pub(super) struct Played {
    /// For each operation what it did; none where it was never reached.
    pub(super) met: Vec<Option<Met>>,
    /// Everything that is done; none when the play ended before the piece.
    pub(super) all: Option<Sequence>,
    /// The beds at the end.
    pub(super) end: State,
    /// Stitches of each bed where there are most of both together.
    pub(super) widest: Both<u64>,
    /// Stitches of both beds after the last row.
    pub(super) last_row: u64,
}

/// Stitches of both beds.
pub(super) fn stitches(state: &State) -> u64 {
    Bed::BOTH.into_iter().map(|bed| state.stitch_count(bed)).sum()
}

/// Plays a piece whose work is given. `yarn` names a yarn by its number.
pub(super) fn played<'a>(piece: &Piece, work: &Work, yarns: &[YarnInfo], yarn: impl Fn(u16) -> &'a str) -> Played {
    let mut recorder = Recorder {
        work,
        yarns,
        yarn,
        met: vec![None; work.leaves.len()],
        told: HashMap::new(),
        all: Sequence::EMPTY,
        frames: Vec::new(),
        ended: Sequence::EMPTY,
        remembered: HashMap::new(),
        sections: Vec::new(),
        before: Before::default(),
        widest: Both::default(),
        last_row: 0,
        row: 0,
    };
    let (end, stop) = play(piece, Manner::CHECK, &mut recorder);
    let all = stop.is_none().then_some(recorder.all);
    Played { met: recorder.met, all, end, widest: recorder.widest, last_row: recorder.last_row }
}

/// A repeat that is being played.
#[derive(Debug)]
struct Frame {
    /// The passes so far, what is the same in a row put together.
    passes: Vec<(Sequence, u64)>,
    /// The pass that is being played.
    now: Option<Sequence>,
    single_row: bool,
}

impl Frame {
    fn end_pass(&mut self) {
        if let Some(pass) = self.now.take() {
            match self.passes.last_mut() {
                Some((last, times)) if *last == pass => *times += 1,
                _ => self.passes.push((pass, 1)),
            }
        }
    }

    /// The last passes, that many of them.
    fn last(&self, mut count: u64) -> Sequence {
        let mut all = Sequence::EMPTY;
        for (pass, times) in self.passes.iter().rev() {
            let taken = count.min(*times);
            all = pass.repeated(taken).then(all);
            count -= taken;
            if count == 0 {
                break;
            }
        }
        all
    }
}

struct Recorder<'w, Y> {
    work: &'w Work,
    yarns: &'w [YarnInfo],
    yarn: Y,
    met: Vec<Option<Met>>,
    told: HashMap<(u128, i32, bool), Rc<Told>>,
    all: Sequence,
    frames: Vec<Frame>,
    /// The repeat that ended last.
    ended: Sequence,
    remembered: HashMap<u64, Sequence>,
    sections: Vec<Rc<str>>,
    before: Before,
    widest: Both<u64>,
    last_row: u64,
    /// Rows so far.
    row: u64,
}

impl<Y> Recorder<'_, Y> {
    /// Counts the stitches when there has been a row.
    fn count(&mut self, state: &State) {
        if state.row != self.row {
            (self.row, self.last_row) = (state.row, stitches(state));
        }
    }

    fn add(&mut self, work: Sequence) {
        match self.frames.last_mut() {
            Some(frame) => {
                frame.now = Some(frame.now.unwrap_or(Sequence::EMPTY).then(work));
                if frame.single_row {
                    frame.end_pass();
                }
            }
            None => self.all = self.all.then(work),
        }
    }
}

impl<'a, Y: Fn(u16) -> &'a str> Watcher for Recorder<'_, Y> {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        let state = moment.state;
        let key = done(moment, &self.yarn);
        self.add(Sequence::one(key));
        if let Some(&leaf) = self.work.numbers.get(&moment.step) {
            match &mut self.met[leaf] {
                Some(met) => {
                    met.all = key_of(&(met.all, key));
                    met.times += 1;
                }
                new => {
                    let (yarns, before) = (self.yarns, self.before);
                    let told = self.told.entry((key, before.racking, before.threaded)).or_insert_with(|| {
                        let sets = match moment.outcome {
                            Outcome::Row(row) => Some(Sets { knit: row.knit, tuck: row.tuck, slip: row.slip }),
                            _ => None,
                        };
                        Rc::new(Told { said: said(moment, yarns, before), sets })
                    });
                    let section = self.sections.last().map(Rc::clone);
                    *new = Some(Met { row: state.row, told: Rc::clone(told), section, first: key, all: key, times: 1 });
                }
            }
        }
        self.before = Before { racking: state.racking, threaded: state.yarn.is_some() };
        self.count(state);
        let counts = Both::from_fn(|bed: Bed| state.stitch_count(bed));
        if counts.front + counts.back > self.widest.front + self.widest.back {
            self.widest = counts;
        }
        ControlFlow::Continue(())
    }

    fn begins(&mut self, block: &Block<'_>, _state: &State) {
        match block {
            Block::Section(title) => self.sections.push(Rc::from(*title)),
            Block::Allow(..) => {}
            Block::Repeat(repeat, _) => {
                self.frames.push(Frame { passes: Vec::new(), now: None, single_row: repeat.single_row });
            }
        }
    }

    fn ends(&mut self, block: &Block<'_>, _state: &State) {
        match block {
            Block::Section(_) => drop(self.sections.pop()),
            Block::Allow(..) => {}
            Block::Repeat(..) => {
                let Some(mut frame) = self.frames.pop() else { return };
                frame.end_pass();
                let all = |all: Sequence, (pass, times): &(Sequence, u64)| all.then(pass.repeated(*times));
                self.ended = frame.passes.iter().fold(Sequence::EMPTY, all);
                self.add(self.ended);
            }
        }
    }

    fn pass_begins(&mut self, _repeat: &Repeat, _pass: u64, _state: &State) {
        if let Some(frame) = self.frames.last_mut() {
            frame.end_pass();
            frame.now = Some(Sequence::EMPTY);
        }
    }

    fn skipped(&mut self, skipped: &Skipped<'_>, after: &State) {
        // The beds stand as they stood.
        self.row = after.row;
        if let Some(frame) = self.frames.last_mut() {
            frame.end_pass();
            let rest = frame.last(skipped.period).repeated(skipped.times);
            frame.passes.push((rest, 1));
        }
    }

    fn remembered(&mut self, number: u64) {
        self.remembered.insert(number, self.ended);
    }

    fn done_again(&mut self, number: u64, after: &State) {
        self.count(after);
        if let Some(work) = self.remembered.get(&number) {
            self.add(*work);
        }
        self.before = Before { racking: after.racking, threaded: after.yarn.is_some() };
    }
}

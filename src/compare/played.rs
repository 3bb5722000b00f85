//! What each operation of a piece does, read from the record of what was knitted: which row it is, what the sheet says of it,
//! and what is done in all.

use super::key::{done, part_of_the_work};
use super::sequence::{Sequence, key_of};
use super::work::Work;
use crate::beds::{Bed, Both, Machine, NeedleSet, Outcome, State};
use crate::knitted::{Asked, Deed, Done, Entry, Heading, Passes, Repeated, Stood, follow};
use crate::plan::program::{Piece, YarnInfo};
use crate::play::{Budget, Flow, Manner};
use crate::write::sheet::said::{Said, said};
use std::collections::HashMap;
use std::rc::Rc;
use std::sync::Arc;

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
    pub(super) section: Option<Arc<str>>,
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

/// What a piece does whose work is given. `yarn` names a yarn by its number, and `budget` says how
/// many operations may still be done.
pub(super) fn played<'a>(
    piece: &Piece,
    work: &Work,
    yarns: &[YarnInfo],
    yarn: impl Fn(u16) -> &'a str,
    budget: &Budget,
) -> Played {
    let mut reader = Reader {
        work,
        machine: &piece.machine,
        yarns,
        yarn,
        met: vec![None; work.leaves.len()],
        told: HashMap::new(),
        all: Sequence::EMPTY,
        frames: Vec::new(),
        remembered: HashMap::new(),
        sections: Vec::new(),
        now: Stood::default(),
        last_row: 0,
    };
    let ended = follow(piece, Asked { manner: budget.within(Manner::CHECK), ..Asked::TELL }, &mut |part| {
        reader.entries(&part.entries);
        Flow::Continue(())
    });
    budget.spend(ended.operations);
    let all = ended.stop.is_none().then_some(reader.all);
    Played { met: reader.met, all, end: ended.end, widest: ended.widest, last_row: reader.last_row }
}

/// A repeat that is being read.
#[derive(Debug, Default)]
struct Frame {
    /// The passes so far, what is the same in a row put together.
    passes: Vec<(Sequence, u64)>,
    /// The pass that is being read.
    now: Option<Sequence>,
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

struct Reader<'w, Y> {
    work: &'w Work,
    machine: &'w Machine,
    yarns: &'w [YarnInfo],
    yarn: Y,
    met: Vec<Option<Met>>,
    told: HashMap<(u128, i32, bool), Rc<Told>>,
    all: Sequence,
    frames: Vec<Frame>,
    remembered: HashMap<u64, Sequence>,
    sections: Vec<Arc<str>>,
    /// How the beds stand.
    now: Stood,
    last_row: u64,
}

impl<'a, Y: Fn(u16) -> &'a str> Reader<'_, Y> {
    fn add(&mut self, work: Sequence) {
        match self.frames.last_mut() {
            Some(frame) => frame.now = Some(frame.now.unwrap_or(Sequence::EMPTY).then(work)),
            None => self.all = self.all.then(work),
        }
    }

    /// Counts the stitches when there has been a row.
    fn stands(&mut self, after: &Stood) {
        if after.row != self.now.row {
            let stitches = after.stitches();
            self.last_row = stitches.front + stitches.back;
        }
        self.now = after.clone();
    }

    fn entries(&mut self, entries: &[Entry]) {
        for entry in entries {
            match entry {
                Entry::Did(deed, after) => self.did(deed, after),
                Entry::Block(block) => {
                    if let (Heading::Section(title), true) = (&block.heading, block.begins) {
                        self.sections.push(Arc::clone(title));
                    }
                    self.entries(&block.entries);
                    if matches!(block.heading, Heading::Section(_)) && block.ends {
                        self.sections.pop();
                    }
                }
                Entry::Repeated(repeated) => self.repeated(repeated),
                Entry::AsBefore(number, after) => {
                    self.stands(after);
                    if let Some(work) = self.remembered.get(number) {
                        self.add(*work);
                    }
                }
                Entry::Said(_) | Entry::Promised(..) => {}
            }
        }
    }

    fn repeated(&mut self, repeated: &Repeated) {
        if repeated.begins {
            self.frames.push(Frame::default());
        }
        for passes in &repeated.passes {
            match passes {
                Passes::Played(pass) => {
                    if let (Some(frame), true) = (self.frames.last_mut(), pass.begins) {
                        frame.end_pass();
                        frame.now = Some(Sequence::EMPTY);
                    }
                    self.entries(&pass.entries);
                }
                Passes::Counted { period, times, after, .. } => {
                    // The beds stand as they stood.
                    self.now = after.clone();
                    if let Some(frame) = self.frames.last_mut() {
                        frame.end_pass();
                        let rest = frame.last(*period).repeated(*times);
                        frame.passes.push((rest, 1));
                    }
                }
            }
        }
        if repeated.ends
            && let Some(mut frame) = self.frames.pop()
        {
            frame.end_pass();
            let all = |all: Sequence, (pass, times): &(Sequence, u64)| all.then(pass.repeated(*times));
            let ended = frame.passes.iter().fold(Sequence::EMPTY, all);
            self.add(ended);
            self.remembered.extend(repeated.remembered.map(|number| (number, ended)));
        }
    }

    fn did(&mut self, deed: &Deed, after: &Stood) {
        let before = std::mem::take(&mut self.now);
        let at = Done { machine: self.machine, yarns: self.yarns, deed, before: &before, after };
        let key = done(at, &self.yarn);
        if let Some(part) = part_of_the_work(at, key) {
            self.add(Sequence::one(part));
        }
        if let Some(&leaf) = self.work.numbers.get(&deed.step) {
            match &mut self.met[leaf] {
                Some(met) => {
                    met.all = key_of(&(met.all, key));
                    met.times += 1;
                }
                new => {
                    let told = self.told.entry((key, before.racking, before.yarn.is_some())).or_insert_with(|| {
                        let sets = match &deed.outcome {
                            Outcome::Row(row) => Some(Sets { knit: row.knit, tuck: row.tuck, slip: row.slip }),
                            _ => None,
                        };
                        Rc::new(Told { said: said(at), sets })
                    });
                    let section = self.sections.last().map(Arc::clone);
                    *new = Some(Met { row: after.row, told: Rc::clone(told), section, first: key, all: key, times: 1 });
                }
            }
        }
        self.now = before;
        self.stands(after);
    }
}

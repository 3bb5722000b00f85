//! Which line last did what to the needles and the settings, so that a finding can point at the line it follows from.
//!
//! The beds know no lines, so this is kept beside them while a piece is played. Nothing here decides whether something
//! is a mistake. A row is looked at very often and does little here: it never moves a needle or a setting.
//!
//! A repeat that the player takes as done, because it was played before from the same state, is not played again, and
//! its lines do what they did then. So what each remembered repeat did is kept, and done again ([`Memory::done_again`]).

use crate::beds::{Bed, Both, NeedleSet, Operation, Outcome, RowDone, Setting, Side, State};
use crate::plan::program::Promise;
use crate::play::Moment;
use crate::source::Span;
use std::collections::HashMap;

/// So many lines that changed the number of stitches are kept.
const MOST_CHANGES: usize = 16;

/// What a line did to a needle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Deed {
    /// Put it out of work.
    PutOut,
    /// Brought it into work.
    BroughtIn,
    /// Put it to hold.
    Held,
    /// Took it from hold.
    Released,
    /// Took its last loop.
    Emptied,
    /// Gave it its first loop.
    Loaded,
}

/// What a line did last to some needles, and when.
#[derive(Debug, Clone, Copy)]
struct Trace {
    deed: Deed,
    needles: NeedleSet,
    span: Span,
    when: u64,
}

/// The lines that last did something to each needle of a bed. The needles of two of them never meet, so there are never
/// more than needles.
#[derive(Debug, Clone, Default)]
struct Trail(Vec<Trace>);

impl Trail {
    fn note(&mut self, trace: Trace) {
        if trace.needles.is_empty() {
            return;
        }
        self.0.retain_mut(|earlier| {
            earlier.needles -= trace.needles;
            !earlier.needles.is_empty()
        });
        self.0.push(trace);
    }
}

/// A line that set something, and when.
#[derive(Debug, Clone, Copy)]
struct Set {
    span: Span,
    when: u64,
}

/// A promise that was kept, or a line that made it worth nothing: then without what was promised.
#[derive(Debug, Clone, Copy)]
struct Kept<T> {
    it: Option<T>,
    line: Set,
}

impl<T> Kept<T> {
    fn after(self, when: u64) -> Option<Self> {
        (self.line.when > when).then_some(self)
    }

    /// The same, done at another time.
    fn at(self, later: impl Fn(u64) -> u64) -> Self {
        Self { line: Set { when: later(self.line.when), ..self.line }, ..self }
    }
}

/// The last row that worked a bed.
#[derive(Debug, Clone, Copy)]
pub(super) struct LastRow {
    /// Its line.
    pub(super) span: Span,
    /// Whether it was one row by itself, in no repeat, with no stitch size of its own on that bed.
    pub(super) alone: bool,
    when: u64,
}

/// A line that changed the number of stitches of a bed.
#[derive(Debug, Clone, Copy)]
pub(super) struct Change {
    /// The bed.
    pub(super) bed: Bed,
    /// Stitches before it; when it was done several times, before the last one.
    pub(super) from: u32,
    /// Stitches after it.
    pub(super) to: u32,
    /// The line.
    pub(super) span: Span,
    when: u64,
}

/// What can be looked up, and what a repeat changes of it.
#[derive(Debug, Clone, Default)]
struct Lines {
    /// Deeds that put needles in or out of work, to hold or from it.
    work: Both<Trail>,
    /// Deeds that gave or took loops.
    loops: Both<Trail>,
    gaiting: Option<Set>,
    racking: Option<Set>,
    free_pass: Option<Set>,
    sizes: Both<Option<Set>>,
    rows: Both<Option<LastRow>>,
    /// The newest at the end; of one line and bed only the last time.
    changes: Vec<Change>,
    /// When a promise about the stitches of the bed held last.
    held_good: Both<u64>,
    /// The last promise about the side of the carriage that was kept.
    side: Option<Kept<Side>>,
    /// The last promise about the row counter that was kept; nothing promised where it was set back.
    counter: Option<Kept<u64>>,
}

/// The needles after the last operation, to see what the next one changes.
#[derive(Debug, Clone, Copy, Default)]
struct Needles {
    usable: NeedleSet,
    held: NeedleSet,
    loaded: NeedleSet,
    stitches: NeedleSet,
}

impl Needles {
    fn of(state: &State, bed: Bed) -> Self {
        Self {
            usable: state.in_work[bed] | state.held[bed],
            held: state.held[bed],
            loaded: state.loops.loaded(bed),
            stitches: state.loops.stitches(bed),
        }
    }
}

/// The memory of one piece.
#[derive(Debug, Default)]
pub(super) struct Memory {
    /// Counts what is noted.
    now: u64,
    lines: Lines,
    last: Both<Needles>,
    /// Whether any loop has been made in the piece.
    is_cast_on: bool,
    /// Whether a needle carries loops that are no stitch yet: only then can a row change the number of stitches.
    unfinished: bool,
    /// When each of the repeats that are open now began.
    begun: Vec<u64>,
    /// When the repeat that ended last began.
    ended: u64,
    /// What the repeats did that the player remembers, by its numbers.
    remembered: HashMap<u64, Lines>,
}

impl Memory {
    /// Takes down what was done.
    pub(super) fn note(&mut self, moment: &Moment<'_>) {
        self.now += 1;
        self.is_cast_on |= moment.state.ledger.made > 0;
        if let Outcome::Row(done) = moment.outcome {
            self.row(moment, done);
            return;
        }
        let set = Some(Set { span: moment.span, when: self.now });
        match (moment.operation, moment.outcome) {
            (Operation::Gaiting(_), _) => self.lines.gaiting = set,
            (Operation::FreePass, _) => self.lines.free_pass = set,
            (Operation::ResetCounter, _) => self.lines.counter = set.map(|line| Kept { it: None, line }),
            (_, Outcome::Setting(Setting::Racked { .. })) => self.lines.racking = set,
            (Operation::StitchSize(sizes), _) => {
                for bed in Bed::BOTH.into_iter().filter(|&bed| sizes[bed].is_some()) {
                    self.lines.sizes[bed] = set;
                }
            }
            _ => {}
        }
        for bed in Bed::BOTH {
            self.compare(bed, Needles::of(moment.state, bed), moment.span);
        }
    }

    fn row(&mut self, moment: &Moment<'_>, done: &RowDone) {
        for bed in Bed::BOTH {
            if !done.acting(bed).is_empty() {
                let own_size = matches!(moment.operation, Operation::Row(row) if row.sizes[bed].is_some());
                let alone = moment.pass.is_none() && !own_size;
                self.lines.rows[bed] = Some(LastRow { span: moment.span, alone, when: self.now });
            }
            self.unfinished |= !done.caught[bed].is_empty();
        }
        if self.unfinished {
            self.unfinished = false;
            for bed in Bed::BOTH {
                self.compare(bed, Needles::of(moment.state, bed), moment.span);
            }
        }
    }

    fn compare(&mut self, bed: Bed, now: Needles, span: Span) {
        let before = std::mem::replace(&mut self.last[bed], now);
        let when = self.now;
        let trace = |deed, needles| Trace { deed, needles, span, when };
        let lines = &mut self.lines;
        let out = before.usable - now.usable;
        for (deed, needles) in [
            (Deed::PutOut, out),
            (Deed::BroughtIn, now.usable - before.usable),
            (Deed::Held, now.held - before.held),
            (Deed::Released, before.held - now.held - out),
        ] {
            lines.work[bed].note(trace(deed, needles));
        }
        lines.loops[bed].note(trace(Deed::Emptied, before.loaded - now.loaded));
        lines.loops[bed].note(trace(Deed::Loaded, now.loaded - before.loaded));
        let (from, to) = (before.stitches.len(), now.stitches.len());
        if from != to {
            lines.change(Change { bed, from, to, span, when });
        }
        self.unfinished |= now.loaded != now.stitches;
    }

    /// A promise is reached. One about stitches that holds makes what came before it of no interest.
    pub(super) fn promised(&mut self, promise: &Promise, span: Span, state: &State) {
        self.now += 1;
        let line = Set { span, when: self.now };
        let (count, front, back) = match *promise {
            Promise::Stitches { count, front, back } => (count, front, back),
            Promise::Carriage(side) if state.carriage == side => {
                self.lines.side = Some(Kept { it: Some(side), line });
                return;
            }
            Promise::Counter(counter) if state.counter == counter => {
                self.lines.counter = Some(Kept { it: Some(counter), line });
                return;
            }
            _ => return,
        };
        let there = |bed| state.stitch_count(bed);
        let now = if front { there(Bed::Front) } else { 0 } + if back { there(Bed::Back) } else { 0 };
        if now == count {
            for (bed, _) in [(Bed::Front, front), (Bed::Back, back)].into_iter().filter(|(_, meant)| *meant) {
                self.lines.held_good[bed] = self.now;
            }
        }
    }

    /// A repeat begins.
    pub(super) fn begins(&mut self) {
        self.begun.push(self.now);
    }

    /// The repeat that began last ends.
    pub(super) fn ends(&mut self) {
        self.ended = self.begun.pop().unwrap_or_default();
    }

    /// The player remembers the repeat that ended last, by that number.
    pub(super) fn remembered(&mut self, number: u64) {
        self.remembered.insert(number, self.lines.since(self.ended));
    }

    /// The player takes the repeat of that number as done; the beds are then as given.
    pub(super) fn done_again(&mut self, number: u64, after: &State) {
        if let Some(done) = self.remembered.get(&number) {
            self.now = self.lines.go_over(done, self.now + 1);
        }
        self.unfinished = false;
        for bed in Bed::BOTH {
            self.last[bed] = Needles::of(after, bed);
            self.unfinished |= self.last[bed].loaded != self.last[bed].stitches;
        }
    }

    // ---- what can be looked up ------------------------------------------------------------------------------------

    /// The lines that did that to some of the needles as the last thing of its kind, with those needles.
    pub(super) fn who(
        &self,
        deed: Deed,
        bed: Bed,
        needles: NeedleSet,
    ) -> impl Iterator<Item = (Span, NeedleSet)> + use<'_> {
        let trail = match deed {
            Deed::Emptied | Deed::Loaded => &self.lines.loops[bed],
            _ => &self.lines.work[bed],
        };
        let hit = move |trace: &Trace| (trace.span, trace.needles & needles);
        trail.0.iter().filter(move |trace| trace.deed == deed).map(hit).filter(|(_, needles)| !needles.is_empty())
    }

    /// Whether any loop has been made in the piece.
    pub(super) fn is_cast_on(&self) -> bool {
        self.is_cast_on
    }

    /// The line that last set the gaiting.
    pub(super) fn gaiting(&self) -> Option<Span> {
        self.lines.gaiting.map(|set| set.span)
    }

    /// The line that last racked the beds.
    pub(super) fn racking(&self) -> Option<Span> {
        self.lines.racking.map(|set| set.span)
    }

    /// The last free pass.
    pub(super) fn free_pass(&self) -> Option<Span> {
        self.lines.free_pass.map(|set| set.span)
    }

    /// The line that last set the stitch size of a bed.
    pub(super) fn size(&self, bed: Bed) -> Option<Span> {
        self.lines.sizes[bed].map(|set| set.span)
    }

    /// The last promise about the side of the carriage that was kept, and the side.
    pub(super) fn side_kept(&self) -> Option<(Span, Side)> {
        self.lines.side.and_then(|kept| Some((kept.line.span, kept.it?)))
    }

    /// The last promise about the row counter that was kept, and the number; or, without one, the line that has set it
    /// back since.
    pub(super) fn counter_kept(&self) -> Option<(Span, Option<u64>)> {
        self.lines.counter.map(|kept| (kept.line.span, kept.it))
    }

    /// The last row that worked a bed.
    pub(super) fn last_row(&self, bed: Bed) -> Option<LastRow> {
        self.lines.rows[bed]
    }

    /// The lines that changed the number of stitches since a promise about that bed last held, the newest first.
    pub(super) fn changes(&self) -> impl Iterator<Item = &Change> {
        let held_good = self.lines.held_good;
        self.lines.changes.iter().rev().filter(move |change| change.when > held_good[change.bed])
    }
}

impl Lines {
    fn change(&mut self, change: Change) {
        self.changes.retain(|earlier| (earlier.bed, earlier.span) != (change.bed, change.span));
        if self.changes.len() >= MOST_CHANGES {
            self.changes.remove(0);
        }
        self.changes.push(change);
    }

    /// What was noted after `when`.
    fn since(&self, when: u64) -> Self {
        let later = |trail: &Trail| Trail(trail.0.iter().filter(|trace| trace.when > when).copied().collect());
        let set = |set: Option<Set>| set.filter(|set| set.when > when);
        Self {
            work: Both::from_fn(|bed| later(&self.work[bed])),
            loops: Both::from_fn(|bed| later(&self.loops[bed])),
            gaiting: set(self.gaiting),
            racking: set(self.racking),
            free_pass: set(self.free_pass),
            sizes: Both::from_fn(|bed| set(self.sizes[bed])),
            rows: Both::from_fn(|bed| self.rows[bed].filter(|row| row.when > when)),
            changes: self.changes.iter().filter(|change| change.when > when).copied().collect(),
            held_good: Both::from_fn(|bed| if self.held_good[bed] > when { self.held_good[bed] } else { 0 }),
            side: self.side.and_then(|kept| kept.after(when)),
            counter: self.counter.and_then(|kept| kept.after(when)),
        }
    }

    /// Does what `done` did, in its order, from `now` on. Gives when the last of it was done.
    fn go_over(&mut self, done: &Self, now: u64) -> u64 {
        // All times of `done` move on alike, so their order stays.
        let first = done.times().min().unwrap_or_default();
        let later = |when: u64| when.saturating_sub(first) + now;
        for bed in Bed::BOTH {
            for (own, trail) in [(&mut self.work, &done.work), (&mut self.loops, &done.loops)] {
                for trace in &trail[bed].0 {
                    own[bed].note(Trace { when: later(trace.when), ..*trace });
                }
            }
            if let Some(set) = done.sizes[bed] {
                self.sizes[bed] = Some(Set { when: later(set.when), ..set });
            }
            if let Some(row) = done.rows[bed] {
                self.rows[bed] = Some(LastRow { when: later(row.when), ..row });
            }
            if done.held_good[bed] > 0 {
                self.held_good[bed] = later(done.held_good[bed]);
            }
        }
        if let Some(set) = done.gaiting {
            self.gaiting = Some(Set { when: later(set.when), ..set });
        }
        if let Some(set) = done.racking {
            self.racking = Some(Set { when: later(set.when), ..set });
        }
        if let Some(set) = done.free_pass {
            self.free_pass = Some(Set { when: later(set.when), ..set });
        }
        self.side = done.side.map(|kept| kept.at(later)).or(self.side);
        self.counter = done.counter.map(|kept| kept.at(later)).or(self.counter);
        for change in &done.changes {
            self.change(Change { when: later(change.when), ..*change });
        }
        done.times().max().map_or(now, later)
    }

    /// When everything was noted.
    fn times(&self) -> impl Iterator<Item = u64> {
        let traces = self.work.iter().chain(self.loops.iter()).flat_map(|(_, trail)| &trail.0).map(|trace| trace.when);
        let sets = [self.gaiting, self.racking, self.free_pass, self.sizes.front, self.sizes.back];
        let rows = [self.rows.front, self.rows.back];
        let held_good = [self.held_good.front, self.held_good.back];
        traces
            .chain(sets.into_iter().flatten().map(|set| set.when))
            .chain(rows.into_iter().flatten().map(|row| row.when))
            .chain(self.changes.iter().map(|change| change.when))
            .chain(held_good.into_iter().filter(|&when| when > 0))
            .chain(self.side.map(|kept| kept.line.when))
            .chain(self.counter.map(|kept| kept.line.when))
    }
}

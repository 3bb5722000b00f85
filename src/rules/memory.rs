//! Which line last did what to the needles and the settings, so that a finding can point at the line it follows from.
//!
//! The beds know no lines, so this is kept beside them while a piece is played. Nothing here decides whether something
//! is a mistake. A row is looked at very often and does little here: it never moves a needle or a setting.
//!
//! A repeat that the player takes as done, because it was played before from the same state, is not played again, and
//! its lines do what they did then. So what each remembered repeat did is kept, and done again ([`Memory::done_again`]).

use crate::beds::{Bed, Both, NeedleSet, Operation, Outcome, RowDone, Setting, Side, State, Waste};
use crate::plan::program::{Piece, Promise};
use crate::play::Moment;
use crate::source::Span;
use std::collections::{BTreeMap, HashMap};

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

impl Deed {
    /// Deeds of one trail take each other's place: the later one counts.
    const fn trail(self) -> usize {
        match self {
            Self::PutOut | Self::BroughtIn | Self::Held | Self::Released => 0,
            Self::Emptied | Self::Loaded => 1,
        }
    }
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

/// What a line is looked up for. Of each only the last line is kept.
#[derive(Debug, Clone, Copy)]
pub(super) enum What {
    /// It set the gaiting.
    Gaiting,
    /// It racked the beds.
    Racking,
    /// A free pass.
    FreePass,
    /// A promise about the side of the carriage that was kept.
    Side,
    /// A promise about the row counter that was kept, or a line that set it back.
    Counter,
    /// It set the stitch size of the bed.
    Size(Bed),
    /// A row that worked the bed.
    Row(Bed),
    /// A promise about the stitches of the bed that was kept.
    Count(Bed),
}

impl What {
    /// How many there are.
    const ALL: usize = 11;

    /// Its place among them.
    const fn place(self) -> usize {
        match self {
            Self::Gaiting => 0,
            Self::Racking => 1,
            Self::FreePass => 2,
            Self::Side => 3,
            Self::Counter => 4,
            Self::Size(bed) => 5 + bed as usize,
            Self::Row(bed) => 7 + bed as usize,
            Self::Count(bed) => 9 + bed as usize,
        }
    }
}

/// What else is known of a line.
#[derive(Debug, Clone, Copy)]
enum Told {
    Nothing,
    /// It was one row by itself, or not.
    Alone(bool),
    /// It promised that side.
    Side(Side),
    /// It promised that number.
    Counter(u64),
}

/// A line that did something, and when.
#[derive(Debug, Clone, Copy)]
struct Noted {
    span: Span,
    when: u64,
    told: Told,
}

/// The last row that worked a bed.
#[derive(Debug, Clone, Copy)]
pub(super) struct LastRow {
    /// Its line.
    pub(super) span: Span,
    /// Whether it was one row by itself, in no repeat, with no stitch size of its own on that bed.
    pub(super) alone: bool,
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
    /// Deeds that put needles in or out of work, to hold or from it; and those that gave or took loops.
    trails: [Both<Trail>; 2],
    /// The last line of each sort.
    last: [Option<Noted>; What::ALL],
    /// Lines that changed the number of stitches, the newest at the end; of one line and bed only the last time.
    changes: Vec<Change>,
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
    needles: Both<Needles>,
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
    /// The line that took stitches onto each waste yarn last. A repeat that is not played again has the lines it had.
    put: BTreeMap<Waste, Span>,
}

impl Memory {
    /// What is known before a piece is played.
    pub(super) fn before(piece: &Piece) -> Self {
        let put = piece.waste.iter().filter_map(|here| Some((here.waste.clone(), here.put_by?)));
        Self { put: put.collect(), ..Self::default() }
    }

    /// The line that took stitches onto that waste yarn last, in this piece or in one before it.
    pub(super) fn put_onto(&self, waste: &Waste) -> Option<Span> {
        self.put.get(waste).copied()
    }

    /// Takes down what was done.
    pub(super) fn note(&mut self, moment: &Moment<'_>) {
        self.now += 1;
        self.is_cast_on |= moment.state.ledger.made > 0 || moment.state.ledger.on_needles > 0;
        if let Outcome::Row(done) = moment.outcome {
            self.row(moment, done);
            return;
        }
        match (moment.operation, moment.outcome) {
            (Operation::Gaiting(_), _) => self.set(What::Gaiting, moment.span),
            (Operation::FreePass, _) => self.set(What::FreePass, moment.span),
            (Operation::ResetCounter, _) => self.set(What::Counter, moment.span),
            (Operation::OntoWaste(_, waste), Outcome::Handled(handled)) if !handled.taken.is_empty() => {
                self.put.insert(waste.clone(), moment.span);
            }
            (_, Outcome::Setting(Setting::Racked { .. })) => self.set(What::Racking, moment.span),
            (Operation::StitchSize(sizes), _) => {
                for bed in Bed::BOTH.into_iter().filter(|&bed| sizes[bed].is_some()) {
                    self.set(What::Size(bed), moment.span);
                }
            }
            _ => {}
        }
        for bed in Bed::BOTH {
            self.compare(bed, Needles::of(moment.state, bed), moment.span);
        }
    }

    fn set(&mut self, what: What, span: Span) {
        self.set_with(what, span, Told::Nothing);
    }

    fn set_with(&mut self, what: What, span: Span, told: Told) {
        self.lines.last[what.place()] = Some(Noted { span, when: self.now, told });
    }

    fn row(&mut self, moment: &Moment<'_>, done: &RowDone) {
        for bed in Bed::BOTH {
            if !done.acting(bed).is_empty() {
                let own_size = matches!(moment.operation, Operation::Row(row) if row.sizes[bed].is_some());
                let alone = moment.pass.is_none() && !own_size;
                self.set_with(What::Row(bed), moment.span, Told::Alone(alone));
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
        let before = std::mem::replace(&mut self.needles[bed], now);
        let when = self.now;
        let trace = |deed, needles| Trace { deed, needles, span, when };
        let lines = &mut self.lines;
        let out = before.usable - now.usable;
        for (deed, needles) in [
            (Deed::PutOut, out),
            (Deed::BroughtIn, now.usable - before.usable),
            (Deed::Held, now.held - before.held),
            (Deed::Released, before.held - now.held - out),
            (Deed::Emptied, before.loaded - now.loaded),
            (Deed::Loaded, now.loaded - before.loaded),
        ] {
            lines.trails[deed.trail()][bed].note(trace(deed, needles));
        }
        let (from, to) = (before.stitches.len(), now.stitches.len());
        if from != to {
            lines.change(Change { bed, from, to, span, when });
        }
        self.unfinished |= now.loaded != now.stitches;
    }

    /// A promise is reached. One about stitches that holds makes what came before it of no interest.
    pub(super) fn promised(&mut self, promise: &Promise, span: Span, state: &State) {
        self.now += 1;
        let (count, front, back) = match *promise {
            Promise::Stitches { count, front, back } => (count, front, back),
            Promise::Carriage(side) if state.carriage == side => {
                return self.set_with(What::Side, span, Told::Side(side));
            }
            Promise::Counter(counter) if state.counter == counter => {
                return self.set_with(What::Counter, span, Told::Counter(counter));
            }
            _ => return,
        };
        let there = |bed| state.stitch_count(bed);
        let now = if front { there(Bed::Front) } else { 0 } + if back { there(Bed::Back) } else { 0 };
        if now == count {
            for (bed, _) in [(Bed::Front, front), (Bed::Back, back)].into_iter().filter(|(_, meant)| *meant) {
                self.set(What::Count(bed), span);
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
            self.needles[bed] = Needles::of(after, bed);
            self.unfinished |= self.needles[bed].loaded != self.needles[bed].stitches;
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
        let trail = &self.lines.trails[deed.trail()][bed];
        let hit = move |trace: &Trace| (trace.span, trace.needles & needles);
        trail.0.iter().filter(move |trace| trace.deed == deed).map(hit).filter(|(_, needles)| !needles.is_empty())
    }

    /// Whether any loop has been made in the piece.
    pub(super) fn is_cast_on(&self) -> bool {
        self.is_cast_on
    }

    /// The last line of that sort.
    pub(super) fn last(&self, what: What) -> Option<Span> {
        self.noted(what).map(|noted| noted.span)
    }

    fn noted(&self, what: What) -> Option<Noted> {
        self.lines.last[what.place()]
    }

    /// The last promise about the side of the carriage that was kept, and the side.
    pub(super) fn side_kept(&self) -> Option<(Span, Side)> {
        let kept = self.noted(What::Side)?;
        if let Told::Side(side) = kept.told { Some((kept.span, side)) } else { None }
    }

    /// The last promise about the row counter that was kept, and the number; or, without one, the line that has set it
    /// back since.
    pub(super) fn counter_kept(&self) -> Option<(Span, Option<u64>)> {
        let kept = self.noted(What::Counter)?;
        Some((kept.span, if let Told::Counter(counter) = kept.told { Some(counter) } else { None }))
    }

    /// Whether a row was knitted since the beds were racked last.
    pub(super) fn rows_since_racked(&self) -> bool {
        let when = |what| self.noted(what).map(|noted| noted.when);
        let racked = when(What::Racking);
        Bed::BOTH.into_iter().any(|bed| when(What::Row(bed)) > racked)
    }

    /// The last row that worked a bed.
    pub(super) fn last_row(&self, bed: Bed) -> Option<LastRow> {
        let row = self.noted(What::Row(bed))?;
        Some(LastRow { span: row.span, alone: matches!(row.told, Told::Alone(true)) })
    }

    /// The lines that changed the number of stitches since a promise about that bed last held, the newest first.
    pub(super) fn changes(&self) -> impl Iterator<Item = &Change> {
        let held_good = |bed| self.noted(What::Count(bed)).map_or(0, |promise| promise.when);
        self.lines.changes.iter().rev().filter(move |change| change.when > held_good(change.bed))
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
        let Self { trails, last, changes } = self;
        let later = |trail: &Trail| Trail(trail.0.iter().filter(|trace| trace.when > when).copied().collect());
        Self {
            trails: trails.each_ref().map(|trails| Both::from_fn(|bed| later(&trails[bed]))),
            last: last.map(|noted| noted.filter(|noted| noted.when > when)),
            changes: changes.iter().filter(|change| change.when > when).copied().collect(),
        }
    }

    /// Does what `done` did, in its order, from `now` on. Gives when the last of it was done.
    fn go_over(&mut self, done: &Self, now: u64) -> u64 {
        let Self { trails, last, changes } = done;
        // All times of `done` move on alike, so their order stays.
        let first = done.times().min().unwrap_or_default();
        let later = |when: u64| when.saturating_sub(first) + now;
        for (own, trails) in self.trails.iter_mut().zip(trails) {
            for (bed, trail) in trails.iter() {
                trail.0.iter().for_each(|trace| own[bed].note(Trace { when: later(trace.when), ..*trace }));
            }
        }
        for (own, noted) in self.last.iter_mut().zip(last) {
            *own = noted.map(|noted| Noted { when: later(noted.when), ..noted }).or(*own);
        }
        for change in changes {
            self.change(Change { when: later(change.when), ..*change });
        }
        done.times().max().map_or(now, later)
    }

    /// When everything was noted.
    fn times(&self) -> impl Iterator<Item = u64> {
        let Self { trails, last, changes } = self;
        let traces = trails.iter().flat_map(Both::iter).flat_map(|(_, trail)| &trail.0);
        traces
            .map(|trace| trace.when)
            .chain(last.iter().flatten().map(|noted| noted.when))
            .chain(changes.iter().map(|change| change.when))
    }
}

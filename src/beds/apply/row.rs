//! One pass of the carriages.

use super::super::drawn::Drawn;
use super::super::needle::{Bed, Both, NeedleSet};
use super::super::operation::{Action, BedWork, Loop, Row, RowSize};
use super::super::outcome::{Outcome, RowDone};
use super::super::standing::YarnEnd;
use super::super::state::State;
use super::super::yarn::StitchSize;
use super::Unfit;

/// Loops on one needle beyond which no machine goes on. Far above every profile's limit: those are for the rules.
const JAM: u32 = 48;

/// The needles of one bed by what they do.
#[derive(Default, Clone, Copy)]
struct Sorted {
    knit: NeedleSet,
    tuck: NeedleSet,
    slip: NeedleSet,
    idle: NeedleSet,
    selected: bool,
}

impl State {
    pub(super) fn knit_row(&mut self, row: &Row) -> Result<Outcome, Unfit> {
        let toward = self.carriage.other();
        let work = row.work.toward(toward);
        let sorted = Both { front: self.sort(Bed::Front, &work.front)?, back: self.sort(Bed::Back, &work.back)? };
        let of = |part: fn(&Sorted) -> NeedleSet| Both { front: part(&sorted.front), back: part(&sorted.back) };
        let mut done = RowDone {
            toward,
            knit: of(|sorted| sorted.knit),
            tuck: of(|sorted| sorted.tuck),
            slip: of(|sorted| sorted.slip),
            caught: Both::default(),
            idle: of(|sorted| sorted.idle),
            selected: Both { front: sorted.front.selected, back: sorted.back.selected },
            no_yarn: self.yarn.is_none(),
            claimed: row.toward.filter(|&claimed| claimed != toward),
            sizes: self.sizes,
            new_loops: row.new_loops,
            began: self.yarn_end,
            jammed: false,
        };
        self.row += 1;
        self.counter += 1;
        self.carriage = toward;
        if self.yarn.is_some() {
            // A row that takes no yarn carries it along all the same, from where it hung.
            let needles = match Both::from_fn(|bed| done.outermost(bed, toward)) {
                Both { front: None, back: None } => done.began.map_or(Both::same(None), |began| began.needles),
                needles => needles,
            };
            self.yarn_end = Some(YarnEnd { side: toward, needles });
        }
        for bed in Bed::BOTH {
            done.caught[bed] = done.acting(bed) - self.loops.loaded(bed);
            done.sizes[bed] = match (row.sizes[bed], self.sizes[bed]) {
                (Some(RowSize::To(size)), _) => Some(size),
                (Some(RowSize::By(change)), Some(size)) => Some(size.saturating_add(change)),
                (_, size) => size,
            };
        }
        for bed in Bed::BOTH.into_iter().filter(|&bed| !done.acting(bed).is_empty()) {
            // A row with a size of its own is no plain row.
            if let (Some(yarn), Some(size), None) = (self.yarn, self.sizes[bed], row.sizes[bed]) {
                self.plain_rows[bed].knitted(yarn, size);
            }
            self.last_row[bed] = self.row;
        }
        let drawn = Both::from_fn(|bed| self.drawn(bed, row.sizes[bed], done.sizes[bed]));
        self.take_yarn(&done, &drawn);
        let piled = self.loops.caught_more_than(JAM);
        done.jammed = !piled.is_empty();
        Ok(Outcome::Row(done))
    }

    /// How large a row is drawn on a bed. `own` is the row's own size, `size` what comes of it. What is usual there is the
    /// size of the plain rows, and the one that is set where the row departs from it by its own words.
    fn drawn(&self, bed: Bed, own: Option<RowSize>, size: Option<StitchSize>) -> Drawn {
        match (own, self.sizes[bed]) {
            (Some(RowSize::By(change)), None) => Drawn::InRow { size: None, larger: Some(change) },
            (own, set) => {
                let plain = self.yarn.and_then(|yarn| self.plain_rows[bed].usual(yarn));
                Drawn::in_row(size, own.and(set).into_iter().chain(plain))
            }
        }
    }

    /// Makes the loops of a row. `drawn_at` says of each bed how large.
    fn take_yarn(&mut self, done: &RowDone, drawn_at: &Both<Drawn>) {
        let between = Bed::BOTH.into_iter().all(|bed| !done.acting(bed).is_empty());
        let drawn = Both { front: done.knit.front - done.caught.front, back: done.knit.back - done.caught.back };
        let laid = Both { front: done.tuck.front | done.caught.front, back: done.tuck.back | done.caught.back };
        for (needles, at) in alike(&drawn, drawn_at) {
            let what = Loop { between, drawn: at, ..self.new_loop() };
            let through = self.loops.knit(&needles, what);
            self.ledger.knitted_through += through;
            self.ledger.on_needles -= through;
        }
        for (needles, at) in alike(&laid, drawn_at) {
            let what = Loop { caught: true, between, drawn: at, ..self.new_loop() };
            self.loops.add(&needles, what);
        }
        let new = drawn.len() + laid.len();
        self.ledger.made += new;
        self.ledger.on_needles += new;
    }

    /// Which needles of a bed do what.
    fn sort(&self, bed: Bed, work: &BedWork) -> Result<Sorted, Unfit> {
        let mut sorted = Sorted::default();
        let mut rest = self.in_work[bed];
        for (action, pick) in &work.picked {
            let named = self.picked(bed, pick)?;
            let hit = named & rest;
            sorted.idle |= named - self.in_work[bed] - self.held[bed];
            sorted.give(*action, hit);
            rest -= hit;
        }
        sorted.give(work.elsewhere, rest);
        let does = [sorted.knit, sorted.tuck, sorted.slip];
        sorted.selected = does.into_iter().filter(|needles| !needles.is_empty()).count() > 1;
        Ok(sorted)
    }
}

/// The needles in groups that take the same loop: all at once, unless the beds draw them at different sizes.
fn alike(needles: &Both<NeedleSet>, drawn: &Both<Drawn>) -> impl Iterator<Item = (Both<NeedleSet>, Drawn)> + use<> {
    let one_bed = Bed::BOTH.into_iter().find(|&bed| needles[bed.other()].is_empty());
    let groups = match one_bed {
        None if drawn.front != drawn.back => {
            let of = |bed: Bed| (Both::only(bed, needles[bed]), drawn[bed]);
            [Some(of(Bed::Front)), Some(of(Bed::Back))]
        }
        bed => [Some((*needles, drawn[bed.unwrap_or(Bed::Front)])), None],
    };
    groups.into_iter().flatten()
}

impl Sorted {
    fn give(&mut self, action: Action, needles: NeedleSet) {
        match action {
            Action::Knit => self.knit |= needles,
            Action::Tuck => self.tuck |= needles,
            Action::Slip => self.slip |= needles,
        }
    }
}

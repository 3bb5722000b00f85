//! The state of both beds between two operations.

use super::drawn::PlainRows;
use super::loops::Loops;
use super::machine::Machine;
use super::needle::{Bed, Both, Needle, NeedleSet, Side};
use super::operation::{Gaiting, Waste};
use super::standing::{Standing, YarnEnd};
use super::yarn::{StitchSize, Yarn};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Where every loop that was ever made has gone. It balances after every operation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Ledger {
    /// Loops made, by the carriage or by hand.
    pub made: u64,
    /// Loops of earlier pieces that came to this one on waste yarn.
    pub brought: u64,
    /// Loops on the needles.
    pub on_needles: u64,
    /// Loops through which another loop has been drawn.
    pub knitted_through: u64,
    /// Loops bound off.
    pub bound_off: u64,
    /// Loops let fall on purpose.
    pub dropped: u64,
    /// Loops taken off onto waste yarn.
    pub on_waste: u64,
    /// Loops lost by a mistake.
    pub lost: u64,
}

impl Ledger {
    /// What was made and brought, less everything that is accounted for; 0 when the ledger balances.
    #[must_use]
    pub fn difference(&self) -> i128 {
        let gone = [self.on_needles, self.knitted_through, self.bound_off, self.dropped, self.on_waste, self.lost];
        i128::from(self.made) + i128::from(self.brought) - gone.into_iter().map(i128::from).sum::<i128>()
    }

    /// Each column worked out from that column of this ledger and of two others.
    fn columns(&self, one: &Self, two: &Self, of: impl Fn(u64, u64, u64) -> u64) -> Self {
        Self {
            made: of(self.made, one.made, two.made),
            brought: of(self.brought, one.brought, two.brought),
            on_needles: of(self.on_needles, one.on_needles, two.on_needles),
            knitted_through: of(self.knitted_through, one.knitted_through, two.knitted_through),
            bound_off: of(self.bound_off, one.bound_off, two.bound_off),
            dropped: of(self.dropped, one.dropped, two.dropped),
            on_waste: of(self.on_waste, one.on_waste, two.on_waste),
            lost: of(self.lost, one.lost, two.lost),
        }
    }
}

/// `now + n * (now - then)`, kept within `u64`.
fn extrapolated(now: u64, then: u64, n: u64) -> u64 {
    let grown = i128::from(now) + i128::from(n) * (i128::from(now) - i128::from(then));
    u64::try_from(grown.max(0)).unwrap_or(u64::MAX)
}

/// How many pick-ups found too few loops.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Refused {
    /// From waste yarn.
    pub from_waste: u64,
    /// From the fabric below.
    pub from_below: u64,
}

/// Both beds with everything on them, between two operations.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct State {
    /// Needles in work, those that knit when the carriage passes.
    pub in_work: Both<NeedleSet>,
    /// Needles held: they keep their loops and let the yarn pass. None of them is also in work.
    pub held: Both<NeedleSet>,
    /// The loops.
    pub loops: Loops,
    /// How the beds stand to each other.
    pub gaiting: Gaiting,
    /// Steps of the racking bed to the right of its centre.
    pub racking: i32,
    /// The side where the carriage stands.
    pub carriage: Side,
    /// The yarn in the feeder.
    pub yarn: Option<Yarn>,
    /// Where the yarn in the feeder hangs; none until it has made a row.
    pub yarn_end: Option<YarnEnd>,
    /// Where the other yarns hang that have made rows.
    pub left_hanging: BTreeMap<Yarn, YarnEnd>,
    /// The stitch size of each bed, once it has been set.
    pub sizes: Both<Option<StitchSize>>,
    /// The plain rows of each bed since its cast-on by the carriage. How large the loops of the next row are is told
    /// against them ([`Drawn`](super::drawn::Drawn)).
    pub plain_rows: Both<PlainRows>,
    /// The last row that worked each bed, but for a cast-on; 0 before the first.
    pub last_row: Both<u64>,
    /// Rows of the piece so far.
    pub row: u64,
    /// What the row counter shows.
    pub counter: u64,
    /// How often the counter has been reset.
    pub resets: u64,
    /// How many stitches are on each waste yarn that has a name. The others that are on waste yarn by the ledger are on the
    /// one without a name.
    pub waste: BTreeMap<Arc<str>, u64>,
    /// The ledger.
    pub ledger: Ledger,
}

impl Default for State {
    fn default() -> Self {
        Self {
            in_work: Both::default(),
            held: Both::default(),
            loops: Loops::default(),
            gaiting: Gaiting::Between,
            racking: 0,
            carriage: Side::Left,
            yarn: None,
            yarn_end: None,
            left_hanging: BTreeMap::new(),
            sizes: Both::default(),
            plain_rows: Both::default(),
            last_row: Both::default(),
            row: 0,
            counter: 0,
            resets: 0,
            waste: BTreeMap::new(),
            ledger: Ledger::default(),
        }
    }
}

impl State {
    /// An empty machine, beside which stitches of earlier pieces wait on waste yarn.
    #[must_use]
    pub fn with_waste<'a>(brought: impl IntoIterator<Item = (&'a Waste, u64)>) -> Self {
        let mut state = Self::default();
        for (waste, stitches) in brought {
            state.ledger.brought = state.ledger.brought.saturating_add(stitches);
            if let Some(name) = &waste.0 {
                state.waste.insert(Arc::clone(name), stitches);
            }
        }
        state.ledger.on_waste = state.ledger.brought;
        state
    }

    /// How many stitches are on that waste yarn.
    #[must_use]
    pub fn on_waste(&self, waste: &Waste) -> u64 {
        match &waste.0 {
            Some(name) => self.waste.get(name).copied().unwrap_or_default(),
            None => self.ledger.on_waste.saturating_sub(self.waste.values().sum()),
        }
    }

    /// How many stitches a bed carries; a needle with two stitches on it counts once.
    #[must_use]
    pub fn stitch_count(&self, bed: Bed) -> u64 {
        u64::from(self.loops.stitches(bed).len())
    }

    /// The needles of the other bed that stand face to face with these, at opposite gaiting.
    #[must_use]
    pub fn facing(&self, machine: &Machine, bed: Bed, needles: NeedleSet) -> NeedleSet {
        needles.shifted(self.standing().facing_shift(machine, bed))
    }

    /// How the beds stand to each other.
    #[must_use]
    pub const fn standing(&self) -> Standing {
        Standing { gaiting: self.gaiting, racking: self.racking }
    }

    /// As [`Standing::half_pitches`], as the beds stand.
    #[must_use]
    pub fn half_pitches(&self, machine: &Machine, bed: Bed, needle: Needle) -> i32 {
        self.standing().half_pitches(machine, bed, needle)
    }

    /// As [`Standing::yarn_path`], as the beds stand.
    #[must_use]
    pub fn yarn_path(&self, machine: &Machine, acting: &Both<NeedleSet>, toward: Side) -> Vec<(i32, Bed, Needle)> {
        self.standing().yarn_path(machine, acting, toward)
    }

    /// Whether the next rows would go the same way from both states: everything is equal but the counting of rows,
    /// and the ledger. Only whether there has been a row at all matters: the carriage can be placed until then. Loops
    /// older than `old` rows are of one age.
    /// What a pick-up can draw on is asked with [`Self::has_as_much_to_pick_up`].
    #[must_use]
    pub fn goes_on_like(&self, other: &Self, old: u64) -> bool {
        let Self {
            in_work,
            held,
            loops,
            gaiting,
            racking,
            carriage,
            yarn,
            yarn_end,
            left_hanging,
            sizes,
            plain_rows,
            // Counted on by `repeat_since`.
            last_row: _,
            row,
            counter: _,
            resets: _,
            waste: _,
            ledger: _,
        } = self;
        (*row == 0) == (other.row == 0)
            && *in_work == other.in_work
            && *held == other.held
            && *gaiting == other.gaiting
            && *racking == other.racking
            && *carriage == other.carriage
            && *yarn == other.yarn
            && *yarn_end == other.yarn_end
            && *left_hanging == other.left_hanging
            && *sizes == other.sizes
            && *plain_rows == other.plain_rows
            && loops.same_but_for_time(*row, &other.loops, other.row, old)
    }

    /// Whether every pick-up that was made from `earlier` on comes out the same from here. One that was refused for
    /// want of loops may be made when there are more; `refused` says of which kind there were such.
    #[must_use]
    pub fn has_as_much_to_pick_up(&self, earlier: &Self, refused: Refused) -> bool {
        let same = |now: u64, then: u64, refused: u64| now == then || now > then && refused == 0;
        let names: BTreeSet<&Arc<str>> = self.waste.keys().chain(earlier.waste.keys()).collect();
        let on = |state: &Self, name: &Arc<str>| state.waste.get(name).copied().unwrap_or_default();
        same(self.on_waste(&Waste::PLAIN), earlier.on_waste(&Waste::PLAIN), refused.from_waste)
            && names.into_iter().all(|name| same(on(self, name), on(earlier, name), refused.from_waste))
            && same(self.ledger.knitted_through, earlier.ledger.knitted_through, refused.from_below)
    }

    /// Goes on as if everything since `earlier` had been done `n` times more. `earlier` must go on like `self`.
    pub fn repeat_since(&mut self, earlier: &Self, n: u64) {
        let (row, then_row) = (self.row, earlier.row);
        let moved_on = n.saturating_mul(row - then_row);
        let mut then = earlier.loops.dates();
        self.loops.redate(|made| {
            // A loop as old as the one in its place was then, or made since, will be made anew in each repeat. Any
            // other rests, and only got older.
            let as_old = then.next().is_some_and(|then_made| row - made == then_row - then_made);
            if as_old || made >= then_row { made.saturating_add(moved_on) } else { made }
        });
        drop(then);
        for bed in Bed::BOTH {
            if self.last_row[bed] > then_row {
                self.last_row[bed] = self.last_row[bed].saturating_add(moved_on);
            }
        }
        self.row = extrapolated(self.row, earlier.row, n);
        if self.resets == earlier.resets {
            self.counter = extrapolated(self.counter, earlier.counter, n);
        }
        self.resets = extrapolated(self.resets, earlier.resets, n);
        for (name, stitches) in &mut self.waste {
            let then = earlier.waste.get(name).copied().unwrap_or_default();
            *stitches = extrapolated(*stitches, then, n);
        }
        let now = self.ledger;
        self.ledger = now.columns(&earlier.ledger, &now, |now, then, _| extrapolated(now, then, n));
    }

    /// Does at once what led from `before` to `after`. `before` must go on like `self`.
    pub fn do_again(&mut self, before: &Self, after: &Self) {
        let then: Vec<u64> = before.loops.dates().collect();
        let now: Vec<u64> = self.loops.dates().collect();
        let mut next = after.clone();
        next.loops.redate(|made| {
            if made > before.row {
                return self.row + (made - before.row);
            }
            // Older than the start: the loop was there before, under a date of its own here.
            then.iter().position(|&date| date == made).and_then(|index| now.get(index)).map_or(self.row, |&date| date)
        });
        for bed in Bed::BOTH {
            let worked = after.last_row[bed] > before.row;
            next.last_row[bed] =
                if worked { self.row + (after.last_row[bed] - before.row) } else { self.last_row[bed] };
        }
        let grown = |now: u64, then: u64, after: u64| {
            u64::try_from(i128::from(now) + i128::from(after) - i128::from(then)).unwrap_or(u64::MAX)
        };
        next.row = grown(self.row, before.row, after.row);
        if after.resets == before.resets {
            next.counter = grown(self.counter, before.counter, after.counter);
        }
        next.resets = grown(self.resets, before.resets, after.resets);
        let on = |state: &Self, name: &Arc<str>| state.waste.get(name).copied().unwrap_or_default();
        for (name, stitches) in &mut next.waste {
            *stitches = grown(on(self, name), on(before, name), *stitches);
        }
        for (name, stitches) in &self.waste {
            next.waste.entry(Arc::clone(name)).or_insert(*stitches);
        }
        next.ledger = self.ledger.columns(&before.ledger, &after.ledger, grown);
        *self = next;
    }
}

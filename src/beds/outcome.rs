//! What one operation did. Plain facts: whether they are good or bad is decided elsewhere.

use super::drawn::Drawn;
use super::machine::Machine;
use super::needle::{Bed, Both, Needle, NeedleSet, Side};
use super::operation::Tool;
use super::pick::Ragged;
use super::standing::{Standing, YarnEnd};
use super::state::State;
use super::takes::Going;
use super::yarn::Yarn;

/// What happened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outcome {
    /// Needles were brought into work, put out of it, held or released.
    Needles(NeedlesPut),
    /// A setting was made: gaiting, racking, yarn, size, carriage side, counter.
    Setting(Setting),
    /// A row was knitted.
    Row(RowDone),
    /// The carriage went to the other side without yarn.
    FreePass,
    /// Stitches went to other needles.
    Carried(Carried),
    /// Loops were made or taken off by hand.
    Handled(Handled),
    /// Nothing was done: a tile does not fit the working width of that bed.
    Unfit(Bed, Ragged),
}

/// Needles that changed their position.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct NeedlesPut {
    /// Those that were named.
    pub named: Both<NeedleSet>,
    /// Those of them that the bed does not have.
    pub off_bed: Both<NeedleSet>,
    /// Those that changed.
    pub changed: Both<NeedleSet>,
    /// Those that were put out of work with loops on them. The loops are counted as lost.
    pub lost: Both<NeedleSet>,
}

/// A setting and what came of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Setting {
    /// It was made; `changed` is false when it was so already.
    Made {
        /// Whether anything changed.
        changed: bool,
    },
    /// The racking bed was moved.
    Racked {
        /// Where it stood before, in steps right of its centre.
        from: i32,
    },
    /// The beds cannot be racked to that place (steps right of the centre); they stay where they were.
    RackedPastEnd {
        /// The place asked for.
        asked: i32,
    },
    /// The carriage can only be placed before the first row, or it stands there already; it stays where it was.
    CarriageHasStarted {
        /// The side asked for.
        asked: Side,
    },
}

/// A row that was knitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RowDone {
    /// The way the carriage went.
    pub toward: Side,
    /// The needles that knitted, and those that took a loop without one to draw it through.
    pub knit: Both<NeedleSet>,
    /// The needles that tucked.
    pub tuck: Both<NeedleSet>,
    /// The needles that were in work and slipped.
    pub slip: Both<NeedleSet>,
    /// Of those that knitted or tucked, the ones that were empty: each caught a loop that is no stitch yet.
    pub caught: Both<NeedleSet>,
    /// Needles named by the row that are not in work.
    pub idle: Both<NeedleSet>,
    /// Whether the needles in work of a bed did not all do the same, so that some of them were picked.
    pub selected: Both<bool>,
    /// Whether there was no yarn in the feeder.
    pub no_yarn: bool,
    /// The direction claimed, when it is not the one taken.
    pub claimed: Option<Side>,
    /// The stitch size each bed worked with.
    pub sizes: Both<Option<i32>>,
    /// Whether empty needles were meant to catch loops.
    pub new_loops: bool,
    /// Where the yarn hung before the row; none when it began anew, or that is not known.
    pub began: Option<YarnEnd>,
    /// Whether a needle carries so many loops that nothing more can be said of this piece.
    pub jammed: bool,
}

impl RowDone {
    /// The needles of a bed that moved: that knitted or tucked.
    #[must_use]
    pub fn acting(&self, bed: Bed) -> NeedleSet {
        self.knit[bed] | self.tuck[bed]
    }

    /// The last needle of a bed that takes the yarn, seen toward that side.
    #[must_use]
    pub fn outermost(&self, bed: Bed, side: Side) -> Option<Needle> {
        self.acting(bed).outermost(side)
    }

    /// Where the yarn hung before the row and the needle that takes it first, each with its place in half pitches;
    /// none when the yarn begins anew or hangs on the other side. `standing` is that of the beds in the row.
    #[must_use]
    pub fn start(&self, machine: &Machine, standing: Standing) -> Option<[(i32, Bed, Needle); 2]> {
        let began = self.began.filter(|began| began.side != self.toward)?;
        let from = began.hangs_at(machine, standing)?;
        let first = YarnEnd { side: began.side, needles: Both::from_fn(|bed| self.outermost(bed, began.side)) };
        let to = first.hangs_at(machine, standing)?;
        Some([from, to])
    }
}

/// Stitches that went from needle to needle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Carried {
    /// The bed they came from.
    pub from: Bed,
    /// The bed they went to.
    pub to: Bed,
    /// How many needle numbers to the right they went.
    pub by: i32,
    /// The needles named that had nothing to give.
    pub empty: NeedleSet,
    /// The needles that gave their loops.
    pub donors: NeedleSet,
    /// The needles that had a stitch and took another.
    pub joined: NeedleSet,
    /// Whether that was meant.
    pub joining: bool,
    /// Donors whose loops were lost because the receiver is out of work. A crossing is then left undone, and these are
    /// the donors of one of its groups.
    pub into_idle: NeedleSet,
    /// Those receivers.
    pub idle: NeedleSet,
    /// Donors whose loops were lost because the bed has no such receiver.
    pub past_end: NeedleSet,
    /// Donors that went out of work.
    pub put_out: NeedleSet,
    /// Of the needles that gave or took, those that were held before. None for a move by hand within a bed.
    pub held: Both<NeedleSet>,
    /// Whether the beds do not stand face to face, which going from bed to bed with the carriage needs; then nothing was done.
    pub not_facing: bool,
    /// The tool asked for.
    pub tool: Option<Tool>,
    /// Whether it was a transfer from bed to bed (and not a move by hand tool over some places, or a crossing).
    pub transfer: bool,
    /// When stitches went from bed to bed, or crossed: the donors that gave a loop of which no line says that it is larger
    /// than usual ([`Drawn::is_ordinary`](super::drawn::Drawn::is_ordinary)).
    pub ordinary: NeedleSet,
    /// Then also those that gave a loop which is too small for it, or of which no line says anything.
    pub tight: Misfits,
    /// And those that gave one which is too large for it.
    pub large: Misfits,
    /// The two groups, when they were to change places.
    pub crossing: Option<Crossing>,
}

impl Carried {
    /// What went across, as it hung before; `after` is how the beds stand now.
    #[must_use]
    pub fn going(&self, after: &State) -> Going {
        let (lost, loaded) = (self.into_idle | self.past_end, |bed| after.loops.loaded(bed));
        let arrived = (self.donors - lost).shifted(self.by);
        let before = |bed| {
            if bed == self.from { loaded(bed) | self.donors } else { (loaded(bed) - arrived) | self.joined }
        };
        Going { from: self.from, donors: self.donors, loaded: Both::from_fn(before), racking: after.racking }
    }
}

/// Donors with loops that were drawn at a size that is wrong for being carried.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Misfits {
    /// The donors.
    pub needles: NeedleSet,
    /// The bed whose last row made all of those loops; none when other rows did.
    pub row: Option<Bed>,
    /// Their yarn, and how they were drawn; none when not all are alike.
    pub alike: Option<(Yarn, Drawn)>,
}

/// Two neighbouring groups of one bed that were to change places.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Crossing {
    /// The group that lies in front, as the sitter sees it.
    pub over: Group,
    /// The group behind it.
    pub under: Group,
    /// Needles of either that are not in work, or that the bed does not have; then nothing was done.
    pub missing: NeedleSet,
}

/// Needles whose stitches were to move together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Group {
    /// The needles, whether they carry stitches or not.
    pub needles: NeedleSet,
    /// How many needle numbers to the right.
    pub by: i32,
}

/// An edge of a bed that grew or shrank.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct EdgeDone {
    /// Which edge.
    pub side: Side,
    /// The needles whose stitches moved.
    pub moved: NeedleSet,
    /// How many needle numbers to the right they went.
    pub by: i32,
    /// The needles on which they were laid beside other stitches.
    pub joined: NeedleSet,
    /// The needles on which a new loop was wound.
    pub made: NeedleSet,
    /// The needles that came into work.
    pub put_in: NeedleSet,
    /// The needles that went out of work.
    pub put_out: NeedleSet,
}

/// Loops that were made or taken off by hand, or by a carriage row of the cast-on.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Handled {
    /// Needles named, or added at an edge, that the bed does not have.
    pub off_bed: Both<NeedleSet>,
    /// How many needles an edge was to grow by that the widest bed does not have, so that no set can hold them.
    pub past_end: u64,
    /// Those that took a new loop.
    pub made: Both<NeedleSet>,
    /// Those that lost their loops to the bind-off, the floor or the waste yarn.
    pub taken: Both<NeedleSet>,
    /// Those that could not take a loop because they carry one already, or are out of work for a carriage row.
    pub refused: Both<NeedleSet>,
    /// Those that had nothing to give.
    pub empty: Both<NeedleSet>,
    /// Those on which stitches were laid beside their own, which was meant (a decrease).
    pub joined: Both<NeedleSet>,
    /// The edges of the bed that grew or shrank, in the order in which it was done.
    pub edges: Vec<EdgeDone>,
    /// Loops asked back that are not there to be had (more picked up than were knitted through or are on waste yarn).
    pub not_there: u64,
    /// Whether the carriage made it, in a row.
    pub by_carriage: bool,
    /// Where the yarn hung before that row; none when it began anew, or that is not known.
    pub began: Option<YarnEnd>,
    /// Whether there was no yarn in the feeder.
    pub no_yarn: bool,
}

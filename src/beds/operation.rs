//! The operations that a pattern is made of, and which needles they are about. No text, no spans, no sizes: those
//! have been worked out before.

use super::drawn::Drawn;
use super::needle::{Bed, Both, Needle, NeedleSet, Side};
use super::yarn::{StitchSize, Yarn};
use std::fmt;
use std::sync::Arc;

/// Which needles of a bed are meant. Some kinds depend on what is in work or loaded when the operation is reached.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Pick {
    /// These, whatever the state.
    These(NeedleSet),
    /// Every needle in work.
    InWork,
    /// Every needle that carries a loop.
    Loaded,
    /// Every needle in work that carries none.
    Empty,
    /// That many of the needles in work, from the left.
    Leftmost(u32),
    /// That many of the needles in work, from the right.
    Rightmost(u32),
    /// The first needle in work from the left and every `n`th in work after it; `n` is at least 1.
    Every(u32),
    /// Marks laid again and again over the working width, from its first needle to its last; must fit.
    Tile(Tile),
    /// What is in both.
    And(Box<(Pick, Pick)>),
    /// What is in either.
    Or(Box<(Pick, Pick)>),
    /// The needles in work that are not in it.
    AllBut(Box<Pick>),
}

/// A picture of needles: which of `width` places are taken.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Tile {
    /// For each place from the left whether it is taken; never empty.
    pub marks: Vec<bool>,
}

/// Needles of the front bed, of the back bed, or of both; none leaves that bed alone.
pub type Targets = Both<Option<Pick>>;

/// How the beds stand to each other at racking centre.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Gaiting {
    /// Needles of one bed opposite the gaps of the other; a back needle stands half a pitch beside the front
    /// needle of its name, to the right where the profile does not say left.
    Between,
    /// Needles face to face.
    Opposite,
}

impl fmt::Display for Gaiting {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Between => "between",
            Self::Opposite => "opposite",
        })
    }
}

/// What a needle does in a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Action {
    /// Draws one new loop through everything it carries.
    Knit,
    /// Takes a loop and keeps what it carries.
    Tuck,
    /// Leaves the yarn; it floats by.
    Slip,
}

/// What one bed does in a row.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct BedWork {
    /// Actions on picked needles, in the order written; an earlier part has the needle.
    pub picked: Vec<(Action, Pick)>,
    /// What the other needles in work do.
    pub elsewhere: Action,
}

impl BedWork {
    /// The same action for every needle in work.
    #[must_use]
    pub const fn whole(action: Action) -> Self {
        Self { picked: Vec::new(), elsewhere: action }
    }

    /// Whether any needle is asked to knit or tuck, if it is in work.
    #[must_use]
    pub fn asks(&self) -> bool {
        self.elsewhere != Action::Slip || self.picked.iter().any(|(action, _)| *action != Action::Slip)
    }
}

/// What the beds do in a row, perhaps not the same in both directions.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Work {
    /// The same whichever way the carriage goes.
    Same(Both<BedWork>),
    /// What they do going left, and going right.
    ByDirection {
        /// When the carriage goes to the left.
        to_left: Both<BedWork>,
        /// When it goes to the right.
        to_right: Both<BedWork>,
    },
}

impl Work {
    /// What the beds do when the carriage goes to that side.
    #[must_use]
    pub const fn toward(&self, side: Side) -> &Both<BedWork> {
        match (self, side) {
            (Self::Same(work), _) => work,
            (Self::ByDirection { to_left, .. }, Side::Left) => to_left,
            (Self::ByDirection { to_right, .. }, Side::Right) => to_right,
        }
    }
}

/// A stitch size for one row only.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum RowSize {
    /// That much larger (smaller when negative) than the size set on the bed.
    By(StitchSize),
    /// That size.
    To(StitchSize),
}

/// One pass of the carriages.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Row {
    /// What the beds do.
    pub work: Work,
    /// A size for this row only.
    pub sizes: Both<Option<RowSize>>,
    /// The direction that the pattern claims.
    pub toward: Option<Side>,
    /// Whether empty needles in work are meant to catch loops.
    pub new_loops: bool,
}

/// How a cast-on is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CastOn {
    /// A row of the carriage over both beds; counts as a row.
    Zigzag,
    /// A row of the carriage over the needles, on waste yarn; counts as a row.
    Open,
    /// Wound by hand around each needle; no row.
    Wound,
    /// Chained by hand; no row.
    Chain,
}

/// What moves stitches from bed to bed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Tool {
    /// The hand tool.
    Hand,
    /// The transfer carriage.
    Carriage,
}

/// One thing that is done on the machine.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Operation {
    /// Needles are brought into work, empty. A pick that counts from the needles in work, or from the loops, looks at the
    /// other bed, those needles included that are named for it one by one in the same operation.
    InWork(Targets),
    /// Needles are put out of work; they must be empty.
    OutOfWork(Targets),
    /// Needles are put to hold.
    Hold(Targets),
    /// Held needles go back to work.
    Release(Targets),
    /// The beds are set between or opposite.
    Gaiting(Gaiting),
    /// The racking bed is moved that many steps to the right (to the left when negative).
    RackBy(i32),
    /// The racking bed is moved to that many steps right of the centre.
    RackTo(i32),
    /// The yarn in the feeder.
    Thread(Yarn),
    /// The stitch size of the beds named.
    StitchSize(Both<Option<StitchSize>>),
    /// The side where the carriage stands before the first row.
    Carriage(Side),
    /// The row counter is set to 0.
    ResetCounter,
    /// One row.
    Row(Row),
    /// The carriage goes to the other side without yarn, with nothing picked; the counter does not turn.
    FreePass,
    /// Loops are cast on; on every needle in work of a bed where no needles are named.
    CastOn(CastOn, Targets),
    /// Loops are wound on empty needles by hand; needles out of work come into work.
    NewLoops(Targets),
    /// Stitches go to the facing needles of the other bed.
    Transfer {
        /// The bed they come from.
        from: Bed,
        /// Which needles; every loaded one when none are named.
        pick: Option<Pick>,
        /// Whether they may come to lie on others.
        joining: bool,
        /// Whether the emptied needles stay in work; the profile decides when none is said.
        emptied_stay: Option<bool>,
        /// The tool that is asked for.
        tool: Option<Tool>,
    },
    /// Stitches go by hand to other needles: `by` places to the right (left when negative) on bed `to`.
    Move {
        /// The bed they come from.
        from: Bed,
        /// Which needles.
        pick: Pick,
        /// The bed they go to; the same one or the other.
        to: Bed,
        /// How many needle numbers to the right.
        by: i32,
        /// Whether they may come to lie on others.
        joining: bool,
        /// Whether the emptied needles stay in work; the profile decides when none is said.
        emptied_stay: Option<bool>,
    },
    /// Two neighbouring groups of one bed change places; `over` lies in front as the sitter sees it.
    Cross {
        /// The bed.
        bed: Bed,
        /// The group in front.
        over: NeedleSet,
        /// The group behind.
        under: NeedleSet,
    },
    /// Stitches are added at edges of a bed: the needles outside the edge come into work with a loop wound on
    /// (with `inset`, that many edge stitches move out first and the gap is filled from the neighbours).
    Increase(EdgeChange),
    /// Stitches are taken off at edges of a bed: the edge stitches move in onto their neighbours and the emptied
    /// needles go out of work.
    Decrease(EdgeChange),
    /// Stitches are let fall on purpose.
    Drop(Targets),
    /// Loops are hung on needles again: from the fabric below, or from waste yarn.
    PickUp {
        /// Which needles.
        targets: Targets,
        /// The waste yarn that they come from; none where they come from the fabric below.
        from_waste: Option<Waste>,
    },
    /// Stitches are bound off; the needles stay in work, empty.
    BindOff(Targets),
    /// Stitches are knitted onto waste yarn and taken off; the needles stay in work, empty.
    OntoWaste(Targets, Waste),
    /// The yarn in the feeder is cut: its end hangs no more, and its next row begins anew. It stays in the feeder.
    CutYarn,
}

/// A piece of waste yarn on which stitches wait: the one without a name, or one of those that are called by a name. A name
/// is only what it is called; equal names are one waste yarn.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct Waste(pub Option<Arc<str>>);

impl Waste {
    /// The waste yarn without a name.
    pub const PLAIN: Self = Self(None);

    /// The one that is called so.
    #[must_use]
    pub fn named(name: &str) -> Self {
        Self(Some(Arc::from(name)))
    }
}

/// Stitches added or taken off at the edges of a bed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct EdgeChange {
    /// The bed.
    pub bed: Bed,
    /// How many at each named edge; at least 1.
    pub by: u32,
    /// At the left edge.
    pub left: bool,
    /// At the right edge.
    pub right: bool,
    /// How many edge stitches keep together and move as a group; 0 for the simple form.
    pub inset: u32,
}

/// One loop on a needle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Loop {
    /// The row of the piece that made it; 0 before the first.
    pub made: u64,
    /// Its yarn.
    pub yarn: Yarn,
    /// Whether it was drawn through another loop or cast on (`false`), or only caught: a tuck, or a loop over an
    /// empty needle (`true`).
    pub caught: bool,
    /// Where the racking bed stood, in steps right of its centre, when it was made or when it came to this bed.
    pub racking: i32,
    /// Whether its yarn runs on to loops of the other bed.
    pub between: bool,
    /// How large it was drawn.
    pub drawn: Drawn,
}

/// A needle with its bed.
pub type Place = (Bed, Needle);

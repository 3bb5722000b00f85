//! What operations are called: the word that a trace has for each, and what a comparison calls it. One row a sort of
//! operation.

use crate::beds::{CastOn, Operation};

/// What an operation has to do with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Part {
    /// The position of needles.
    Needles,
    /// How the machine is set.
    Setting,
    /// A row.
    Row,
    /// Stitches that are made, moved or taken off.
    Stitches,
}

/// What the trace tells of an operation beside its word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Told {
    /// The needles that changed their position; what is done in general, in a sentence.
    Put(&'static str),
    /// The needles that took loops or gave them; what is done in general, in a sentence.
    Handled(&'static str),
    /// Something that this operation alone has: it has a form of its own.
    Own,
}

/// What a sort of operation is called.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Called {
    /// The word in a trace.
    pub(crate) word: &'static str,
    /// What stands beside it there.
    pub(crate) told: Told,
    /// What it has to do with.
    pub(crate) part: Part,
    /// `a row`.
    pub(crate) one: &'static str,
    /// `another row`.
    pub(crate) other: &'static str,
}

const fn row(word: &'static str, told: Told, part: Part, one: &'static str, other: &'static str) -> Called {
    Called { word, told, part, one, other }
}

const fn setting(word: &'static str, one: &'static str, other: &'static str) -> Called {
    row(word, Told::Own, Part::Setting, one, other)
}

const fn stitches(word: &'static str, one: &'static str, other: &'static str) -> Called {
    row(word, Told::Own, Part::Stitches, one, other)
}

const fn put(word: &'static str, about: &'static str, one: &'static str, other: &'static str) -> Called {
    row(word, Told::Put(about), Part::Needles, one, other)
}

const fn handled(word: &'static str, about: &'static str, one: &'static str, other: &'static str) -> Called {
    row(word, Told::Handled(about), Part::Stitches, one, other)
}

macro_rules! table {
    ($($operation:pat => $called:expr,)+) => {
        /// Every sort of operation, in the order in which the schema of a trace has them.
        #[cfg(test)]
        pub(crate) const ALL: &[Called] = &[$($called),+];

        /// What an operation is called.
        pub(crate) const fn called(operation: &Operation) -> &'static Called {
            match operation {
                $($operation => const { &$called },)+
            }
        }
    };
}

table! {
    Operation::InWork(_) => put(
        "in work",
        "Needles are brought into work.",
        "needles brought into work",
        "other needles brought into work",
    ),
    Operation::OutOfWork(_) => put(
        "out of work",
        "Needles are put out of work.",
        "needles put out of work",
        "other needles put out of work",
    ),
    Operation::Hold(_) => put(
        "hold",
        "Needles are put to hold: they keep their loops and let the yarn pass.",
        "needles put to hold",
        "other needles put to hold",
    ),
    Operation::Release(_) => put(
        "release",
        "Held needles go back to work.",
        "needles back from hold",
        "other needles back from hold",
    ),
    Operation::Gaiting(_) => setting("gaiting", "a gaiting", "another gaiting"),
    Operation::RackBy(_) | Operation::RackTo(_) => setting("rack", "a racking", "another racking"),
    Operation::Thread(_) => setting("thread", "a yarn to thread", "another yarn to thread"),
    Operation::CutYarn => setting("cut yarn", "a cut of the yarn", "another cut of the yarn"),
    Operation::StitchSize(_) => setting("stitch size", "a stitch size", "another stitch size"),
    Operation::Carriage(_) => {
        setting("carriage", "a side for the carriage to start from", "another side to start from")
    },
    Operation::ResetCounter => setting("reset counter", "a reset of the counter", "another reset of the counter"),
    Operation::Row(_) => row("row", Told::Own, Part::Row, "a row", "another row"),
    Operation::FreePass => setting("free pass", "a free pass", "another free pass"),
    Operation::CastOn(CastOn::Zigzag | CastOn::Open, _) => {
        stitches("cast on", "a cast-on row", "another cast-on row")
    },
    Operation::CastOn(..) => stitches("cast on", "a cast-on", "another cast-on"),
    Operation::NewLoops(_) => {
        handled("new loops", "Loops are wound on needles by hand.", "new loops", "other new loops")
    },
    Operation::Transfer { .. } => stitches("transfer", "a transfer", "another transfer"),
    Operation::Move { .. } => stitches("move", "a move by hand", "another move by hand"),
    Operation::Cross { .. } => stitches("cross", "a crossing", "another crossing"),
    Operation::Increase(_) => stitches("increase", "an increase", "another increase"),
    Operation::Decrease(_) => stitches("decrease", "a decrease", "another decrease"),
    Operation::Drop(_) => {
        handled("drop", "Stitches are let fall on purpose.", "stitches dropped", "other stitches dropped")
    },
    Operation::PickUp { .. } => stitches("pick up", "loops picked up", "other loops picked up"),
    Operation::BindOff(_) => handled("bind off", "Stitches are bound off.", "a bind-off", "another bind-off"),
    Operation::OntoWaste(..) => stitches(
        "onto waste yarn",
        "stitches taken onto waste yarn",
        "other stitches taken onto waste yarn",
    ),
}

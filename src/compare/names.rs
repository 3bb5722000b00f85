//! What operations are called when they are new, gone or another.

use super::form::About;
use crate::beds::{CastOn, Operation};

/// The words for an operation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Called {
    /// What a change of it is about.
    pub(super) about: About,
    /// `a row`.
    pub(super) one: &'static str,
    /// `another row`.
    pub(super) other: &'static str,
}

const fn of(about: About, one: &'static str, other: &'static str) -> Called {
    Called { about, one, other }
}

/// A line that could not be understood.
pub(super) const UNREAD: Called =
    of(About::UnreadLine, "a line that is not understood", "another line that is not understood");

/// What an operation is called.
pub(super) const fn called(operation: &Operation) -> Called {
    use About::{Needles, Row, Setting, Stitches};
    match operation {
        Operation::InWork(_) => of(Needles, "needles brought into work", "other needles brought into work"),
        Operation::OutOfWork(_) => of(Needles, "needles put out of work", "other needles put out of work"),
        Operation::Hold(_) => of(Needles, "needles put to hold", "other needles put to hold"),
        Operation::Release(_) => of(Needles, "needles back from hold", "other needles back from hold"),
        Operation::Gaiting(_) => of(Setting, "a gaiting", "another gaiting"),
        Operation::RackBy(_) | Operation::RackTo(_) => of(Setting, "a racking", "another racking"),
        Operation::Thread(_) => of(Setting, "a yarn to thread", "another yarn to thread"),
        Operation::StitchSize(_) => of(Setting, "a stitch size", "another stitch size"),
        Operation::Carriage(_) => of(Setting, "a side for the carriage to start from", "another side to start from"),
        Operation::ResetCounter => of(Setting, "a reset of the counter", "another reset of the counter"),
        Operation::Row(_) => of(Row, "a row", "another row"),
        Operation::FreePass => of(Setting, "a free pass", "another free pass"),
        Operation::CastOn(CastOn::Zigzag | CastOn::Open, _) => of(Stitches, "a cast-on row", "another cast-on row"),
        Operation::CastOn(..) => of(Stitches, "a cast-on", "another cast-on"),
        Operation::NewLoops(_) => of(Stitches, "new loops", "other new loops"),
        Operation::Transfer { .. } => of(Stitches, "a transfer", "another transfer"),
        Operation::Move { .. } => of(Stitches, "a move by hand", "another move by hand"),
        Operation::Cross { .. } => of(Stitches, "a crossing", "another crossing"),
        Operation::Increase(_) => of(Stitches, "an increase", "another increase"),
        Operation::Decrease(_) => of(Stitches, "a decrease", "another decrease"),
        Operation::Drop(_) => of(Stitches, "stitches dropped", "other stitches dropped"),
        Operation::PickUp { .. } => of(Stitches, "loops picked up", "other loops picked up"),
        Operation::BindOff(_) => of(Stitches, "a bind-off", "another bind-off"),
        Operation::OntoWaste(_) => {
            of(Stitches, "stitches taken onto waste yarn", "other stitches taken onto waste yarn")
        }
    }
}

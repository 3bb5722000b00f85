//! The model of the two beds: needles, loops, gaiting, racking, carriage, and what one operation does to them.
//!
//! This room knows no text, no repeats and no rules. [`State::apply`] does one operation and says in an
//! [`Outcome`] what happened; whether that is good or bad is for `rules` to say.

mod apply;
mod drawn;
mod loops;
mod machine;
mod needle;
mod operation;
mod outcome;
mod pick;
mod standing;
mod state;
mod takes;
mod yarn;

pub use drawn::{Drawn, Fit, PlainRows, Teller, Wanted};
pub use loops::{Loops, Strain};
pub use machine::{FloatLimit, Limit, Machine, Takes, TransferWay};
pub use needle::{Bed, Both, Needle, NeedleSet, Side};
pub use operation::{
    Action, BedWork, CastOn, EdgeChange, Gaiting, Loop, Operation, Pick, Place, Row, RowSize, Targets, Tile, Tool,
    Waste, Work,
};
pub use outcome::{Carried, Crossing, EdgeDone, Group, Handled, Misfits, NeedlesPut, Outcome, RowDone, Setting};
pub use pick::Ragged;
pub use standing::{Standing, YarnEnd};
pub use state::{Ledger, Refused, State};
pub use takes::Going;
pub use yarn::{StitchSize, Yarn};

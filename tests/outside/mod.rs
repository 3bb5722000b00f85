//! The model against what has been published: structures course by course, racking vectors, limits and lengths.
//!
//! Every check names its source. A fact of the trade without one is marked `common practice, no source`; a value that
//! was not looked up is marked `from memory`. The published side of each check is written down by hand from the
//! source and shares nothing with the pattern text that it is compared with.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]

mod crossing;
mod fixture;
mod lengths;
mod limits;
mod racking;
mod set_outs;
mod structures;

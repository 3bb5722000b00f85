//! What a pattern is turned into once it is checked.

pub mod at;
pub mod sheet;
pub mod trace;

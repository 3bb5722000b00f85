//! What a pattern is turned into once it is checked.

pub mod at;
pub(crate) mod operations;
pub mod sheet;
pub mod trace;

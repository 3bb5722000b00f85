//! What a pattern is turned into once it is checked.

pub mod sheet;

//! What is written from a pattern that was checked.

pub mod at;
pub mod trace;

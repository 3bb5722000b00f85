//! The words that rules need.

pub(super) use crate::words::spans::{needles, on_bed, written};
pub(super) use crate::words::{count, is_are, racking, size, steps};

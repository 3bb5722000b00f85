//! Rules about what the pattern itself promises and allows.

pub(super) mod count_mismatch;
pub(super) mod needless_allow;
pub(super) mod tube_mismatch;

pub(super) use needless_allow::{idle_allow, needless_allow};

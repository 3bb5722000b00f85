//! What operations are called when they are new, gone or another.

use super::form::About;
use crate::beds::Operation;
use crate::write::operations::{self, Called as Row, Part};

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
    let Row { part, one, other, .. } = *operations::called(operation);
    let about = match part {
        Part::Needles => About::Needles,
        Part::Setting => About::Setting,
        Part::Row => About::Row,
        Part::Stitches => About::Stitches,
    };
    of(about, one, other)
}

//! What lies ready for an answer.

use super::reading::{Reading, Shelf};
use super::text::Encoding;
use super::texts::{Libraries, Texts};
use std::sync::Arc;

/// Everything that an answer is made from.
pub(super) struct Desk<'d> {
    /// The texts.
    pub(super) texts: &'d Texts,
    /// How columns are counted.
    pub(super) encoding: Encoding,
    /// The files.
    pub(super) libraries: &'d Libraries,
    /// What is known of the texts.
    pub(super) shelf: &'d Shelf,
    /// Whether edits may name the version that they are made for.
    pub(super) versioned: bool,
    /// Whether somebody still wants the answer.
    pub(super) wanted: &'d dyn Fn() -> bool,
}

impl Desk<'_> {
    /// The reading of an open text; none where it is not open, or too long.
    pub(super) fn reading(&self, root: &str) -> Option<Arc<Reading>> {
        self.shelf.reading(root, self.texts, self.libraries).filter(|reading| !reading.is_too_long())
    }

    /// The readings in which a text plays a part, its own first.
    pub(super) fn readings_with(&self, name: &str) -> Vec<Arc<Reading>> {
        let others = self.texts.names().filter(|other| *other != name);
        let own = std::iter::once(name).chain(others);
        own.filter_map(|root| self.reading(root)).filter(|reading| reading.file(name).is_some()).collect()
    }
}

//! A line that cannot be read, as all see it who say something of it.

use super::piece::Piece;
use crate::finding::Finding;
use crate::source::Span;
use crate::syntax::rules;
use std::ops::Range;

/// A line that cannot be read, and where it stands.
#[derive(Clone, Copy)]
pub(super) struct BadLine<'t> {
    /// The lines around it.
    pub(super) piece: Piece<'t>,
    /// Its first byte in them.
    pub(super) start: u32,
    /// Its words.
    pub(super) text: &'t str,
}

impl BadLine<'_> {
    /// The place of some bytes of it.
    pub(super) fn span(self, range: &Range<usize>) -> Span {
        self.piece.span(self.start + range.start as u32, self.start + range.end as u32)
    }

    /// The line with other words there.
    pub(super) fn with(self, range: &Range<usize>, instead: &str) -> String {
        let mut text = self.text.to_owned();
        text.replace_range(range.clone(), instead);
        text
    }

    /// That it cannot be read there.
    pub(super) fn finding(self, range: &Range<usize>, what: String) -> Finding {
        rules::UNREADABLE_LINE.finds(self.span(range), what)
    }

    /// The first word, if it is one of those that rows and lengths stand behind; else nothing.
    pub(super) fn first(self) -> &'static str {
        ["row", "rows", "work", "follow", "rack"]
            .into_iter()
            .find(|first| self.text.strip_prefix(first).is_some_and(|rest| rest.starts_with([' ', '\t'])))
            .unwrap_or("")
    }
}

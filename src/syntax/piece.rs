//! The text that is being read, and the pairs that the grammar makes of it.

use super::grammar::Rule;
use crate::source::{FileId, Span};

/// A pair of the grammar: which rule, and its bytes in the piece of text that was parsed.
#[derive(Debug, Clone, Copy)]
pub(super) struct Token {
    /// The rule.
    pub(super) rule: Rule,
    /// First byte.
    pub(super) start: u32,
    /// One past the last byte.
    pub(super) end: u32,
}

/// The piece of text that is being read: several lines of the file.
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece<'t> {
    /// The file.
    pub(super) file: FileId,
    /// The lines.
    pub(super) text: &'t str,
    /// Where they start in the file.
    pub(super) base: u32,
}

impl<'t> Piece<'t> {
    /// The span of a byte range of the piece.
    pub(super) fn span(self, start: u32, end: u32) -> Span {
        Span { file: self.file, start: self.base + start, end: self.base + end }
    }

    /// The words of a token.
    pub(super) fn words(self, token: Token) -> &'t str {
        self.text.get(token.start as usize..token.end as usize).unwrap_or_default()
    }
}

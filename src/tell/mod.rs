//! From findings to text: for the terminal, one line each, or JSON. Everything here takes values and gives text or
//! writes to what it is handed; it opens nothing, and whether there is colour is decided by the caller.

pub mod clean;
mod excerpt;
pub mod json;
pub mod rule;
pub mod short;
pub mod summary;
pub mod terminal;
pub(crate) mod wrap;

use crate::finding::Severity;

/// Whether text for a terminal carries colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Colour {
    /// Text only.
    #[default]
    Plain,
    /// With the escape sequences that terminals read as colour.
    Coloured,
}

/// The word for a severity: `error` or `warning`.
const fn severity_word(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
    }
}

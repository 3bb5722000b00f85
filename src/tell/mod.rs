//! From findings to text: for the terminal, in sentences, one line each, or JSON. Everything here takes values and gives text or
//! writes to what it is handed; it opens nothing, and whether there is colour is decided by the caller.

pub mod annotation;
mod excerpt;
pub mod json;
mod parts;
pub mod plain;
pub mod rule;
pub mod sarif;
mod screen;
pub mod short;
mod snippet;
pub mod summary;
pub mod terminal;
pub(crate) mod wrap;

use crate::catalogue::Severity;
use crate::finding::Finding;
pub(crate) use screen::Ink;
pub use screen::Screen;

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

/// A finding as running text: what, why, what to do, and for which sizes.
fn sentence(finding: &Finding) -> String {
    let mut text = format!("{}.", finding.what);
    for part in [finding.why.as_str(), finding.mend.as_str()].into_iter().filter(|part| !part.is_empty()) {
        text.push(' ');
        text.push_str(part);
    }
    match finding.sizes.as_slice() {
        [] => {}
        sizes => text.push_str(&format!(" (Size {}.)", sizes.join(", "))),
    }
    text
}

//! The one place where the commands call the compiler.

use wale::finding::Finding;
use wale::plan::program::Program;
use wale::source::{Library, Sources};

/// What the compiler makes of a pattern.
#[derive(Debug, Clone, Default)]
pub(crate) struct Checked {
    /// The text and everything it uses.
    pub(crate) sources: Sources,
    /// One program for each size, in the order of the pattern.
    pub(crate) programs: Vec<Program>,
    /// What there is to mend, in the order in which it is told.
    pub(crate) findings: Vec<Finding>,
}

/// Checks one pattern.
///
/// The rooms of the compiler are not joined up yet: until they are, this takes the text in and has nothing to say of it.
/// `wale::check(name, text, library)` belongs here.
pub(crate) fn check(name: &str, text: &str, library: &dyn Library) -> Checked {
    let _ = library;
    let mut sources = Sources::default();
    sources.add(name, text);
    Checked { sources, ..Checked::default() }
}

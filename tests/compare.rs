//! `wale compare`: what is said of each kind of change, what must be true of all comparisons, and that the traces of two
//! patterns say the same.
#![allow(missing_docs, unreachable_pub, dead_code, clippy::unwrap_used, clippy::print_stdout)]

mod form;
mod laws;
mod sentences;

use crate::common::Examples;
use wale::compare::compare;
use wale::compare::form::Comparison;
use wale::tell::Colour;

fn checked(name: &str, text: &str) -> wale::Checked {
    wale::check(name, text, &Examples)
}

/// What changed between two texts.
fn between(old: &str, new: &str) -> Comparison {
    compare(&checked("old.wale", old), &checked("new.wale", new), None, None)
}

/// The same as it is read at the screen.
fn told(comparison: &Comparison) -> String {
    wale::compare::text::text(comparison, Colour::Plain)
}

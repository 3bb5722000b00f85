//! `divided-by-zero`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "divided-by-zero",
    severity: Severity::Error,
    summary: "A number is divided by 0.",
    why: "Nothing can be shared out among none. Mostly the number behind the stroke is a value that was not \
          meant to be 0.",
    source: "arithmetic",
    bad: "let tiles = 0
let width = 24 / tiles",
    good: "let tiles = 4
let width = 24 / tiles",
    looks_at: &[],
};

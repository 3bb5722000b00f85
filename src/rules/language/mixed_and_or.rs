//! `mixed-and-or`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "mixed-and-or",
    severity: Severity::Error,
    summary: "`and` and `or` stand together in one choice of needles.",
    why: "The choice could be read in two ways, and the two take different needles.",
    source: "the grammar of the language",
    bad: "let marked = leftmost 2 or rightmost 2 and L8-R8",
    good: "let edges = leftmost 2 or rightmost 2
let marked = edges and L8-R8",
    looks_at: &[],
};

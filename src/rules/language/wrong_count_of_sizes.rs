//! `wrong-count-of-sizes`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "wrong-count-of-sizes",
    severity: Severity::Error,
    summary: "A value is given for more sizes or for fewer than the pattern has.",
    why: "Values for several sizes stand in the order of the `sizes` line, the first one alone and the others \
          in brackets. With one too few, somebody's size is knitted by the numbers of another.",
    source: "the grammar of the language",
    bad: "sizes small, medium, large
let width = 20 (24)",
    good: "sizes small, medium, large
let width = 20 (24, 28)",
    looks_at: &[],
};

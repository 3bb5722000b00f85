//! `endless-definition`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "endless-definition",
    severity: Severity::Error,
    summary: "A value or a stitch is made of itself.",
    why: "What is worked out from itself never comes to an end. A pattern always ends: what comes again is \
          written as a repeat, with the number of times.",
    source: "the grammar of the language",
    bad: "let length = width * 2
let width = length / 2",
    good: "let length = width * 2
let width = 30 cm",
    looks_at: &[],
};

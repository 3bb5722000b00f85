//! `unknown-name`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "unknown-name",
    severity: Severity::Error,
    summary: "A name is used that nothing in the pattern has.",
    why: "Mostly it is misspelt, or the file in which it stands is not used.",
    source: "the grammar of the language",
    bad: "let cuff = 24
let hand = cuf + 8",
    good: "let cuff = 24
let hand = cuff + 8",
    looks_at: &[],
};

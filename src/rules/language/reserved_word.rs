//! `reserved-word`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "reserved-word",
    severity: Severity::Error,
    summary: "A word of the language is used as a name.",
    why: "A line with that name in it could be read in two ways.",
    source: "the grammar of the language",
    bad: "let needles = 24",
    good: "let cuff-needles = 24",
    looks_at: &[],
};

//! `duplicate-name`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "duplicate-name",
    severity: Severity::Error,
    summary: "One name is given to two things.",
    why: "Where the name is used nobody could tell which of the two is meant: the one that stands first, or \
          the one that was added later and forgotten.",
    source: "the grammar of the language",
    bad: "let width = 20
let width = 24",
    good: "let cuff-width = 20
let hand-width = 24",
    looks_at: &[],
};

//! `empty-row`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "empty-row",
    severity: Severity::Error,
    summary: "A row does not say what any bed does.",
    why: "A bed that is not named slips. When none is named the carriage goes across and knits nothing, and \
          that is hardly what is meant.",
    source: "the grammar of the language",
    bad: "in work front L3-R3
thread slate
cast on wound front
row loosened 1
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
row front knit, loosened 1
bind off front",
    looks_at: &[],
};

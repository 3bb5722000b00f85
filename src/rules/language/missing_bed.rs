//! `missing-bed`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "missing-bed",
    severity: Severity::Error,
    summary: "A line does not say which bed it is about.",
    why: "Front and back are two different things to do at the machine, and a guess would be wrong half of the \
          time.",
    source: "the grammar of the language",
    bad: "in work front L3-R3
thread slate
cast on wound front
row knit
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
row front knit
bind off front",
    looks_at: &[],
};

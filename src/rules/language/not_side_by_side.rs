//! `not-side-by-side`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "not-side-by-side",
    severity: Severity::Error,
    summary: "Needles that must stand side by side have others between them.",
    why: "Two groups that cross change places over each other, and a picture of needles is laid over them one \
          after the other. With a gap between there is a needle of which nothing is said.",
    source: "the grammar of the language",
    bad: "in work front L3-R3
thread slate
cast on wound front
cross front L3-L2 over R1-R2
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
cross front L2-L1 over R1-R2
bind off front",
    looks_at: &[],
};

//! `one-bed`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "one-bed",
    severity: Severity::Error,
    summary: "A line that is about one bed names both, or leads from a bed to itself.",
    why: "A transfer goes from one bed to the other; `both` leaves open where the stitches come from and where \
          they go.",
    source: "the grammar of the language",
    bad: "in work front L3-R3
thread slate
cast on wound front
cross both L2-L1 over R1-R2
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
cross front L2-L1 over R1-R2
bind off front",
    looks_at: &[],
};

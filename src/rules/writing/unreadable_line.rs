//! `unreadable-line`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "unreadable-line",
    severity: Severity::Error,
    summary: "A line is like no line that the language knows.",
    why: "A line that cannot be read is left out, and everything after it would be knitted as if it were not \
          there. All other lines are still read and checked.",
    source: "the grammar of the language",
    bad: "in work front L3-R3
thread slate
cast on wound front
row the front bed
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
row front knit
bind off front",
    looks_at: &[],
};

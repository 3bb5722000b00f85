//! `not-there-yet`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "not-there-yet",
    severity: Severity::Error,
    summary: "The line is understood, but this version of wale cannot work it out yet.",
    why: "Rather than leave the line out in silence and knit something else, the pattern is refused until the \
          moves are written out.",
    source: "the state of this version",
    bad: "in work front L3-R3
thread slate
cast on wound front
arrange back L3-R3
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
gaiting opposite
in work back L3-R3
row front knit, loosened 1
transfer front to back
bind off back",
    looks_at: &[],
};

//! `hand-only`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "hand-only",
    severity: Severity::Error,
    summary: "The transfer carriage is asked for a move that only the hand tool can make.",
    why: "A transfer carriage takes stitches straight across to the needles that face them. To the side, and \
          within one bed, stitches go by the hand tool.",
    source: "common practice, no source",
    bad: "in work front L3-R3
thread slate
cast on wound front
move front L3 1 right, joining, by carriage
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
move front L3 1 right, joining, by hand
bind off front",
    looks_at: &[],
};

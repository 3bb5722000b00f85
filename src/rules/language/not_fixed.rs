//! `not-fixed`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "not-fixed",
    severity: Severity::Error,
    summary: "Needles that must be named one by one are picked by what is on the beds.",
    why: "`loaded`, `leftmost 2` and the like mean other needles each time the line is reached. Where stitches \
          cross or change places the needles must be the same each time.",
    source: "the grammar of the language",
    bad: "in work front L3-R3
thread slate
cast on wound front
cross front leftmost 1 over L2
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
cross front L3 over L2
bind off front",
    looks_at: &[],
};

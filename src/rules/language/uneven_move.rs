//! `uneven-move`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "uneven-move",
    severity: Severity::Error,
    summary: "Stitches are moved to needles that are more, fewer, or spaced otherwise.",
    why: "In one move every stitch goes the same way by the same number of needles.",
    source: "the grammar of the language",
    bad: "in work front L3-R3
thread slate
cast on wound front
in work front R4-R5
move front R2-R3 to front R4
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
in work front R4-R5
move front R2-R3 to front R4-R5
bind off front",
    looks_at: &[],
};

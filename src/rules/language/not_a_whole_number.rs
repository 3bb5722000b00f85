//! `not-a-whole-number`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "not-a-whole-number",
    severity: Severity::Error,
    summary: "Half a row, half a stitch or half a repeat is asked for.",
    why: "Rows, stitches and repeats are counted, and there are no halves of them. Mostly a division did not \
          come out even.",
    source: "follows from counting",
    bad: "in work front L3-R3
thread slate
cast on wound front
repeat 5 / 2 times {
    row front knit
}
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
repeat 6 / 2 times {
    row front knit
}
bind off front",
    looks_at: &[],
};

//! `missing-block`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "missing-block",
    severity: Severity::Error,
    summary: "A line that opens something is not followed by the lines that belong to it.",
    why: "A piece, a repeat, a stitch or a machine is said by several lines, and the braces show which of them \
          belong to it. Without them nobody can see where a repeat ends.",
    source: "the grammar of the language",
    bad: "in work front L3-R3
thread slate
cast on wound front
repeat 4 times
row front knit
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
repeat 4 times {
    row front knit
}
bind off front",
    looks_at: &[],
};

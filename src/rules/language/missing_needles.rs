//! `missing-needles`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "missing-needles",
    severity: Severity::Error,
    summary: "A line names a bed and not the needles of it that are meant.",
    why: "Where stitches are on the needles `front` can mean all of them. Where needles are brought into work \
          or wound anew there is nothing yet to go by.",
    source: "the grammar of the language",
    bad: "in work front L3-R3
in work back
thread slate
cast on wound front
row front knit
bind off front",
    good: "in work front L3-R3
in work back L3-R3
thread slate
cast on wound front
row front knit
bind off front",
    looks_at: &[],
};

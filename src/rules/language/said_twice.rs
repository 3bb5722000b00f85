//! `said-twice`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "said-twice",
    severity: Severity::Error,
    summary: "One line, or one block, says the same thing twice, and perhaps differently.",
    why: "It would be left open which of the two counts.",
    source: "the grammar of the language",
    bad: "in work front L3-R3
thread slate
cast on wound front
row front knit, front tuck
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
row front tuck on L2, knit elsewhere
row front knit
bind off front",
    looks_at: &[],
};

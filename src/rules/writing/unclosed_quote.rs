//! `unclosed-quote`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "unclosed-quote",
    severity: Severity::Error,
    summary: "Words in quotation marks begin and do not end on the same line.",
    why: "The marks show where the words for the knitter begin and where they end, so that nothing in them is \
          taken for an instruction.",
    source: "the grammar of the language",
    bad: "in work front L3-R3
thread slate
cast on wound front
note \"Move the weights up.
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
note \"Move the weights up.\"
bind off front",
    looks_at: &[],
};

//! `control-character`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "control-character",
    severity: Severity::Error,
    summary: "A character that steers a printer or a screen stands in the text.",
    why: "It cannot be seen, and it means nothing to a knitter. Where one turns up the file is often damaged, \
          or it is no text at all.",
    source: "the grammar of the language",
    bad: "note \"Move the weights up.\u{7}\"",
    good: "note \"Move the weights up.\"",
    looks_at: &[],
};

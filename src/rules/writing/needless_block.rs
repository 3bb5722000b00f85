//! `needless-block`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "needless-block",
    severity: Severity::Error,
    summary: "Braces follow a line that needs none, or stand behind no line at all.",
    why: "Braces hold what belongs to the line before them. Where that line says everything by itself, it is \
          not clear what the lines inside are meant to do: be worked once, be repeated, or wait.",
    source: "the grammar of the language",
    bad: "in work front L3-R3
thread slate
cast on wound front
rows 4 front knit {
    note \"Move the weights up.\"
}
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
rows 4 front knit
note \"Move the weights up.\"
bind off front",
    looks_at: &[],
};

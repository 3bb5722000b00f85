//! `unclosed-brace`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "unclosed-brace",
    severity: Severity::Error,
    summary: "A block is opened and never closed.",
    why: "Without its closing brace everything that follows seems to belong to the block: the lines of the \
          next section, the next piece, the whole rest of the pattern.",
    source: "the grammar of the language",
    bad: "in work front L3-R3
thread slate
cast on wound front
section \"Hem\" {
    rows 4 front knit
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
section \"Hem\" {
    rows 4 front knit
}
bind off front",
    looks_at: &[],
};

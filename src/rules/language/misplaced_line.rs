//! `misplaced-line`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "misplaced-line",
    severity: Severity::Error,
    summary: "A line stands where lines of its kind have no place.",
    why: "What describes the machine stands with the machine, and what is knitted stands in a piece. Mostly a \
          brace was closed too early or too late.",
    source: "the grammar of the language",
    bad: "machine club {
    needles 90 each side
}
pitch 5 mm",
    good: "machine club {
    needles 90 each side
    pitch 5 mm
}",
    looks_at: &[],
};

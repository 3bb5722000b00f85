//! `missing-line`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "missing-line",
    severity: Severity::Error,
    summary: "A machine, a gauge or a chart leaves out the line that it cannot do without.",
    why: "Without its number of needles nobody knows whether a piece fits the machine, without its count a \
          gauge measures nothing, and a chart without lines has no rows.",
    source: "the grammar of the language",
    bad: "machine club {
    pitch 5 mm
}",
    good: "machine club {
    needles 90 each side
    pitch 5 mm
}",
    looks_at: &[],
};

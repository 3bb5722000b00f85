//! `too-deep`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "too-deep",
    severity: Severity::Error,
    summary: "Blocks, stitches or values stand inside one another more often than anybody could follow.",
    why: "A repeat in a repeat in a repeat is hard to keep count of at the machine. A part with a name of its \
          own is read once and then only named.",
    source: "our own limit of 64",
    bad: "",
    good: "",
    looks_at: &[],
};

//! `circular-use`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "circular-use",
    severity: Severity::Warning,
    summary: "A file uses itself, directly or by way of other files.",
    why: "Each file is read once, so nothing is lost. But of two files that use each other neither can be \
          understood or lent out alone.",
    source: "the grammar of the language",
    bad: "# This line stands in the file breakwater.wale.
use \"breakwater.wale\"",
    good: "# This line stands in the file breakwater.wale.
use \"net-loft.wale\"",
    looks_at: &[],
};

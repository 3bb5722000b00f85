//! `unreadable-file`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "unreadable-file",
    severity: Severity::Error,
    summary: "A file that the pattern uses cannot be read.",
    why: "Everything that it should bring, a machine or a stitch, is missing then, and whatever rests on it \
          cannot be checked.",
    source: "the file itself",
    bad: "use \"net-lofft.wale\"",
    good: "use \"net-loft.wale\"",
    looks_at: &[],
};

//! `not-tidied`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "not-tidied",
    severity: Severity::Error,
    summary: "A text was not tidied, because it would have become too long or have lost something.",
    why: "Before a tidy text takes the place of the old one it is read again and compared, word for word. If one word or \
          comment were missing, or if it were too long to be read, the old one stays.",
    source: "our own limit of 64 MiB for a text",
    bad: "",
    good: "",
    looks_at: &[],
};

//! `not-tidied`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "not-tidied",
    severity: Severity::Error,
    summary: "A text was not tidied, so that nothing in it is lost.",
    why: "A text of which more lines cannot be read than can is perhaps no pattern, and may need its blanks. And before a \
          tidy text takes the place of the old one it is read again and compared, word for word: if a word or a comment \
          were missing, or if the text had become too long to be read, the old one stays.",
    source: "the text itself; our own limit of 64 MiB for a text",
    bad: "",
    good: "",
    looks_at: &[],
};

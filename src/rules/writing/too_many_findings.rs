//! `too-many-findings`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "too-many-findings",
    severity: Severity::Error,
    summary: "There is so much to mend that only the first part is listed.",
    why: "Nobody reads hundreds of messages, and the first ones often cause the rest. Perhaps the file is no \
          pattern at all.",
    source: "our own limits: 200 for the reading of one text, 500 for the playing of one piece, 5000 for the working out of one size",
    bad: "",
    good: "",
    looks_at: &[],
};

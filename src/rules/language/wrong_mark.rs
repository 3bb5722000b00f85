//! `wrong-mark`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "wrong-mark",
    severity: Severity::Error,
    summary: "A picture of needles holds something else than `|` and `.`.",
    why: "In a picture `|` takes a needle and `.` leaves it. Another mark says nothing about its needle.",
    source: "the grammar of the language",
    bad: "let ribs = \"X.X.\"",
    good: "let ribs = \"|.|.\"",
    looks_at: &[],
};

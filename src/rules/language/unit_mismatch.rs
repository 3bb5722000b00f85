//! `unit-mismatch`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "unit-mismatch",
    severity: Severity::Error,
    summary: "Two things are put together that are not of one kind, such as rows and centimetres.",
    why: "40 rows and 10 cm cannot be added: how long a row is, only a gauge says. Units keep a number of \
          stitches from being taken for a length.",
    source: "follows from the meaning of the units",
    bad: "let length = 40 rows + 10 cm",
    good: "let length = 20 cm + 10 cm",
    looks_at: &[],
};

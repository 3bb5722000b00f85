//! `uneven-chart`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "uneven-chart",
    severity: Severity::Error,
    summary: "The lines of a chart are not equally long.",
    why: "Every line of a chart is laid over the same needles, one mark to a needle. A line that is shorter \
          would slide to one side.",
    source: "the grammar of the language",
    bad: "chart wave {
    \"|..|\"
    \"||.\"
}",
    good: "chart wave {
    \"|..|\"
    \"||..\"
}",
    looks_at: &[],
};

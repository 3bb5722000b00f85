//! `out-of-range`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "out-of-range",
    severity: Severity::Error,
    summary: "A number is outside of what makes sense for what it counts.",
    why: "Such a number is mostly a slip of the pen: a unit that is wrong, a digit left out, two numbers the \
          wrong way round.",
    source: "the grammar of the language",
    bad: "machine club {
    needles 90 each side
    pitch 5 cm
}",
    good: "machine club {
    needles 90 each side
    pitch 5 mm
}",
    looks_at: &[],
};

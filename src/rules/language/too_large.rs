//! `too-large`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "too-large",
    severity: Severity::Error,
    summary: "A number is so large that it cannot be worked with, or so fine.",
    why: "It is far past anything that can be knitted, so it is mostly a slip: a digit too many, or a wrong \
          unit.",
    source: "our own limits",
    bad: "machine club {
    needles 900 each side
}",
    good: "machine club {
    needles 90 each side
}",
    looks_at: &[],
};

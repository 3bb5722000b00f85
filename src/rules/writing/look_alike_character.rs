//! `look-alike-character`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "look-alike-character",
    severity: Severity::Error,
    summary: "A character looks like the one that is meant and is another one: a curly quotation mark, a long dash, a letter of another script.",
    why: "On paper the two are the same, and the eye cannot tell them apart. They come in when text is copied \
          from a web page or a word processor that makes typing prettier.",
    source: "the grammar of the language",
    bad: "pattern \u{201c}Breakwater scarf\u{201d}",
    good: "pattern \"Breakwater scarf\"",
    looks_at: &[],
};

//! `no-machine`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "no-machine",
    severity: Severity::Error,
    summary: "It is not said on which machine a piece is knitted.",
    why: "Whether a row can be knitted depends on the machine: how many needles it has, how far its beds rack, \
          which of them can pick needles.",
    source: "the grammar of the language",
    bad: "machine club { needles 90 each side }
machine attic { needles 56 each side }
piece \"Strap\" {
    note \"Knit it last.\"
}",
    good: "machine club { needles 90 each side }
machine attic { needles 56 each side }
piece \"Strap\" on club {
    note \"Knit it last.\"
}",
    looks_at: &[],
};

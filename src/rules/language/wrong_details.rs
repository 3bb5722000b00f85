//! `wrong-details`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "wrong-details",
    severity: Severity::Error,
    summary: "What is told to a stitch in brackets is not what its definition asks for.",
    why: "A stitch can leave open a number or some needles until it is worked. Each of these must be told \
          once, by its name, and be of the right kind.",
    source: "the grammar of the language",
    bad: "stitch ridge (depth rows) on front {
    rows depth front knit
}
piece \"Strap\" {
    in work front L3-R3
    thread slate
    cast on wound front
    work ridge
    bind off front
}",
    good: "stitch ridge (depth rows) on front {
    rows depth front knit
}
piece \"Strap\" {
    in work front L3-R3
    thread slate
    cast on wound front
    work ridge (depth 4 rows)
    bind off front
}",
    looks_at: &[],
};

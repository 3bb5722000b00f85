//! `no-rows`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "no-rows",
    severity: Severity::Error,
    summary: "A stitch without any row is to be worked for a length or for a number of rows.",
    why: "However often it is worked, the fabric does not grow, so the length is never reached.",
    source: "follows from the meaning of a length",
    bad: "stitch sway on both {
    rack 1 right
    rack to centre
}
piece \"Cuff\" {
    in work front L3-R3, back L3-R3
    thread slate
    cast on zigzag
    work sway for 8 rows
    bind off both
}",
    good: "stitch sway on both {
    rack 1 right
    row both knit
    rack to centre
    row both knit
}
piece \"Cuff\" {
    in work front L3-R3, back L3-R3
    thread slate
    cast on zigzag
    work sway for 8 rows
    bind off both
}",
    looks_at: &[],
};

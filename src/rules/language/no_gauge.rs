//! `no-gauge`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "no-gauge",
    severity: Severity::Error,
    summary: "A stitch is worked for a length, and no gauge says how many rows that is.",
    why: "The same stitch is longer or shorter in every yarn, at every stitch size and on every machine. Only \
          a swatch, rested and washed as the piece will be, tells how many rows make the length.",
    source: "the swatch (`gauge`)",
    bad: "stitch plain on front {
    row front knit
}
piece \"Strap\" {
    in work front L3-R3
    thread slate
    cast on wound front
    work plain for 40 cm
    bind off front
}",
    good: "gauge plain { 28 stitches and 40 rows in 10 cm, washed }
stitch plain on front {
    row front knit
}
piece \"Strap\" {
    in work front L3-R3
    thread slate
    cast on wound front
    work plain for 40 cm
    bind off front
}",
    looks_at: &[],
};

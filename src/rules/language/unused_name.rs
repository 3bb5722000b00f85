//! `unused-name`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "unused-name",
    severity: Severity::Warning,
    summary: "A yarn, a value, a stitch or a chart has a name, and no line uses it.",
    why: "It is mostly what remains of a line that was left out, or that names something else: the stitch that is never \
          worked, the yarn that was never threaded. Only whole patterns with a title are looked at, and only what they \
          declare themselves: a file that is used may offer more than is taken.",
    source: "follows from the text",
    bad: "pattern \"Cuff\"
yarn slate {}
yarn ember {}
piece \"Cuff\" {
    in work front L3-R3
    thread slate
    cast on wound front
    row front knit
    bind off front
}",
    good: "pattern \"Cuff\"
yarn slate {}
yarn ember {}
piece \"Cuff\" {
    in work front L3-R3
    thread slate
    cast on wound front
    thread ember
    row front knit
    bind off front
}",
    looks_at: &[],
};

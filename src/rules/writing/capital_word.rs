//! `capital-word`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "capital-word",
    severity: Severity::Error,
    summary: "A word is written with a capital letter where the language has a small one, or the other way round.",
    why: "Every word is written in one way only, so that a line looks the same in every pattern and can be \
          found again. Needles have capitals, L and R, so that `l1` is not taken for `11`; some units of yarn \
          counts have them too, as the trade writes them.",
    source: "the grammar of the language",
    bad: "in work front L3-R3
thread slate
cast on wound front
Row front knit
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
row front knit
bind off front",
    looks_at: &[],
};

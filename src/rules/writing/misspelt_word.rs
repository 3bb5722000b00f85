//! `misspelt-word`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "misspelt-word",
    severity: Severity::Error,
    summary: "A word is not known, and one that is very like it could stand there.",
    why: "A word with a slip in it could be meant in more than one way, and a guess that is wrong costs a \
          piece. So the line is left out until it is mended, by you or by `wale check --mend` where the word leaves no \
          choice.",
    source: "the grammar of the language",
    bad: "in work front L3-R3
thread slate
cast on wound front
row front knitt
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
row front knit
bind off front",
    looks_at: &[],
};

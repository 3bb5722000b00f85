//! `merge-marker`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "merge-marker",
    severity: Severity::Error,
    summary: "Two versions of the same lines stand one below the other, with the marks of an unfinished merge between them.",
    why: "When two people have changed the same lines, the tool that brings their work together leaves both in \
          the file and marks them. Somebody has to choose: knitted as it stands, the piece would have the rows \
          of both.",
    source: "the marks that common version control tools leave in a text",
    bad: "in work front L3-R3\n\
          thread slate\n\
          cast on wound front\n\
          <<<<<<< from Monday\n\
          rows 40 front knit\n\
          =======\n\
          rows 44 front knit\n\
          >>>>>>> from Thursday\n\
          bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
rows 44 front knit
bind off front",
    looks_at: &[],
};

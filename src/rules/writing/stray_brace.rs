//! `stray-brace`

use crate::finding::Severity;
use crate::rules::Rule;

pub(crate) static RULE: Rule = Rule {
    name: "stray-brace",
    severity: Severity::Error,
    summary: "A closing brace closes nothing.",
    why: "Every `}` ends the block that was opened last. One too many means that a block ended earlier than \
          its writer thought, and the lines after it stand in the wrong place.",
    source: "the grammar of the language",
    bad: "yarn slate {
    colour \"slate grey\"
}
}",
    good: "yarn slate {
    colour \"slate grey\"
}",
    looks_at: &[],
};

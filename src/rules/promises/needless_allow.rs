//! `needless-allow`

use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::rules::{Besides, Facts, Watch};
use crate::source::Span;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "needless-allow",
        severity: Severity::Warning,
        summary: "An `allow` silences a rule that finds nothing in its block.",
        why: "What is silenced without need hides the next real mistake in the same place.",
        source: "follows from the findings",
        bad: "in work front L3-R3
thread slate
cast on wound front
allow long-float because \"the floats are hooked up\" {
    row front knit
}
bind off front",
        good: "in work front L8-R8
thread slate
cast on wound front
allow long-float because \"the floats are hooked up\" {
    row front slip on L4-R4, knit elsewhere
}
row front knit
bind off front",
    },
    looks_at: &[],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS.and(Facts::ALL_LOOPS).and(Facts::SIDE).and(Facts::RACKING).and(Facts::EVERY_ROW),
    besides: Besides::NOTHING,
};

/// The finding for an `allow` of that rule that silenced nothing.
pub(in crate::rules) fn needless_allow(rule: &str, span: Span) -> Finding {
    RULE.finds(span, format!("`{rule}` finds nothing in this block"))
        .marked("allowed here")
        .because("Nothing in the block breaks that rule, so there is nothing to allow.")
        .mend("Take the `allow` and its braces out, and leave what stands inside.")
}

/// The finding for an `allow` of a rule about the text itself, which cannot be silenced.
pub(in crate::rules) fn idle_allow(rule: &str, span: Span) -> Finding {
    RULE.finds(span, format!("`{rule}` cannot be allowed"))
        .marked("allowed here")
        .because("It is about how the pattern is written, and a line that cannot be understood cannot be knitted. Only what is found while the rows are played can be allowed.")
        .mend("Mend what it finds, take the `allow` and its braces out, and leave what stands inside.")
}

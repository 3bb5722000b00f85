//! `no-yarn`

use crate::beds::{Handled, Operation, RowDone};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Stands, Watch};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "no-yarn",
        severity: Severity::Error,
        summary: "The carriage passes and no yarn is threaded.",
        why: "A carriage that passes without yarn knits every stitch off its needle: the whole piece lies on the floor.",
        source: "common practice, no source",
        bad: "in work front L3-R3, back L3-R3
cast on zigzag
bind off both",
        good: "in work front L3-R3, back L3-R3
thread slate
cast on zigzag
bind off both",
    },
    looks_at: &[LooksAt::Row(row), LooksAt::Handled(handled)],
    disturbs: Facts::NONE,
    rests_on: Facts::EVERY_ROW,
    besides: Besides {
        stands: Stands::UntilSetAnew(|operation| matches!(operation, Operation::Thread(_))),
        ..Besides::NOTHING
    },
};

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    (row.no_yarn && !(row.knit.is_empty() && row.tuck.is_empty())).then(|| found(moment))
}

fn handled(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    (handled.no_yarn && !handled.made.is_empty()).then(|| found(moment))
}

fn found(moment: &Moment<'_>) -> Finding {
    RULE.finds(moment.span, "there is no yarn in the feeder")
        .marked("needs yarn")
        .because("No `thread` line comes before this one in the piece.")
        .mend("Name a yarn before it, for example `thread slate`, and declare the yarn at the top of the pattern with `yarn slate {}`.")
}

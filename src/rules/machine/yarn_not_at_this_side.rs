//! `yarn-not-at-this-side`

use crate::beds::{Handled, RowDone, Side};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Watch};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "yarn-not-at-this-side",
        severity: Severity::Warning,
        summary: "A row begins on one side and its yarn was left hanging on the other.",
        why: "The yarn stays on the side where its last row ended. Threaded from the other side it lies across the whole \
              fabric as one long float, or it has to be cut and joined anew. So a colour gets an even number of rows, or the \
              carriage comes back for it.",
        source: "follows from the count of rows; that a colour gets an even number of rows is common practice, no source",
        bad: "yarn slate {}
yarn foam {}
piece \"Example\" {
    in work front L3-R3
    thread slate
    cast on wound front
    rows 2 front knit
    thread foam
    row front knit
    thread slate
    row front knit
    bind off front
}",
        good: "yarn slate {}
yarn foam {}
piece \"Example\" {
    in work front L3-R3
    thread slate
    cast on wound front
    rows 2 front knit
    thread foam
    rows 2 front knit
    thread slate
    row front knit
    bind off front
}",
    },
    looks_at: &[LooksAt::Row(row), LooksAt::Handled(cast_on)],
    disturbs: Facts::NONE,
    rests_on: Facts::SIDE.and(Facts::EVERY_ROW),
    besides: Besides::NOTHING,
};

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    found(moment, row.toward, row.began?.side)
}

/// A cast-on by the carriage is a row too.
fn cast_on(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    found(moment, moment.state.carriage, handled.began?.side)
}

fn found(moment: &Moment<'_>, toward: Side, lies: Side) -> Option<Finding> {
    let start = toward.other();
    if lies == start {
        return None;
    }
    Some(
        RULE.finds(moment.span, format!("the yarn of this row hangs on the {lies}, and the row begins on the {start}"))
            .marked(format!("goes to the {toward} from the {start}"))
            .because(format!(
                "The last row of this yarn ended on the {lies}. The carriage has since gone to the {start} without it."
            ))
            .mend(format!(
                "Give each yarn an even number of rows, or take the carriage to the {lies} for it with `free pass`; or cut it and begin anew on the {start}: `cut yarn` on a line before this one."
            )),
    )
}

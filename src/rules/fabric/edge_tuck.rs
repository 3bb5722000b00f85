//! `edge-tuck`

use crate::beds::{Both, RowDone};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Watch};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "edge-tuck",
        severity: Severity::Warning,
        summary: "The last needle that the carriage meets in a row tucks, and its loop pulls out on the way back.",
        why: "Nothing holds a tuck on the last needle of a row: when the carriage comes back the yarn is pulled and the \
              loop leaves the hook. The edge goes slack or drops. So the last needle of a tucking row knits.",
        source: "D. J. Spencer, Knitting Technology, 3rd ed., 2001, ch. 18: the last needle in action must be on the \
                 other bed, knitting, because a tuck on it pulls out on the return",
        bad: "in work front L2-R3, back L3-R3
thread slate
cast on zigzag
row front knit, back tuck
row both knit
bind off both",
        good: "in work front L3-R3, back L3-R3
thread slate
cast on zigzag
row front knit, back tuck
row both knit
bind off both",
    },
    looks_at: &[LooksAt::Row(row)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS.and(Facts::SIDE).and(Facts::RACKING).and(Facts::EVERY_ROW),
    besides: Besides::NOTHING,
};

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    // A row in which nothing knits is for `unsupported-tuck`.
    if row.tuck.is_empty() || row.knit.is_empty() {
        return None;
    }
    // Only the end of the path matters, so the outermost acting needle of each bed is enough.
    let outermost = Both::from_fn(|bed| {
        let acting = row.acting(bed);
        let end = if row.toward == crate::beds::Side::Right { acting.last() } else { acting.first() };
        end.into_iter().collect()
    });
    let path = moment.state.yarn_path(moment.machine, &outermost, row.toward);
    let &(place, bed, needle) = path.last()?;
    let shared = path.iter().any(|&(other, other_bed, _)| other == place && other_bed != bed);
    if shared || !row.tuck[bed].contains(needle) {
        return None;
    }
    Some(
        RULE.finds(moment.span, format!("{bed} {needle} tucks at the end of the row"))
            .marked(format!("the carriage goes to the {}", row.toward))
            .because(format!("It is the last needle that takes the yarn on the {}, so nothing holds its loop when the carriage comes back.", row.toward))
            .mend(format!("Let {bed} {needle} knit in this row, or set the beds out so that the last needle on the {} stands on the bed that knits.", row.toward)),
    )
}

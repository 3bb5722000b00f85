//! `held-at-carriage-side`

use crate::beds::{Bed, Both, NeedleSet, Operation, RowDone, Side};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Stands, Watch, picture};
use crate::words::count;
use crate::words::spans::needles;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "held-at-carriage-side",
        severity: Severity::Warning,
        summary: "A row begins with the yarn lying across several held needles.",
        why: "The yarn hangs at the stitch where the last row ended. Needles that are put to hold there, on the side of the \
              carriage, are passed by: the yarn lies across them as a long loop, and the turn shows. On the other side any \
              number can be held; on the side of the carriage at most one, which the yarn then wraps.",
        source: "common practice, no source",
        bad: "in work front L8-R8
thread slate
cast on wound front
rows 2 front knit
hold front L8-L5
rows 2 front knit
release front
rows 2 front knit
bind off front",
        good: "in work front L8-R8
thread slate
cast on wound front
rows 2 front knit
hold front R5-R8
rows 2 front knit
release front
rows 2 front knit
bind off front",
    },
    looks_at: &[LooksAt::Row(row)],
    disturbs: Facts::CLEAR_YARN,
    rests_on: Facts::SIDE.and(Facts::EVERY_ROW),
    besides: Besides {
        // Short rows hold more needles row by row; they are over when needles are released.
        stands: Stands::UntilSetAnew(|operation| matches!(operation, Operation::Release(_))),
        ..Besides::NOTHING
    },
};

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    let state = moment.state;
    if state.held.is_empty() {
        return None;
    }
    let [from, to] = row.start(moment.machine, state.standing())?;
    // Forward is the way the carriage goes.
    let sign = if row.toward == Side::Right { 1 } else { -1 };
    let passed: Both<NeedleSet> = Both::from_fn(|bed| {
        let lies = |needle| {
            let place = sign * state.half_pitches(moment.machine, bed, needle);
            place >= sign * from.0 && place < sign * to.0
        };
        (state.held[bed] & state.loops.loaded(bed)).iter().filter(|&needle| lies(needle)).collect()
    });
    let number = passed.front.len().max(passed.back.len());
    if number < 2 {
        return None;
    }
    let (bed, first) = passed.iter().find_map(|(bed, set)| Some((bed, set.first()?)))?;
    let (side, other): (Side, Side) = (row.toward.other(), row.toward);
    let (from_bed, from_needle): (Bed, _) = (from.1, from.2);
    let mut finding = RULE
        .finds(moment.span, format!("the yarn lies across {}, held on the {side}", needles(&passed)))
        .marked(format!("this row begins on the {side}"))
        .because(format!(
            "It hangs at {from_bed} {from_needle}, where the last row ended, and the first needle to take it is {} {}: {} in between.",
            to.1,
            to.2,
            count(passed.len(), "held needle lies", "held needles lie")
        ))
        .mend(format!(
            "Put them to hold one row earlier or later, while the carriage stands on the {other}; or knit this part with a yarn of its own and say so with `allow held-at-carriage-side because \"...\"`."
        ));
    finding.picture = Some(picture::around(moment.machine, state, bed, first));
    Some(finding)
}

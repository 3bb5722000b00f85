//! `needle-in-the-way`

use crate::beds::{Bed, Both, Gaiting, Handled, NeedleSet, RowDone};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::cause::{Line, who};
use crate::rules::memory::{Deed, Memory};
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch, picture};
use crate::words::count;
use crate::words::spans::written;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "needle-in-the-way",
        severity: Severity::Error,
        summary: "A held needle stands forward, face to face with a needle of the other bed that works.",
        why: "A held needle stays far forward in its bed, across the gap. At opposite gaiting the needle that faces it comes \
              forward into it: hooks catch, needles bend and the carriage jams.",
        source: "common practice, no source",
        bad: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
cast on wound back
gaiting opposite
hold front R2-R3
row back knit
release front
gaiting between
row both knit
bind off both",
        good: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
cast on wound back
gaiting between
hold front R2-R3
row back knit
release front
row both knit
bind off both",
    },
    looks_at: &[LooksAt::Row(row), LooksAt::Handled(cast_on)],
    disturbs: Facts::NONE,
    rests_on: Facts::RACKING,
    besides: Besides { cause: Some(cause), ..Besides::NOTHING },
};

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    may_meet(moment).then(|| found(moment, &Both::from_fn(|bed| row.acting(bed))))?
}

/// A cast-on by the carriage is a row too.
fn cast_on(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    (handled.by_carriage && may_meet(moment)).then(|| found(moment, &handled.made))?
}

fn may_meet(moment: &Moment<'_>) -> bool {
    !moment.state.held.is_empty() && moment.state.gaiting == Gaiting::Opposite
}

/// The lines that put those needles to hold, and those that took their stitches away since.
fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    let Seen::Done(moment) = seen else { return Vec::new() };
    let acting = match (seen.row(), seen.handled()) {
        (Some(row), _) => Both::from_fn(|bed| row.acting(bed)),
        (_, Some(handled)) => handled.made,
        _ => return Vec::new(),
    };
    let lines = Bed::BOTH.into_iter().flat_map(|bed| {
        let facing = moment.state.facing(moment.machine, bed.other(), acting[bed.other()]);
        let hit = moment.state.held[bed] & facing;
        let mut lines = who(memory, Deed::Held, bed, hit, "put to hold here");
        lines.extend(who(memory, Deed::Emptied, bed, hit - moment.state.loops.loaded(bed), "emptied here"));
        lines
    });
    lines.collect()
}

fn found(moment: &Moment<'_>, acting: &Both<NeedleSet>) -> Option<Finding> {
    let state = moment.state;
    Bed::BOTH.into_iter().find_map(|bed| {
        let working = acting[bed.other()];
        let hit = state.held[bed] & state.facing(moment.machine, bed.other(), working);
        let held = hit.first()?;
        let meets = state.facing(moment.machine, bed, [held].into_iter().collect()).first()?;
        let pairs = u64::from(hit.len());
        let bare = hit - state.loops.loaded(bed);
        let mut finding = RULE
            .finds(
                moment.span,
                format!("{bed} {held} is held forward, and {} {meets} works straight into it", bed.other()),
            )
            .marked(format!("{} in this row", count(pairs, "collision", "collisions")))
            .because(format!(
                "The gaiting is opposite, so these held needles stand face to face with working ones: {bed} {hit}."
            ))
            .mend(if bare.is_empty() {
                "Write `gaiting between` before the row, or hold the facing needles of the other bed too.".to_owned()
            } else {
                format!(
                    "Those that carry no stitch gave theirs away while they were held. Release first: write `release {}` \
                     before the row that is loosened for the transfer.",
                    written(&Both::only(bed, bare))
                )
            });
        finding.picture = Some(picture::around(moment.machine, state, bed, held));
        Some(finding)
    })
}

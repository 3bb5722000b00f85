//! `left-on-waste`

use super::too_few_to_pick_up::called;
use crate::beds::{NeedleSet, Operation, Pick, Waste};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::plan::program::{StepKind, Steps};
use crate::rules::search::last;
use crate::rules::{Besides, Facts, LooksAt, PieceDone, Watch};
use crate::source::Span;
use crate::words::count;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "left-on-waste",
        severity: Severity::Warning,
        summary: "Stitches are left on waste yarn: fewer are picked up than were taken off, or none of those with a name.",
        why: "Stitches on waste yarn wait. If the others are picked up and one is left, it runs down as soon as the waste \
              yarn is drawn out. A waste yarn with a name says that the work goes on with its stitches.",
        source: "follows from the count of stitches; that what is not locked runs is D. J. Spencer, Knitting Technology, \
                 3rd ed., 2001, ch. 7",
        bad: "in work front L3-R3
thread slate
cast on wound front
rows 2 front knit
onto waste yarn front
out of work front L3
pick up front L2-R3 from waste yarn
row front knit
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
rows 2 front knit
onto waste yarn front
pick up front L3-R3 from waste yarn
row front knit
bind off front",
    },
    looks_at: &[LooksAt::PieceEnd(end)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS,
    besides: Besides::NOTHING,
};

fn end(done: &PieceDone<'_>) -> Option<Finding> {
    let steps = &done.piece.steps;
    for here in done.piece.waste.iter().filter(|here| here.is_last) {
        let Some(left) = here.left(done.state, done.piece.make) else { continue };
        let Ok(left @ 1..) = u64::try_from(left) else { continue };
        if let Some(put) = put_onto(steps, &here.waste).or(here.put_by) {
            return Some(if here.is_used {
                not_all(done, &here.waste, left, put)
            } else {
                none(&here.waste, left, put)
            });
        }
    }
    // Without a name they may wait for the needle of whoever sews up; but not where the others were picked up.
    let left = done.state.on_waste(&Waste::PLAIN);
    let (put, (picked, _)) = put_onto(steps, &Waste::PLAIN).zip(picked_up(steps, &Waste::PLAIN))?;
    // What is taken off behind them is the end of the work.
    (left > 0 && put < picked).then(|| not_all(done, &Waste::PLAIN, left, put))
}

/// Some stitches of a waste yarn were picked up and others were not.
fn not_all(done: &PieceDone<'_>, waste: &Waste, left: u64, put: Span) -> Finding {
    let stay = if left == 1 { "1 stitch stays".to_owned() } else { format!("{left} stitches stay") };
    let named = match picked_up(&done.piece.steps, waste).and_then(|(_, needles)| needles) {
        Some(needles) => needles,
        None => "front L3-R3".to_owned(),
    };
    let mend = if waste.0.is_some() {
        format!(
            "Pick up {} more; or, where the rest is grafted or sewn by hand, take it off by a line of its own, without a \
             name: `onto waste yarn` with its needles.",
            count(left, "stitch", "stitches")
        )
    } else {
        format!(
            "Pick up {} more; or, where the rest is grafted or sewn by hand, give those that go on a waste yarn with a name: \
             `onto waste yarn {named} as \"waiting\"`, and later `pick up {named} from \"waiting\"`.",
            count(left, "stitch", "stitches")
        )
    };
    let mut finding = RULE
        .finds(put, format!("{stay} on {}", called(waste)))
        .marked("taken off here")
        .because(format!(
            "Others were picked up from it and knitted on; at the end of \"{}\" {} still there. What is left runs down when \
             the waste yarn is drawn out.",
            done.piece.title,
            count(left, "stitch is", "stitches are")
        ))
        .mend(mend);
    if let Some((span, _)) = picked_up(&done.piece.steps, waste) {
        finding = finding.also(span, "picked up here");
    }
    finding
}

/// Nothing is ever picked up from a waste yarn with a name.
fn none(waste: &Waste, left: u64, put: Span) -> Finding {
    let name = waste.0.as_deref().unwrap_or_default();
    let wait = if left == 1 { "1 stitch waits".to_owned() } else { format!("{left} stitches wait") };
    RULE.finds(put, format!("{wait} on {} and no line picks {} up", called(waste), if left == 1 { "it" } else { "them" }))
        .marked("taken off here")
        .because("A waste yarn with a name says that the work goes on with its stitches, in this piece or in a later one.")
        .mend(format!(
            "Pick them up where the work goes on: `pick up`, the needles, and `from \"{name}\"`; or, where they are grafted \
             or sewn by hand, take `as \"{name}\"` out."
        ))
}

/// The last line that takes stitches onto it.
fn put_onto(steps: &Steps, waste: &Waste) -> Option<Span> {
    let is = |operation: &Operation| matches!(operation, Operation::OntoWaste(_, onto) if onto == waste);
    last(steps, &is).map(|step| step.span)
}

/// The last line that picks up from it, and the needles where it names them one by one, as they may be typed.
fn picked_up(steps: &Steps, waste: &Waste) -> Option<(Span, Option<String>)> {
    let is =
        |operation: &Operation| matches!(operation, Operation::PickUp { from_waste: Some(from), .. } if from == waste);
    let step = last(steps, &is)?;
    let StepKind::Do(Operation::PickUp { targets, .. }) = &step.kind else { return None };
    let these = |pick: &Option<Pick>| match pick {
        None => Some(NeedleSet::EMPTY),
        Some(Pick::These(needles)) => Some(*needles),
        Some(_) => None,
    };
    let needles = these(&targets.front).zip(these(&targets.back));
    let written = needles.map(|(front, back)| crate::words::spans::written(&crate::beds::Both { front, back }));
    Some((step.span, written))
}

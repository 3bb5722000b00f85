//! `far-move`

use crate::beds::{Bed, Both, Carried, Handled, NeedleSet, Operation};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Watch};
use crate::words::count;
use crate::words::spans::written;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "far-move",
        severity: Severity::Warning,
        summary: "Stitches are carried by hand over more needles than their loops reach.",
        why: "A loop reaches a few needles and no more. Drawn farther it strains and snaps, pulls its neighbours \
              tight, and the tool hardly gets there. A number that large is most often a slip of the pen.",
        source: "the machine's profile (`widest cross`); without it 3 needles (common practice, no source)",
        bad: "in work front L8-R8
thread slate
cast on wound front
rows 2 front knit
decrease front 4 at left
rows 2 front knit
bind off front",
        good: "in work front L8-R8
thread slate
cast on wound front
rows 2 front knit
bind off front L8-L5
out of work front L8-L5
rows 2 front knit
bind off front",
    },
    looks_at: &[LooksAt::Carried(moved), LooksAt::Handled(shaped)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS,
    besides: Besides::NOTHING,
};

fn moved(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    // A crossing is for `wide-cable`, and a transfer from bed to bed goes straight across.
    let Operation::Move { .. } = moment.operation else { return None };
    let (machine, state) = (moment.machine, moment.state);
    let reach = machine.widest_cross.value;
    if carried.by.unsigned_abs() <= reach && carried.from == carried.to || !carried.past_end.is_empty() {
        return None;
    }
    let donors = carried.donors - carried.into_idle;
    let first = donors.first()?;
    let landing = donors.shifted(carried.by);
    let apart =
        state.half_pitches(machine, carried.from, first) - state.half_pitches(machine, carried.to, landing.first()?);
    let needles = apart.unsigned_abs() / 2;
    if needles <= reach {
        return None;
    }
    // Where all that hangs moves together, nothing is drawn.
    let stays = Both::from_fn(|bed| {
        let arrived = if bed == carried.to { landing - carried.joined } else { NeedleSet::EMPTY };
        state.loops.loaded(bed) - arrived
    });
    let near = |bed: Bed| {
        (1..=reach as i32).any(|by| {
            let beside = donors.shifted(by) | donors.shifted(-by) | donors;
            !(beside & stays[bed]).is_empty()
        })
    };
    if !Bed::BOTH.into_iter().any(near) {
        return None;
    }
    let what = match donors.len() {
        1 => format!("the stitch of {} {first} is carried {needles} needles away", carried.from),
        many => format!("{many} stitches of the {} bed are carried {needles} needles away", carried.from),
    };
    Some(found(moment, what).mend(
        "If the number is a slip of the pen, mend it; else go there in steps, with a row knitted in between. If your yarn bears it, raise `widest cross` in the machine's profile.",
    ))
}

fn shaped(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    let (change, done) = match moment.operation {
        Operation::Decrease(change) => (change, handled.taken[change.bed]),
        Operation::Increase(change) if change.inset > 0 => (change, handled.made[change.bed]),
        _ => return None,
    };
    let reach = moment.machine.widest_cross.value;
    if change.by <= reach || done.is_empty() {
        return None;
    }
    let moving = match moment.operation {
        Operation::Decrease(_) => change.by.max(change.inset),
        _ => change.inset,
    };
    let stitches = match (change.left && change.right, moving) {
        (true, 1) => "stitch of each edge is",
        (true, _) => "stitches of each edge are",
        (false, 1) => "edge stitch is",
        (false, _) => "edge stitches are",
    };
    let what = format!("{moving} {stitches} carried {} needles away", change.by);
    let mend = match moment.operation {
        Operation::Decrease(_) => format!(
            "Bind off what is too much at once: `bind off {0}`, then `out of work {0}`. Or take fewer at a time, over several rows.",
            written(&Both::only(change.bed, done))
        ),
        _ => "Add fewer at a time, over several rows, or wind new loops outside the edge, without `inset`.".to_owned(),
    };
    Some(found(moment, what).mend(mend))
}

fn found(moment: &Moment<'_>, what: String) -> Finding {
    let reach = moment.machine.widest_cross;
    RULE.finds(moment.span, what).marked("a far way for a loop").because(format!(
        "A stitch can be carried {} away at the most ({}).",
        count(reach.value, "needle", "needles"),
        reach.origin()
    ))
}

//! `odd-last-needle`

use crate::beds::{Carried, NeedleSet, Operation};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Watch};
use crate::words::count;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "odd-last-needle",
        severity: Severity::Warning,
        summary: "Every second stitch of an even number is transferred, so the two edges end on different beds.",
        why: "When every second stitch goes to the other bed, an even number leaves one edge stitch on the front bed and \
              the other on the back bed. One edge then rolls the other way, and a seam does not match.",
        source: "common practice, no source",
        bad: "in work front L3-R3, back every 2 over L3-R3
thread slate
cast on wound front
row front knit, loosened 1
gaiting opposite
transfer front every 2 to back
out of work front empty
row both knit
bind off both",
        good: "in work front L3-R4, back every 2 over L2-R3
thread slate
cast on wound front
row front knit, loosened 1
gaiting opposite
transfer front every 2 over L2-R3 to back
out of work front empty
row both knit
bind off both",
    },
    looks_at: &[LooksAt::Carried(moved)],
    disturbs: Facts::NONE,
    rests_on: Facts::NONE,
    besides: Besides::NOTHING,
};

fn moved(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    let Operation::Transfer { pick: Some(_), .. } = moment.operation else { return None };
    let left = moment.state.loops.loaded(carried.from);
    let moved = carried.donors.len();
    // A stitch of each bed in turn, as many here as there: the two ends lie on different beds. How the needles were
    // named does not matter.
    if moved != left.len() || moved < 2 || !in_turn(carried.donors, left) {
        return None;
    }
    // Beside stitches that the other bed has already, as in a rib that goes to one bed, it says nothing of the edges.
    let arrived = moment.state.loops.loaded(carried.to);
    if arrived.len() != moved || !carried.joined.is_empty() {
        return None;
    }
    Some(
        RULE.finds(moment.span, "one edge stitch goes to the other bed and the other edge stitch does not")
            .marked(format!("every second of {} goes", count(moved * 2, "stitch", "stitches")))
            .because(format!("{} is an even number, so the last needle is left over.", moved * 2))
            .mend("Work with one needle more or less, so that both edge stitches stay on one bed; or, where the seam wants it so, `allow odd-last-needle because \"...\"`."),
    )
}

/// Whether from left to right the needles are one of each set in turn.
fn in_turn(one: NeedleSet, other: NeedleSet) -> bool {
    let mut all = (one | other).iter().map(|needle| one.contains(needle));
    let Some(mut before) = all.next() else { return false };
    all.all(|now| std::mem::replace(&mut before, now) != now)
}

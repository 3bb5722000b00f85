//! `odd-last-needle`

use crate::beds::{Carried, Operation, Pick};
use crate::finding::{Finding, Severity};
use crate::play::Moment;
use crate::rules::words::count;
use crate::rules::{LooksAt, Rule};

pub(crate) static RULE: Rule = Rule {
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
    looks_at: &[LooksAt::Carried(moved)],
};

fn moved(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    let Operation::Transfer { pick: Some(pick), .. } = moment.operation else { return None };
    if !alternates(pick) || carried.donors.is_empty() {
        return None;
    }
    let left = moment.state.loops.loaded(carried.from);
    let moved = carried.donors.len();
    // A stitch of each bed in turn, as many here as there: the two ends lie on different beds.
    if moved != left.len() || moved < 2 {
        return None;
    }
    Some(
        RULE.finds(moment.span, "one edge stitch goes to the other bed and the other edge stitch does not")
            .marked(format!("every second of {} goes", count(moved * 2, "stitch", "stitches")))
            .because(format!("{} is an even number, so the last needle is left over.", moved * 2))
            .mend("Work with one needle more or less, so that both edge stitches stay on one bed; or, where the seam wants it so, `allow odd-last-needle because \"...\"`."),
    )
}

/// Whether the pick takes every second needle.
fn alternates(pick: &Pick) -> bool {
    match pick {
        Pick::Every(2) => true,
        Pick::Tile(tile) => tile.marks.len() == 2 && tile.marks[0] != tile.marks[1],
        _ => false,
    }
}

//! `lone-edge`

use crate::beds::{Bed, RowDone, Side};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Watch, picture};
use crate::words::racking;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "lone-edge",
        severity: Severity::Warning,
        summary: "Racking has moved the end of one bed so far that the end stitches of the other hang alone.",
        why: "At the edge of a rib the stitches of the two beds hold each other. When one bed has been racked past the \
              other, its last stitches have nothing beside them: they hang free, go slack, and the edge stitch drops. One \
              step only changes which bed is outermost; after several the edge has to be mended.",
        source: "that one step changes which bed carries the end needle: H. D. Buck, Flat Machine Knitting and Fabrics, \
                 1921, ch. IV; two steps each way are knitted in D. J. Spencer, Knitting Technology, 3rd ed., 2001, p. \
                 221, rule 7; that three are too many is common practice, no source",
        bad: "in work front L4-R4, back L4-R3
thread slate
cast on zigzag
row both knit
rack 1 right
row both knit
rack 1 right
row both knit
rack 1 right
row both knit
rack 1 left
row both knit
rack 1 left
row both knit
rack 1 left
row both knit
bind off both",
        good: "in work front L4-R4, back L4-R3
thread slate
cast on zigzag
row both knit
rack 1 right
row both knit
rack 1 left
row both knit
rack 1 left
row both knit
rack to centre
row both knit
bind off both",
    },
    looks_at: &[LooksAt::Row(row)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS.and(Facts::RACKING),
    besides: Besides::NOTHING,
};

/// Half pitches by which an end may stand outside the other bed's before its stitches hang alone.
const ALONE: i32 = 6;

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    let (machine, state) = (moment.machine, moment.state);
    let acts = |bed| !row.acting(bed).is_empty();
    // Each step moves the ends apart by two half pitches, so that one step never does.
    if state.racking.abs() < 2 || !acts(Bed::Front) || !acts(Bed::Back) {
        return None;
    }
    let racked = 2 * machine.back_offset(state.racking);
    [Side::Left, Side::Right].into_iter().find_map(|side| {
        let end = |bed: Bed| state.loops.loaded(bed).outermost(side);
        let (front, back) = (end(Bed::Front)?, end(Bed::Back)?);
        // How far the back bed's end stands to the right of the front bed's.
        let apart = state.half_pitches(machine, Bed::Back, back) - state.half_pitches(machine, Bed::Front, front);
        // Ends that are alone already while the beds are not racked were meant so.
        if apart.abs() < ALONE || (apart - racked).abs() >= ALONE {
            return None;
        }
        let outside = if (apart > 0) == (side == Side::Left) { Bed::Front } else { Bed::Back };
        let needle = if outside == Bed::Front { front } else { back };
        let mut finding = RULE
            .finds(
                moment.span,
                format!(
                    "the {side} edge of the {outside} bed stands {} places outside the {} bed",
                    places(apart.unsigned_abs()),
                    outside.other()
                ),
            )
            .marked("knitted so")
            .because(format!(
                "The beds are racked to {}; there {outside} {needle} has no stitch of the other bed beside it.",
                racking(state.racking)
            ))
            .mend(format!(
                "Rack fewer steps before you rack back; or move the end stitches of the {outside} bed in on the {side} and bring needles of that bed into work at its other end."
            ));
        finding.picture = Some(picture::around(machine, state, outside, needle));
        Some(finding)
    })
}

/// Half pitches as places: `2`, `2.5`.
fn places(halves: u32) -> String {
    if halves.is_multiple_of(2) { (halves / 2).to_string() } else { format!("{}.5", halves / 2) }
}

//! `tight-transfer`

use super::transfer_size::{self, better, how_many, larger_row, or_say_it, out_of_reach, row_on, was_were, why};
use crate::beds::{Carried, Misfits, NeedleSet};
use crate::catalogue::{Rule, Severity};
use crate::finding::{Finding, Fix};
use crate::play::Moment;
use crate::rules::cause::Line;
use crate::rules::fabric::held_transfer::is_told;
use crate::rules::memory::Memory;
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch};
use crate::source::Span;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "tight-transfer",
        severity: Severity::Warning,
        summary: "Stitches go from bed to bed and were knitted too small for it.",
        why: "A stitch must stretch from one bed to the other while it is transferred. If it is too small it slips off \
              the tool or tears. So the row before a transfer is knitted larger than plain rows; where every row is \
              transferred, as in garter stitch, the size is set larger once for all of them. What plain rows are knitted at \
              the yarn says (`plain rows at size 5`). Where it does not, the machine's profile may say which sizes are right \
              (`transfer at size 6 to 9`). Else the pattern shows it: 8 rows or more at one size, with no transfer between \
              them, are plain rows, and a row that is loosened departs from the size that is set. Where a size is set and \
              nothing tells what is usual, nothing is said.",
        source: "the yarn, or the machine's profile (`transfer at size`); that a transfer wants 1 to 4 numbers more than \
                 plain rows, and that 8 rows show what is plain, is common practice, no source",
        bad: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
row front knit
gaiting opposite
transfer front to back
bind off back",
        good: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
row front knit, loosened 1
gaiting opposite
transfer front to back
bind off back",
    },
    looks_at: &[LooksAt::Carried(moved)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS.and(Facts::LAST_ROW).and(Facts::EVERY_ROW),
    besides: Besides { cause: Some(cause), fix: Some(fix), ..Besides::NOTHING },
};

/// Those of a transfer that are too small. A held stitch is told as such; what is said there loosens it too.
fn tight(carried: &Carried) -> Misfits {
    let held = if is_told(carried) { carried.held[carried.from] } else { NeedleSet::EMPTY };
    Misfits { needles: carried.tight.needles - held, ..carried.tight }
}

fn moved(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    let tight = tight(carried);
    if !carried.transfer || tight.needles.is_empty() {
        return None;
    }
    let (of_all, named) = how_many(&tight, carried);
    let finding = RULE
        .finds(moment.span, format!("{of_all} transferred that {} too small for it{named}", was_were(&tight)))
        .marked("transferred here")
        .because(why(&tight, moment));
    let Some(better) = better(&tight, moment) else { return Some(finding.mend(out_of_reach(&RULE))) };
    let or_say_it = or_say_it(&tight, moment);
    Some(match tight.row {
        Some(bed) => {
            let on = row_on(bed, moment);
            finding.mend(format!("{}{or_say_it}", larger_row(&on, &better)))
        }
        None => finding.mend(format!(
            "Knit these needles in a larger row before the transfer, for example `row {} knit, {better}`; a needle that slips \
             in that row or is held keeps the stitch it had.{or_say_it}",
            carried.from
        )),
    })
}

fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    seen.carried().map_or_else(Vec::new, |carried| transfer_size::cause(&carried.tight, memory))
}

fn fix(_: Span, seen: Seen<'_>, memory: &Memory) -> Option<Fix> {
    transfer_size::fix(&seen.carried()?.tight, seen, memory)
}

//! `tight-transfer`

use crate::beds::{Carried, NeedleSet};
use crate::catalogue::{Rule, Severity};
use crate::finding::{Finding, Fix};
use crate::play::Moment;
use crate::rules::cause::{Line, at};
use crate::rules::fabric::held_transfer::is_told;
use crate::rules::memory::{Memory, What};
use crate::rules::remedy::behind;
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch};
use crate::source::Span;
use crate::words::spans::on_bed;
use crate::words::{count, is_are, size};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "tight-transfer",
        severity: Severity::Warning,
        summary: "Stitches go from bed to bed and the row that made them was not loosened.",
        why: "A stitch must stretch from one bed to the other while it is transferred. If it is too small it slips off \
              the tool or tears; so the row before a transfer is knitted a little larger. If neighbours are then caught \
              in pairs the size was too large, and if stitches drop it was still too small.",
        source: "common practice, no source",
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

fn moved(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    // A held stitch is told as such; what is said there loosens it too.
    let held = if is_told(carried) { carried.held[carried.from] } else { NeedleSet::EMPTY };
    let tight = carried.ordinary - held;
    if !carried.transfer || tight.is_empty() {
        return None;
    }
    let (all, of_all) = (carried.donors.len(), count(tight.len(), "stitch is", "stitches are"));
    let of_all = if tight.len() == all {
        of_all
    } else {
        format!("{} of {all} stitches {}", tight.len(), is_are(tight.len().into()))
    };
    let named = if tight.len() == all { String::new() } else { format!(": {}", on_bed(carried.from, tight)) };
    let finding =
        RULE.finds(moment.span, format!("{of_all} transferred from an ordinary row{named}")).marked("transferred here");
    let rows = &moment.state.last_row;
    Some(match carried.ordinary_row {
        Some(bed) => {
            // A row on both beds was knitted there, so it can be knitted loosely too; another may make needles collide.
            let on = if rows[bed] == rows[bed.other()] { "both".to_owned() } else { bed.to_string() };
            let at_size = moment.state.sizes_of_row[bed].map_or_else(String::new, |at| format!(" (size {})", size(at)));
            finding
                .because(format!("The last row on the {bed} bed was knitted at its usual stitch size{at_size}, which is tight for a transfer."))
                .mend(format!("Loosen the row before, for example `row {on} knit, loosened 2`; it holds for that row only."))
        }
        None => finding
            .because("The rows that made these stitches were knitted at the usual stitch size, which is tight for a transfer.")
            .mend(format!("Knit these needles in a looser row before the transfer, for example `row {} knit, loosened 2`; a needle that slips in that row or is held keeps the stitch it had.", carried.from)),
    })
}

fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    let Some(bed) = seen.carried().and_then(|carried| carried.ordinary_row) else { return Vec::new() };
    at(memory.last(What::Row(bed)), &format!("the last row on the {bed} bed"))
}

/// Not safe: how much looser is for the yarn and the machine to say, and the row looks otherwise afterwards.
fn fix(_: Span, seen: Seen<'_>, memory: &Memory) -> Option<Fix> {
    let bed = seen.carried()?.ordinary_row?;
    let row = memory.last_row(bed).filter(|row| row.alone)?;
    Some(behind(row.span, &format!(", loosened 2 {bed}")))
}

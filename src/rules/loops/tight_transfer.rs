//! `tight-transfer`

use crate::beds::Carried;
use crate::finding::{Finding, Severity};
use crate::play::Moment;
use crate::rules::words::{count, size};
use crate::rules::{LooksAt, Rule};

pub(crate) static RULE: Rule = Rule {
    name: "tight-transfer",
    severity: Severity::Warning,
    summary: "Stitches go from bed to bed and the row before was not loosened.",
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
    looks_at: &[LooksAt::Carried(moved)],
};

fn moved(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    let bed = carried.from;
    if !carried.transfer || carried.donors.is_empty() || moment.state.loosened[bed] || moment.state.row == 0 {
        return None;
    }
    let at_size = moment.state.sizes[bed].map_or_else(String::new, |at| format!(" (size {})", size(at)));
    Some(
        RULE.finds(moment.span, format!("{} transferred from an ordinary row", count(carried.donors.len(), "stitch is", "stitches are")))
            .marked("transferred here")
            .because(format!("The last row on the {bed} bed was knitted at its usual stitch size{at_size}, which is tight for a transfer."))
            .mend("Loosen the row before, for example `row both knit, loosened 2`; it holds for that row only."),
    )
}

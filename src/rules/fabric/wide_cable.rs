//! `wide-cable`

use crate::beds::Carried;
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Watch};
use crate::words::count;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "wide-cable",
        severity: Severity::Warning,
        summary: "A crossing takes its stitches over more needles than they usually reach.",
        why: "The stitches of a crossing are stretched across the ones they pass. Beyond three over three they seldom reach: \
              the tools pull, stitches strain or snap, and the next row is too tight to knit.",
        source: "the machine's profile (`widest cross`); without it 3 stitches (common practice, no source)",
        bad: "in work front L6-R6
thread slate
cast on wound front
row front knit, loosened 2
cross front L4-L1 over R1-R4
row front knit
bind off front",
        good: "in work front L6-R6
thread slate
cast on wound front
row front knit, loosened 2
cross front L3-L1 over R1-R3
row front knit
bind off front",
    },
    looks_at: &[LooksAt::Carried(crossed)],
    disturbs: Facts::NONE,
    rests_on: Facts::NONE,
    besides: Besides::NOTHING,
};

fn crossed(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    let crossing = carried.crossing?;
    let (over, under) = (crossing.over.needles, crossing.under.needles);
    let limit = moment.machine.widest_cross;
    let widest = over.len().max(under.len());
    if widest <= limit.value || carried.donors.is_empty() {
        return None;
    }
    Some(
        RULE.finds(moment.span, format!("{} cross over {}", over.len(), count(under.len(), "stitch", "stitches")))
            .marked("a wide crossing")
            .because(format!(
                "Some stitches are drawn past {}; the limit is {} ({}).",
                count(widest, "needle", "needles"),
                limit.value,
                limit.origin()
            ))
            .mend("Cross fewer stitches at once, or loosen the row before by more and give extra yarn; if your yarn bears it, raise `widest cross` in the machine's profile."),
    )
}

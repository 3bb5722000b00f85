//! `loose-transfer`

use super::transfer_size::{self, better, how_many, or_say_it, out_of_reach, row_on, was_were, why};
use crate::beds::Carried;
use crate::catalogue::{Rule, Severity};
use crate::finding::{Finding, Fix};
use crate::play::Moment;
use crate::rules::cause::Line;
use crate::rules::memory::Memory;
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch};
use crate::source::Span;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "loose-transfer",
        severity: Severity::Warning,
        summary: "Stitches go from bed to bed and were knitted too large for it.",
        why: "Stitches that are much larger than plain ones hang slack between the hooks. While they are transferred two of \
              them are caught by one hook, and a row of large loops shows in the fabric. Which sizes are right is told as for \
              `tight-transfer`.",
        source: "the yarn, or the machine's profile (`transfer at size`); that a transfer wants 1 to 4 numbers more than \
                 plain rows, and that 8 rows show what is plain, is common practice, no source",
        bad: "in work front L3-R3, back L3-R3
thread slate
stitch size 4
cast on wound front
row front knit, loosened 6
gaiting opposite
transfer front to back
bind off back",
        good: "in work front L3-R3, back L3-R3
thread slate
stitch size 4
cast on wound front
row front knit, loosened 2
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
    let large = carried.large;
    if !carried.transfer || large.needles.is_empty() {
        return None;
    }
    let (of_all, named) = how_many(&large, carried);
    let finding = RULE
        .finds(moment.span, format!("{of_all} transferred that {} too large for it{named}", was_were(&large)))
        .marked("two are easily caught by one hook here")
        .because(why(&large, moment));
    let Some(better) = better(&large, moment) else { return Some(finding.mend(out_of_reach(&RULE))) };
    let on = large.row.map_or_else(|| carried.from.to_string(), |bed| row_on(bed, moment));
    Some(finding.mend(format!(
        "Knit the row before the transfer at a size between, for example `row {on} knit, {better}`.{}",
        or_say_it(&large, moment)
    )))
}

fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    seen.carried().map_or_else(Vec::new, |carried| transfer_size::cause(&carried.large, memory))
}

fn fix(_: Span, seen: Seen<'_>, memory: &Memory) -> Option<Fix> {
    transfer_size::fix(&seen.carried()?.large, seen, memory)
}

//! `tight-cross`

use crate::beds::Carried;
use crate::catalogue::{Rule, Severity};
use crate::finding::{Finding, Fix};
use crate::play::Moment;
use crate::rules::cause::Line;
use crate::rules::loops::transfer_size::{self, better, how_many, larger_row, or_say_it, out_of_reach, row_on, why};
use crate::rules::memory::Memory;
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch};
use crate::source::Span;
use crate::words::count;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "tight-cross",
        severity: Severity::Warning,
        summary: "Stitches are crossed over three needles or more, and were knitted too small for it.",
        why: "In a crossing every stitch must stretch over the needles of the other group, twice as far as it seems, since two \
              groups pull at once. Stitches of the size of plain rows reach over one or two needles; over three they strain, \
              slip off the tool or snap the yarn, and the next row is stiff. So the row before is knitted larger. What plain \
              rows are knitted at is told as for `tight-transfer`.",
        source: "common practice, no source",
        bad: "in work front L5-R5
thread slate
cast on wound front
row front knit
cross front L3-L1 over R1-R3
row front knit
bind off front",
        good: "in work front L5-R5
thread slate
cast on wound front
row front knit, loosened 2
cross front L3-L1 over R1-R3
row front knit
bind off front",
    },
    looks_at: &[LooksAt::Carried(crossed)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS.and(Facts::LAST_ROW).and(Facts::EVERY_ROW),
    besides: Besides { cause: Some(cause), fix: Some(fix), ..Besides::NOTHING },
};

/// Over so many needles plain stitches do not reach.
const FAR: u32 = 3;

fn crossed(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    let crossing = carried.crossing.as_ref().filter(|crossing| crossing.missing.is_empty())?;
    let far = crossing.over.by.unsigned_abs().max(crossing.under.by.unsigned_abs());
    let tight = carried.tight;
    if far < FAR || tight.needles.is_empty() {
        return None;
    }
    let (of_all, named) = how_many(&tight, carried);
    let finding = RULE
        .finds(
            moment.span,
            format!("{of_all} crossed over {} from rows too small for it{named}", count(far, "needle", "needles")),
        )
        .marked("crossed here")
        .because(why(&tight, moment));
    let Some(better) = better(&tight, moment) else { return Some(finding.mend(out_of_reach(&RULE))) };
    let on = tight.row.map_or_else(|| carried.from.to_string(), |bed| row_on(bed, moment));
    Some(finding.mend(larger_row(&on, &better) + &or_say_it(&tight, moment)))
}

fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    seen.carried().map_or_else(Vec::new, |carried| transfer_size::cause(&carried.tight, memory))
}

fn fix(_: Span, seen: Seen<'_>, memory: &Memory) -> Option<Fix> {
    transfer_size::fix(&seen.carried()?.tight, seen, memory)
}

//! `adjacent-tucks`

use crate::beds::{Bed, NeedleSet, RowDone};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Watch};
use crate::words::count;
use crate::words::spans::on_bed;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "adjacent-tucks",
        severity: Severity::Warning,
        summary: "Too many neighbours tuck in one row and no needle of the other bed works between them.",
        why: "Tucks on neighbouring needles lie side by side as one slack strand: the middle ones are held by nothing and \
              snag. A working needle of the other bed between them ties the strand down.",
        source: "the machine's profile (`most adjacent tucks`); without it 2, after D. J. Spencer, Knitting Technology, \
                 3rd ed., 2001, p. 96: generally not more than two adjacent needles",
        bad: "in work front L4-R4
thread slate
cast on wound front
row front tuck on L2-R2, knit elsewhere
row front knit
bind off front",
        good: "in work front L4-R4
thread slate
cast on wound front
row front tuck on L1-R1, knit elsewhere
row front knit
bind off front",
    },
    looks_at: &[LooksAt::Row(row)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS.and(Facts::SIDE).and(Facts::RACKING),
    besides: Besides::NOTHING,
};

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    if row.tuck.is_empty() {
        return None;
    }
    let limit = moment.machine.most_adjacent_tucks;
    if !Bed::BOTH.into_iter().any(|bed| row.tuck[bed].has_run(limit.value.saturating_add(1))) {
        return None;
    }
    let acting = crate::beds::Both::from_fn(|bed| row.acting(bed));
    let path = moment.state.yarn_path(moment.machine, &acting, crate::beds::Side::Right);
    let together = |one: &(i32, Bed, crate::beds::Needle), two: &(i32, Bed, crate::beds::Needle)| {
        one.1 == two.1 && two.2.0 == one.2.0 + 1 && row.tuck[one.1].contains(one.2) && row.tuck[two.1].contains(two.2)
    };
    let run = path.chunk_by(together).find(|run| run.len() as u32 > limit.value)?;
    let set: NeedleSet = run.iter().map(|&(_, _, needle)| needle).collect();
    Some(
        RULE.finds(moment.span, format!("{} tuck side by side", on_bed(run[0].1, set)))
            .marked(format!("{} in one run", count(run.len() as u64, "tuck", "tucks")))
            .because(format!(
                "No needle of the other bed works between them, and the limit is {} ({}).",
                count(limit.value, "neighbour", "neighbours"),
                limit.origin()
            ))
            .mend("Let a needle between them knit, or let the other bed knit in this row."),
    )
}

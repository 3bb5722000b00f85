//! `size-range`

use crate::beds::{Bed, Both, Operation, RowDone, RowSize, Setting};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::cause::Line;
use crate::rules::memory::{Memory, What};
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch};
use crate::words::size;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "size-range",
        severity: Severity::Error,
        summary: "A stitch size is set that the machine does not have.",
        why: "The dial ends before it; the row would be knitted at another size than the pattern counts on.",
        source: "the machine's profile (`stitch sizes`); without it 0 to 10 (common practice, no source)",
        bad: "in work front L3-R3
thread slate
stitch size 9
cast on wound front
row front knit, loosened 3
bind off front",
        good: "in work front L3-R3
thread slate
stitch size 7
cast on wound front
row front knit, loosened 3
bind off front",
    },
    looks_at: &[LooksAt::Row(row), LooksAt::Setting(setting)],
    disturbs: Facts::NONE,
    rests_on: Facts::NONE,
    besides: Besides { cause: Some(cause), ..Besides::NOTHING },
};

/// Only a size of the row's own: a size that is set for all rows has been looked at where it is set.
fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    let Operation::Row(said) = moment.operation else { return None };
    found(moment, &Both::from_fn(|bed| said.sizes[bed].and(row.sizes[bed])))
}

fn setting(moment: &Moment<'_>, _: &Setting) -> Option<Finding> {
    match moment.operation {
        Operation::StitchSize(sizes) => found(moment, sizes),
        _ => None,
    }
}

fn found(moment: &Moment<'_>, sizes: &Both<Option<i32>>) -> Option<Finding> {
    let limit = moment.machine.stitch_sizes;
    let (smallest, largest) = limit.value;
    let (bed, at) = Bed::BOTH
        .into_iter()
        .filter_map(|bed| Some((bed, sizes[bed]?)))
        .find(|(_, at)| !(smallest..=largest).contains(at))?;
    Some(
        RULE.finds(moment.span, format!("the {bed} bed has no stitch size {}", size(at)))
            .marked("asked for here")
            .because(format!("The sizes go from {} to {} ({}).", size(smallest), size(largest), limit.origin()))
            .mend(
                "Choose a size on the dial, or name the dial's ends in the machine's profile: `stitch sizes 0 to 10`.",
            ),
    )
}

fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    let Seen::Done(Moment { operation: Operation::Row(row), .. }) = seen else { return Vec::new() };
    Bed::BOTH
        .into_iter()
        .filter(|&bed| matches!(row.sizes[bed], Some(RowSize::By(_))))
        .filter_map(|bed| Some((memory.last(What::Size(bed))?, "the size that it is counted from".to_owned())))
        .collect()
}

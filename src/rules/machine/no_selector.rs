//! `no-selector`

use crate::beds::{Bed, RowDone};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Watch};
use crate::words::count;
use crate::words::spans::on_bed;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "no-selector",
        severity: Severity::Warning,
        summary: "A row picks single needles on a bed that has no selector, so they must be set by hand in every row.",
        why: "A bed without a selector moves all its needles alike. Picking some of them means pushing each one by hand \
              before the row, and one forgotten needle is a mistake in the fabric.",
        source: "the machine's profile (`selectors`)",
        bad: "machine plain {
    needles 20 each side
    pitch 4.8 mm
    selectors none
}
piece \"Example\" {
    in work front L3-R3
    thread slate
    cast on wound front
    row front slip on L1, knit elsewhere
    row front knit
    bind off front
}",
        good: "machine plain {
    needles 20 each side
    pitch 4.8 mm
    selectors front bed
}
piece \"Example\" {
    in work front L3-R3
    thread slate
    cast on wound front
    row front slip on L1, knit elsewhere
    row front knit
    bind off front
}",
    },
    looks_at: &[LooksAt::Row(row)],
    disturbs: Facts::NONE,
    rests_on: Facts::NONE,
    besides: Besides::NOTHING,
};

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    let bed = Bed::BOTH.into_iter().find(|&bed| row.selected[bed] && !moment.machine.selectors[bed])?;
    let groups = [row.knit[bed], row.tuck[bed], row.slip[bed]];
    let fewest = groups.into_iter().filter(|group| !group.is_empty()).min_by_key(crate::beds::NeedleSet::len)?;
    Some(
        RULE.finds(moment.span, format!("the {bed} bed has no selector, and this row picks needles on it"))
            .marked(format!("{} by hand before this row", count(fewest.len(), "needle", "needles")))
            .because(format!("The profile of `{}` gives the {bed} bed no selector; {} would be set by hand.", moment.machine.name, on_bed(bed, fewest)))
            .mend("Knit it on the bed that has a selector, or, if you mean to set the needles by hand, `allow no-selector because \"...\"`."),
    )
}

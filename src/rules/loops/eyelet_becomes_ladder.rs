//! `eyelet-becomes-ladder`

use crate::beds::{Bed, Carried, NeedleSet, Operation, RowDone};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Stands, Watch, picture};
use crate::words::is_are;
use crate::words::spans::on_bed;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "eyelet-becomes-ladder",
        severity: Severity::Warning,
        summary: "A needle emptied in the middle of the fabric goes out of work where an eyelet seems to be meant.",
        why: "An eyelet closes because its empty needle stays in work and takes up the yarn in the next two rows. A needle \
              that is pushed out of work takes up nothing: the hole runs on upward as a ladder until it is brought back.",
        source: "D. J. Spencer, Knitting Technology, 3rd ed., 2001, section 15.2.1: an emptied needle that knits on forms a \
                 loop at once and a stitch at its second knitting",
        bad: "in work front L4-R4
thread slate
cast on wound front
row front knit, loosened 1
move front L1 1 left, joining, emptied go out of work
row front knit, new loops
row front knit
bind off front",
        good: "in work front L4-R4
thread slate
cast on wound front
row front knit, loosened 1
move front L1 1 left, joining, emptied stay in work
row front knit, new loops
row front knit
bind off front",
    },
    looks_at: &[LooksAt::Carried(carried), LooksAt::Row(row)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS.and(Facts::EVERY_ROW),
    besides: Besides { stands: Stands::ToTheEndOfTheBlock, ..Besides::NOTHING },
};

/// The profile takes the needle out of work, and the pattern does not say that it wants that.
fn carried(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    let Operation::Move { emptied_stay: None, .. } = moment.operation else { return None };
    if carried.from != carried.to || !carried.joining {
        return None;
    }
    let inner = carried.put_out & gaps(moment, carried.from);
    let first = inner.first()?;
    let verb = is_are(u64::from(inner.len()));
    let mut finding = RULE
        .finds(moment.span, format!("{} {verb} emptied in the middle of the fabric and {} out of work", on_bed(carried.from, inner), if inner.len() == 1 { "goes" } else { "go" }))
        .marked("makes a ladder")
        .because(format!("The profile of `{}` says that emptied needles go out of work, and this line says nothing else.", moment.machine.name))
        .mend("For an eyelet add `, emptied stay in work` and let the next row catch `new loops`; for a ladder add `, emptied go out of work`.");
    finding.picture = Some(picture::around(moment.machine, moment.state, carried.from, first));
    Some(finding)
}

/// A row is meant to catch new loops, and there are only gaps to catch them on.
fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    if !row.new_loops || !row.caught.is_empty() {
        return None;
    }
    let (bed, gaps) = Bed::BOTH
        .into_iter()
        .filter(|&bed| !row.acting(bed).is_empty())
        .map(|bed| (bed, gaps(moment, bed)))
        .find(|(_, gaps)| !gaps.is_empty())?;
    let verb = is_are(u64::from(gaps.len()));
    let mut finding = RULE
        .finds(moment.span, format!("{} {verb} out of work and {} no new loop", on_bed(bed, gaps), if gaps.len() == 1 { "catches" } else { "catch" }))
        .marked("asks for new loops")
        .because("No needle in work is empty in this row, and a needle that is out of work does not take up the yarn: the hole becomes a ladder.")
        .mend(format!("Keep the emptied needle in work, or bring it back before this row: `in work {}`; take `new loops` out if a ladder is meant.", on_bed(bed, gaps)));
    finding.picture = gaps.first().map(|needle| picture::around(moment.machine, moment.state, bed, needle));
    Some(finding)
}

/// Single needles out of work between two that carry stitches, with nothing on the other bed to take their part.
fn gaps(moment: &Moment<'_>, bed: Bed) -> NeedleSet {
    let state = moment.state;
    let loaded = state.loops.loaded(bed);
    let across = state.facing(moment.machine, bed.other(), state.loops.loaded(bed.other()));
    let beside = across | across.shifted(1) | across.shifted(-1);
    (loaded.shifted(1) & loaded.shifted(-1)) - loaded - state.in_work[bed] - state.held[bed] - beside
}

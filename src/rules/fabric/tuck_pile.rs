//! `tuck-pile`

use crate::beds::{Both, RowDone};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Stands, Watch, picture};
use crate::words::count;
use crate::words::spans::needles;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "tuck-pile",
        severity: Severity::Error,
        summary: "A needle takes more tucks than the machine's profile allows before it is knitted.",
        why: "Every tuck leaves one more loop in the hook. When the hook is full the carriage goes stiff and jams, or the \
              loops jump off; thick yarn fills it sooner.",
        source: "the machine's profile (`most tucks`); where that says nothing `many-tucks` warns",
        bad: "machine club {
    needles 90 each side
    most tucks 4
}
piece \"Example\" {
    in work front L3-R3, back L3-R2
    thread slate
    cast on zigzag
    rows 5 front knit, back tuck
    row both knit
    bind off both
}",
        good: "machine club {
    needles 90 each side
    most tucks 4
}
piece \"Example\" {
    in work front L3-R3, back L3-R2
    thread slate
    cast on zigzag
    rows 4 front knit, back tuck
    row both knit
    bind off both
}",
    },
    looks_at: &[LooksAt::Row(row)],
    disturbs: Facts::NONE,
    rests_on: Facts::SIDE.and(Facts::EVERY_ROW),
    besides: Besides { stands: Stands::ToTheEndOfTheBlock, ..Besides::NOTHING },
};

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    if moment.machine.most_tucks.is_given() { piled(&RULE, moment, row) } else { None }
}

/// What that rule says of needles that take too many tucks.
pub(super) fn piled(rule: &Watch, moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    if row.tuck.is_empty() {
        return None;
    }
    let limit = moment.machine.most_tucks;
    // A pile that was carried to its needle, and that this row passes by, is not of this row's making.
    let piled = moment.state.loops.caught_more_than(limit.value);
    let over = Both::from_fn(|bed| piled[bed] & row.tuck[bed]);
    if over.is_empty() {
        return None;
    }
    let (bed, first) = over.iter().find_map(|(bed, set)| Some((bed, set.first()?)))?;
    let tucks = moment.state.loops.stack(bed, first).iter().filter(|what| what.caught).count();
    let one = over.len() == 1;
    let mut finding = rule
        .finds(
            moment.span,
            format!(
                "{} {} {} without being knitted",
                needles(&over),
                if one { "takes" } else { "each take" },
                count(tucks as u64, "tuck", "tucks")
            ),
        )
        .marked("too many tucks here")
        .because(format!("The limit is {} ({}).", count(limit.value, "tuck", "tucks"), limit.origin()))
        .mend("Knit the needles off earlier; or, if machine and yarn bear it, raise `most tucks` in the machine's profile.");
    finding.picture = Some(picture::around(moment.machine, moment.state, bed, first));
    Some(finding)
}

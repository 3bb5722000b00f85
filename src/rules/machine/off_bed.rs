//! `off-bed`

use crate::beds::{Both, Handled, NeedleSet};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Watch};
use crate::words::spans::needles;
use crate::words::{count, is_are};

pub(crate) static RULE: Watch = Watch {
    rule: &crate::plan::rules::OFF_BED,
    looks_at: &[LooksAt::Handled(handled)],
    disturbs: Facts::LOOPS,
    rests_on: Facts::NONE,
    besides: Besides::NOTHING,
};

/// An edge that grows past the end. Needles that a line names are looked at when it is read.
fn handled(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    found(moment, &handled.off_bed).or_else(|| past_end(moment, handled.past_end))
}

fn found(moment: &Moment<'_>, off_bed: &Both<NeedleSet>) -> Option<Finding> {
    if off_bed.is_empty() {
        return None;
    }
    Some(finding(moment, format!("{} {} not on the bed", needles(off_bed), is_are(off_bed.len()))))
}

/// On the widest bed, needles that would have no name.
fn past_end(moment: &Moment<'_>, number: u64) -> Option<Finding> {
    if number == 0 {
        return None;
    }
    let needles = count(number, "needle", "needles");
    Some(finding(moment, format!("{needles} past the end of the bed {} asked for", is_are(number))))
}

fn finding(moment: &Moment<'_>, what: String) -> Finding {
    let (first, last) = moment.machine.ends();
    RULE.finds(moment.span, what)
        .marked("asked for here")
        .because(format!(
            "`{}` has {} on each side of the centre: {first} to {last}.",
            moment.machine.name,
            count(moment.machine.each_side, "needle", "needles")
        ))
        .mend("Use fewer needles, or shift the piece toward the centre.")
}

//! `off-bed`

use crate::beds::Handled;
use crate::finding::{Finding, Severity};
use crate::play::Moment;
use crate::rules::words::{count, needles, none};
use crate::rules::{LooksAt, Rule};

pub(crate) static RULE: Rule = Rule {
    name: "off-bed",
    severity: Severity::Error,
    summary: "A needle is named that the machine does not have.",
    why: "Needles are counted from the centre, L1 and R1 outward, and there is no zero. A piece that is wider than \
          the bed cannot be knitted flat on it.",
    source: "the machine's profile (`needles`)",
    bad: "in work front R15-R20
thread slate
cast on wound front
row front knit
increase front 1 at right
bind off front",
    good: "in work front R15-R20
thread slate
cast on wound front
row front knit
increase front 1 at left
bind off front",
    looks_at: &[LooksAt::Handled(handled)],
};

/// An edge that grows past the end. Needles that a line names are looked at when it is read.
fn handled(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    let off_bed = &handled.off_bed;
    if none(off_bed) {
        return None;
    }
    let (first, last) = moment.machine.ends();
    let one = off_bed.front.len() + off_bed.back.len() == 1;
    Some(
        RULE.finds(moment.span, format!("{} {} not on the bed", needles(off_bed), if one { "is" } else { "are" }))
            .marked("asked for here")
            .because(format!(
                "`{}` has {} on each side of the centre: {first} to {last}.",
                moment.machine.name,
                count(moment.machine.each_side, "needle", "needles")
            ))
            .mend("Use fewer needles, or shift the piece toward the centre."),
    )
}

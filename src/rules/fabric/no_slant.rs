//! `no-slant`

use crate::beds::{Bed, Gaiting, Operation, Outcome, Setting, Side};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::mind::{Mindful, casts_on_anew};
use crate::rules::{Besides, Facts, LooksAt, Watch, picture};
use crate::words::count;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "no-slant",
        severity: Severity::Warning,
        summary: "The beds are racked between two rows, and no needle passes a stitch of the other bed, so nothing slants.",
        why: "A stitch slants when its needle is carried past a working needle of the other bed. A needle that passes only \
              empty places comes to lie as straight as before, and the fabric stays flat where a pattern was meant.",
        source: "D. J. Spencer, Knitting Technology, 3rd ed., 2001, p. 221, rule 9: an inclined stitch needs a working needle \
                 to be passed",
        bad: "in work front every 3 over L6-R6, back every 3 over L5-R6
thread slate
cast on zigzag
row both knit
rack 1 right
row both knit
rack to centre
row both knit
bind off both",
        good: "in work front every 3 over L6-R6, back every 3 over L6-R5
thread slate
cast on zigzag
row both knit
rack 1 left
row both knit
rack to centre
row both knit
bind off both",
    },
    looks_at: &[LooksAt::Mindful],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS.and(Facts::RACKING).and(Facts::EVERY_ROW),
    besides: Besides::NOTHING,
};

/// How the beds stood in the last row, as far as that can be told from how they stand now.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct LastStand {
    /// Where the racking bed stood then, or when the first stitches were cast on by hand.
    racking: i32,
    /// Whether stitches, needles or the gaiting have changed since, so that the beds do not only stand racked as
    /// against it.
    rearranged: bool,
}

impl Mindful for LastStand {
    fn after(&mut self, moment: &Moment<'_>) {
        match moment.outcome {
            Outcome::Row(_) => *self = Self { racking: moment.state.racking, rearranged: false },
            Outcome::Handled(_) => {
                self.rearranged = true;
                if casts_on_anew(moment) {
                    self.racking = moment.state.racking;
                }
            }
            Outcome::Carried(_) | Outcome::Needles(_) => self.rearranged = true,
            Outcome::Setting(Setting::Made { changed: true }) => {
                self.rearranged |= matches!(moment.operation, Operation::Gaiting(_));
            }
            Outcome::Setting(_) | Outcome::FreePass | Outcome::Unfit(..) => {}
        }
    }
}

pub(crate) fn look(moment: &Moment<'_>, last: &LastStand) -> Option<Finding> {
    let (machine, state) = (moment.machine, moment.state);
    if last.racking == state.racking || last.rearranged {
        return None;
    }
    let Outcome::Row(row) = moment.outcome else { return None };
    let (front, back) = (row.acting(Bed::Front), row.acting(Bed::Back));
    if front.is_empty() || back.is_empty() {
        return None;
    }
    let (from, to) = (machine.back_offset(last.racking), machine.back_offset(state.racking));
    // Between two rackings a needle passes what stands strictly between its two places. At gaiting between and with a half
    // step to the right, a back needle that goes from offset 0 to offset 1 passes the front place 1; with a half step to
    // the left, the front place 0. At gaiting opposite it only comes to face place 1.
    let (low, high) = (from.min(to), from.max(to));
    let mut passes = match (state.gaiting, machine.half_step_to) {
        (Gaiting::Between, Side::Right) => low + 1..high + 1,
        (Gaiting::Between, Side::Left) => low..high,
        (Gaiting::Opposite, _) => low + 1..high,
    };
    let passed = passes.any(|offset| front.meets(&back.shifted(offset)));
    if passed {
        return None;
    }
    let steps = u64::from(from.abs_diff(to));
    let bed = machine.racking_bed;
    let mut finding = RULE
        .finds(moment.span, format!("the racking of {} before this row slants nothing", count(steps, "step", "steps")))
        .marked("the first row after the racking")
        .because(format!(
            "On the way no needle of the {bed} bed that works here passed a working needle of the {} bed; it passed only empty places.",
            bed.other()
        ))
        .mend("Rack the other way or further, or set the needles out so that a working one is passed; take the racking out if no slant is meant.");
    finding.picture = row.acting(bed).first().map(|needle| picture::around(machine, state, bed, needle));
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::LastStand;
    use crate::rules::mind::at_the_end_of;

    #[test]
    fn racking_counts_from_where_the_beds_were_when_the_first_stitches_were_cast_on() {
        let racking = |lines: &str| at_the_end_of::<LastStand>(&format!("rack to 2 right\n{lines}")).racking;
        for how in ["zigzag", "open", "wound", "chain"] {
            assert_eq!(racking(&format!("cast on {how} both")), 2, "{how}");
        }
        // Stitches that come to others by hand change nothing of that; a row does.
        for (how, expected) in [("wound", 2), ("open", 3)] {
            let lines = format!("cast on wound front\nrack to 3 right\ncast on {how} back");
            assert_eq!(racking(&lines), expected, "{how}");
        }
    }
}

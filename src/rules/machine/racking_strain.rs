//! `racking-strain`

pub(crate) use super::racked_two_steps::PulledFrom;
use super::racked_two_steps::no_yarn_between;
use crate::beds::{Operation, Outcome, Setting};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Stands, Watch, picture};
use crate::words::spans::on_bed;
use crate::words::{count, racking};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "racking-strain",
        severity: Severity::Warning,
        summary: "A stitch made at one racking is still on its needle while the beds are racked far away from there.",
        why: "The yarn of a row runs from bed to bed. A stitch that waits on its needle while the beds move on is pulled \
              sideways by every step, though each step by itself is small: it is stretched, and then the yarn snaps.",
        source: "the machine's profile (`racking slack`); without it 2 (common practice, no source)",
        bad: "in work front L4-R4, back L4-R3
thread slate
cast on zigzag
rack 1 left
row both knit
rack to centre
row front knit
rack 1 right
row front knit
rack 1 right
row front knit
rack 1 left
row both knit
rack to centre
row both knit
bind off both",
        good: "in work front L4-R4, back L4-R3
thread slate
cast on zigzag
rack 1 left
row both knit
rack to centre
row both knit
rack 1 right
row both knit
rack to centre
row both knit
bind off both",
    },
    looks_at: &[LooksAt::Mindful],
    disturbs: Facts::NONE,
    rests_on: Facts::RACKING.and(Facts::EVERY_ROW),
    besides: Besides {
        stands: Stands::UntilSetAnew(|operation| matches!(operation, Operation::RackTo(_) | Operation::RackBy(_))),
        ..Besides::NOTHING
    },
};

pub(crate) fn look(moment: &Moment<'_>, pulled_from: &PulledFrom) -> Option<Finding> {
    let Outcome::Setting(Setting::Racked { from }) = *moment.outcome else { return None };
    let (state, limit) = (moment.state, moment.machine.racking_slack);
    // A step that is too long by itself is for `racked-two-steps`.
    if no_yarn_between(state) || pulled_from.is_too_far(moment) {
        return None;
    }
    let strain = state.loops.strained(state.racking, limit.value)?;
    if strain.made_at.abs_diff(from) >= strain.made_at.abs_diff(state.racking) {
        // This step eases it; the one that strained it has been found.
        return None;
    }
    let (bed, first) = strain.needles.iter().find_map(|(bed, set)| Some((bed, set.first()?)))?;
    let steps = strain.made_at.abs_diff(state.racking);
    let mut finding = RULE
        .finds(
            moment.span,
            format!(
                "{} {} pulled sideways over {}",
                on_bed(bed, strain.needles[bed]),
                if strain.needles[bed].len() == 1 { "is" } else { "are" },
                count(steps, "step", "steps")
            ),
        )
        .marked("racked here")
        .because(format!(
            "The loops were made in row {} with the beds racked to {}; now they stand at {}, and a loop between the beds can follow {} ({}).",
            strain.made,
            racking(strain.made_at),
            racking(state.racking),
            count(limit.value, "step", "steps"),
            limit.origin()
        ))
        .mend("Knit these needles before the beds go on, or rack fewer steps; if your yarn bears it, raise `racking slack` in the machine's profile.");
    finding.picture = Some(picture::around(moment.machine, state, bed, first));
    Some(finding)
}

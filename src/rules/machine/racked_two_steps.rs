//! `racked-two-steps`

use crate::beds::{Bed, Limit, Machine, Outcome, Setting, State};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::mind::{Mindful, casts_on_anew};
use crate::rules::{Besides, Facts, LooksAt, Watch};
use crate::words::count;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "racked-two-steps",
        severity: Severity::Warning,
        summary: "The beds are racked further between two rows than the stitches can follow.",
        why: "Every loop that runs from bed to bed is stretched by each step. One course between steps lets it settle; \
              several at once over-stretch it or snap the yarn.",
        source: "the machine's profile (`racking step`); without it 1, after H. D. Buck, Flat Machine Knitting and \
                 Fabrics, 1921, ch. IV: one course between the steps; more at once \"should never be done\"",
        bad: "in work front L3-R3, back L3-R3
thread slate
cast on zigzag
rack 1 left
row both knit
rack 2 right
row both knit
rack to centre
row both knit
bind off both",
        good: "in work front L3-R3, back L3-R3
thread slate
cast on zigzag
rack 1 left
row both knit
rack 1 right
row both knit
rack 1 right
row both knit
rack to centre
row both knit
bind off both",
    },
    looks_at: &[LooksAt::Mindful],
    disturbs: Facts::NONE,
    rests_on: Facts::RACKING,
    besides: Besides::NOTHING,
};

/// Where the racking bed stood when loops last came to run from bed to bed unpulled: in the last row, or while a bed was
/// empty.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct PulledFrom {
    place: i32,
    /// Whether a row has been knitted, or cast on, since one of the beds was empty. Else all that runs from bed to bed is what
    /// was transferred since.
    by_row: bool,
}

impl PulledFrom {
    /// How many steps the beds stand from there, now that they have been racked.
    fn steps(self, state: &State) -> u32 {
        state.racking.abs_diff(self.place)
    }

    /// How many steps there may be between two rows. Between transfers no row can be knitted to let the loops settle: they
    /// must only be able to follow.
    fn limit(self, machine: &Machine) -> Limit<u32> {
        if !self.by_row && machine.racking_slack.value > machine.racking_step.value {
            machine.racking_slack
        } else {
            machine.racking_step
        }
    }

    /// Whether the beds have been racked further.
    pub(crate) fn is_too_far(self, moment: &Moment<'_>) -> bool {
        self.steps(moment.state) > self.limit(moment.machine).value && !no_yarn_between(moment.state)
    }
}

impl Mindful for PulledFrom {
    fn after(&mut self, moment: &Moment<'_>) {
        let state = moment.state;
        let begins_anew = match moment.outcome {
            Outcome::Row(_) => true,
            Outcome::Setting(Setting::Racked { .. }) => no_yarn_between(state),
            _ => casts_on_anew(moment),
        };
        if begins_anew {
            *self = Self { place: state.racking, by_row: !no_yarn_between(state) };
        } else if self.by_row && !matches!(moment.outcome, Outcome::Setting(_)) {
            self.by_row = !no_yarn_between(state);
        }
    }
}

/// With nothing on one bed no yarn runs across, so nothing is pulled.
pub(crate) fn no_yarn_between(state: &State) -> bool {
    Bed::BOTH.into_iter().any(|bed| state.loops.loaded(bed).is_empty())
}

pub(crate) fn look(moment: &Moment<'_>, pulled_from: &PulledFrom) -> Option<Finding> {
    let Outcome::Setting(Setting::Racked { .. }) = moment.outcome else { return None };
    if !pulled_from.is_too_far(moment) {
        return None;
    }
    let (steps, limit) = (pulled_from.steps(moment.state), pulled_from.limit(moment.machine));
    Some(
        RULE.finds(moment.span, format!("{} of racking without a row between", count(steps, "step", "steps")))
            .marked("racked here")
            .because(format!(
                "Both beds carry stitches, and the most between two {} is {} ({}).",
                if pulled_from.by_row { "rows" } else { "transfers" },
                count(limit.value, "step", "steps"),
                limit.origin()
            ))
            .mend(if pulled_from.by_row {
                "Knit a row between the steps, or raise `racking step` in the machine's profile if your yarn bears it."
            } else {
                "Go there in several transfers, or by hand (`move`); or raise `racking slack` in the machine's profile if your yarn bears it."
            }),
    )
}

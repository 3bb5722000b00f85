//! `racked-two-steps`

use crate::beds::{Bed, Setting};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
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
                 Fabrics, 1921, ch. IV: one course between the steps",
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
    looks_at: &[LooksAt::Setting(setting)],
    disturbs: Facts::NONE,
    rests_on: Facts::RACKING,
    besides: Besides::NOTHING,
};

fn setting(moment: &Moment<'_>, setting: &Setting) -> Option<Finding> {
    let limit = moment.machine.racking_step;
    let state = moment.state;
    let steps = state.racking.abs_diff(state.pulled_from);
    if !matches!(setting, Setting::Racked { .. }) || steps <= limit.value {
        return None;
    }
    if Bed::BOTH.into_iter().any(|bed| state.loops.loaded(bed).is_empty()) {
        return None;
    }
    Some(
        RULE.finds(moment.span, format!("{} of racking without a row between", count(steps, "step", "steps")))
            .marked("racked here")
            .because(format!(
                "Both beds carry stitches, and the most between two rows is {} ({}).",
                count(limit.value, "step", "steps"),
                limit.origin()
            ))
            .mend(
                "Knit a row between the steps, or raise `racking step` in the machine's profile if your yarn bears it.",
            ),
    )
}

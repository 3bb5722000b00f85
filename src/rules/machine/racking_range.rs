//! `racking-range`

use crate::beds::Setting;
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::cause::{Line, at};
use crate::rules::memory::{Memory, What};
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch};
use crate::words::{count, racking};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "racking-range",
        severity: Severity::Error,
        summary: "The beds are racked past the end of their travel.",
        why: "The racking handle stops, and the pattern with it, often many rows after the row that began wrongly.",
        source: "the machine's profile (`racking`); without it 5 steps to either side (common practice, no source)",
        bad: "in work front L3-R3
thread slate
cast on wound front
repeat 6 times {
    row front knit
    rack 1 left
}
repeat 5 times {
    row front knit
    rack 1 right
}
row front knit
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
repeat 5 times {
    row front knit
    rack 1 left
}
repeat 5 times {
    row front knit
    rack 1 right
}
row front knit
bind off front",
    },
    looks_at: &[LooksAt::Setting(setting)],
    disturbs: Facts::RACKING,
    rests_on: Facts::RACKING,
    besides: Besides { cause: Some(cause), ..Besides::NOTHING },
};

fn setting(moment: &Moment<'_>, setting: &Setting) -> Option<Finding> {
    let Setting::RackedPastEnd { asked } = *setting else { return None };
    let machine = moment.machine;
    Some(
        RULE.finds(moment.span, format!("the {} bed cannot be racked to {}", machine.racking_bed, racking(asked)))
            .marked("racked here")
            .because(format!(
                "`{}` racks {} to the left and {} to the right of the centre ({}); before this line the beds stand at {}.",
                machine.name,
                count(machine.racking_left, "step", "steps"),
                machine.racking_right,
                if machine.racking_named {
                    "the machine's profile"
                } else {
                    "our own figure, since the profile names none: common practice, no source"
                },
                racking(moment.state.racking)
            ))
            .mend(format!(
                "{}Begin nearer to the other end of the travel, turn the direction earlier, or rack fewer steps.",
                if machine.racking_named {
                    ""
                } else {
                    "Count on your machine, and write it in the profile, as in `racking front bed, 6 left to 4 right`. "
                }
            )),
    )
}

fn cause(_: Seen<'_>, memory: &Memory) -> Vec<Line> {
    at(memory.last(What::Racking), "the beds are racked here last")
}

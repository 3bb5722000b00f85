//! `open-repeat`

use crate::beds::{Bed, State};
use crate::finding::{Finding, Severity};
use crate::rules::{LooksAt, Rule, Use};

pub(crate) static RULE: Rule = Rule {
    name: "open-repeat",
    severity: Severity::Error,
    summary: "A repeat ends with the beds so that it cannot begin again.",
    why: "What is worked more than once must end as it began: the same beds carry stitches, and they stand to each \
          other in the same way. Else the second pass is not the first one again.",
    source: "follows from the meaning of a repeat",
    bad: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
gaiting opposite
repeat 2 times {
    row front knit, loosened 1
    transfer front to back
}
bind off back",
    good: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
gaiting opposite
repeat 2 times {
    row front knit, loosened 1
    transfer front to back
    row back knit, loosened 1
    transfer back to front
}
bind off front",
    looks_at: &[LooksAt::FirstPass(first_pass)],
};

fn first_pass(at: &Use<'_>) -> Option<Finding> {
    if at.repeat.times < 2 || at.repeat.stitch.as_ref().is_some_and(|stitch| stitch.from != stitch.to) {
        return None;
    }
    let (before, after) = (carrying(at.before), carrying(at.after));
    let why = if before != after {
        format!("It begins with stitches on {before} and ends with stitches on {after}.")
    } else if at.before.gaiting != at.after.gaiting {
        format!("It begins with gaiting `{}` and ends with gaiting `{}`.", at.before.gaiting, at.after.gaiting)
    } else {
        return None;
    };
    Some(
        RULE.finds(at.span, "this repeat does not close: its second pass cannot begin like the first")
            .marked(format!("worked {} times", at.repeat.times))
            .because(why)
            .mend("Add what brings the beds back at the end of the repeat, or work it only once."),
    )
}

fn carrying(state: &State) -> &'static str {
    // A loop that was only caught is a stitch one row later: the bed is in use all the same.
    let carries = |bed| !state.loops.loaded(bed).is_empty();
    match (carries(Bed::Front), carries(Bed::Back)) {
        (true, true) => "both beds",
        (true, false) => "the front bed only",
        (false, true) => "the back bed only",
        (false, false) => "neither bed",
    }
}

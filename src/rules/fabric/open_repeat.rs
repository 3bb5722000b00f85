//! `open-repeat`

use crate::beds::{Bed, State};
use crate::finding::Finding;
use crate::rules::{Besides, Facts, LooksAt, Use, Watch};

pub(crate) static RULE: Watch = Watch {
    rule: &crate::plan::rules::OPEN_REPEAT,
    looks_at: &[LooksAt::FirstPass(first_pass)],
    disturbs: Facts::LOOPS,
    rests_on: Facts::LOOPS,
    besides: Besides::NOTHING,
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

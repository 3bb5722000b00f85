//! `not-opposite`

use crate::beds::{Carried, Operation};
use crate::catalogue::{Rule, Severity};
use crate::finding::{Finding, Fix};
use crate::play::Moment;
use crate::rules::cause::{Line, at};
use crate::rules::memory::{Memory, What};
use crate::rules::remedy::line_before;
use crate::rules::{Besides, Facts, LooksAt, Seen, Stands, Watch};
use crate::source::Span;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "not-opposite",
        severity: Severity::Error,
        summary: "Stitches go from bed to bed and the needles do not stand face to face.",
        why: "A stitch is passed straight across, from a needle to the one that faces it. At gaiting `between` every \
              needle faces a gap.",
        source: "common practice, no source",
        bad: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
row front knit, loosened 1
transfer front to back
bind off back",
        good: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
row front knit, loosened 1
gaiting opposite
transfer front to back
bind off back",
    },
    looks_at: &[LooksAt::Carried(moved)],
    disturbs: Facts::LOOPS.and(Facts::GAITING),
    rests_on: Facts::NONE,
    besides: Besides {
        stands: Stands::UntilSetAnew(|operation| matches!(operation, Operation::Gaiting(_))),
        cause: Some(cause),
        fix: Some(fix),
        ..Besides::NOTHING
    },
};

fn moved(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    carried.not_facing.then(|| {
        RULE.finds(moment.span, "the beds do not stand face to face for this transfer")
            .marked("transferred here")
            .because(format!(
                "The gaiting is `between`, so the needles of the {} bed face the gaps of the {} bed.",
                carried.from, carried.to
            ))
            .mend("Write `gaiting opposite` before it, and `gaiting between` again before both beds knit. A single stitch can go to a next needle by hand: `move front L5 to back L5`.")
    })
}

fn cause(_: Seen<'_>, memory: &Memory) -> Vec<Line> {
    at(memory.last(What::Gaiting), "the gaiting is set here")
}

/// Safe: a transfer across cannot be made at gaiting `between`, so there is nothing else that the line can mean. Not
/// inside a repeat or a stitch, where the line would come again after the gaiting was set back, and not where a row on
/// both beds follows that counts on `between`: the checker takes the word back then.
fn fix(span: Span, seen: Seen<'_>, _: &Memory) -> Option<Fix> {
    let Seen::Done(moment) = seen else { return None };
    Some(line_before(span, "gaiting opposite").safe_if(moment.pass.is_none()))
}

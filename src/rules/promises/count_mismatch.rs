//! `count-mismatch`

use crate::beds::Bed;
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::plan::program::Promise;
use crate::rules::words::{count, racking};
use crate::rules::{LooksAt, Promised, Watch};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "count-mismatch",
        severity: Severity::Error,
        summary: "A promise of `expect` does not hold: another number of stitches, another counter, another setting.",
        why: "A count that is wrong at one line is wrong because of a line before it. The nearer the promise stands to \
              the mistake, the sooner it is found.",
        source: "follows from the state of the beds",
        bad: "in work front L3-R3, back L3-R3
thread slate
cast on zigzag
row both knit
expect 6 stitches front, 5 back
bind off both",
        good: "in work front L3-R3, back L3-R3
thread slate
cast on zigzag
row both knit
expect 6 stitches front, 6 back
bind off both",
    },
    looks_at: &[LooksAt::Promise(promised)],
};

fn promised(promised: &Promised<'_>) -> Option<Finding> {
    let state = promised.state;
    let (what, why) = match *promised.promise {
        Promise::Stitches { count: expected, front, back } => {
            let there = |bed| state.stitch_count(bed);
            let now = if front { there(Bed::Front) } else { 0 } + if back { there(Bed::Back) } else { 0 };
            if now == expected {
                return None;
            }
            let beds = match (front, back) {
                (true, true) => "both beds together carry",
                (true, false) => "the front bed carries",
                _ => "the back bed carries",
            };
            let more = if now > expected { "too many" } else { "too few" };
            (
                format!("here {beds} {}, not {expected}", count(now, "stitch", "stitches")),
                format!(
                    "That is {} {more}. The front bed carries {} and the back bed {}.",
                    now.abs_diff(expected),
                    there(Bed::Front),
                    there(Bed::Back)
                ),
            )
        }
        Promise::Counter(expected) if state.counter != expected => (
            format!("the row counter shows {} here, not {expected}", state.counter),
            format!("{} been knitted in this piece so far.", count(state.row, "row has", "rows have")),
        ),
        Promise::Gaiting(expected) if state.gaiting != expected => {
            (format!("the gaiting is `{}` here, not `{expected}`", state.gaiting), String::new())
        }
        Promise::Racking(expected) if state.racking != expected => (
            format!("the beds are racked to {} here, not to {}", racking(state.racking), racking(expected)),
            String::new(),
        ),
        _ => return None,
    };
    Some(
        RULE.finds(promised.span, what)
            .marked("promised here")
            .because(why)
            .mend("Look for the line before it that changes the count or the setting, or mend the promise."),
    )
}

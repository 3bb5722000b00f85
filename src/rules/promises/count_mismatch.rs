//! `count-mismatch`

use crate::beds::{Bed, Both};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::plan::program::Promise;
use crate::rules::cause::{Line, MOST_LINES, at, kept};
use crate::rules::memory::{Change, Memory, What};
use crate::rules::{Besides, Facts, LooksAt, Promised, Seen, Touches, Watch};
use crate::words::{count, racking};

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
    disturbs: Facts::NONE,
    rests_on: Facts::NONE,
    besides: Besides { touches: Some(touches), cause: Some(cause), ..Besides::NOTHING },
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

/// What a promise is about tells what it may follow from: a loop that fell off changes no counter. That the carriage
/// stands elsewhere is for `wrong-side`.
fn touches(seen: Seen<'_>, _: &Memory, usual: Touches) -> Touches {
    let Seen::Promise(promised) = seen else { return usual };
    let (fact, besides) = match promised.promise {
        Promise::Stitches { .. } => (Facts::COUNT, Facts::LOOPS.and(Facts::EVERY_ROW)),
        Promise::Counter(_) => (Facts::COUNTER, Facts::SIDE.and(Facts::EVERY_ROW)),
        Promise::Gaiting(_) => (Facts::GAITING, Facts::NONE),
        Promise::Racking(_) => (Facts::PROMISED_RACKING, Facts::RACKING),
        Promise::Carriage(_) | Promise::Tube(_) => return usual,
    };
    Touches { disturbs: fact, rests_on: fact.and(besides) }
}

fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    let Seen::Promise(promised) = seen else { return Vec::new() };
    match *promised.promise {
        Promise::Stitches { front, back, .. } => changes(memory, Both { front, back }),
        Promise::Gaiting(_) => at(memory.last(What::Gaiting), "the gaiting is set here"),
        Promise::Racking(_) => at(memory.last(What::Racking), "the beds are racked here last"),
        Promise::Counter(_) => match memory.counter_kept() {
            Some((span, None)) => at(Some(span), "the counter is set back here"),
            promise => kept(promise.and_then(|(span, counter)| Some((span, format!("counter {}", counter?))))),
        },
        Promise::Carriage(_) | Promise::Tube(_) => Vec::new(),
    }
}

/// The last lines that changed the number of stitches of the beds that are meant, without those that cancel each other.
fn changes(memory: &Memory, meant: Both<bool>) -> Vec<Line> {
    let text = |change: &Change| {
        let to = count(change.to, "stitch", "stitches");
        (change.span, format!("here the {} bed goes from {} to {to}", change.bed, change.from))
    };
    let mut changes: Vec<_> = memory.changes().filter(|change| meant[change.bed]).collect();
    // They would push out of sight the line from which it has been wrong.
    if changes.len() > MOST_LINES {
        for bed in Bed::BOTH {
            without_returns(&mut changes, bed);
        }
    }
    changes.into_iter().map(text).collect()
}

/// Takes out the changes of a bed that lead away from a number of stitches and back to it: none of them is why the
/// number is another now. The newest stand first.
fn without_returns(changes: &mut Vec<&Change>, bed: Bed) {
    let mut path: Vec<&Change> = Vec::new();
    for change in changes.iter().rev().copied().filter(|change| change.bed == bed) {
        // Of a line that is worked several times only the last time is known: where the numbers do not meet, others
        // lie between.
        let meets = |changes: &[&Change]| changes.windows(2).all(|pair| pair[0].to == pair[1].from);
        path.push(change);
        if let Some(left_at) = path.iter().rposition(|earlier| earlier.from == change.to)
            && meets(&path[left_at..])
        {
            path.truncate(left_at);
        }
    }
    changes.retain(|change| change.bed != bed || path.iter().any(|kept| std::ptr::eq(*kept, *change)));
}

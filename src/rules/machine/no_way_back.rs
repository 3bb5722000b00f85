//! `no-way-back`

use crate::catalogue::{Rule, Severity};
use crate::finding::{Finding, Fix};
use crate::rules::cause::{Line, at};
use crate::rules::memory::{Memory, What};
use crate::rules::remedy::line_before;
use crate::rules::{Besides, Facts, LooksAt, PieceDone, Seen, Watch};
use crate::source::Span;
use crate::words::{count, racking};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "no-way-back",
        severity: Severity::Warning,
        summary: "The piece ends with the beds still racked.",
        why: "A racking that is not taken back crosses the ribs of what follows, and the next piece begins with the wrong \
              needles facing.",
        source: "common practice, no source",
        bad: "in work front L3-R3, back L3-R3
thread slate
cast on zigzag
row both knit
rack 1 right
row both knit
bind off both",
        good: "in work front L3-R3, back L3-R3
thread slate
cast on zigzag
row both knit
rack 1 right
row both knit
rack to centre
bind off both",
    },
    looks_at: &[LooksAt::PieceEnd(end)],
    disturbs: Facts::NONE,
    rests_on: Facts::RACKING.and(Facts::PROMISED_RACKING),
    besides: Besides { cause: Some(cause), fix: Some(fix), ..Besides::NOTHING },
};

fn end(done: &PieceDone<'_>) -> Option<Finding> {
    let place = done.state.racking;
    if place == 0 {
        return None;
    }
    Some(
        RULE.finds(done.piece.end, "the beds are still racked when the piece ends")
            .marked("the piece ends here")
            .because(format!("They stand at {}.", racking(place)))
            .mend(format!(
                "Write `rack to centre` before the end; it is {} back.",
                count(place.unsigned_abs(), "step", "steps")
            )),
    )
}

fn cause(_: Seen<'_>, memory: &Memory) -> Vec<Line> {
    at(memory.last(What::Racking), "the beds are racked here last")
}

/// Safe once the needles are empty, where no row was knitted since the beds were racked: it moves no stitch, and leaves the
/// machine as every piece expects it. After rows it may be that they were to be racked back before some of them, and the line
/// at the end would hide it.
fn fix(span: Span, seen: Seen<'_>, memory: &Memory) -> Option<Fix> {
    let Seen::End(done) = seen else { return None };
    let safe = done.state.ledger.on_needles == 0 && !memory.rows_since_racked();
    Some(line_before(span, "rack to centre").safe_if(safe))
}

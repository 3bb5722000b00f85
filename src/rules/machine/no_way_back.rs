//! `no-way-back`

use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::rules::words::{count, racking};
use crate::rules::{LooksAt, PieceDone, Watch};

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

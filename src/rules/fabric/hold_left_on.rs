//! `hold-left-on`

use crate::beds::Bed;
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::rules::cause::{Line, who};
use crate::rules::memory::{Deed, Memory};
use crate::rules::{Besides, Facts, LooksAt, PieceDone, Seen, Watch};
use crate::words::spans::{needles, written};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "hold-left-on",
        severity: Severity::Warning,
        summary: "The piece ends with needles still in hold.",
        why: "A hold that is left on holds the first needles of the next piece too, and they do not knit.",
        source: "common practice, no source",
        bad: "in work front L3-R3
thread slate
cast on wound front
hold front R2-R3
rows 2 front knit
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
hold front R2-R3
rows 2 front knit
release front
row front knit
bind off front",
    },
    looks_at: &[LooksAt::PieceEnd(end)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS.and(Facts::ALL_LOOPS),
    besides: Besides { cause: Some(cause), ..Besides::NOTHING },
};

fn end(done: &PieceDone<'_>) -> Option<Finding> {
    if done.state.held.is_empty() {
        return None;
    }
    Some(
        RULE.finds(
            done.piece.end,
            format!(
                "{} {} still held when the piece ends",
                needles(&done.state.held),
                if done.state.held.len() == 1 { "is" } else { "are" }
            ),
        )
        .marked("the piece ends here")
        .because("No `release` line brings them back to work.")
        .mend(format!("Write `release {}` before the last rows.", written(&done.state.held))),
    )
}

fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    let Seen::End(done) = seen else { return Vec::new() };
    let on = |bed| who(memory, Deed::Held, bed, done.state.held[bed], "put to hold here");
    Bed::BOTH.into_iter().flat_map(on).collect()
}

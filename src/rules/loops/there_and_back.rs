//! `there-and-back`

use crate::beds::{Bed, Carried, NeedleSet, Operation, Outcome, Setting};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::cause::{Line, who};
use crate::rules::memory::{Deed, Memory};
use crate::rules::mind::Mindful;
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch, picture};
use crate::words::count;
use crate::words::spans::on_bed;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "there-and-back",
        severity: Severity::Warning,
        summary: "Stitches go straight back to the needles they came from, with nothing knitted in between.",
        why: "Two moves that undo each other leave the beds as they were, and stretch every stitch twice. Most often a row \
              between them was left out, or a step of racking.",
        source: "follows from the state of the beds",
        bad: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
row front knit, loosened 1
gaiting opposite
transfer front to back
transfer back to front
row front knit
bind off front",
        good: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
row front knit, loosened 1
gaiting opposite
transfer front to back
row back knit, loosened 1
transfer back to front
row front knit
bind off front",
    },
    looks_at: &[LooksAt::Mindful],
    disturbs: Facts::NONE,
    rests_on: Facts::NONE,
    besides: Besides { cause: Some(cause), ..Besides::NOTHING },
};

/// What was carried just now. Settings may have been made since, but no racking, and nothing else was done.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) enum JustCarried {
    /// Nothing, or stitches that cannot be taken back as they were.
    #[default]
    Nothing,
    /// Stitches to empty needles, on which they lie.
    Stitches { from: Bed, to: Bed, by: i32, landed: NeedleSet },
}

impl Mindful for JustCarried {
    fn after(&mut self, moment: &Moment<'_>) {
        match moment.outcome {
            Outcome::Carried(carried) if is_a_move(moment.operation) => {
                // Where the beds do not face each other nothing was done.
                if !carried.not_facing {
                    let &Carried { from, to, by, donors, .. } = carried;
                    let alone = carried.past_end | carried.into_idle | carried.joined;
                    let landed = donors.shifted(by);
                    *self = if alone.is_empty() { Self::Stitches { from, to, by, landed } } else { Self::Nothing };
                }
            }
            Outcome::Setting(Setting::Made { .. }) => {}
            _ if is_a_move(moment.operation) => {}
            _ => *self = Self::Nothing,
        }
    }
}

fn is_a_move(operation: &Operation) -> bool {
    matches!(operation, Operation::Transfer { .. } | Operation::Move { .. })
}

pub(crate) fn look(moment: &Moment<'_>, before: &JustCarried) -> Option<Finding> {
    let Outcome::Carried(carried) = moment.outcome else { return None };
    let came = JustCarried::Stitches { from: carried.to, to: carried.from, by: -carried.by, landed: carried.donors };
    if *before != came || !is_a_move(moment.operation) {
        return None;
    }
    let first = carried.donors.first()?;
    let what = match carried.donors.len() {
        1 => format!("the stitch of {} goes straight back to where it came from", on_bed(carried.from, carried.donors)),
        many => format!("{} go straight back to where they came from", count(many, "stitch", "stitches")),
    };
    let mut finding = RULE
        .finds(moment.span, what)
        .marked("taken back here")
        .because(format!(
            "The move before this one emptied {}. Nothing was knitted in between, and the beds were not racked, so the two lines together change nothing.",
            on_bed(carried.to, carried.donors.shifted(carried.by))
        ))
        .mend("Write the row, or the racking, that is missing between the two; or take both lines out.");
    finding.picture = Some(picture::around(moment.machine, moment.state, carried.from, first));
    Some(finding)
}

fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    let Some(carried) = seen.carried() else { return Vec::new() };
    who(memory, Deed::Emptied, carried.to, carried.donors.shifted(carried.by), "emptied here")
}

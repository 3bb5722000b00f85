//! `cast-on-racking-kept`

use crate::beds::{Bed, CastOn, Operation, Outcome, Setting};
use crate::catalogue::{Rule, Severity};
use crate::finding::{Finding, Fix};
use crate::plan::program::{Step, StepId, StepKind, Steps};
use crate::play::Moment;
use crate::rules::cause::{Line, at};
use crate::rules::loops::cast_on_shares_a_loop::shares;
use crate::rules::memory::{Memory, What};
use crate::rules::mind::Mindful;
use crate::rules::remedy::line_before;
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch};
use crate::source::Span;
use crate::words::racking;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "cast-on-racking-kept",
        severity: Severity::Warning,
        summary: "The beds were racked only for the cast-on, and the fabric begins before they are racked back.",
        why: "A rib of two needles out of three cannot be cast on where it stands: one bed is racked by one needle, so that \
              the yarn goes from bed to bed at every step, and racked back after the cast-on and its tubular rows. If that is \
              forgotten, the whole rib is knitted out of its place: its ribs stand crossed, and what is counted on the needles \
              afterwards does not face what it should. Where the fabric is racked on, the racking is meant, and nothing is said.",
        source: "D. J. Spencer, Knitting Technology, 3rd ed., 2001, p. 68: one bed is racked by one needle for the set-up \
                 course and racked back after it; that tubular rows may come before: common practice, no source",
        bad: "in work front \"||.\" over L6-R6, back \".||\" over L6-R6
thread slate
rack 1 left
cast on zigzag
tubular 2 rows
rows 20 both knit
rack to centre
bind off both",
        good: "in work front \"||.\" over L6-R6, back \".||\" over L6-R6
thread slate
rack 1 left
cast on zigzag
tubular 2 rows
rack to centre
rows 20 both knit
bind off both",
    },
    looks_at: &[LooksAt::Mindful],
    disturbs: Facts::NONE,
    rests_on: Facts::RACKING.and(Facts::EVERY_ROW),
    besides: Besides { cause: Some(cause), fix: Some(fix), ..Besides::NOTHING },
};

/// Whether the beds still stand where only a zigzag cast-on needs them.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) enum Served {
    /// They do not, or a row on both beds has been knitted since.
    #[default]
    No,
    /// They do.
    CastOn,
}

impl Mindful for Served {
    fn after(&mut self, moment: &Moment<'_>) {
        *self = match (moment.operation, moment.outcome) {
            (Operation::CastOn(CastOn::Zigzag, _), Outcome::Handled(handled)) => {
                let racked = moment.state.racking != 0;
                // It was good there, and would not have been at the centre.
                let needed = racked && !shares(moment, handled, moment.state.racking) && shares(moment, handled, 0);
                if needed { Self::CastOn } else { Self::No }
            }
            _ if *self == Self::No => return,
            (_, Outcome::Setting(Setting::Racked { .. })) => Self::No,
            (_, Outcome::Row(row)) if Bed::BOTH.into_iter().all(|bed| !row.acting(bed).is_empty()) => Self::No,
            _ => return,
        };
    }
}

pub(crate) fn look(moment: &Moment<'_>, served: &Served) -> Option<Finding> {
    let (Served::CastOn, Outcome::Row(row)) = (served, moment.outcome) else { return None };
    let place = moment.state.racking;
    let both = Bed::BOTH.into_iter().all(|bed| !row.acting(bed).is_empty());
    if !both || is_racked_on(moment.steps, moment.step, place) {
        return None;
    }
    Some(
        RULE.finds(moment.span, "the beds still stand racked as for the cast-on, and the rib begins here")
            .marked("the first row on both beds")
            .because(format!(
                "They stand at {}, where the needles alternate for the cast-on; no later line racks them for the fabric.",
                racking(place)
            ))
            .mend("Write `rack to centre` before this line. If the rib is meant to be knitted so, write `allow cast-on-racking-kept because \"...\"` round it."),
    )
}

/// Whether later lines rack the beds elsewhere than back to the centre: then they are racked for the fabric.
fn is_racked_on(steps: &Steps, here: StepId, mut place: i32) -> bool {
    let mut ahead: Vec<(&Step, bool)> = steps.iter().rev().map(|step| (step, false)).collect();
    let mut reached = false;
    while let Some((step, again)) = ahead.pop() {
        reached |= step.id == here;
        match &step.kind {
            StepKind::Do(Operation::RackTo(to)) if reached => {
                place = *to;
                if place != 0 {
                    return true;
                }
            }
            StepKind::Do(Operation::RackBy(by)) if reached => {
                place += by;
                // One that comes again and again goes on from where it came to.
                if place != 0 || again {
                    return true;
                }
            }
            StepKind::Repeat(repeat) => {
                ahead.extend(repeat.steps.iter().rev().map(|step| (step, again || repeat.times > 1)));
            }
            StepKind::Section(_, steps) | StepKind::Allow { steps, .. } => {
                ahead.extend(steps.iter().rev().map(|step| (step, again)));
            }
            _ => {}
        }
    }
    false
}

fn cause(_: Seen<'_>, memory: &Memory) -> Vec<Line> {
    at(memory.last(What::Racking), "the beds are racked here for the cast-on")
}

/// Not safe: the rib may be meant so.
fn fix(span: Span, _: Seen<'_>, _: &Memory) -> Option<Fix> {
    Some(line_before(span, "rack to centre"))
}

//! `tube-mismatch`

use crate::beds::{Bed, Outcome, Side};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::plan::program::Promise;
use crate::play::Moment;
use crate::rules::fabric::turn::turn;
use crate::rules::mind::Mindful;
use crate::rules::{Besides, Facts, LooksAt, Promised, Watch};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "tube-mismatch",
        severity: Severity::Error,
        summary: "A promise about a tube does not hold: it is closed where it should be open, or open where it should be closed.",
        why: "Where the carriage turns, the yarn goes over to the other bed and closes the edge, or stays on its bed and \
              leaves it open. A piece of double width is knitted front, back, back, front and opens out at one side; front, \
              back, front, back makes a tube that no opening can be found in.",
        source: "follows from the way of the yarn since the cast-on, the last row on both beds or the last such promise",
        bad: "in work front L3-R3, back L3-R2
thread slate
cast on wound front
cast on wound back
repeat 5 times {
    row front knit
    row back knit
    row front knit
    row back knit
}
expect tube open at left
bind off both",
        good: "in work front L3-R3, back L3-R2
thread slate
cast on wound front
cast on wound back
repeat 5 times {
    row front knit
    row back knit
    row back knit
    row front knit
}
expect tube open at left
bind off both",
    },
    looks_at: &[LooksAt::MindfulOfPromises],
    disturbs: Facts::NONE,
    rests_on: Facts::EVERY_ROW.and(Facts::LOOPS),
    besides: Besides::NOTHING,
};

/// Whether the yarn has gone over at an edge, and whether it has stayed on its bed.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
struct Edge {
    went_over: bool,
    stayed: bool,
}

/// How the yarn has turned at each edge since the cast-on, the last row on both beds, or the last such promise.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Turns {
    left: Edge,
    right: Edge,
}

impl Turns {
    const fn at(&self, side: Side) -> Edge {
        match side {
            Side::Left => self.left,
            Side::Right => self.right,
        }
    }
}

impl Mindful for Turns {
    fn after(&mut self, moment: &Moment<'_>) {
        match moment.outcome {
            Outcome::Row(row) if Bed::BOTH.into_iter().all(|bed| !row.acting(bed).is_empty()) => {
                *self = Self::default();
            }
            Outcome::Row(row) => {
                if let Some((side, stays)) = turn(moment, row) {
                    let edge = if side == Side::Left { &mut self.left } else { &mut self.right };
                    if stays { edge.stayed = true } else { edge.went_over = true }
                }
            }
            Outcome::Handled(handled) if handled.by_carriage => *self = Self::default(),
            _ => {}
        }
    }

    fn promised(&mut self, promise: &Promise) {
        if let Promise::Tube(_) = promise {
            *self = Self::default();
        }
    }
}

pub(crate) fn promised(promised: &Promised<'_>, turns: &Turns) -> Option<Finding> {
    let Promise::Tube(open) = *promised.promise else { return None };
    let meant = open.map_or_else(|| "closed".to_owned(), |side| format!("open at the {side}"));
    let is_broken = |side: &Side| {
        let edge = turns.at(*side);
        if open == Some(*side) { edge.went_over } else { edge.stayed }
    };
    let sides = [Side::Left, Side::Right];
    // At the side that should be open it is felt first.
    let sides = if open == Some(Side::Right) { [Side::Right, Side::Left] } else { sides };
    if let Some(side) = sides.into_iter().find(is_broken) {
        let does = if open == Some(side) {
            "it went over to the other bed, which closes that edge"
        } else {
            "it stayed on its bed, which leaves that edge open"
        };
        return Some(
            RULE.finds(promised.span, format!("this tube is not {meant}: look at the {side}"))
                .marked("promised here")
                .because(format!(
                    "In a row since the cast-on, the last row on both beds or the last such promise, the carriage turned at \
                     the {side} and the yarn did not do what was promised: {does}."
                ))
                .mend(order(open, promised.state.carriage)),
        );
    }
    let unseen = sides.into_iter().find(|side| turns.at(*side) == Edge::default())?;
    Some(
        RULE.finds(promised.span, format!("whether this tube is {meant} cannot be known yet"))
            .marked("promised here")
            .because(format!(
                "Since the cast-on, the last row on both beds or the last such promise, no two rows have knitted single beds \
                 to their edges and turned between them at the {unseen}."
            ))
            .mend("Write the promise behind the rows that knit the beds singly, three at least; or take it out where there are none."),
    )
}

/// In which order the beds are knitted for it, with the carriage where it stands.
fn order(open: Option<Side>, carriage: Side) -> String {
    let Some(side) = open else {
        return "Knit the beds in turns, front, back, front, back, for example `tubular 4 rows`; or mend the promise."
            .to_owned();
    };
    let beds = if carriage == side { ["front", "back", "back", "front"] } else { ["front", "front", "back", "back"] };
    let rows: Vec<String> = beds.iter().map(|bed| format!("`row {bed} knit`")).collect();
    format!("Starting with the carriage on the {carriage}, knit {}, and so on; or mend the promise.", rows.join(", "))
}

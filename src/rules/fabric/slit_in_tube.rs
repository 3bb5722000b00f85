//! `slit-in-tube`

use super::turn::{one_bed, turn};
use crate::beds::{Bed, Outcome};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::mind::Mindful;
use crate::rules::{Besides, Facts, LooksAt, Watch};
use crate::source::Span;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "slit-in-tube",
        severity: Severity::Warning,
        summary: "Two rows running of a tube knit the same bed, so that its edge has a slit.",
        why: "A tube holds together at its edges because the yarn goes over to the other bed each time the carriage turns. \
              Where it turns and knits the same bed again, the two sides are not joined for a row. After an odd number of \
              tubular rows the next ones begin with the other bed.",
        source: "follows from the way of the yarn; rows in turns as D. J. Spencer, Knitting Technology, 3rd ed., 2001, has \
                 them for tubular plain: from memory",
        bad: "in work front L3-R3, back L3-R2
thread slate
cast on zigzag
tubular 3 rows
tubular 20 rows
bind off both",
        good: "in work front L3-R3, back L3-R2
thread slate
cast on zigzag
tubular 3 rows
tubular 20 rows, back first
bind off both",
    },
    looks_at: &[LooksAt::Mindful],
    disturbs: Facts::NONE,
    rests_on: Facts::EVERY_ROW,
    besides: Besides::NOTHING,
};

/// The last rows, as far as one line has knitted the beds in turn.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Course {
    /// The line of the last row and the bed that it knitted; none where it knitted both.
    last: Option<(Span, Bed)>,
    /// Whether rows of that line have knitted the beds in turn.
    in_turn: bool,
    /// Whether the first row of that line stayed on the bed of a line that knitted in turn.
    stayed: bool,
}

impl Course {
    /// With the next row, of that line on that bed; and whether it shows a slit.
    fn next(self, span: Span, bed: Bed, stays: bool) -> (Self, bool) {
        let last = Some((span, bed));
        match self.last {
            Some((line, before)) if line == span => {
                let in_turn = self.in_turn || before != bed;
                let slit = in_turn && (self.stayed || before == bed && stays);
                (Self { last, in_turn, stayed: false }, slit)
            }
            Some((_, before)) => (Self { last, in_turn: false, stayed: self.in_turn && before == bed && stays }, false),
            None => (Self { last, in_turn: false, stayed: false }, false),
        }
    }

    fn row(self, moment: &Moment<'_>) -> Option<(Self, bool)> {
        let Outcome::Row(row) = moment.outcome else { return None };
        let bed = one_bed(moment, row)?;
        Some(self.next(moment.span, bed, turn(moment, row).is_some_and(|(_, stays)| stays)))
    }
}

impl Mindful for Course {
    fn after(&mut self, moment: &Moment<'_>) {
        match moment.outcome {
            Outcome::Row(_) => *self = self.row(moment).map(|(course, _)| course).unwrap_or_default(),
            Outcome::Handled(handled) if handled.by_carriage => *self = Self::default(),
            _ => {}
        }
    }
}

pub(crate) fn look(moment: &Moment<'_>, course: &Course) -> Option<Finding> {
    let (_, slit) = course.row(moment)?;
    let (before, bed) = course.last?;
    if !slit {
        return None;
    }
    let again = before == moment.span && course.in_turn;
    let (what, mend) = if again {
        (
            "this tube begins each time on the bed that it ends on, so its edge has slits",
            "Make the number of rows of a pass even.".to_owned(),
        )
    } else {
        (
            "this tube begins on the bed that was knitted last, so its edge has a slit",
            format!(
                "Begin with the {} bed: write `, {} first` behind `tubular ... rows`; or make the number of tubular rows \
                 before it even.",
                bed.other(),
                bed.other()
            ),
        )
    };
    Some(
        RULE.finds(moment.span, what)
            .marked(format!("two rows running knit the {bed} bed"))
            .because(format!(
                "The row before knitted the {bed} bed and so does the first row here: where the carriage turned between \
                 them, the yarn does not go over to the {} bed, and the two sides of the tube are not joined there.",
                bed.other()
            ))
            .mend(mend),
    )
}

#[cfg(test)]
mod tests {
    use super::Course;
    use crate::rules::mind::at_the_end_of;

    #[test]
    fn rows_on_both_beds_end_it() {
        let course = |lines: &str| at_the_end_of::<Course>(&format!("cast on zigzag\n{lines}"));
        assert_eq!(course(""), Course::default());
        assert!(course("tubular 4 rows").in_turn);
        assert_eq!(course("tubular 4 rows\nrow both knit"), Course::default());
        assert!(!course("row front knit\nrow back knit").in_turn);
    }
}

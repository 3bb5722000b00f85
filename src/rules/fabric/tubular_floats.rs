//! `tubular-floats`

use crate::beds::{Bed, Both, CastOn, NeedleSet, Operation, Outcome, RowDone, State};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::cause::Line;
use crate::rules::memory::{Memory, What};
use crate::rules::mind::Mindful;
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch};
use crate::words::count;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "tubular-floats",
        severity: Severity::Warning,
        summary: "An odd number of tubular rows, other than three, follows a zigzag cast-on: the two sides of the hem are not alike.",
        why: "Tubular rows knit the two beds in turn. After an odd number one bed has a row less: its side of the hem shows \
              small floats, and the carriage stands on the other side than after an even number. Two and three rows are both \
              usual, and three is taken as meant.",
        source: "common practice, no source",
        bad: "in work front L3-R3, back L3-R2
thread slate
cast on zigzag
tubular 5 rows
rows 2 both knit
bind off both",
        good: "in work front L3-R3, back L3-R2
thread slate
cast on zigzag
tubular 4 rows
rows 2 both knit
bind off both",
    },
    looks_at: &[LooksAt::Mindful],
    disturbs: Facts::NONE,
    rests_on: Facts::EVERY_ROW,
    besides: Besides { cause: Some(cause), ..Besides::NOTHING },
};

/// The hem that is being knitted, if one is: rows that knitted the beds in turn since a zigzag cast-on.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) enum Hem {
    /// None is.
    #[default]
    None,
    /// So many rows, at most [`Hem::MOST`], and the bed that the last of them knitted; none before the first.
    Rows(u8, Option<Bed>),
}

impl Hem {
    /// More rows than that are a tube and no hem (common practice, no source).
    const MOST: u8 = 8;
    /// The odd number of rows that is usual beside two.
    const USUAL: u8 = 3;

    fn row(self, row: &RowDone) -> Self {
        let Self::Rows(rows, last) = self else { return Self::None };
        match Bed::BOTH.map(|bed| !row.acting(bed).is_empty()) {
            [true, true] => Self::None,
            [false, false] => self,
            [front, _] => {
                let bed = if front { Bed::Front } else { Bed::Back };
                let goes_on = last != Some(bed) && rows < Self::MOST;
                if goes_on { Self::Rows(rows + 1, Some(bed)) } else { Self::None }
            }
        }
    }

    /// It is a hem no more when half the stitches of a bed, or more, have come to it or left it by hand; a few that did
    /// change nothing of its rows.
    fn handled(self, state: &State, changed: &Both<NeedleSet>) -> Self {
        let whole = |bed: Bed| (state.loops.loaded(bed) - changed[bed]).len() > changed[bed].len();
        if Bed::BOTH.into_iter().all(whole) { self } else { Self::None }
    }
}

impl Mindful for Hem {
    fn after(&mut self, moment: &Moment<'_>) {
        *self = match moment.outcome {
            Outcome::Handled(handled) if handled.by_carriage => {
                let zigzag = matches!(moment.operation, Operation::CastOn(CastOn::Zigzag, _));
                let crosses = Bed::BOTH.into_iter().all(|bed| !handled.made[bed].is_empty());
                if zigzag && crosses { Self::Rows(0, None) } else { Self::None }
            }
            _ if *self == Self::None => return,
            Outcome::Row(row) => self.row(row),
            Outcome::Handled(handled) => {
                self.handled(moment.state, &Both::from_fn(|bed| handled.made[bed] | handled.taken[bed]))
            }
            // Within one bed its side of the hem stays what it is.
            Outcome::Carried(carried) if carried.from != carried.to => {
                // A loosened row of the bed that gives was knitted for the transfer, and may be none of the hem's.
                match self.handled(moment.state, &Both::only(carried.from, carried.donors)) {
                    Self::Rows(_, Some(last)) if last == carried.from && carried.ordinary.is_empty() => Self::None,
                    hem => hem,
                }
            }
            _ => return,
        };
    }
}

pub(crate) fn look(moment: &Moment<'_>, hem: &Hem) -> Option<Finding> {
    let (&Hem::Rows(rows, _), Outcome::Row(row)) = (hem, moment.outcome) else { return None };
    if rows % 2 == 0 || rows == Hem::USUAL || Bed::BOTH.into_iter().any(|bed| row.acting(bed).is_empty()) {
        return None;
    }
    Some(
        RULE.finds(moment.span, format!("the hem has {}, an odd number", count(rows, "tubular row", "tubular rows")))
            .marked("the first row on both beds after it")
            .because("One bed has knitted a row more than the other since the zigzag row, and floats show on its side.")
            .mend(format!(
                "Knit {} tubular rows; then look at the side of the carriage.",
                if rows == 1 { 2 } else { rows - 1 }
            )),
    )
}

fn cause(_: Seen<'_>, memory: &Memory) -> Vec<Line> {
    let last = |bed| Some((memory.last(What::Row(bed))?, "rows of the hem".to_owned()));
    Bed::BOTH.into_iter().filter_map(last).collect()
}

#[cfg(test)]
mod tests {
    use super::Hem;
    use crate::beds::Bed;
    use crate::rules::mind::at_the_end_of;

    #[test]
    fn only_a_zigzag_over_both_beds_begins_a_hem() {
        let begun = |lines: &str| at_the_end_of::<Hem>(lines);
        assert_eq!(begun("cast on zigzag"), Hem::Rows(0, None));
        // Rows of an open cast-on in turn are no hem.
        assert_eq!(begun("cast on open"), Hem::None);
        for how in ["zigzag", "open", "wound", "chain"] {
            for bed in Bed::BOTH {
                assert_eq!(begun(&format!("cast on {how} {bed}")), Hem::None, "{how} {bed}");
            }
        }
    }

    #[test]
    fn a_hem_is_counted_until_both_beds_knit() {
        let rows = |beds: &[&str]| {
            let rows: String = beds.iter().map(|bed| format!("row {bed} knit\n")).collect();
            at_the_end_of::<Hem>(&format!("cast on zigzag\n{rows}"))
        };
        assert_eq!(rows(&["front", "back", "front"]), Hem::Rows(3, Some(Bed::Front)));
        assert_eq!(rows(&["front", "back", "front", "both"]), Hem::None);
        assert_eq!(rows(&["front", "front"]), Hem::None);
        assert_eq!(rows(&["front", "back"].repeat(4)), Hem::Rows(8, Some(Bed::Back)));
        assert_eq!(rows(&["front", "back", "front", "back", "front", "back", "front", "back", "front"]), Hem::None);
    }
}

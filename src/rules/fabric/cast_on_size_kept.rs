//! `cast-on-size-kept`

use crate::beds::{Bed, Both, CastOn, Operation, Outcome};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::cause::{Line, at};
use crate::rules::memory::{Memory, What};
use crate::rules::mind::Mindful;
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch};
use crate::words::{list, size};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "cast-on-size-kept",
        severity: Severity::Warning,
        summary: "The stitch size of a zigzag cast-on is kept for the rows after it.",
        why: "The zigzag row is made at the tightest size, so that the edge lies flat and holds. Two or three tubular rows \
              later the fabric begins, and has the size of its swatch. If the size is forgotten, the whole piece is hard and \
              comes out short.",
        source: "common practice, no source",
        bad: "in work front L3-R3, back L3-R2
thread slate
stitch size 1
cast on zigzag
tubular 2 rows
rows 20 both knit
bind off both",
        good: "in work front L3-R3, back L3-R2
thread slate
stitch size 1
cast on zigzag
tubular 2 rows
stitch size 5
rows 20 both knit
bind off both",
    },
    looks_at: &[LooksAt::Mindful],
    disturbs: Facts::NONE,
    rests_on: Facts::EVERY_ROW,
    besides: Besides { cause: Some(cause), ..Besides::NOTHING },
};

/// Whether the sizes of a zigzag cast-on still stand, and how much has been knitted with them.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) enum Kept {
    /// They do not, or it has been told.
    #[default]
    No,
    /// They do; a row on both beds counts [`Kept::BOTH`], one on a single bed, which may be one of the hem, 1.
    Since(u8),
}

impl Kept {
    const BOTH: u8 = 3;
    /// The fourth row on both beds is no edge any more, nor is the twelfth tubular row (common practice, no source).
    const TOLD_AT: u8 = 4 * Self::BOTH;

    /// With what was done next.
    fn next(self, moment: &Moment<'_>) -> Self {
        match (moment.operation, moment.outcome) {
            (Operation::CastOn(CastOn::Zigzag, _), Outcome::Handled(handled)) => {
                let crosses = Bed::BOTH.into_iter().all(|bed| !handled.made[bed].is_empty());
                let set = Bed::BOTH.into_iter().any(|bed| moment.state.sizes[bed].is_some());
                // Over stitches that hang there already it is no beginning.
                let begins = handled.made.len() == moment.state.ledger.on_needles;
                if crosses && set && begins { Self::Since(0) } else { Self::No }
            }
            (Operation::StitchSize(_), _) => Self::No,
            (_, Outcome::Row(row)) => {
                let Self::Since(so_far) = self else { return self };
                let acting = Both::from_fn(|bed| !row.acting(bed).is_empty());
                // Who gives rows a size of their own thinks of it.
                if Bed::BOTH.into_iter().any(|bed| acting[bed] && row.sizes[bed] != moment.state.sizes[bed]) {
                    return Self::No;
                }
                let more = if acting.front && acting.back { Self::BOTH } else { 1 };
                if so_far >= Self::TOLD_AT { Self::No } else { Self::Since(so_far + more) }
            }
            _ => self,
        }
    }
}

impl Mindful for Kept {
    fn after(&mut self, moment: &Moment<'_>) {
        *self = self.next(moment);
    }
}

pub(crate) fn look(moment: &Moment<'_>, kept: &Kept) -> Option<Finding> {
    let (Kept::Since(before), Kept::Since(now)) = (*kept, kept.next(moment)) else { return None };
    if now < Kept::TOLD_AT || before >= Kept::TOLD_AT {
        return None;
    }
    let sizes = moment.state.sizes;
    let words = match (sizes.front, sizes.back) {
        (Some(front), Some(back)) if front == back => size(front),
        _ => {
            let set = sizes.iter().filter_map(|(bed, at)| at.map(|at| format!("{bed} {}", size(at))));
            list(&set.collect::<Vec<_>>())
        }
    };
    let again = match (sizes.front, sizes.back) {
        (Some(front), Some(back)) if front != back => format!("front {}, back {}", size(front), size(back)),
        (Some(at), Some(_)) => size(at),
        (Some(at), None) => format!("front {}", size(at)),
        (None, at) => format!("back {}", size(at.unwrap_or_default())),
    };
    Some(
        RULE.finds(moment.span, format!("the stitch size of the cast-on, {words}, is still set here"))
            .marked("knitted at the size of the cast-on")
            .because("A zigzag cast-on is made tight, and the fabric at the size of its swatch. No line has set the size since the cast-on.")
            .mend(format!(
                "Set the size of the fabric on a line after the tubular rows of the cast-on: `stitch size` and the number of \
                 your swatch. If it is {words} as well, write `stitch size {again}` there once more."
            )),
    )
}

fn cause(_: Seen<'_>, memory: &Memory) -> Vec<Line> {
    Bed::BOTH.into_iter().flat_map(|bed| at(memory.last(What::Size(bed)), "the size is set here last")).collect()
}

//! `stretched-hold`

use crate::beds::{Bed, Needle, NeedleSet, Outcome, Place};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::mind::Mindful;
use crate::rules::{Besides, Facts, LooksAt, Stands, Watch, picture};
use crate::words::count;
use crate::words::spans::on_bed;
use std::collections::BTreeMap;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "stretched-hold",
        severity: Severity::Warning,
        summary: "A stitch slips or is held for many rows while its neighbours knit on.",
        why: "A stitch that is not knitted is drawn up through every row that its neighbours knit. It gets tight, puckers \
              the fabric, will not clear when it is knitted at last, or breaks. So are several side by side that wait between \
              two that knit, since the yarn ties the two sides together, and one or two at an edge. A wider part that is held \
              at one side, as for a neck, has a slit beside it: it is not pulled.",
        source: "the machine's profile (`longest wait`); without it 4 rows, as for the tucks under which a stitch is held: D. J. \
                 Spencer, Knitting Technology, 3rd ed., 2001, p. 96: up to four successive tucks in normal conditions. That a \
                 held loop stretches to the course where its needle next knits: ch. 9. How wide an edge is: common practice, \
                 no source",
        bad: "in work front L4-R4
thread slate
cast on wound front
row front knit
rows 9 front slip on R1, knit elsewhere
row front knit
bind off front",
        good: "in work front L4-R4
thread slate
cast on wound front
row front knit
rows 4 front slip on R1, knit elsewhere
row front knit
rows 4 front slip on R1, knit elsewhere
row front knit
bind off front",
    },
    looks_at: &[LooksAt::Mindful],
    disturbs: Facts::NONE,
    rests_on: Facts::EVERY_ROW,
    besides: Besides { stands: Stands::ToTheEndOfTheBlock, ..Besides::NOTHING },
};

/// How many rows the neighbours of a waiting stitch have knitted, for each that waits.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Waits(BTreeMap<Place, u32>);

impl Waits {
    /// So many the profile can ask for, and one more; further on it is not counted.
    const MOST: u32 = 31;

    /// With what was done next. Cheap where all of a bed knits, and nothing has waited.
    fn next(&mut self, moment: &Moment<'_>) {
        let loops = &moment.state.loops;
        let Outcome::Row(row) = moment.outcome else {
            // What is carried elsewhere waits anew.
            self.0.retain(|(bed, needle), _| loops.loaded(*bed).contains(*needle));
            return;
        };
        for bed in Bed::BOTH {
            let acting = row.acting(bed);
            if acting.is_empty() {
                continue;
            }
            self.0.retain(|(of, needle), _| *of != bed || !acting.contains(*needle));
            for needle in pulled(loops.loaded(bed), acting).iter() {
                let rows = self.0.entry((bed, needle)).or_default();
                *rows = (*rows + 1).min(Self::MOST);
            }
        }
    }
}

impl Mindful for Waits {
    fn after(&mut self, moment: &Moment<'_>) {
        if self.0.is_empty() && !matches!(moment.outcome, Outcome::Row(_)) {
            return;
        }
        self.next(moment);
    }
}

/// Of the loaded needles those that a row pulls which knits the others: that wait between two that take the yarn, alone or
/// several side by side, or at an edge, where there are not more of them than an edge has.
fn pulled(loaded: NeedleSet, acting: NeedleSet) -> NeedleSet {
    if (loaded - acting).is_empty() {
        return NeedleSet::EMPTY;
    }
    let mut pulled = NeedleSet::EMPTY;
    let mut waiting: Vec<Needle> = Vec::new();
    let mut inside = false;
    for needle in loaded.iter() {
        if acting.contains(needle) {
            if inside || waiting.len() <= EDGE {
                pulled |= waiting.drain(..).collect::<NeedleSet>();
            }
            waiting.clear();
            inside = true;
        } else {
            waiting.push(needle);
        }
    }
    if inside && waiting.len() <= EDGE {
        pulled |= waiting.into_iter().collect::<NeedleSet>();
    }
    pulled
}

/// So many stitches are an edge; a wider part that is held at one side has a slit beside it, and is not pulled (common
/// practice, no source).
const EDGE: usize = 2;

pub(crate) fn look(moment: &Moment<'_>, waits: &Waits) -> Option<Finding> {
    let Outcome::Row(row) = moment.outcome else { return None };
    let (state, limit) = (moment.state, moment.machine.longest_wait);
    Bed::BOTH.into_iter().find_map(|bed| {
        let acting = row.acting(bed);
        // Nearly always all of a bed knits, or nothing does.
        if acting.is_empty() || (state.loops.loaded(bed) - acting).is_empty() {
            return None;
        }
        let rows = |needle| waits.0.get(&(bed, needle)).map_or(0, |rows| *rows) + 1;
        let pulled = pulled(state.loops.loaded(bed), acting);
        let long: NeedleSet = pulled.iter().filter(|&needle| rows(needle) > limit.value).collect();
        let first = long.first()?;
        let highest = long.iter().map(rows).max()?;
        let (wait, them, their) =
            if long.len() == 1 { ("waits", "needle", "its") } else { ("wait", "needles", "their") };
        let mut finding = RULE
            .finds(moment.span, format!("{} {wait} while {their} neighbours knit", on_bed(bed, long)))
            .marked(format!("{wait} for {} now", count(highest, "row", "rows")))
            .because(format!(
                "The stitch is drawn up through every row that its neighbours knit, and this is row {highest} of them; the limit is \
                 {} ({}).",
                count(limit.value, "row", "rows"),
                limit.origin()
            ))
            .mend(format!(
                "Knit the {them} in between; if your yarn bears it, raise `longest wait` in the machine's profile."
            ));
        finding.picture = Some(picture::around(moment.machine, state, bed, first));
        Some(finding)
    })
}

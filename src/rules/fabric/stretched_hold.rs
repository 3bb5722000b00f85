//! `stretched-hold`

use crate::beds::{Bed, NeedleSet, RowDone};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Stands, Watch, picture};
use crate::words::count;
use crate::words::spans::on_bed;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "stretched-hold",
        severity: Severity::Warning,
        summary: "A single stitch slips or is held for many rows while both its neighbours knit on.",
        why: "A stitch that is not knitted is drawn up through every row that its neighbours knit. It gets tight, puckers \
              the fabric, will not clear when it is knitted at last, or breaks. A whole group that waits is not pulled so: \
              only a needle that waits alone is judged.",
        source: "the machine's profile (`longest wait`); without it 8 rows (common practice, no source). That a held loop \
                 stretches to the course where its needle next knits: D. J. Spencer, Knitting Technology, 3rd ed., 2001, ch. 9",
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
    looks_at: &[LooksAt::Row(row)],
    disturbs: Facts::NONE,
    rests_on: Facts::EVERY_ROW,
    besides: Besides { stands: Stands::ToTheEndOfTheBlock, ..Besides::NOTHING },
};

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    let state = moment.state;
    let limit = moment.machine.longest_wait;
    Bed::BOTH.into_iter().find_map(|bed| {
        let acting = row.acting(bed);
        let waiting = state.loops.loaded(bed) - acting;
        // Nearly always all of a bed knits, or nothing does.
        if waiting.is_empty() || acting.is_empty() {
            return None;
        }
        // Where the stitches stand side by side, their neighbours have the next numbers, which is quick.
        let loaded = state.loops.loaded(bed);
        let gapless = NeedleSet::span(loaded.first()?, loaded.last()?) == loaded;
        let candidates = if gapless { waiting & acting.shifted(1) & acting.shifted(-1) } else { waiting };
        if candidates.is_empty() {
            return None;
        }
        let long = candidates & state.loops.untouched_since(bed, state.row.checked_sub(u64::from(limit.value) + 1)?);
        let long = if gapless || long.is_empty() { long } else { long & between_two_of(acting, loaded) };
        let first = long.first()?;
        let newest = state.loops.stack(bed, first).iter().map(|what| what.made).max()?;
        let rows = state.row - newest;
        let several = long.len() > 1;
        let (wait, loop_of, marked, them, their) = if several {
            ("wait", format!("The last loop of {bed} {first}"), format!("{bed} {first} waits"), "needles", "their")
        } else {
            ("waits", "Its last loop".to_owned(), "waits".to_owned(), "needle", "its")
        };
        let mut finding = RULE
            .finds(moment.span, format!("{} {wait} while both neighbours knit", on_bed(bed, long)))
            .marked(format!("{marked} for {} now", count(rows, "row", "rows")))
            .because(format!(
                "{loop_of} is from row {newest}, and this is row {}; the limit is {} ({}).",
                state.row,
                count(limit.value, "row", "rows"),
                limit.origin()
            ))
            .mend(format!("Knit the {them} in between, or let {their} neighbours wait too; if your yarn bears it, raise `longest wait` in the machine's profile."));
        finding.picture = Some(picture::around(moment.machine, state, bed, first));
        Some(finding)
    })
}

/// The loaded needles of a bed whose next loaded needles on both sides are of that set, however far off they stand.
fn between_two_of(set: NeedleSet, loaded: NeedleSet) -> NeedleSet {
    let others = loaded.iter().skip(1);
    let beyond = loaded.iter().skip(2);
    loaded
        .iter()
        .zip(others)
        .zip(beyond)
        .filter(|((left, _), right)| set.contains(*left) && set.contains(*right))
        .map(|((_, needle), _)| needle)
        .collect()
}

//! `tubular-floats`

use crate::beds::{Bed, RowDone};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::cause::Line;
use crate::rules::memory::Memory;
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch};
use crate::words::count;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "tubular-floats",
        severity: Severity::Warning,
        summary: "An odd number of tubular rows follows a zigzag cast-on, so the two sides of the hem are not alike.",
        why: "Tubular rows knit the two beds in turn. After an odd number one bed has a row less: its side of the hem shows \
              small floats, and the carriage stands on the other side than after an even number.",
        source: "common practice, no source",
        bad: "in work front L3-R3, back L3-R2
thread slate
cast on zigzag
tubular 3 rows
rows 2 both knit
bind off both",
        good: "in work front L3-R3, back L3-R2
thread slate
cast on zigzag
tubular 2 rows
rows 2 both knit
bind off both",
    },
    looks_at: &[LooksAt::Row(row)],
    disturbs: Facts::NONE,
    rests_on: Facts::EVERY_ROW,
    besides: Besides { cause: Some(cause), ..Besides::NOTHING },
};

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    let rows = row.hem_rows?;
    if rows % 2 == 0 {
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
    let last = |bed| Some((memory.last_row(bed)?.span, "rows of the hem".to_owned()));
    Bed::BOTH.into_iter().filter_map(last).collect()
}

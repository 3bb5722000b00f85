//! `unplanned-loop`

use crate::beds::RowDone;
use crate::catalogue::{Rule, Severity};
use crate::finding::{Finding, Fix};
use crate::play::Moment;
use crate::rules::cause::{Line, empty_since};
use crate::rules::memory::Memory;
use crate::rules::remedy::line_before;
use crate::rules::{Besides, Facts, LooksAt, Seen, Touches, Watch, picture};
use crate::source::Span;
use crate::words::spans::{needles, written};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "unplanned-loop",
        severity: Severity::Error,
        summary: "An empty needle in work would catch the yarn and begin a stitch that nobody asked for.",
        why: "A needle that is empty but still in work takes the yarn when the carriage passes. One row later there is an \
              extra stitch, and a hole below it; after a decrease the decrease is undone.",
        source: "D. J. Spencer, Knitting Technology, 3rd ed., 2001, section 15.2.1: an emptied needle first forms a \
                 tuck-like loop, and a stitch only at its second knitting",
        bad: "in work front L3-R3
thread slate
cast on wound front
row front knit, loosened 1
move front L3 1 right, joining
row front knit
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
row front knit, loosened 1
move front L3 1 right, joining
out of work front L3
row front knit
bind off front",
    },
    looks_at: &[LooksAt::Row(row)],
    disturbs: Facts::LOOPS,
    rests_on: Facts::LOOPS.and(Facts::EVERY_ROW),
    besides: Besides { touches: Some(touches), cause: Some(cause), fix: Some(fix), ..Besides::NOTHING },
};

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    if row.new_loops || row.caught.is_empty() {
        return None;
    }
    let number = row.caught.len();
    let (bed, first) = row.caught.iter().find_map(|(bed, set)| Some((bed, set.first()?)))?;
    let (is, needles_word) = if number == 1 { ("is", "an empty needle") } else { ("are", "empty needles") };
    let mut finding = RULE
        .finds(moment.span, format!("{} {is} empty and would catch the yarn", needles(&row.caught)))
        .marked(format!("this row works over {needles_word}"))
        .because(format!(
            "{} in work but carries no stitch, so this row lays a loop on it that becomes an extra stitch one row later.",
            if number == 1 { "The needle is" } else { "Each of these needles is" },
        ))
        .mend("Put what is empty out of work before this row; or, where the loops are meant (an eyelet, a new edge stitch), write `, new loops` behind the row; or cast on first.");
    finding.picture = Some(picture::around(moment.machine, moment.state, bed, first));
    Some(finding)
}

/// Where nothing is cast on before, the cast-on was forgotten, and one by the carriage would have been a row too.
fn touches(_: Seen<'_>, memory: &Memory, usual: Touches) -> Touches {
    let disturbs = if memory.is_cast_on() { usual.disturbs } else { usual.disturbs.and(Facts::COUNTER) };
    Touches { disturbs, ..usual }
}

fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    seen.row().map(|row| empty_since(memory, &row.caught)).unwrap_or_default()
}

/// Not safe: the loops may be meant (an eyelet, a new edge stitch), or a cast-on forgotten.
fn fix(span: Span, seen: Seen<'_>, _: &Memory) -> Option<Fix> {
    let Seen::Done(Moment { pass: None, .. }) = seen else { return None };
    Some(line_before(span, &format!("out of work {}", written(&seen.row()?.caught))))
}

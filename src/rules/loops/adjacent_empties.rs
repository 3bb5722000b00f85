//! `adjacent-empties`

use crate::beds::{Bed, Both, NeedleSet, RowDone};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::cause::{Line, empty_since};
use crate::rules::memory::Memory;
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch, picture};
use crate::words::spans::on_bed;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "adjacent-empties",
        severity: Severity::Error,
        summary: "Two empty neighbours of one bed take up the yarn in the same row and share one loop.",
        why: "Between two neighbours that are both empty nothing ties the yarn down: they share one slack loop, and \
              neither becomes a stitch. Empty needles come back one at a time, with a stitch between them.",
        source: "D. J. Spencer, Knitting Technology, 3rd ed., 2001, section 15.2.1: two adjacent empty needles that \
                 restart in the same course are insecure",
        bad: "in work front L3-R3
thread slate
cast on wound front
row front knit, loosened 1
move front L1 1 left, joining
move front R1 1 right, joining
row front knit, new loops
row front knit
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
row front knit, loosened 1
move front L1 1 left, joining
row front knit, new loops
row front knit
bind off front",
    },
    looks_at: &[LooksAt::Row(row)],
    disturbs: Facts::LOOPS,
    rests_on: Facts::LOOPS.and(Facts::EVERY_ROW),
    besides: Besides { cause: Some(cause), ..Besides::NOTHING },
};

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    if !row.new_loops {
        return None;
    }
    // First each bed by itself, which is quick. Needles that slip or are out of work do not touch the yarn.
    let next_to_each_other = |bed: Bed| {
        let mut after_caught = false;
        let mut caught = row.acting(bed).iter().map(|needle| row.caught[bed].contains(needle));
        caught.any(|caught| std::mem::replace(&mut after_caught, caught) && caught)
    };
    if !Bed::BOTH.into_iter().any(next_to_each_other) {
        return None;
    }
    // A working needle of the other bed between the two would tie the yarn down.
    let path = moment.state.yarn_path(moment.machine, &Both::from_fn(|bed| row.acting(bed)), row.toward);
    let pair = path.windows(2).find(|pair| {
        let ((_, bed, one), (_, other_bed, other)) = (pair[0], pair[1]);
        bed == other_bed && row.caught[bed].contains(one) && row.caught[bed].contains(other)
    })?;
    let (bed, both): (Bed, NeedleSet) = (pair[0].1, [pair[0].2, pair[1].2].into_iter().collect());
    let mut finding = RULE
        .finds(moment.span, format!("{} are both empty and would share one loop", on_bed(bed, both)))
        .marked("both take up the yarn in this row")
        .because("They are neighbours in the path of the yarn, with no working needle between them to tie it down.")
        .mend("Let one of them begin in this row and the other at least one row later, or wind a loop on each with `new loops`.");
    finding.picture = both.first().map(|needle| picture::around(moment.machine, moment.state, bed, needle));
    Some(finding)
}

fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    seen.row().map(|row| empty_since(memory, &row.caught)).unwrap_or_default()
}

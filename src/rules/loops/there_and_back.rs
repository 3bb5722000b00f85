//! `there-and-back`

use crate::beds::Carried;
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::cause::{Line, who};
use crate::rules::memory::{Deed, Memory};
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch, picture};
use crate::words::count;
use crate::words::spans::on_bed;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "there-and-back",
        severity: Severity::Warning,
        summary: "Stitches go straight back to the needles they came from, with nothing knitted in between.",
        why: "Two moves that undo each other leave the beds as they were, and stretch every stitch twice. Most often a row \
              between them was left out, or a step of racking.",
        source: "follows from the state of the beds",
        bad: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
row front knit, loosened 1
gaiting opposite
transfer front to back
transfer back to front
row front knit
bind off front",
        good: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
row front knit, loosened 1
gaiting opposite
transfer front to back
row back knit, loosened 1
transfer back to front
row front knit
bind off front",
    },
    looks_at: &[LooksAt::Carried(carried)],
    disturbs: Facts::NONE,
    rests_on: Facts::NONE,
    besides: Besides { cause: Some(cause), ..Besides::NOTHING },
};

fn carried(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    if !carried.taken_back {
        return None;
    }
    let first = carried.donors.first()?;
    let what = match carried.donors.len() {
        1 => format!("the stitch of {} goes straight back to where it came from", on_bed(carried.from, carried.donors)),
        many => format!("{} go straight back to where they came from", count(many, "stitch", "stitches")),
    };
    let mut finding = RULE
        .finds(moment.span, what)
        .marked("taken back here")
        .because(format!(
            "The move before this one emptied {}. Nothing was knitted in between, and the beds were not racked, so the two lines together change nothing.",
            on_bed(carried.to, carried.donors.shifted(carried.by))
        ))
        .mend("Write the row, or the racking, that is missing between the two; or take both lines out.");
    finding.picture = Some(picture::around(moment.machine, moment.state, carried.from, first));
    Some(finding)
}

fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    let Some(carried) = seen.carried() else { return Vec::new() };
    who(memory, Deed::Emptied, carried.to, carried.donors.shifted(carried.by), "emptied here")
}

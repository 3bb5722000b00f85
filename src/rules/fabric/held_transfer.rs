//! `held-transfer`

use crate::beds::{Bed, Both, Carried, NeedleSet, Tool};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::cause::{Line, who};
use crate::rules::memory::{Deed, Memory};
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch};
use crate::words::spans::{needles, written};
use crate::words::{count, is_are};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "held-transfer",
        severity: Severity::Warning,
        summary: "Needles that are held give or take stitches in a transfer.",
        why: "A held needle stands far forward. The transfer carriage runs into its hook; the stitch that waits on it was \
              not knitted in the loosened row, and is tight; and what comes to the other bed is held no more. So held \
              needles are released before the row that is loosened for the transfer.",
        source: "common practice, no source",
        bad: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
rows 2 front knit
hold front R2-R3
row front knit, loosened 1
gaiting opposite
transfer front to back
release front
bind off back",
        good: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
rows 2 front knit
hold front R2-R3
rows 2 front knit
release front
row front knit, loosened 1
gaiting opposite
transfer front to back
bind off back",
    },
    looks_at: &[LooksAt::Carried(carried)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS,
    besides: Besides { cause: Some(cause), ..Besides::NOTHING },
};

/// Whether the held needles of a transfer are told. By hand, a needle that stands forward gives and takes as well as
/// another.
pub(crate) fn is_told(carried: &Carried) -> bool {
    carried.transfer && carried.tool != Some(Tool::Hand) && !carried.held.is_empty()
}

fn carried(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    if !is_told(carried) {
        return None;
    }
    let held = &carried.held;
    let number = held.len();
    let does = match (held[carried.from].is_empty(), held[carried.to].is_empty()) {
        (false, false) => "give or take",
        (false, true) if number == 1 => "gives",
        (true, false) if number == 1 => "takes",
        (false, true) => "give",
        (true, false) => "take",
        (true, true) => return None,
    };
    let stitches = if number == 1 { "a stitch" } else { "stitches" };
    let named = needles(held);
    let left_out = if held[carried.from].is_empty() { "" } else { ", and the row before left out what waits on them" };
    Some(
        RULE.finds(
            moment.span,
            format!("{} {does} {stitches} in this transfer while held", count(number, "needle", "needles")),
        )
        .marked("transferred here")
        .because(format!("{named} {} held, forward in the way of a transfer carriage{left_out}.", is_are(number)))
        .mend(format!(
            "Release first: write `release {}` before the row that is loosened for the transfer.",
            written(held)
        )),
    )
}

fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    let held: Both<NeedleSet> = seen.carried().map(|carried| carried.held).unwrap_or_default();
    Bed::BOTH.into_iter().flat_map(|bed| who(memory, Deed::Held, bed, held[bed], "put to hold here")).collect()
}

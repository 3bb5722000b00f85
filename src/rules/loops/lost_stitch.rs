//! `lost-stitch`

use crate::beds::{Both, Carried, NeedlesPut};
use crate::catalogue::{Rule, Severity};
use crate::finding::{Finding, Fix};
use crate::play::Moment;
use crate::rules::cause::{Line, who};
use crate::rules::memory::{Deed, Memory};
use crate::rules::remedy::line_before;
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch, picture};
use crate::source::Span;
use crate::words::spans::{needles, on_bed, written};
use crate::words::{count, is_are, steps};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "lost-stitch",
        severity: Severity::Error,
        summary: "A stitch is moved to where no needle takes it, or its needle is put out of work.",
        why: "A stitch that no working needle holds slips off or is stretched until it breaks, and the column below it \
              runs down. On the machine this is seen rows later, on the floor.",
        source: "common practice, no source",
        bad: "in work front L3-R3, back L3-R2
thread slate
cast on wound front
row front knit, loosened 1
gaiting opposite
transfer front to back
bind off back",
        good: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
row front knit, loosened 1
gaiting opposite
transfer front to back
bind off back",
    },
    looks_at: &[LooksAt::Carried(moved), LooksAt::Needles(put)],
    disturbs: Facts::LOOPS,
    rests_on: Facts::LOOPS,
    besides: Besides { cause: Some(cause), fix: Some(fix), ..Besides::NOTHING },
};

fn moved(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    let (set, why, mend) = if let Some(first) = carried.into_idle.first() {
        let receiver = carried.idle.first()?;
        (
            carried.into_idle,
            format!(
                "{} {receiver}, which should take the stitch of {} {first}, is out of work.",
                carried.to, carried.from
            ),
            format!(
                "Bring the receiving needles into work first: `in work {}`.",
                written(&Both::only(carried.to, carried.idle))
            ),
        )
    } else {
        let first = carried.past_end.first()?;
        (
            carried.past_end,
            format!(
                "{} {first} would go {} further, past the end of the {} bed.",
                carried.from,
                count(carried.by.unsigned_abs(), "needle", "needles"),
                carried.to
            ),
            "Move fewer needles, or begin nearer to the centre.".to_owned(),
        )
    };
    let mend = racked_away(moment, carried, mend);
    let mut finding = RULE
        .finds(
            moment.span,
            match set.len() {
                1 => format!("the stitch of {} has no needle to go to", on_bed(carried.from, set)),
                many => format!("{many} stitches, those of {}, have no needle to go to", on_bed(carried.from, set)),
            },
        )
        .marked("lost here")
        .because(why)
        .mend(mend);
    finding.picture = set.first().map(|needle| picture::around(moment.machine, moment.state, carried.from, needle));
    Some(finding)
}

/// What to do where the beds would stand right at the centre: first that they are racked.
fn racked_away(moment: &Moment<'_>, carried: &Carried, mend: String) -> String {
    let state = moment.state;
    let lost = carried.into_idle | carried.past_end;
    let ready = state.in_work[carried.to] | state.held[carried.to];
    // At the centre needles of one name face each other.
    if !carried.transfer || state.racking == 0 || !(lost - ready).is_empty() {
        return mend;
    }
    let Some(first) = carried.into_idle.first().or(carried.past_end.first()) else { return mend };
    let faces = match carried.idle.first() {
        Some(receiver) => format!("{} {receiver}", carried.to),
        None => "no needle".to_owned(),
    };
    format!(
        "The beds are racked {}, so {} {first} faces {faces}. If they should stand at the centre, write `rack to centre` before the transfer. Otherwise {}",
        steps(state.racking),
        carried.from,
        mend.replacen(char::is_uppercase, &mend[..1].to_lowercase(), 1)
    )
}

fn put(moment: &Moment<'_>, put: &NeedlesPut) -> Option<Finding> {
    let lost = put.lost.len();
    if lost == 0 {
        return None;
    }
    let verb = if lost == 1 { "carries a stitch" } else { "carry stitches" };
    Some(
        RULE.finds(moment.span, format!("{} still {verb} and {} put out of work", needles(&put.lost), is_are(lost)))
            .marked(format!("{} lost here", count(lost, "stitch is", "stitches are")))
            .because("The carriage no longer moves a needle that is out of work, so its stitch is pulled until it breaks or falls.")
            .mend("Transfer, move, bind off or drop those stitches first, or leave the needles in work."),
    )
}

fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    let Some(carried) = seen.carried() else { return Vec::new() };
    who(memory, Deed::PutOut, carried.to, carried.idle, "put out of work here")
}

/// Not safe: perhaps the stitches were meant to go the other way.
fn fix(span: Span, seen: Seen<'_>, _: &Memory) -> Option<Fix> {
    let carried = seen.carried().filter(|carried| !carried.idle.is_empty())?;
    Some(line_before(span, &format!("in work {}", written(&Both::only(carried.to, carried.idle)))))
}

//! `doubled-stitch`

use crate::beds::{Carried, Handled};
use crate::catalogue::{Rule, Severity};
use crate::finding::{Finding, Fix};
use crate::play::Moment;
use crate::rules::memory::Memory;
use crate::rules::remedy::behind;
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch, picture};
use crate::source::Span;
use crate::words::count;
use crate::words::spans::{needles, on_bed};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "doubled-stitch",
        severity: Severity::Error,
        summary: "A stitch comes to lie on another one and the pattern does not say that it should.",
        why: "Two stitches on one needle knit together as one: the count is short by one, there is a lump, and with \
              many the carriage may jam. Where it is meant, as in a decrease or when a rib is closed to one bed, the \
              word `joining` says so.",
        source: "D. J. Spencer, Knitting Technology, 3rd ed., 2001, section 16.4.1, p. 185: fashioning from bed to bed requires \
                 the receiving needles to be empty; that two stitches knit as one, follows from the state of the beds",
        bad: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
cast on wound back
row both knit, loosened 1
gaiting opposite
transfer back to front
out of work back
bind off front",
        good: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
cast on wound back
row both knit, loosened 1
gaiting opposite
transfer back to front, joining
out of work back
bind off front",
    },
    looks_at: &[LooksAt::Carried(moved), LooksAt::Handled(handled)],
    disturbs: Facts::LOOPS,
    rests_on: Facts::LOOPS,
    besides: Besides { fix: Some(fix), ..Besides::NOTHING },
};

fn moved(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    let first = carried.joined.first()?;
    if carried.joining {
        return None;
    }
    let number = carried.joined.len();
    let mut finding = RULE
        .finds(
            moment.span,
            format!("{} would carry two stitches where one is meant", on_bed(carried.to, carried.joined)),
        )
        .marked(format!("joins {}", count(number, "pair of stitches", "pairs of stitches")))
        .because(format!(
            "{} already carries a stitch, so the count falls by {number}.",
            if number == 1 { "The receiving needle" } else { "Each receiving needle" },
        ))
        .mend("If the stitches should be knitted together, write `, joining` behind the line; if not, choose needles whose receivers are empty.");
    finding.picture = Some(picture::around(moment.machine, moment.state, carried.to, first));
    Some(finding)
}

fn handled(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    let occupied = crate::beds::Both::from_fn(|bed| handled.refused[bed] & moment.state.loops.loaded(bed));
    if occupied.is_empty() || handled.not_there > 0 {
        return None;
    }
    let carry = if occupied.len() == 1 { "carries a stitch" } else { "carry stitches" };
    Some(
        RULE.finds(moment.span, format!("{} already {carry}", needles(&occupied)))
            .marked("a second one is asked for here")
            .because("A loop is cast on or wound only on an empty needle; on a loaded one it would lie over the stitch that is there.")
            .mend(if handled.made.is_empty() {
                "No needle that the line means is empty, so it makes no loop: take it out; or bind off what hangs there first, if new work begins here."
            } else {
                "Name only empty needles here: `all but loaded` picks them."
            }),
    )
}

/// Not safe: perhaps the wrong bed or the wrong needle is named.
fn fix(span: Span, seen: Seen<'_>, _: &Memory) -> Option<Fix> {
    seen.carried().map(|_| behind(span, ", joining"))
}

//! `no-needle-found`

use crate::beds::{Bed, Both, CastOn, Handled, Operation};
use crate::catalogue::{Rule, Severity};
use crate::finding::{Finding, Goes, Way};
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Watch};
use crate::words::spans::written;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "no-needle-found",
        severity: Severity::Error,
        summary: "A cast-on finds no needle in work, or a bind-off no stitch: it does nothing at all.",
        why: "A cast-on that reaches no needle leaves the beds bare, and every row after it knits on nothing. A bind-off \
              that finds no stitch leaves the fabric open: its stitches are on the other bed, or were lost before. Most \
              often the wrong bed is named.",
        source: "follows from the state of the beds",
        bad: "in work front L3-R3
thread slate
cast on wound back
row front knit
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
row front knit
bind off front",
    },
    looks_at: &[LooksAt::Handled(handled)],
    disturbs: Facts::LOOPS,
    rests_on: Facts::LOOPS,
    besides: Besides::NOTHING,
};

/// Whether it is a cast-on or a bind-off that did nothing at all. One that names needles the beds do not have, or casts
/// on over stitches, is told of by other rules.
pub(super) fn is_so(moment: &Moment<'_>, handled: &Handled) -> bool {
    let taken_already = Both::from_fn(|bed| handled.refused[bed] & moment.state.loops.loaded(bed));
    matches!(moment.operation, Operation::CastOn(..) | Operation::BindOff(_))
        && [&handled.made, &handled.taken, &handled.off_bed, &taken_already].into_iter().all(Both::is_empty)
}

fn handled(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    is_so(moment, handled).then(|| {
        if let Operation::BindOff(_) = moment.operation {
            let carrying = |bed| moment.state.loops.loaded(bed).len();
            let there = match (carrying(Bed::Front), carrying(Bed::Back)) {
                (0, 0) => "Neither bed carries a loop at this point.".to_owned(),
                (front, back) => format!(
                    "None of the needles it means carries a stitch at this point. Loaded are {front} needles of the \
                     front bed and {back} of the back bed."
                ),
            };
            return RULE
                .finds(moment.span, "this bind-off finds no stitch to bind off")
                .marked("binds off nothing")
                .because(there)
                .mend("Name the bed and the needles that carry the stitches, or look at the lines before it for where they went.");
        }
        let held = Both::from_fn(|bed| handled.refused[bed] & moment.state.held[bed]);
        let line = if held.is_empty() { ("in work", handled.refused) } else { ("release", held) };
        let finding = RULE
            .finds(moment.span, "this cast-on finds no needle to cast on")
            .marked("casts on nothing")
            .because("None of the needles it means is in work and ready at this point, so no loop is made.");
        if !line.1.is_empty() {
            let mend = format!("Write before this line: `{} {}`; or name the needles that are in work.", line.0, written(&line.1));
            return finding.mend(mend);
        }
        // Which needles only the knitter knows.
        let zigzag = matches!(moment.operation, Operation::CastOn(CastOn::Zigzag, ..));
        let (before, beds) = if zigzag {
            ("in work front NEEDLES, back NEEDLES", "; a zigzag goes to and fro between both beds")
        } else {
            ("in work BED NEEDLES", " and the bed in the place of BED; or name the bed whose needles are in work")
        };
        let mend = format!("Write before this line `{before}`, with your needles in the place of NEEDLES{beds}.");
        finding.mend(mend).way(Way { goes: Goes::OnALineBefore, ..Way::new(moment.span, before, "") })
    })
}

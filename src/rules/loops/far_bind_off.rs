//! `far-bind-off`

use crate::beds::{Bed, Both, Handled, NeedleSet, Operation};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Watch};
use crate::words::spans::needles;
use crate::words::{count, is_are};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "far-bind-off",
        severity: Severity::Warning,
        summary: "Stitches of one edge are bound off while the yarn hangs at the other.",
        why: "A bind-off is worked stitch by stitch with the yarn, so it begins where the yarn hangs. Stitches elsewhere have no \
              yarn; drawn across to them it would lie as a float over stitches that go on, and the next row would begin in the \
              wrong place. Of stitches in the middle nothing is said: they are always bound off with a yarn of their own.",
        source: "common practice, no source",
        bad: "in work front L10-R10
thread slate
cast on wound front
rows 10 front knit
bind off front R6-R10
out of work front R6-R10
rows 4 front knit
bind off front",
        good: "in work front L10-R10
thread slate
cast on wound front
rows 11 front knit
bind off front R6-R10
out of work front R6-R10
rows 4 front knit
bind off front",
    },
    looks_at: &[LooksAt::Handled(bound_off)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS.and(Facts::SIDE),
    besides: Besides::NOTHING,
};

/// So many places from the yarn are beside it: with stitches on both beds it hangs at the last one of either.
const BESIDE: u32 = 2;

fn bound_off(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    let Operation::BindOff(_) = moment.operation else { return None };
    let (machine, standing) = (moment.machine, moment.state.standing());
    // What hangs at a stitch that was bound off was used up there: then nothing hangs any more.
    let (place, bed, at) = moment.state.yarn_end.as_ref()?.hangs_at(machine, standing)?;
    let away = |needles: &Both<NeedleSet>| -> Vec<u32> {
        let places = Bed::BOTH.into_iter().flat_map(|bed| needles[bed].iter().map(move |needle| (bed, needle)));
        places.map(|(bed, needle)| standing.half_pitches(machine, bed, needle).abs_diff(place) / 2).collect()
    };
    let far = away(&handled.taken).into_iter().min()?;
    let stays = away(&Both::from_fn(|bed| moment.state.loops.loaded(bed))).into_iter().max()?;
    // In the middle the yarn hangs nowhere, whatever is knitted before.
    if far <= BESIDE || far < stays {
        return None;
    }
    let how_many = handled.taken.front.len() + handled.taken.back.len();
    Some(
        RULE.finds(
            moment.span,
            format!("{} {} bound off, and the yarn hangs at {bed} {at}", needles(&handled.taken), is_are(how_many.into())),
        )
        .marked(format!("the yarn hangs {} away", count(far, "needle", "needles")))
        .because("A bind-off is worked with the yarn that hangs at its first stitch.")
        .mend("Knit one row more or one fewer before it, so that the yarn hangs at that edge. Or bind them off with a yarn of their own: write `cut yarn` before this line; the next row then begins anew, on either side."),
    )
}

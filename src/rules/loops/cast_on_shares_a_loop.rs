//! `cast-on-shares-a-loop`

use crate::beds::{Bed, CastOn, Handled, Needle, NeedleSet, Operation, Side, Standing};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::cause::Line;
use crate::rules::memory::{Deed, Memory};
use crate::rules::{Besides, Facts, LooksAt, Seen, Watch, picture};
use crate::words::spans::on_bed;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "cast-on-shares-a-loop",
        severity: Severity::Error,
        summary: "Two neighbours of one bed take the yarn one after the other in a zigzag cast-on and share one loop.",
        why: "In a zigzag cast-on the yarn must go from one bed to the other at every step. Where it meets two neighbours \
              of the same bed in a row, the two get one large loop between them instead of two stitches, and later a hole.",
        source: "D. J. Spencer, Knitting Technology, 3rd ed., 2001, p. 68: a 2x2 rib cannot be started on empty needles \
                 in its own set-out; one bed is racked by one needle for the set-up course and racked back after it",
        bad: "in work front \".||\" over L3-R3, back \"|.|\" over L3-R3
thread slate
cast on zigzag
row both knit
bind off both",
        good: "in work front \".||\" over L3-R3, back \"|.|\" over L3-R3
thread slate
rack 1 left
cast on zigzag
tubular 2 rows
rack to centre
row both knit
bind off both",
    },
    looks_at: &[LooksAt::Handled(cast_on)],
    disturbs: Facts::LOOPS,
    rests_on: Facts::NONE,
    besides: Besides { cause: Some(cause), ..Besides::NOTHING },
};

/// The other way to mend it: a needle too many or too few on one bed is as likely as beds that are not racked.
const OR_THE_NEEDLES: &str = "If they were meant to alternate where they stand, look at which needles are in work.";

fn cast_on(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    let Operation::CastOn(CastOn::Zigzag, _) = moment.operation else { return None };
    // The carriage has passed already, so it came from the other side of where it stands.
    let path = moment.state.yarn_path(moment.machine, &handled.made, moment.state.carriage);
    let pair = shared(&path)?;
    let bed = pair[0].1;
    let both: NeedleSet = [pair[0].2, pair[1].2].into_iter().collect();
    let mut finding = RULE
        .finds(moment.span, format!("{} would share one loop", on_bed(bed, both)))
        .marked("cast on here")
        .because(format!(
            "The yarn meets them one after the other, with no needle of the {} bed between them.",
            bed.other()
        ))
        .mend(match way(moment, handled) {
            _ if handled.made[bed.other()].is_empty() => one_bed_only(moment, bed),
            Some(0) => format!("Write `rack to centre` before the cast-on: there the needles alternate. {OR_THE_NEEDLES}"),
            Some(place) => format!(
                "Write `rack to {} {}` before the cast-on: there the needles alternate. Rack back after the tubular rows. {OR_THE_NEEDLES}",
                place.unsigned_abs(),
                if place < 0 { Side::Left } else { Side::Right }
            ),
            None => "Set the beds out so that the needles alternate: look at the line that brings them into work.".to_owned(),
        });
    finding.picture = both.first().map(|needle| picture::around(moment.machine, moment.state, bed, needle));
    Some(finding)
}

/// What to do where no needle of the other bed takes the yarn at all.
fn one_bed_only(moment: &Moment<'_>, bed: Bed) -> String {
    let other = bed.other();
    let empty = moment.state.in_work[other] - moment.state.loops.loaded(other);
    let both = if empty.is_empty() {
        format!("bring needles of the {other} bed into work before it and write `cast on zigzag`")
    } else {
        "write `cast on zigzag`, without a bed".to_owned()
    };
    format!(
        "A zigzag goes to and fro between both beds: {both}. For the {bed} bed alone take another cast-on, for example `cast on wound {bed}`."
    )
}

/// Two neighbours of one bed on the yarn's path.
fn shared(path: &[(i32, Bed, Needle)]) -> Option<&[(i32, Bed, Needle)]> {
    path.windows(2).find(|pair| pair[0].1 == pair[1].1)
}

/// Whether two needles would share a loop with the beds racked to that place, where a zigzag cast-on made these.
pub(crate) fn shares(moment: &Moment<'_>, handled: &Handled, place: i32) -> bool {
    let standing = Standing { racking: place, ..moment.state.standing() };
    shared(&standing.yarn_path(moment.machine, &handled.made, moment.state.carriage)).is_some()
}

/// Where the beds are to be racked so that the needles alternate: at most two steps from where they stand, as somebody
/// who racked to the wrong side is, and as near as can be.
fn way(moment: &Moment<'_>, handled: &Handled) -> Option<i32> {
    let machine = moment.machine;
    [-1, 1, -2, 2].into_iter().map(|by| moment.state.racking + by).find(|&place| {
        let most = if place < 0 { machine.racking_left } else { machine.racking_right };
        place.unsigned_abs() <= most && !shares(moment, handled, place)
    })
}

/// The lines that brought those needles into work.
fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    let Some(handled) = seen.handled() else { return Vec::new() };
    let set = |(bed, needles): (Bed, &NeedleSet)| memory.who(Deed::BroughtIn, bed, *needles);
    handled.made.iter().flat_map(set).map(|(span, _)| (span, "the needles are set here".to_owned())).collect()
}

//! `unsupported-tuck`

use crate::beds::{Bed, Both, Gaiting, Needle, NeedleSet, RowDone, Side};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Watch, picture};
use crate::words::spans::needles;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "unsupported-tuck",
        severity: Severity::Warning,
        summary: "A needle tucks and no needle beside it in the yarn's path knits.",
        why: "A tuck only lies in the hook. The stitch that the next needle knits ties the yarn down on both sides of it; \
              where the yarn goes from tuck to tuck, or floats away from it, the loop springs out of the hook.",
        source: "common practice, no source",
        bad: "in work front L4-R4, back L4-R3
thread slate
cast on zigzag
row both knit
row both tuck
row both knit
bind off both",
        good: "in work front L4-R4, back L4-R3
thread slate
cast on zigzag
row both knit
row front knit, back tuck
row both knit
bind off both",
    },
    looks_at: &[LooksAt::Row(row)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS.and(Facts::RACKING),
    besides: Besides::NOTHING,
};

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    if row.tuck.is_empty() {
        return None;
    }
    let (machine, state) = (moment.machine, moment.state);
    if Bed::BOTH.into_iter().all(|bed| (row.tuck[bed] - surely_supported(moment, row, bed)).is_empty()) {
        return None;
    }
    let acting = Both::from_fn(|bed| row.acting(bed));
    let path = state.yarn_path(machine, &acting, Side::Right);
    let tucks = |at: &(i32, Bed, Needle)| row.tuck[at.1].contains(at.2);
    let knits = |at: Option<&(i32, Bed, Needle)>| at.is_some_and(|(_, bed, needle)| row.knit[*bed].contains(*needle));
    let side_by_side = |one: &(i32, Bed, Needle), two: &(i32, Bed, Needle)| {
        one.1 == two.1 && two.2.0 == one.2.0 + 1 && tucks(one) && tucks(two)
    };
    let mut alone: Both<NeedleSet> = Both::default();
    let mut at = 0_usize;
    for run in path.chunk_by(side_by_side) {
        let before = at.checked_sub(1).and_then(|before| path.get(before));
        at += run.len();
        let too_many = run.len() > machine.most_adjacent_tucks.value as usize; // That is for `adjacent-tucks`.
        if run.iter().all(tucks) && !too_many && !knits(before) && !knits(path.get(at)) {
            run.iter().for_each(|&(_, bed, needle)| alone[bed].insert(needle));
        }
    }
    let (bed, first) = alone.iter().find_map(|(bed, set)| Some((bed, set.first()?)))?;
    let one = alone.len() == 1;
    let mut finding = RULE
        .finds(
            moment.span,
            format!("{} {} with no knitting needle beside {}", needles(&alone), if one { "tucks" } else { "tuck" }, if one { "it" } else { "them" }),
        )
        .marked("nothing ties the yarn down")
        .because("In the order in which the yarn goes to the needles of both beds, neither the needle before nor the one after knits.")
        .mend("Let the needles beside it knit in this row, on either bed.");
    finding.picture = Some(picture::around(machine, state, bed, first));
    Some(finding)
}

/// Needles of a bed that have a knitting needle beside them in the yarn's path, as far as whole sets of needles tell,
/// which is quick. It names none that has not; one that it leaves out may have one all the same.
fn surely_supported(moment: &Moment<'_>, row: &RowDone, bed: Bed) -> NeedleSet {
    let (state, other) = (moment.state, bed.other());
    let knit = row.knit[bed];
    // Needles of the other bed, by the needles of this one that they face, or stand half a pitch beside.
    let by = state.standing().facing_shift(moment.machine, other);
    let (knits, acts) = (row.knit[other].shifted(by), row.acting(other).shifted(by));
    match state.gaiting {
        Gaiting::Between => {
            // Such a needle of the back bed is the one to which the half step goes, of the front bed the one on the other
            // side; beyond that stands the next of its bed. The next on this bed is beside only if none of theirs takes
            // the yarn in between.
            let half = moment.machine.half_step();
            let way = if bed == Bed::Front { half } else { -half };
            let near = knits | (knit.shifted(-way) - acts);
            let far = knits.shifted(way) | (knit.shifted(way) - acts.shifted(way));
            near | far
        }
        Gaiting::Opposite => {
            let beside = |way| knit.shifted(way) - acts - acts.shifted(way);
            knits | beside(1) | beside(-1)
        }
    }
}

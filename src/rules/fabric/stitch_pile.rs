//! `stitch-pile`

use crate::beds::{Bed, Both, Carried, Handled, Needle, NeedleSet};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Watch, picture};
use crate::words::count;
use crate::words::spans::needles;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "stitch-pile",
        severity: Severity::Warning,
        summary: "More loops are laid together on one needle than a hook holds.",
        why: "The next row draws one loop through all that lies on the needle. When the hook is full the carriage goes \
              stiff, and loops jump off or break; the fabric has a knot there. A stitch hangs by two full legs and fills the \
              hook more than a tuck does: two stitches knit off, three are stiff already, and want the hand.",
        source: "that three stitches on one needle are stiff: common practice, no source. Of stitches with tucks: the \
                 machine's profile (`most tucks`), as for tucks; without it 4, after D. J. Spencer, Knitting Technology, \
                 3rd ed., 2001, p. 96: up to four successive tucks in normal conditions",
        bad: "in work front L8-R8
thread slate
cast on wound front
rows 2 front knit
move front L5 1 right, joining
move front L3 1 left, joining
move front L6 2 right, joining
move front L2 2 left, joining
out of work front empty
rows 2 front knit
bind off front",
        good: "in work front L8-R8
thread slate
cast on wound front
rows 2 front knit
move front L5 1 right, joining
move front L2 1 left, joining
out of work front empty
rows 2 front knit
bind off front",
    },
    looks_at: &[LooksAt::Carried(moved), LooksAt::Handled(decreased)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS,
    besides: Besides::NOTHING,
};

/// So many stitches any hook knits off; each hangs by two full legs.
const MOST_STITCHES: usize = 2;

fn moved(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    found(moment, &Both::only(carried.to, carried.joined))
}

fn decreased(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    found(moment, &handled.joined)
}

fn found(moment: &Moment<'_>, joined: &Both<NeedleSet>) -> Option<Finding> {
    if joined.is_empty() {
        return None;
    }
    let limit = moment.machine.most_tucks;
    let most = limit.value.max(MOST_STITCHES as u32) as usize;
    let stack = |bed, needle| moment.state.loops.stack(bed, needle);
    let stitches = |bed, needle| stack(bed, needle).iter().filter(|what| !what.caught).count();
    let over = |too_many: &dyn Fn(Bed, Needle) -> bool| {
        Both::from_fn(|bed| joined[bed].iter().filter(|&needle| too_many(bed, needle)).collect::<NeedleSet>())
    };
    let full = over(&|bed, needle| stitches(bed, needle) > MOST_STITCHES);
    let by_legs = !full.is_empty();
    let over = if by_legs { full } else { over(&|bed, needle| stack(bed, needle).len() > most) };
    let (bed, first) = over.iter().find_map(|(bed, set)| Some((bed, set.first()?)))?;
    let carries = if over.len() == 1 { "carries" } else { "each carry up to" };
    let on_each = over.iter().flat_map(|(bed, set)| set.iter().map(move |needle| (bed, needle)));
    let highest = on_each
        .map(|(bed, needle)| if by_legs { stitches(bed, needle) } else { stack(bed, needle).len() })
        .max()
        .unwrap_or_default() as u64;
    let what = if by_legs { count(highest, "stitch", "stitches") } else { count(highest, "loop", "loops") };
    let finding = RULE
        .finds(moment.span, format!("{} {carries} {what} now", needles(&over)))
        .marked("too many together on one needle");
    let mut finding = if by_legs {
        finding
            .because("Each hangs by two full legs, which fill a hook more than tucks do: from three on the next row goes stiff, or jams (common practice, no source).")
            .mend("Lay the stitches on several needles, or knit a row in between. Where three are meant, as in a double decrease, draw the loop through by hand in the next row, and write `allow stitch-pile because \"drawn through by hand\"` round this line.")
    } else {
        let origin = if most > limit.value as usize { "common practice, no source".to_owned() } else { limit.origin() };
        finding
            .because(format!("A hook holds {} laid together ({origin}).", count(most as u64, "loop", "loops")))
            .mend("Knit a row before more is laid on that needle, or lay the stitches on several needles; if machine and yarn bear it, raise `most tucks` in the machine's profile.")
    };
    finding.picture = Some(picture::around(moment.machine, moment.state, bed, first));
    Some(finding)
}

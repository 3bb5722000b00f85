//! `stitch-pile`

use crate::beds::{Both, Carried, Handled, NeedleSet};
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
              stiff, and loops jump off or break; the fabric has a knot there.",
        source: "the machine's profile (`most tucks`), as for tucks; without it 4, after D. J. Spencer, Knitting \
                 Technology, 3rd ed., 2001, p. 96: up to four successive tucks in normal conditions. That a hook holds as \
                 many stitches laid together, and three in any case, is common practice, no source",
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
move front L3 1 left, joining
out of work front empty
rows 2 front knit
bind off front",
    },
    looks_at: &[LooksAt::Carried(moved), LooksAt::Handled(decreased)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS,
    besides: Besides::NOTHING,
};

/// A double decrease lays three stitches together, with any yarn.
const ALWAYS: u32 = 3;

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
    let most = limit.value.max(ALWAYS);
    let loops = |bed, needle| moment.state.loops.stack(bed, needle).len() as u32;
    let over =
        Both::from_fn(|bed| joined[bed].iter().filter(|&needle| loops(bed, needle) > most).collect::<NeedleSet>());
    let (bed, first) = over.iter().find_map(|(bed, set)| Some((bed, set.first()?)))?;
    let carries = if over.len() == 1 { "carries" } else { "each carry up to" };
    let highest = over.iter().flat_map(|(bed, set)| set.iter().map(move |needle| loops(bed, needle))).max()?;
    let origin = if limit.value < ALWAYS { "common practice, no source".to_owned() } else { limit.origin() };
    let mut finding = RULE
        .finds(moment.span, format!("{} {carries} {} now", needles(&over), count(highest, "loop", "loops")))
        .marked("too many together on one needle")
        .because(format!("A hook holds {} laid together ({origin}).", count(most, "loop", "loops")))
        .mend("Knit a row before more is laid on that needle, or lay the stitches on several needles; if machine and yarn bear it, raise `most tucks` in the machine's profile.");
    finding.picture = Some(picture::around(moment.machine, moment.state, bed, first));
    Some(finding)
}

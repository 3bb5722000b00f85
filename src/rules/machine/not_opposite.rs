//! `not-opposite`

use crate::beds::Carried;
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{LooksAt, Watch};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "not-opposite",
        severity: Severity::Error,
        summary: "Stitches go from bed to bed and the needles do not stand face to face.",
        why: "A stitch is passed straight across, from a needle to the one that faces it. At gaiting `between` every \
              needle faces a gap.",
        source: "common practice, no source",
        bad: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
row front knit, loosened 1
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
    looks_at: &[LooksAt::Carried(moved)],
};

fn moved(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    carried.not_facing.then(|| {
        RULE.finds(moment.span, "the beds do not stand face to face for this transfer")
            .marked("transferred here")
            .because(format!(
                "The gaiting is `between`, so the needles of the {} bed face the gaps of the {} bed.",
                carried.from, carried.to
            ))
            .mend("Write `gaiting opposite` before it, and `gaiting between` again before both beds knit. A single stitch can go to a next needle by hand: `move front L5 to back L5`.")
    })
}

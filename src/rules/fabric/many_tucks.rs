//! `many-tucks`

use super::tuck_pile::piled;
use crate::beds::RowDone;
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Stands, Watch};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "many-tucks",
        severity: Severity::Warning,
        summary: "A needle takes more tucks than is usual before it is knitted, and the machine's profile does not say how many it bears.",
        why: "Every tuck leaves one more loop in the hook. When the hook is full the carriage goes stiff and jams, or the \
              loops jump off; thick yarn fills it sooner. How many your hooks hold only your machine and your yarn can say: \
              with `most tucks` in the profile that number counts, and beyond it is `tuck-pile`, an error.",
        source: "4, after D. J. Spencer, Knitting Technology, 3rd ed., 2001, p. 96: up to four successive tucks in normal \
                 conditions",
        bad: "in work front L3-R3, back L3-R2
thread slate
cast on zigzag
rows 5 front knit, back tuck
row both knit
bind off both",
        good: "in work front L3-R3, back L3-R2
thread slate
cast on zigzag
rows 4 front knit, back tuck
row both knit
bind off both",
    },
    looks_at: &[LooksAt::Row(row)],
    disturbs: Facts::NONE,
    rests_on: Facts::SIDE.and(Facts::EVERY_ROW),
    besides: Besides { stands: Stands::ToTheEndOfTheBlock, ..Besides::NOTHING },
};

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    if moment.machine.most_tucks.is_given() { None } else { piled(&RULE, moment, row) }
}

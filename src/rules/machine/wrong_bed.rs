//! `wrong-bed`

use crate::beds::{Bed, NeedlesPut, Operation, State};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Use, Watch};

pub(crate) static RULE: Watch = Watch {
    rule: &crate::plan::rules::WRONG_BED,
    looks_at: &[LooksAt::StitchBegins(begins), LooksAt::FirstPass(first_pass), LooksAt::Needles(hold)],
    disturbs: Facts::LOOPS,
    rests_on: Facts::LOOPS,
    besides: Besides::NOTHING,
};

/// The finding for a stitch that begins on other beds than it is made for.
fn begins(at: &Use<'_>) -> Option<Finding> {
    let stitch = at.repeat.stitch.as_ref()?;
    let now = carrying(at.before);
    (now != stitch.from).then(|| {
        RULE.finds(at.span, format!("`{}` is made for stitches on {}", stitch.name, beds(stitch.from)))
            .marked(format!("here {} stitches", carry(now)))
            .also(stitch.defined, "defined here")
            .because(format!(
                "It begins with stitches on {}; at this point {} stitches.",
                beds(stitch.from),
                carry(now)
            ))
            .mend("Transfer or cast on the stitches first, or work a stitch that is made for this.")
    })
}

fn first_pass(at: &Use<'_>) -> Option<Finding> {
    let stitch = at.repeat.stitch.as_ref()?;
    let now = carrying(at.after);
    // If it began wrongly that has been said already.
    (carrying(at.before) == stitch.from && now != stitch.to).then(|| {
        RULE.finds(at.span, format!("`{}` should leave stitches on {}", stitch.name, beds(stitch.to)))
            .marked(format!("afterwards {} stitches", carry(now)))
            .also(stitch.defined, "defined here")
            .because(format!("Its first line says that it ends with stitches on {}; worked here it leaves them otherwise.", beds(stitch.to)))
            .mend("Mend the rows and transfers of the definition, or say in its first line how it ends: `from both to front`.")
    })
}

fn hold(moment: &Moment<'_>, put: &NeedlesPut) -> Option<Finding> {
    let Operation::Hold(_) = moment.operation else { return None };
    let bed = Bed::BOTH.into_iter().find(|&bed| !put.changed[bed].is_empty() && !moment.machine.hold[bed])?;
    Some(
        RULE.finds(moment.span, format!("the {bed} bed of `{}` cannot hold needles", moment.machine.name))
            .marked("held here")
            .because("The machine's profile says so in its `hold` line.")
            .mend("Hold on the other bed, or take the stitches onto waste yarn: `onto waste yarn`."),
    )
}

fn carrying(state: &State) -> (bool, bool) {
    // A loop that was only caught is a stitch one row later: the bed is in use all the same.
    let carries = |bed| !state.loops.loaded(bed).is_empty();
    (carries(Bed::Front), carries(Bed::Back))
}

fn beds(carrying: (bool, bool)) -> &'static str {
    match carrying {
        (true, true) => "both beds",
        (true, false) => "the front bed",
        (false, true) => "the back bed",
        (false, false) => "neither bed",
    }
}

fn carry(carrying: (bool, bool)) -> &'static str {
    match carrying {
        (true, true) => "both beds carry",
        (true, false) => "only the front bed carries",
        (false, true) => "only the back bed carries",
        (false, false) => "neither bed carries",
    }
}

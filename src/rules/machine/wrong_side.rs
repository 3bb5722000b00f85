//! `wrong-side`

use crate::beds::{Bed, Carried, Handled, NeedlesPut, Operation, RowDone, Setting, Side, Tool};
use crate::finding::{Finding, Severity};
use crate::plan::program::Promise;
use crate::play::Moment;
use crate::rules::words::count;
use crate::rules::{LooksAt, Promised, Rule};

pub(crate) static RULE: Rule = Rule {
    name: "wrong-side",
    severity: Severity::Error,
    summary: "The carriage stands on the other side than the line needs or claims.",
    why: "One row too many or too few turns everything that depends on the side: colour changes, held needles, new \
          edge stitches, the slant of a racking.",
    source: "follows from the count of rows; that several stitches are added on the carriage side, and held on the other, is common \
             practice, no source",
    bad: "in work front L3-R3
thread slate
cast on wound front
rows 3 front knit
expect carriage left
bind off front",
    good: "in work front L3-R3
thread slate
cast on wound front
rows 4 front knit
expect carriage left
bind off front",
    looks_at: &[
        LooksAt::Row(row),
        LooksAt::Promise(promised),
        LooksAt::Setting(setting),
        LooksAt::Handled(handled),
        LooksAt::Carried(carried),
        LooksAt::Needles(held),
    ],
};

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    let claimed = row.claimed?;
    Some(
        RULE.finds(moment.span, format!("this row goes to the {}, not to the {claimed}", row.toward))
            .marked(format!("the carriage stands on the {} before it", row.toward.other()))
            .because(format!("Row {} begins with the carriage on the {}.", moment.state.row, row.toward.other()))
            .mend("Look for a row too many or too few before it; a `free pass` takes the carriage across without knitting."),
    )
}

fn promised(promised: &Promised<'_>) -> Option<Finding> {
    let Promise::Carriage(side) = *promised.promise else { return None };
    let now = promised.state.carriage;
    (now != side).then(|| {
        RULE.finds(promised.span, format!("the carriage stands on the {now} here, not on the {side}"))
            .marked("promised here")
            .because(format!(
                "{} been knitted in this piece so far.",
                count(promised.state.row, "row has", "rows have")
            ))
            .mend("Look for a row too many or too few before it, or mend the promise.")
    })
}

fn setting(moment: &Moment<'_>, setting: &Setting) -> Option<Finding> {
    let Setting::CarriageHasStarted { asked } = *setting else { return None };
    Some(
        RULE.finds(
            moment.span,
            format!("the carriage cannot be put on the {asked}: it stands on the {}", asked.other()),
        )
        .marked("after the first row")
        .because("The `carriage` line says where it stands before the first row; after that only rows move it.")
        .mend("Write `free pass` to take it across without knitting, or `expect carriage` to check where it is."),
    )
}

fn handled(moment: &Moment<'_>, _: &Handled) -> Option<Finding> {
    let Operation::Increase(change) = moment.operation else { return None };
    let carriage = moment.state.carriage;
    let far = if carriage == Side::Left { change.right } else { change.left };
    (change.by > 1 && far).then(|| {
        RULE.finds(moment.span, format!("{} stitches are added on the {}, away from the yarn", change.by, carriage.other()))
            .marked(format!("the carriage stands on the {carriage}"))
            .because("Several new stitches are wound with the yarn that hangs at the carriage; on the other side it would lie across as a float.")
            .mend(format!("Add them on the {carriage} here, knit one row, and add the others then."))
    })
}

/// Needles are held between the carriage and the needles that go on knitting. One alone is a way to close the hole of a
/// short row; several lie under the yarn of every row that follows.
fn held(moment: &Moment<'_>, put: &NeedlesPut) -> Option<Finding> {
    let Operation::Hold(_) = moment.operation else { return None };
    let state = moment.state;
    let carriage = state.carriage;
    let bed = Bed::BOTH.into_iter().find(|&bed| {
        let loaded = put.changed[bed] & state.loops.loaded(bed);
        let knitting = state.in_work[bed] & state.loops.loaded(bed);
        let between = match carriage {
            Side::Left => loaded.last().zip(knitting.first()).is_some_and(|(held, knits)| held < knits),
            Side::Right => loaded.first().zip(knitting.last()).is_some_and(|(held, knits)| held > knits),
        };
        // Where the other bed knits on, the yarn is taken up all the way.
        loaded.len() > 1 && between && state.in_work[bed.other()].is_empty()
    })?;
    Some(
        RULE.finds(
            moment.span,
            format!("{} are held on the {carriage}, where the carriage stands", count((put.changed[bed] & state.loops.loaded(bed)).len(), "needle", "needles")),
        )
        .marked(format!("the carriage stands on the {carriage}"))
        .because("The yarn hangs at the carriage, so in the next row it would lie across the held needles to the first one that knits.")
        .mend(format!("Hold on the {}, away from the yarn; or knit one row first, so that the carriage stands on the other side.", carriage.other())),
    )
}

fn carried(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    if carried.tool != Some(Tool::Carriage) {
        return None;
    }
    let ways = &moment.machine.transfer_carriage;
    if ways.iter().any(|way| way.to == carried.to) {
        return None;
    }
    let why = if ways.is_empty() {
        format!("The profile of `{}` names no transfer carriage.", moment.machine.name)
    } else {
        format!("The profile of `{}` lets it take stitches only to the {} bed.", moment.machine.name, carried.from)
    };
    Some(
        RULE.finds(moment.span, format!("the transfer carriage cannot take stitches to the {} bed", carried.to))
            .marked("asked for here")
            .because(why)
            .mend("Write `by hand`, or leave the tool open."),
    )
}

//! `wrong-side`

use crate::beds::{Carried, Handled, Operation, RowDone, Setting, Side, Tool};
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
    source: "follows from the count of rows; that several stitches are added on the carriage side is common practice, \
             no source",
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

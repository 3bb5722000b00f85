//! `wrong-side`

use crate::beds::{
    Bed, Both, Carried, CastOn, EdgeChange, Handled, Needle, NeedleSet, Operation, RowDone, Setting, Side, Tool,
};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::plan::program::Promise;
use crate::play::Moment;
use crate::rules::cause::{Line, at, kept};
use crate::rules::memory::{Memory, What};
use crate::rules::{Besides, Facts, LooksAt, Promised, Seen, Watch};
use crate::words::count;
use crate::words::spans::needles;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
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
    },
    looks_at: &[
        LooksAt::Row(row),
        LooksAt::Promise(promised),
        LooksAt::Setting(setting),
        LooksAt::Handled(handled),
        LooksAt::Carried(carried),
    ],
    disturbs: Facts::SIDE,
    rests_on: Facts::SIDE.and(Facts::COUNTER).and(Facts::EVERY_ROW),
    besides: Besides { cause: Some(cause), ..Besides::NOTHING },
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

fn handled(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    match moment.operation {
        Operation::Increase(change) => increased(moment, change),
        Operation::NewLoops(_) | Operation::CastOn(CastOn::Wound, _) => wound(moment, handled),
        _ => None,
    }
}

fn increased(moment: &Moment<'_>, change: &EdgeChange) -> Option<Finding> {
    let carriage = moment.state.carriage;
    let far = if carriage == Side::Left { change.right } else { change.left };
    (change.by > 1 && far).then(|| {
        RULE.finds(moment.span, format!("{} stitches are added on the {}, away from the yarn", change.by, carriage.other()))
            .marked(format!("the carriage stands on the {carriage}"))
            .because("Several new stitches are wound with the yarn that hangs at the carriage; on the other side it would lie across as a float.")
            .mend(match (change.left && change.right, moment.state.row) {
                (true, _) => format!("Add them on the {carriage} here, knit one row, and add the others then."),
                (false, 0) => format!("Knit one row before it, so that the carriage stands on the {}.", carriage.other()),
                (false, _) => format!(
                    "Knit one row more or one row fewer before it, so that the carriage stands on the {}.",
                    carriage.other()
                ),
            })
    })
}

/// Loops wound on more needles beside stitches that hang, beyond the edge to which the yarn does not reach.
fn wound(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    let state = moment.state;
    // A yarn that begins anew begins wherever its first loop is wound.
    let yarn = state.yarn_end?.side;
    let out = if yarn == Side::Left { 1 } else { -1 };
    let places = |bed: Bed, needles: NeedleSet| {
        needles.iter().map(move |needle| out * state.half_pitches(moment.machine, bed, needle))
    };
    let hung = Both::from_fn(|bed| state.loops.loaded(bed) - handled.made[bed]);
    let hanging = || Bed::BOTH.into_iter().flat_map(|bed| places(bed, hung[bed]));
    let (near, far) = (hanging().min()?, hanging().max()?);
    let beyond = Both::from_fn(|bed| {
        let is_far = |&needle: &Needle| out * state.half_pitches(moment.machine, bed, needle) > far;
        handled.made[bed].iter().filter(is_far).collect::<NeedleSet>()
    });
    // Loops wound along the piece take the yarn across it, loop by loop.
    let along = Bed::BOTH.into_iter().any(|bed| places(bed, handled.made[bed]).any(|at| near <= at && at <= far));
    let number = beyond.len();
    (number > 1 && !along).then(|| {
        RULE.finds(moment.span, format!("{number} loops are wound on the {}, away from the yarn", yarn.other()))
            .marked(format!("the yarn hangs on the {yarn}"))
            .because(format!(
                "The last row left the yarn on the {yarn}. To be wound on {} it would lie across the whole piece as a float.",
                needles(&beyond)
            ))
            .mend(format!(
                "Wind loops on the {} once a row has brought the yarn there, so knit one row before; or `thread` another yarn and wind them with that.",
                yarn.other()
            ))
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

fn cause(_: Seen<'_>, memory: &Memory) -> Vec<Line> {
    match memory.last(What::FreePass) {
        Some(span) => at(Some(span), "a free pass takes the carriage across here"),
        None => kept(memory.side_kept().map(|(span, side)| (span, format!("carriage {side}")))),
    }
}

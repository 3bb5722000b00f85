//! The head of a sheet: what is knitted, what it takes, what to take care of, and how to read the rows.

use super::change::yarn_in_full;
use super::needs::Needs;
use super::transfer;
use crate::beds::{Bed, Both, Machine, Needle, NeedleSet, Side, StitchSize};
use crate::plan::program::{Piece, Program};
use crate::words;
use std::collections::BTreeSet;

/// The head of a sheet.
#[derive(Debug)]
pub(super) struct Head {
    /// What is knitted: pattern, piece, size, how many.
    pub(super) title: Vec<String>,
    /// How many rows and stitches.
    pub(super) totals: String,
    /// What it takes, one thing a line.
    pub(super) takes: Vec<String>,
    /// What to take care of. They are common practice, no source; the manual goes before them.
    pub(super) cautions: Vec<&'static str>,
    /// How to read the sheet.
    pub(super) reading: [&'static str; 4],
}

impl Head {
    /// Of that piece, which needs that.
    pub(super) fn of(program: &Program, piece: &Piece, needs: &Needs) -> Self {
        Self {
            title: title(program, piece),
            totals: totals(piece, needs),
            takes: takes(program, piece, needs),
            cautions: cautions(needs),
            reading: READING,
        }
    }
}

fn title(program: &Program, piece: &Piece) -> Vec<String> {
    let mut lines: Vec<String> = program.title.iter().cloned().collect();
    lines.push(format!("Row sheet for the piece: {}", piece.title));
    lines.extend(program.size.iter().map(|size| format!("Size: {size}")));
    let each = if piece.make > 1 { ", each from this sheet" } else { "" };
    lines.push(format!("Make {}{each}", words::total(piece.make)));
    lines
}

fn totals(piece: &Piece, needs: &Needs) -> String {
    let rows = words::total_of(needs.rows, "row", "rows");
    let widest = needs.widest;
    let stitches = words::total_of(widest.front + widest.back, "stitch", "stitches");
    let each = if piece.make > 1 { " for each" } else { "" };
    let beds = if widest.front > 0 && widest.back > 0 {
        format!(", {} on the front bed and {} on the back", words::total(widest.front), words::total(widest.back))
    } else {
        String::new()
    };
    format!("You will knit {rows}{each}; {stitches} at the widest{beds}.")
}

fn takes(program: &Program, piece: &Piece, needs: &Needs) -> Vec<String> {
    let machine = &*piece.machine;
    let mut lines =
        vec![format!("Machine: {}.", machine.name), format!("Needles: {}.", width(machine, &needs.needles))];
    let gaitings: Vec<String> = needs.gaitings.iter().map(ToString::to_string).collect();
    if !gaitings.is_empty() {
        lines.push(format!("Gaiting: {}.", gaitings.join(", then ")));
    }
    lines.extend(racking(machine, needs.racked));
    if needs.selection.front || needs.selection.back {
        lines.push(format!("Needles are picked for single rows on {}.", words::beds(&needs.selection)));
    }
    if needs.hold.front || needs.hold.back {
        lines.push(format!("Hold is used on {}.", words::beds(&needs.hold)));
    }
    let tools = tools(needs);
    if !tools.is_empty() {
        lines.push(format!("Tools: {}.", words::list(&tools)));
    }
    lines.extend(needs.yarns.iter().map(|yarn| format!("Yarn: {}.", yarn_in_full(&program.yarns, *yarn))));
    lines.extend(sizes(needs));
    lines
}

/// How many needles are used, of how many.
fn width(machine: &Machine, needles: &Both<NeedleSet>) -> String {
    let farthest = |side: Side| {
        let number = |needle: Option<Needle>| needle.map(Needle::counted).filter(|(on, _)| *on == side);
        Bed::BOTH
            .into_iter()
            .filter_map(|bed| number(needles[bed].outermost(side)))
            .map(|(_, number)| number)
            .max()
            .unwrap_or(0)
    };
    format!(
        "up to {} left and {} right of the centre; the machine has {} on each side",
        farthest(Side::Left),
        farthest(Side::Right),
        machine.each_side
    )
}

fn racking(machine: &Machine, (left, right): (u32, u32)) -> Option<String> {
    let named = [(left, "left", machine.racking_left), (right, "right", machine.racking_right)];
    let ways: Vec<String> = named
        .into_iter()
        .filter(|(used, ..)| *used > 0)
        .map(|(used, side, of)| {
            format!("{} {side} of the centre, of {of}", words::total_of(u64::from(used), "step", "steps"))
        })
        .collect();
    (!ways.is_empty()).then(|| format!("Racking: the {} bed, {}.", machine.racking_bed, words::list(&ways)))
}

fn tools(needs: &Needs) -> Vec<String> {
    let mut tools = Vec::new();
    if needs.comb {
        tools.push("cast-on comb".to_owned());
    }
    tools.push("weights".to_owned());
    if needs.chain {
        tools.push("latch tool".to_owned());
    }
    if needs.transfer_carriage || needs.transfer {
        let takes: Vec<String> = needs.takes.iter().map(|takes| transfer::setting(*takes).to_owned()).collect();
        let set = (!takes.is_empty()).then(|| format!("set to take {}", words::list(&takes)));
        let instead = (!needs.transfer_carriage && !needs.hand_tool).then(|| "the hand tool does it too".to_owned());
        let more: Vec<String> = set.into_iter().chain(instead).collect();
        let more = if more.is_empty() { String::new() } else { format!(" ({})", more.join("; ")) };
        tools.push(format!("transfer carriage{more}"));
    }
    if needs.hand_tool {
        tools.push("hand tool".to_owned());
    }
    if needs.waste_yarn {
        tools.push("waste yarn".to_owned());
    }
    tools
}

fn sizes(needs: &Needs) -> Option<String> {
    let named =
        |sizes: &BTreeSet<StitchSize>| words::list(&sizes.iter().map(|size| words::size(*size)).collect::<Vec<_>>());
    match (needs.sizes.is_empty(), needs.sizes_once.is_empty()) {
        (true, true) => None,
        (false, true) => Some(format!("Stitch sizes: {}.", named(&needs.sizes))),
        (true, false) => Some(format!("Stitch sizes: {} for single rows.", named(&needs.sizes_once))),
        (false, false) => {
            let once = named(&needs.sizes_once);
            Some(format!("Stitch sizes: {}; for single rows also {once}.", named(&needs.sizes)))
        }
    }
}

/// The usual cautions, those that fit the piece.
fn cautions(needs: &Needs) -> Vec<&'static str> {
    let tools = needs.transfer || needs.transfer_carriage || needs.hand_tool;
    let beds_move = needs.racked != (0, 0) || needs.gaitings.len() > 1;
    let cautions = [
        (true, "Your machine's manual and local rules come first, before anything on this sheet."),
        (true, "Hooks are sharp. Do not run a hand along needles that stand forward."),
        (true, "The carriage pinches, and it catches sleeves, hair and jewellery. Tie them back."),
        (true, "Never force a carriage that stops. Find out what holds it."),
        (needs.comb, "The teeth of the comb are sharp. Never catch a comb that falls."),
        (true, "Weights fall when stitches drop. Keep your feet clear of them."),
        (tools, "Take every tool off the beds before the carriage moves."),
        (beds_move, "Move a bed only while the carriage stands clear of the needles, at one side."),
        (true, "Rest your hands and eyes every half hour."),
    ];
    cautions.into_iter().filter(|(fits, _)| *fits).map(|(_, caution)| caution).collect()
}

const READING: [&str; 4] = [
    "One row is one pass of the carriages. The counter given with a row is what it shows after that row.",
    "Left and right are yours, as you sit before the machine; the front bed is the one nearer to you. Needles are counted from the centre of each bed: L1 is \
     the first to the left of it, R1 the first to the right.",
    "A bed that is not named does nothing in that row. A setting stays until a line changes it.",
    "In a repeat, the numbers of rows and counter and the ways of the carriage are those of the first time.",
];

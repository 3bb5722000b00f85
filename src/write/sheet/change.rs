//! What is done on the machine between two rows, in whole sentences.

use super::transfer;
use crate::beds::{
    Carried, CastOn, EdgeChange, Gaiting, Handled, Machine, NeedleSet, NeedlesPut, Operation, Outcome, Setting, Waste,
    Yarn,
};
use crate::knitted::Done;
use crate::plan::program::YarnInfo;
use crate::words;

/// What to do, one sentence or more a line, and whether stitches were made, moved or taken off.
pub(super) fn told(done: Done<'_>) -> (Vec<String>, bool) {
    match done.outcome() {
        Outcome::Needles(put) => (needles_put(done, put), false),
        Outcome::Setting(setting) => (set(done, setting), false),
        Outcome::Carried(carried) => (carry(done, carried), true),
        Outcome::Handled(handled) => (handle(done, handled), true),
        Outcome::Unfit(bed, ragged) => {
            let what = format!(
                "Not done: the marks are {} wide and do not fit the {} of the {bed} bed.",
                words::total_of(u64::from(ragged.tile), "needle", "needles"),
                words::total_of(u64::from(ragged.width), "needle", "needles")
            );
            (vec![what], false)
        }
        // These have lines of their own.
        Outcome::Row(_) | Outcome::FreePass => (Vec::new(), false),
    }
}

fn needles_put(done: Done<'_>, put: &NeedlesPut) -> Vec<String> {
    if put.changed.is_empty() {
        return Vec::new();
    }
    let needles = words::on_beds(&put.changed);
    let nothing_held = done.after.needles.held.is_empty();
    match done.operation() {
        Operation::OutOfWork(_) if put.lost.is_empty() => vec![format!("Put out of work: {needles}.")],
        Operation::OutOfWork(_) => {
            vec![format!("Put out of work: {needles}. The loops of {} are given up.", words::on_beds(&put.lost))]
        }
        Operation::Hold(_) => {
            vec![format!("Put to hold: {needles}."), HOLD_IS_SET.to_owned()]
        }
        Operation::Release(_) if nothing_held => vec![format!("Back to work from hold: {needles}. None is held now.")],
        Operation::Release(_) => vec![format!("Back to work from hold: {needles}.")],
        _ => vec![format!("Bring into work: {needles}.")],
    }
}

fn set(done: Done<'_>, setting: &Setting) -> Vec<String> {
    let (before, after, machine) = (done.before, done.after, done.machine);
    let changed = match setting {
        Setting::Made { changed } => *changed,
        Setting::Racked { .. } => true,
        Setting::RackedPastEnd { asked } => {
            return vec![format!(
                "Not done: the {} bed cannot be racked to {}.",
                machine.racking_bed,
                words::racking(*asked)
            )];
        }
        Setting::CarriageHasStarted { asked } => {
            return vec![format!("Not done: the carriage is under way and cannot be placed on the {asked}.")];
        }
    };
    // Before the first row every setting is said, so that nothing depends on how the machine was left.
    let cuts = matches!(done.operation(), Operation::CutYarn);
    if !changed && after.row > 0 && !cuts {
        return Vec::new();
    }
    vec![match done.operation() {
        Operation::Gaiting(gaiting) => set_gaiting(*gaiting, machine),
        Operation::RackBy(_) | Operation::RackTo(_) => rack(machine, before.racking, after.racking),
        Operation::Thread(yarn) => {
            let yarn = yarn_in_full(done.yarns, *yarn);
            if before.yarn.is_some() && changed {
                format!("Change the yarn: thread {yarn}.")
            } else {
                format!("Thread {yarn}.")
            }
        }
        Operation::StitchSize(sizes) => format!("{}.", words::capital(&words::stitch_sizes(sizes))),
        Operation::Carriage(side) => format!("The carriage starts on the {side}."),
        Operation::CutYarn => "Cut the yarn, and leave an end long enough to sew in.".to_owned(),
        Operation::ResetCounter => "Set the row counter to 0.".to_owned(),
        _ => return Vec::new(),
    }]
}

fn set_gaiting(gaiting: Gaiting, machine: &Machine) -> String {
    let by = if machine.half_step_by_handle { "with the racking handle" } else { "with the half-step lever" };
    match gaiting {
        Gaiting::Between => format!("Gaiting between, {by}: the needles of each bed face the gaps of the other."),
        Gaiting::Opposite => format!("Gaiting opposite, {by}: the needles stand face to face."),
    }
}

fn rack(machine: &Machine, from: i32, to: i32) -> String {
    let bed = machine.racking_bed;
    match (to.saturating_sub(from), to) {
        (0, _) => format!("The {bed} bed stands racked to {}.", words::racking(to)),
        (by, 0) => format!("Rack the {bed} bed {}, back to the centre.", words::steps(by)),
        (by, _) => format!("Rack the {bed} bed {}, to {}.", words::steps(by), words::racking(to)),
    }
}

/// A yarn by its name and what else the pattern says of it.
pub(super) fn yarn_in_full(yarns: &[YarnInfo], yarn: Yarn) -> String {
    let Some(info) = yarns.get(usize::from(yarn.0)) else { return "the yarn".to_owned() };
    let more: Vec<&str> = [&info.count, &info.colour, &info.fibre].into_iter().flatten().map(String::as_str).collect();
    if more.is_empty() { info.name.clone() } else { format!("{} ({})", info.name, more.join(", ")) }
}

fn carry(done: Done<'_>, carried: &Carried) -> Vec<String> {
    if carried.not_facing {
        return vec!["Not done: the beds do not stand face to face, so no stitch can go across.".to_owned()];
    }
    if let Some(crossing) = &carried.crossing {
        return vec![transfer::cross(carried.from, crossing), CHECK_HOOKS.to_owned()];
    }
    if carried.donors.is_empty() {
        return Vec::new();
    }
    let landing = carried.donors.shifted(carried.by);
    let donors = words::needles(carried.donors);
    let one = carried.donors.len() == 1;
    let goal = match (carried.transfer, carried.from == carried.to) {
        (true, _) if one && carried.by == 0 => format!("to the facing needle of the {} bed", carried.to),
        (true, _) if one => {
            format!("to the facing needle of the {} bed, which is {}", carried.to, words::needles(landing))
        }
        (true, _) if carried.by == 0 => format!("to the facing needles of the {} bed", carried.to),
        (true, _) => format!("to the facing needles of the {} bed, which are {}", carried.to, words::needles(landing)),
        (false, true) => format!("to {} of the same bed", words::needles(landing)),
        (false, false) => format!("to {} of the {} bed", words::needles(landing), carried.to),
    };
    let verb = if carried.transfer { "Transfer" } else { "Move" };
    let mut lines = vec![format!("{verb} {} {donors} {goal}.", carried.from), transfer::tool(done, carried)];
    if !carried.joined.is_empty() {
        let joined = words::needles(carried.joined);
        let join = match (carried.donors.len(), carried.joined.len()) {
            (1, _) => "It joins the stitch",
            (_, 1) => "One of them joins the stitch",
            _ => "They join the stitches",
        };
        lines.push(format!("{join} already there, on {} {joined}.", carried.to));
    }
    let emptied = carried.donors - done.after.needles.loaded[carried.from];
    if !carried.put_out.is_empty() {
        let needle = if carried.put_out.len() == 1 { "needle" } else { "needles" };
        lines.push(format!(
            "Put the emptied {needle} out of work: {} {}.",
            carried.from,
            words::needles(carried.put_out)
        ));
    } else if !emptied.is_empty() {
        let stay = if emptied.len() == 1 { "needle stays" } else { "needles stay" };
        lines.push(format!("The emptied {stay} in work: {} {}.", carried.from, words::needles(emptied)));
    }
    lines.push(CHECK_HOOKS.to_owned());
    lines
}

const CHECK_HOOKS: &str = "Check every hook, then go on.";
const HOLD_IS_SET: &str = "See that the carriage is set to leave held needles.";
/// Common practice, no source: a cast-on by hand gives nothing to hang them on.
const HANG_WEIGHTS: &str = "Hang the weights as soon as there is fabric to hold them. Keep your feet clear.";
const WEIGHTS_DOWN: &str = "Let the weights down first: they fall with the last stitches. Keep your feet clear.";
const HOLD_WEIGHTS: &str = "Hold the weights before stitches fall, and keep your feet clear.";

/// What goes with some work every time, and tells no work from another.
pub(super) const ADVICE: &[&str] = &[CHECK_HOOKS, HOLD_IS_SET, HANG_WEIGHTS, WEIGHTS_DOWN, HOLD_WEIGHTS];

fn handle(done: Done<'_>, handled: &Handled) -> Vec<String> {
    let mut lines = Vec::new();
    let (made, taken) = (words::on_beds(&handled.made), words::on_beds(&handled.taken));
    match done.operation() {
        Operation::CastOn(CastOn::Chain, _) => lines.push(format!("Cast on by hand with a chain over {made}.")),
        Operation::CastOn(..) => lines.push(format!("Cast on by hand, winding the yarn round each needle: {made}.")),
        Operation::NewLoops(_) => lines.push(format!("Wind a new loop by hand on {made}.")),
        Operation::Increase(change) => lines.extend(increase(change, handled)),
        Operation::Decrease(change) => lines.extend(decrease(change, handled)),
        Operation::Drop(_) => lines.push(format!("Let fall on purpose: {taken}.")),
        Operation::PickUp { from_waste: Some(waste), .. } => {
            lines.push(format!("Hang stitches from the waste yarn{} on {made}.", called(waste)));
        }
        Operation::PickUp { .. } => lines.push(format!("Hang loops of the fabric below on {made}.")),
        Operation::BindOff(_) => {
            lines.push(format!("Bind off {}: {taken}.", words::total_of(handled.taken.len(), "stitch", "stitches")));
        }
        Operation::OntoWaste(_, waste) => {
            lines.push(format!("Knit a few rows with waste yarn{}, then take off: {taken}.", called(waste)));
        }
        _ => {}
    }
    if handled.not_there > 0 {
        lines.push("Not done: there are no such stitches or needles.".to_owned());
    }
    let begins = matches!(done.operation(), Operation::CastOn(..));
    if begins && done.after.loops == handled.made.len() {
        lines.push(HANG_WEIGHTS.to_owned());
    }
    let takes_off = matches!(done.operation(), Operation::Drop(_) | Operation::BindOff(_) | Operation::OntoWaste(..));
    if takes_off && done.after.loops == 0 {
        lines.insert(0, WEIGHTS_DOWN.to_owned());
    } else if matches!(done.operation(), Operation::Drop(_)) {
        lines.insert(0, HOLD_WEIGHTS.to_owned());
    }
    lines
}

/// ` "shoulder"`: what a waste yarn is called, if it has a name.
fn called(waste: &Waste) -> String {
    waste.0.as_ref().map_or_else(String::new, |name| format!(" \"{name}\""))
}

/// `at each edge`, `at the left edge`.
fn edges(change: &EdgeChange) -> &'static str {
    match (change.left, change.right) {
        (true, false) => "at the left edge",
        (false, true) => "at the right edge",
        _ => "at each edge",
    }
}

fn increase(change: &EdgeChange, handled: &Handled) -> Vec<String> {
    let (bed, by) = (change.bed, words::total_of(u64::from(change.by), "stitch", "stitches"));
    let made = handled.made[bed];
    let head = format!("Increase {by} {} of the {bed} bed.", edges(change));
    if made.is_empty() {
        return vec![head];
    }
    if change.inset == 0 {
        return vec![format!("{head} Bring into work and wind a loop on {}.", words::needles(made))];
    }
    vec![
        format!(
            "{head} With the hand tool, move {} out by {}.",
            group(change.inset, "edge stitch", "edge stitches"),
            words::total_of(u64::from(change.by), "needle", "needles")
        ),
        format!("Fill the empty needles with a loop of their neighbours: {}.", words::needles(made)),
    ]
}

fn decrease(change: &EdgeChange, handled: &Handled) -> Vec<String> {
    let (bed, by) = (change.bed, words::total_of(u64::from(change.by), "stitch", "stitches"));
    let taken: NeedleSet = handled.taken[bed];
    let moving = change.by.max(change.inset);
    let mut lines = vec![format!(
        "Decrease {by} {} of the {bed} bed. With the hand tool, move {} in by {}.",
        edges(change),
        group(moving, "edge stitch", "edge stitches"),
        words::total_of(u64::from(change.by), "needle", "needles")
    )];
    if !taken.is_empty() {
        lines.push(format!("Put the emptied needles out of work: {}.", words::needles(taken)));
    }
    lines
}

fn group(number: u32, one: &str, many: &str) -> String {
    if number == 1 { format!("the {one}") } else { format!("the {number} {many} together") }
}

//! How stitches go across on the sheet: what a transfer needs, once; which tool it takes; and how a crossing goes back.
//!
//! What is advised here is common practice, no source, where nothing else is said; the machine's manual goes before it.

use crate::beds::{Bed, Carried, Crossing, Going, Machine, Takes, Tool};
use crate::knitted::Done;
use crate::words;

/// What a transfer needs, for the first one of a sheet; none for work that is no transfer.
pub(super) fn first(done: Done<'_>) -> Option<Vec<String>> {
    let crate::beds::Outcome::Carried(carried) = done.outcome() else { return None };
    if !carried.transfer || carried.donors.is_empty() {
        return None;
    }
    let way = Way::of(done, carried);
    let place = match &done.machine.transfer_place {
        Some(place) => format!("Set the beds for it: {}.", place.trim_end_matches('.')),
        None => "The needles stand face to face for it.".to_owned(),
    };
    let mut lines = vec![
        "The first transfer of this sheet, so here is once how it is done. Common practice; your machine's manual comes \
         first."
            .to_owned(),
        format!(
            "{place} The hooks of the two beds should nearly touch and never strike: raise a few empty needles on both \
             beds, look, and push them back."
        ),
    ];
    if way.carriage {
        lines.extend(
            [
                "Hang edge springs or small weights near both ends, and leave the weights on unless your manual takes \
                 them off. No needle is held.",
                "Hold the transfer carriage with both hands, firmly towards the rails, and slide it slowly.",
            ]
            .map(str::to_owned),
        );
    } else {
        lines.push(
            "Draw the needle forward until its stitch lies behind the open latch, hook the tool on, and push the needle \
             back: the stitch slips onto the tool. Hang it in the open hook opposite."
                .to_owned(),
        );
    }
    lines.push(
        "Afterwards look at every hook. A stitch that fell is caught with the latch tool, worked up if it ran, and hung \
         on its needle before anything moves."
            .to_owned(),
    );
    if way.carriage {
        lines.push(
            "If the carriage jams, never force it: draw its guide out, lift it off, and free the hook that holds it."
                .to_owned(),
        );
    }
    Some(lines)
}

/// What takes the stitches across.
pub(super) struct Way {
    /// Whether the transfer carriage can.
    pub(super) carriage: bool,
    /// Whether the hand tool can.
    pub(super) hand: bool,
    /// How the carriage is set, where the profile says what it takes.
    pub(super) setting: Option<Takes>,
}

/// What a transfer carriage takes, as the words behind `set to take`.
pub(super) const fn setting(takes: Takes) -> &'static str {
    match takes {
        Takes::EveryStitch => "every stitch",
        Takes::EverySecond => "every second needle",
        Takes::LoneStitches => "lone stitches",
        Takes::PickedNeedles => "picked needles",
    }
}

impl Way {
    pub(super) fn of(done: Done<'_>, carried: &Carried) -> Self {
        let machine = done.machine;
        let going = Going {
            from: carried.from,
            donors: carried.donors,
            loaded: done.before.needles.loaded,
            racking: done.after.racking,
        };
        let setting = going.setting(machine);
        let goes_there = machine.transfer_carriage.iter().any(|way| way.to == carried.to);
        let can = goes_there && (setting.is_some() || machine.transfer_takes.is_empty());
        match carried.tool {
            Some(Tool::Carriage) => Self { carriage: true, hand: false, setting },
            None if carried.transfer && can => Self { carriage: true, hand: true, setting },
            _ => Self { carriage: false, hand: true, setting: None },
        }
    }
}

/// What moves the stitches: `Use the hand tool.`
pub(super) fn tool(done: Done<'_>, carried: &Carried) -> String {
    let way = Way::of(done, carried);
    if !way.carriage {
        return "Use the hand tool.".to_owned();
    }
    let set = match way.setting {
        None => String::new(),
        Some(takes @ Takes::PickedNeedles) => {
            format!(", set to take {}: {}", setting(takes), words::needles(carried.donors))
        }
        Some(takes) => format!(", set to take {}", setting(takes)),
    };
    let hand = if way.hand { ", or the hand tool" } else { "" };
    format!("Use the transfer carriage{set}{hand}.{}", slide(done.machine, carried.to))
}

/// From which side it is slid, where the profile says so.
fn slide(machine: &Machine, to: Bed) -> String {
    let mut sides = machine.transfer_carriage.iter().filter(|way| way.to == to).filter_map(|way| way.from);
    match (sides.next(), sides.next()) {
        (Some(side), None) => format!(" Start the carriage at the {side} and slide it to the {}.", side.other()),
        _ => String::new(),
    }
}

/// Which group of a crossing lies in front, seen from where, and which goes back on the needles first.
///
/// That the order of return decides which group shows on the knit side: S. Guagliumi, Hand-Manipulated Stitches for
/// Machine Knitters. The needles of each bed draw their loops away from the gap between the beds, so the knit side of the
/// front bed's stitches is towards the sitter, that of the back bed's away; the tools lay on from the gap, so what is hung
/// first comes to lie on the knit side (our own conclusion).
pub(super) fn cross(bed: Bed, crossing: &Crossing) -> String {
    let (over, under) = (words::needles(crossing.over.needles), words::needles(crossing.under.needles));
    let (side, first, second) = match bed {
        Bed::Front => ("knit", &over, &under),
        Bed::Back => ("purl", &under, &over),
    };
    format!(
        "With two hand tools, cross on the {bed} bed: the stitches of {over} go in front of those of {under}, on the side \
         towards you, which is the {side} side here, and the two groups change places. Take off both. Hang the stitches of \
         {first} first, then those of {second}."
    )
}

//! `not-by-carriage`

use crate::beds::{Carried, Going, Machine, Takes, Tool};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Watch};
use crate::words::count;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "not-by-carriage",
        severity: Severity::Error,
        summary: "The transfer carriage is to take stitches that it cannot be set to take.",
        why: "A transfer carriage does the same all along the bed. One takes every stitch, one only lone stitches with the \
              yarn going from bed to bed between them, one every second needle, and some the needles that a selector \
              picks. Asked for others it takes what should stay, or drops what it cannot reach.",
        source: "the machine's profile (`transfer carriage takes`, `selectors`); what is not said there is not judged",
        bad: "machine club {
    needles 20 each side
    transfer carriage takes every stitch
}
piece \"Example\" {
    in work front L3-R3, back L3-R3
    thread slate
    cast on wound front
    row front knit, loosened 1
    gaiting opposite
    transfer front L3-L1 to back, by carriage
    bind off both
}",
        good: "machine club {
    needles 20 each side
    transfer carriage takes every stitch
}
piece \"Example\" {
    in work front L3-R3, back L3-R3
    thread slate
    cast on wound front
    row front knit, loosened 1
    gaiting opposite
    transfer front L3-L1 to back, by hand
    bind off both
}",
    },
    looks_at: &[LooksAt::Carried(carried)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS,
    besides: Besides::NOTHING,
};

fn carried(moment: &Moment<'_>, carried: &Carried) -> Option<Finding> {
    let machine = moment.machine;
    let asked = carried.transfer && carried.tool == Some(Tool::Carriage) && !carried.donors.is_empty();
    // That it cannot go there at all is for `wrong-side`.
    if !asked || !machine.transfer_carriage.iter().any(|way| way.to == carried.to) {
        return None;
    }
    let going = carried.going(moment.state);
    if going.setting(machine).is_some() {
        return None;
    }
    let why = if machine.transfer_takes.is_empty() {
        // Nothing is said of the carriage, but the profile says that nothing can pick needles for it.
        if machine.selectors[carried.from] || going.is_whole_bed() || going.is_every_second() {
            return None;
        }
        no_selector(machine, &going)
    } else {
        let each = machine.transfer_takes.iter().map(|takes| because(machine, &going, *takes));
        each.collect::<Vec<_>>().join(" ")
    };
    let (donors, of) = (going.donors.len(), going.loaded[carried.from].len());
    let which = if donors == of {
        format!("{} of the {} bed", count(donors, "stitch", "stitches"), carried.from)
    } else {
        format!("{donors} of the {of} stitches of the {} bed", carried.from)
    };
    Some(
        RULE.finds(moment.span, format!("the transfer carriage cannot be set to take {which}"))
            .marked("asked for here")
            .because(why)
            .mend("Take them with the hand tool: write `by hand` in place of `by carriage`."),
    )
}

/// Why a carriage that takes that does not take these.
fn because(machine: &Machine, going: &Going, takes: Takes) -> String {
    let (name, bed) = (&machine.name, going.from);
    let (donors, of) = (going.donors.len(), going.loaded[bed].len());
    match takes {
        Takes::EveryStitch | Takes::LoneStitches if donors != of => {
            let taken = if takes == Takes::EveryStitch { "every stitch" } else { "lone stitches" };
            format!(
                "The profile of `{name}` says that it takes {taken}, all along the bed: {} would go that should stay.",
                count(of - donors, "more", "more")
            )
        }
        // Every stitch is to go, and that is what it takes.
        Takes::EveryStitch => String::new(),
        Takes::LoneStitches => {
            let pairs = going.side_by_side(machine);
            let first = pairs.first().map_or_else(String::new, |needle| format!(", {bed} {needle} and the next first"));
            let stand = if pairs.len() == 1 { "pair stands" } else { "pairs stand" };
            format!(
                "The profile of `{name}` says that it takes lone stitches, but {} {stand} side by side with none of the \
                 {} bed between them{first}.",
                pairs.len(),
                bed.other()
            )
        }
        Takes::EverySecond => {
            let second = going.every_second();
            let (stay, more) = ((going.donors - second).len(), (second - going.donors).len());
            let mut wrong = Vec::new();
            if stay > 0 {
                wrong.push(format!("{stay} of these would stay"));
            }
            if more > 0 {
                wrong.push(format!("{more} would go that should stay"));
            }
            format!("The profile of `{name}` says that it takes every second needle: {}.", wrong.join(" and "))
        }
        Takes::PickedNeedles => no_selector(machine, going),
    }
}

fn no_selector(machine: &Machine, going: &Going) -> String {
    format!(
        "The profile of `{}` gives the {} bed no selector, so that nothing picks {} of its {} for the carriage.",
        machine.name,
        going.from,
        going.donors.len(),
        count(going.loaded[going.from].len(), "stitch", "stitches")
    )
}

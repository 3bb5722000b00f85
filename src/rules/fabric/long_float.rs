//! `long-float`

use crate::beds::{Bed, Both, FloatLimit, Machine, Needle, NeedleSet, RowDone};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::memory::Memory;
use crate::rules::{Besides, Facts, LooksAt, Seen, Touches, Watch};
use crate::words::count;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "long-float",
        severity: Severity::Warning,
        summary: "The yarn passes by more needles than a float may, before it is taken up again.",
        why: "A long float catches on fingers and buttons and pulls the fabric together.",
        source: "the machine's profile (`longest float`); without it 25 mm: Interweave's glossary, on \
                 stranding by hand, has 1 inch (2.5 cm) at the most; that a machine's float bears the same is common practice, no \
                 source",
        bad: "in work front L8-R8
thread slate
cast on wound front
row front slip on L4-R4, knit elsewhere
row front knit
bind off front",
        good: "in work front L8-R8
thread slate
cast on wound front
row front slip on L2-R1, knit elsewhere
row front knit
bind off front",
    },
    looks_at: &[LooksAt::Row(row)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS.and(Facts::LAST_ROW),
    besides: Besides { touches: Some(touches), ..Besides::NOTHING },
};

/// A needle and its place in half pitches.
type OnPath = (i32, Bed, Needle);

fn row(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    let machine = moment.machine;
    let offset = machine.back_offset(moment.state.racking);
    let (front, back) = (row.acting(Bed::Front), row.acting(Bed::Back));
    if let Some(found) = start(moment, row) {
        return Some(found);
    }
    // First by whole places, which is quick: a gap that is too long shows as that many empty places in a row.
    let limit = machine.float_needles();
    if !has_gap(front | back.shifted(offset), limit.max(1)) {
        return None;
    }
    let path = moment.state.yarn_path(machine, &Both { front, back }, crate::beds::Side::Right);
    let widest = path.windows(2).max_by_key(|pair| pair[1].0 - pair[0].0)?;
    finding(moment, widest[0], widest[1], "floats in this row")
}

/// A float from where the last row left the yarn to the first needle that takes it now.
fn start(moment: &Moment<'_>, row: &RowDone) -> Option<Finding> {
    let began = row.began?;
    // By far the most rows begin on the needle where the last one ended.
    let goes_on = |bed: Bed| began.needles[bed].is_some() && began.needles[bed] == row.outermost(bed, began.side);
    if Bed::BOTH.into_iter().any(goes_on) {
        return None;
    }
    let [from, to] = row.start(moment.machine, moment.state.standing())?;
    // Past held needles it is a turn of short rows, and for `held-at-carriage-side`.
    if moment.state.held[from.1].contains(from.2) {
        return None;
    }
    finding(moment, from, to, "floats at its beginning")
}

/// The finding for a float between two needles, if it is too long.
fn finding(moment: &Moment<'_>, from: OnPath, to: OnPath, marked: &str) -> Option<Finding> {
    let machine = moment.machine;
    let half_pitches = (to.0 - from.0).abs();
    if !is_too_long(machine, half_pitches) {
        return None;
    }
    let passed = count(((half_pitches - 1) / 2).unsigned_abs(), "needle", "needles");
    let (_, bed, from) = from;
    let (_, to_bed, to) = to;
    let length = length(machine, half_pitches);
    let measure = match machine.longest_float.value {
        FloatLimit::Micrometres(limit) => format!("be {} at the most", millimetres(limit)),
        FloatLimit::Needles(needles) => format!("pass {} at the most", count(needles, "needle", "needles")),
    };
    let pitch = match machine.pitch {
        Some(pitch) => format!("at a pitch of {}", millimetres(pitch)),
        None => format!("at the usual pitch of {} (the profile names no pitch)", millimetres(Machine::USUAL_PITCH)),
    };
    Some(
        RULE.finds(moment.span, format!("the yarn floats from {bed} {from} to {to_bed} {to}, past {passed}"))
            .marked(marked)
            .because(format!(
                "That is about {} {pitch}; a float may {measure} ({}).",
                millimetres(length),
                machine.longest_float.origin()
            ))
            .mend("Let a needle in between knit or tuck, or hook the float up by hand and say so with `allow long-float because \"...\"`."),
    )
}

/// Whether a run of at least `places` empty places lies between two taken ones.
fn has_gap(taken: NeedleSet, places: u32) -> bool {
    let (Some(first), Some(last)) = (taken.first(), taken.last()) else { return false };
    (NeedleSet::span(first, last) - taken).has_run(places)
}

fn is_too_long(machine: &Machine, half_pitches: i32) -> bool {
    match machine.longest_float.value {
        FloatLimit::Micrometres(limit) => length(machine, half_pitches) > limit,
        FloatLimit::Needles(needles) => half_pitches > 2 * (needles as i32 + 1),
    }
}

fn length(machine: &Machine, half_pitches: i32) -> i64 {
    i64::from(half_pitches) * machine.pitch.unwrap_or(Machine::USUAL_PITCH) / 2
}

fn millimetres(micrometres: i64) -> String {
    let text = format!("{}.{}", micrometres / 1000, micrometres % 1000 / 100);
    format!("{} mm", text.trim_end_matches(".0"))
}

/// One at the beginning of a row runs from where the last row left the yarn.
fn touches(seen: Seen<'_>, _: &Memory, usual: Touches) -> Touches {
    let begins = |moment| seen.row().is_some_and(|row| start(moment, row).is_some());
    match seen {
        Seen::Done(moment) if begins(moment) => Touches { rests_on: usual.rests_on.and(Facts::CLEAR_YARN), ..usual },
        _ => usual,
    }
}

#[cfg(test)]
mod tests {
    use super::has_gap;
    use crate::beds::{Needle, NeedleSet};

    #[test]
    fn gaps_are_found_by_their_length() {
        let set: NeedleSet = [3, 4, 9, 12].into_iter().map(Needle).collect();
        assert!(has_gap(set, 4));
        assert!(!has_gap(set, 5));
        assert!(!has_gap(NeedleSet::EMPTY, 1));
    }
}

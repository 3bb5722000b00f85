//! Words for the state of the beds.

use crate::beds::{Bed, Both, Gaiting, NeedleSet};

/// `1 stitch`, `2 stitches`.
pub(super) fn count(number: u64, one: &str, many: &str) -> String {
    match number {
        1 => format!("1 {one}"),
        number => format!("{number} {many}"),
    }
}

/// `a`, `a and b`, `a, b and c`.
pub(super) fn all_of(all: &[String]) -> String {
    match all {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}

/// `front L5-R5 and back L4`; nothing for no needles.
pub(super) fn needles(sets: &Both<NeedleSet>) -> String {
    let named: Vec<String> =
        sets.iter().filter(|(_, set)| !set.is_empty()).map(|(bed, set)| format!("{bed} {set}")).collect();
    all_of(&named)
}

/// Something of each bed: once where both are the same.
pub(super) fn each_bed(of: impl Fn(Bed) -> String) -> String {
    let (front, back) = (of(Bed::Front), of(Bed::Back));
    if front == back {
        format!("{front} on both beds")
    } else {
        format!("{front} on the front bed, {back} on the back bed")
    }
}

/// A racking place, which counts steps to the right: `1 step left of the centre`.
pub(super) fn racking(place: i32) -> String {
    let side = match place {
        0 => return "the centre".to_owned(),
        1.. => "right",
        _ => "left",
    };
    format!("{} {side} of the centre", count(u64::from(place.unsigned_abs()), "step", "steps"))
}

pub(super) const fn gaiting(gaiting: Gaiting) -> &'static str {
    match gaiting {
        Gaiting::Between => "between",
        Gaiting::Opposite => "opposite",
    }
}

/// A stitch size: `5`, `4.5`.
pub(super) fn size(hundredths: Option<i32>) -> String {
    let Some(hundredths) = hundredths else { return "not set".to_owned() };
    let sign = if hundredths < 0 { "-" } else { "" };
    let text = format!("{sign}{}.{:02}", hundredths.unsigned_abs() / 100, hundredths.unsigned_abs() % 100);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

//! Words for the state of the beds.

pub(super) use crate::words::{count, racking};

use crate::beds::{Bed, Both, Gaiting, NeedleSet};

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

pub(super) const fn gaiting(gaiting: Gaiting) -> &'static str {
    match gaiting {
        Gaiting::Between => "between",
        Gaiting::Opposite => "opposite",
    }
}

/// A stitch size: `5`, `4.5`.
pub(super) fn size(hundredths: Option<i32>) -> String {
    hundredths.map_or_else(|| "not set".to_owned(), crate::words::size)
}

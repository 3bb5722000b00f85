//! Needles as a pattern names them, `L5-L3`, for findings and wherever the name may be typed again.

use super::list;
use crate::beds::{Bed, Both, NeedleSet};

/// `front L5`, `front L5-L3, R2`, `front L5 and back R2`.
pub(crate) fn needles(sets: &Both<NeedleSet>) -> String {
    let named: Vec<String> =
        sets.iter().filter(|(_, set)| !set.is_empty()).map(|(bed, set)| on_bed(bed, *set)).collect();
    named.join(" and ")
}

/// `front L5`, `back L5-L3, R2`, with a long list cut short.
pub(crate) fn on_bed(bed: Bed, set: NeedleSet) -> String {
    const MOST_RUNS: usize = 6;
    let runs = set.runs().count();
    if runs <= MOST_RUNS {
        return format!("{bed} {set}");
    }
    let shown: NeedleSet =
        set.runs().take(MOST_RUNS - 1).flat_map(|(first, last)| NeedleSet::span(first, last).iter()).collect();
    format!("{bed} {shown} and {} more", (set - shown).len())
}

/// The same as a pattern says it: `front L5`, `front L5-L3 or R2, back R2`.
pub(crate) fn written(sets: &Both<NeedleSet>) -> String {
    let named: Vec<String> = sets
        .iter()
        .filter(|(_, set)| !set.is_empty())
        .map(|(bed, set)| format!("{bed} {}", set.to_string().replace(", ", " or ")))
        .collect();
    named.join(", ")
}

/// Every one of them, however many there are: `front L5-R5 and back L4`; nothing for no needles.
pub(crate) fn all(sets: &Both<NeedleSet>) -> String {
    let named: Vec<String> =
        sets.iter().filter(|(_, set)| !set.is_empty()).map(|(bed, set)| format!("{bed} {set}")).collect();
    list(&named)
}

/// The names as they are read aloud: `L5`, `L5 and L4`, `L7 to L1, R3 and R5`.
pub(crate) fn spoken(set: &NeedleSet) -> String {
    let runs: Vec<String> = set
        .runs()
        .flat_map(|(first, last)| match last.0 - first.0 {
            0 => vec![first.to_string()],
            1 => vec![first.to_string(), last.to_string()],
            _ => vec![format!("{first} to {last}")],
        })
        .collect();
    list(&runs)
}

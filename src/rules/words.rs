//! Small words that many messages need.

pub(super) use crate::words::{count, racking, size, steps};

use crate::beds::{Bed, Both, NeedleSet};

/// `front L5`, `front L5-L3, R2`, `front L5 and back R2`.
pub(super) fn needles(sets: &Both<NeedleSet>) -> String {
    let named: Vec<String> =
        sets.iter().filter(|(_, set)| !set.is_empty()).map(|(bed, set)| on_bed(bed, *set)).collect();
    named.join(" and ")
}

/// `front L5`, `back L5-L3, R2`, with a long list cut short.
pub(super) fn on_bed(bed: Bed, set: NeedleSet) -> String {
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
pub(super) fn written(sets: &Both<NeedleSet>) -> String {
    let named: Vec<String> = sets
        .iter()
        .filter(|(_, set)| !set.is_empty())
        .map(|(bed, set)| format!("{bed} {}", set.to_string().replace(", ", " or ")))
        .collect();
    named.join(", ")
}

/// `is` or `are`, for that many.
pub(super) fn is_are(number: u64) -> &'static str {
    if number == 1 { "is" } else { "are" }
}

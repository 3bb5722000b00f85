//! Needles and settings of the beds as they are said aloud, for a page that is read at the machine.

use super::{size, spans, total, total_of};
use crate::beds::{Bed, Both, NeedleSet};

/// The needles of a bed, every one of them: `L30 to R30`, `L5, L3 and R2 to R4`, `every second needle from L30 to R28`.
pub(crate) fn needles(set: NeedleSet) -> String {
    if let Some(text) = in_steps(set).or_else(|| in_groups(set)) {
        return text;
    }
    if set.is_empty() { "none".to_owned() } else { spans::spoken(&set) }
}

/// Needles that lie equally far apart, four at least.
fn in_steps(set: NeedleSet) -> Option<String> {
    let mut needles = set.iter();
    let (first, second) = (needles.next()?, needles.next()?);
    let step = second.0 - first.0;
    let last = set.last()?;
    let even = set.iter().zip(set.iter().skip(1)).all(|(one, next)| next.0 - one.0 == step);
    (even && step > 1 && set.len() >= 4).then(|| format!("every {} from {first} to {last}", nth_needle(step)))
}

/// Groups of needles with equal gaps, five at least: `L39 to R40, taking 3 and leaving 1 again and again`.
fn in_groups(set: NeedleSet) -> Option<String> {
    let runs: Vec<_> = set.runs().collect();
    let (first, next) = (runs.first()?, runs.get(1)?);
    let (taken, step) = (first.1.0 - first.0.0 + 1, next.0.0 - first.0.0);
    let whole = runs.iter().all(|run| run.1.0 - run.0.0 + 1 == taken);
    let even = runs.iter().zip(&runs[1..]).all(|(one, next)| next.0.0 - one.0.0 == step);
    let last = set.last()?;
    (runs.len() >= 5 && whole && even)
        .then(|| format!("{} to {last}, taking {taken} and leaving {} again and again", first.0, step - taken))
}

fn nth_needle(step: u8) -> String {
    let word = match step {
        2 => "second",
        3 => "third",
        4 => "fourth",
        5 => "fifth",
        6 => "sixth",
        7 => "seventh",
        8 => "eighth",
        9 => "ninth",
        10 => "tenth",
        _ => return format!("needle that lies {step} places from the last,"),
    };
    format!("{word} needle")
}

/// `front L30 to R30`, `front L30 to R30; back L30 to R29`.
pub(crate) fn on_beds(sets: &Both<NeedleSet>) -> String {
    let named: Vec<String> =
        sets.iter().filter(|(_, set)| !set.is_empty()).map(|(bed, set)| format!("{bed} {}", needles(*set))).collect();
    named.join("; ")
}

/// `the front bed`, `the back bed`, `both beds`.
pub(crate) fn beds(named: &Both<bool>) -> &'static str {
    match (named.front, named.back) {
        (true, false) => "the front bed",
        (false, true) => "the back bed",
        _ => "both beds",
    }
}

/// Both beds' stitch sizes: `stitch size 5 on both beds`, `stitch size 4 on the front bed, 5 on the back bed`.
pub(crate) fn stitch_sizes(sizes: &Both<Option<i32>>) -> String {
    match (sizes.front, sizes.back) {
        (Some(front), Some(back)) if front == back => format!("stitch size {} on both beds", size(front)),
        _ => {
            let named: Vec<String> =
                sizes.iter().filter_map(|(bed, set)| set.map(|of| format!("{} on the {bed} bed", size(of)))).collect();
            format!("stitch size {}", named.join(", "))
        }
    }
}

/// `60 stitches on the front bed, 0 on the back`.
pub(crate) fn stitches(counts: &Both<u64>) -> String {
    format!("{} on the front bed, {} on the back", total_of(counts.front, "stitch", "stitches"), total(counts.back))
}

/// What a bed is called at the head of a sentence.
pub(crate) const fn bed_name(bed: Bed) -> &'static str {
    match bed {
        Bed::Front => "Front",
        Bed::Back => "Back",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beds::Needle;

    #[test]
    fn needles_are_named_in_full() {
        let set = |numbers: &[u8]| numbers.iter().map(|&number| Needle(number)).collect::<NeedleSet>();
        assert_eq!(needles(set(&[126, 127, 128])), "L2 to R1");
        assert_eq!(needles(set(&[126, 127])), "L2 and L1");
        assert_eq!(needles(set(&[120, 122, 124, 126])), "every second needle from L8 to L2");
        assert_eq!(needles(set(&[120, 123, 124, 125, 130])), "L8, L5 to L3 and R3");
        assert_eq!(needles(NeedleSet::EMPTY), "none");
        let groups: NeedleSet = (100..119).filter(|number| number % 4 != 3).map(Needle).collect();
        assert_eq!(needles(groups), "L28 to L10, taking 3 and leaving 1 again and again");
        let uneven: NeedleSet = (100..118).filter(|number| number % 4 != 3).map(Needle).collect();
        assert_eq!(needles(uneven), "L28 to L26, L24 to L22, L20 to L18, L16 to L14, L12 and L11");
    }
}

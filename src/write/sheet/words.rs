//! Small words that many lines of a sheet need.

use crate::beds::{Bed, Both, NeedleSet, Side};
pub(crate) use crate::words::list;

/// `1 row`, `12 rows`, `1,240 rows`.
pub(crate) fn count(number: u64, one: &str, many: &str) -> String {
    if number == 1 { format!("1 {one}") } else { format!("{} {many}", total(number)) }
}

/// A number with its thousands set apart: for totals, never for the number of a row, which must look as on the counter.
pub(crate) fn total(number: u64) -> String {
    let digits = number.to_string();
    let mut text = String::with_capacity(digits.len() + digits.len() / 3);
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

/// `every row`, `every 30 rows`.
pub(crate) fn every(rows: u64) -> String {
    if rows == 1 { "every row".to_owned() } else { format!("every {} rows", total(rows)) }
}

/// `once`, `twice`, `3 times`.
pub(crate) fn times(number: u64) -> String {
    match number {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        _ => format!("{} times", total(number)),
    }
}

/// `row 5`, `rows 5 and 6`, `rows 5 to 8`.
pub(crate) fn rows(first: u64, last: u64) -> String {
    match last.saturating_sub(first) {
        0 => format!("row {first}"),
        1 => format!("rows {first} and {last}"),
        _ => format!("rows {first} to {last}"),
    }
}

/// The same text with a large first letter.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The needles of a bed, every one of them: `L30 to R30`, `L5, L3 and R2 to R4`, `every second needle from L30 to R28`.
pub(crate) fn needles(set: NeedleSet) -> String {
    if let Some(text) = in_steps(set).or_else(|| in_groups(set)) {
        return text;
    }
    let runs: Vec<String> = set
        .runs()
        .flat_map(|(first, last)| match last.0 - first.0 {
            0 => vec![first.to_string()],
            1 => vec![first.to_string(), last.to_string()],
            _ => vec![format!("{first} to {last}")],
        })
        .collect();
    if runs.is_empty() { "none".to_owned() } else { list(&runs) }
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

/// A racking place: `the centre`, `1 step left of the centre`.
pub(crate) fn racking(place: i32) -> String {
    match place {
        0 => "the centre".to_owned(),
        _ => format!("{} of the centre", steps(place)),
    }
}

/// `1 step left`, `3 steps right`.
pub(crate) fn steps(by: i32) -> String {
    let side = if by < 0 { Side::Left } else { Side::Right };
    format!("{} {side}", count(u64::from(by.unsigned_abs()), "step", "steps"))
}

/// A stitch size, from hundredths: `5`, `4.5`.
pub(crate) fn stitch_size(hundredths: i32) -> String {
    let sign = if hundredths < 0 { "minus " } else { "" };
    let size = hundredths.unsigned_abs();
    let text = format!("{sign}{}.{:02}", size / 100, size % 100);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Both beds' stitch sizes: `stitch size 5 on both beds`, `stitch size 4 on the front bed, 5 on the back bed`.
pub(crate) fn stitch_sizes(sizes: &Both<Option<i32>>) -> String {
    match (sizes.front, sizes.back) {
        (Some(front), Some(back)) if front == back => format!("stitch size {} on both beds", stitch_size(front)),
        _ => {
            let named: Vec<String> = sizes
                .iter()
                .filter_map(|(bed, size)| size.map(|size| format!("{} on the {bed} bed", stitch_size(size))))
                .collect();
            format!("stitch size {}", named.join(", "))
        }
    }
}

/// `60 stitches on the front bed, 0 on the back`.
pub(crate) fn stitches(counts: &Both<u64>) -> String {
    format!("{} on the front bed, {} on the back", count(counts.front, "stitch", "stitches"), total(counts.back))
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

    #[test]
    fn numbers_are_told_as_they_are_said() {
        assert_eq!([total(7), total(1240), total(1_000_000_007)], ["7", "1,240", "1,000,000,007"]);
        assert_eq!([times(1), times(2), times(264)], ["once", "twice", "264 times"]);
        assert_eq!([rows(5, 5), rows(5, 6), rows(5, 1060)], ["row 5", "rows 5 and 6", "rows 5 to 1060"]);
        assert_eq!([stitch_size(500), stitch_size(450), stitch_size(-50)], ["5", "4.5", "minus 0.5"]);
        assert_eq!(
            [racking(0), racking(-1), racking(2)],
            ["the centre", "1 step left of the centre", "2 steps right of the centre"]
        );
    }
}

//! Words for numbers and settings, the same wherever they are said: in findings, on pages, in a comparison.
//!
//! Plain words stand here, words for needles and beds in the files beside.

pub(crate) mod spans;
mod spoken;

pub(crate) use spoken::{bed_name, beds, needles, on_beds, stitch_sizes, stitches};

/// `1 stitch`, `2 stitches`, `1240 stitches`: plainly, so that it can be typed again.
pub(crate) fn count(number: impl Into<u128>, one: &str, many: &str) -> String {
    match number.into() {
        1 => format!("1 {one}"),
        number => format!("{number} {many}"),
    }
}

/// The same for a page that is only read: `1 row`, `1,240 rows`.
pub(crate) fn total_of(number: u64, one: &str, many: &str) -> String {
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

/// `is` or `are`, for that many.
pub(crate) fn is_are(number: u64) -> &'static str {
    if number == 1 { "is" } else { "are" }
}

/// Steps of racking, to the right when positive: `1 step left`, `3 steps right`.
pub(crate) fn steps(by: i32) -> String {
    let side = if by < 0 { "left" } else { "right" };
    format!("{} {side}", count(by.unsigned_abs(), "step", "steps"))
}

/// A racking place, which counts steps to the right: `the centre`, `1 step left of the centre`.
pub(crate) fn racking(place: i32) -> String {
    match place {
        0 => "the centre".to_owned(),
        _ => format!("{} of the centre", steps(place)),
    }
}

/// A stitch size, from hundredths, as a pattern writes a number: `5`, `4.5`, `-0.5`.
pub(crate) fn size(hundredths: i32) -> String {
    let sign = if hundredths < 0 { "-" } else { "" };
    let text = format!("{sign}{}.{:02}", hundredths.unsigned_abs() / 100, hundredths.unsigned_abs() % 100);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// `a`, `a and b`, `a, b and c`.
pub(crate) fn list(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [only] => only.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_keeps_its_sign() {
        assert_eq!([500, 450, 5, -50, -125].map(size), ["5", "4.5", "0.05", "-0.5", "-1.25"]);
    }

    #[test]
    fn numbers_are_told_as_they_are_said() {
        assert_eq!([total(7), total(1240), total(1_000_000_007)], ["7", "1,240", "1,000,000,007"]);
        assert_eq!([times(1), times(2), times(264)], ["once", "twice", "264 times"]);
        assert_eq!([rows(5, 5), rows(5, 6), rows(5, 1060)], ["row 5", "rows 5 and 6", "rows 5 to 1060"]);
        assert_eq!(
            [racking(0), racking(-1), racking(2)],
            ["the centre", "1 step left of the centre", "2 steps right of the centre"]
        );
    }
}

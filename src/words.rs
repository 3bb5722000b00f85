//! Words for numbers and settings that findings and written pages share.

/// `1 stitch`, `2 stitches`.
pub(crate) fn count(number: impl Into<u64>, one: &str, many: &str) -> String {
    match number.into() {
        1 => format!("1 {one}"),
        number => format!("{number} {many}"),
    }
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

/// A stitch size in hundredths: `5`, `4.5`.
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
    #[test]
    fn a_size_keeps_its_sign() {
        assert_eq!([500, 450, 5, -50, -125].map(super::size), ["5", "4.5", "0.05", "-0.5", "-1.25"]);
    }
}

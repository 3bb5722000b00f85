//! Lengths that become rows.
//!
//! The sums are plain proportions and come out exactly. One inch is 2.54 cm exactly (international yard and pound
//! agreement of 1959; from memory).

use super::fixture::{played, with};

/// How a length is worked at a gauge, in a stitch of so many rows: the exact number of rows as it is said, the rows
/// knitted, and the difference as it is said.
fn worked(gauge: &str, rows: usize, length: &str) -> (String, u64, String) {
    let rows = "row front knit\n".repeat(rows);
    let text = with(
        &format!("gauge sand {{ {gauge} }}\nstitch sand on front {{\n{rows}}}"),
        &format!(
            "in work front L6-R6\ncast on wound front\nmark \"begin\"\nwork sand for {length}\nmark \"end\"\n\
             bind off front"
        ),
    );
    let played = played(&text);
    let [rounding] = played.roundings.as_slice() else { panic!("one length was turned into rows") };
    assert_eq!(rounding.rows, played.courses.len() as u64, "as many rows are knitted as are said");
    (rounding.exact.clone(), rounding.rows, rounding.difference.clone())
}

#[test]
fn lengths_that_come_out_exactly() {
    let exactly = |gauge: &str, rows, length: &str, expected: u64| {
        assert_eq!(worked(gauge, rows, length), (expected.to_string(), expected, String::new()), "{gauge}, {length}");
    };
    // 120 x 44 / 10
    exactly("26 stitches and 44 rows in 10 cm", 2, "120 cm", 528);
    exactly("26 stitches and 44 rows in 10 cm", 2, "1200 mm", 528);
    exactly("26 stitches and 44 rows in 10 cm", 2, "1.2 m", 528);
    // 10 in are 25.4 cm, and 25.4 x 50 / 10 = 127
    exactly("26 stitches and 50 rows in 10 cm", 1, "10 in", 127);
    // 4 in are 10.16 cm: 254 cm are 100 in, or 25 times the measure
    exactly("20 stitches and 28 rows in 4 in", 1, "254 cm", 700);
    exactly("20 stitches and 28 rows in 4 in", 4, "8 in", 56);
}

#[test]
fn lengths_that_do_not_come_out_say_so() {
    // 12 cm x 44 / 10 = 52.8 rows; the nearest even number is 52, which is 11.818 cm.
    let (exact, rows, difference) = worked("26 stitches and 44 rows in 10 cm", 2, "12 cm");
    assert_eq!((exact.as_str(), rows), ("52.8", 52));
    assert!(difference.starts_with("0.18 cm less"), "{difference}");
}

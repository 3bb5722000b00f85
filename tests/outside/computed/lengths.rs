//! Lengths that become rows.
//!
//! The sums are plain proportions. One inch is 2.54 cm exactly (international yard and pound agreement of 1959; from
//! memory).

use crate::outside::hand::{Hand, Said, played, stands};

/// The exact number of rows as it is said, the rows knitted, and the difference as it is said.
type Worked = (String, u64, String);

/// What works out how a length is worked at a gauge, in a stitch of so many rows.
type Worker<'a> = &'a dyn Fn(&Hand<'_>, &str, usize, &str) -> Result<Worked, String>;

/// As wale works it out.
fn by_wale(hand: &Hand<'_>, gauge: &str, rows: usize, length: &str) -> Result<Worked, String> {
    let rows = "row front knit\n".repeat(rows);
    let text = hand.with(
        &format!("gauge sand {{ {gauge} }}\nlet tall = {length}\nstitch sand on front {{\n{rows}}}"),
        "in work front L6-R6\ncast on wound front\nmark \"begin\"\nwork sand for tall\nmark \"end\"\nbind off front",
    );
    let played = played(&text)?;
    let [rounding] = played.roundings.as_slice() else { return Err("one length was turned into rows".into()) };
    agree!(rounding.rows, played.courses.len() as u64, "as many rows are knitted as are said");
    Ok((rounding.exact.clone(), rounding.rows, rounding.difference.clone()))
}

/// wale's exact number of rows, rounded in another way to whole repeats.
fn rounded_by(round: fn(f64) -> f64) -> impl Fn(&Hand<'_>, &str, usize, &str) -> Result<Worked, String> {
    move |hand, gauge, rows, length| {
        let (exact, _, difference) = by_wale(hand, gauge, rows, length)?;
        let repeats = exact.parse::<f64>().map_err(|error| error.to_string())? / rows as f64;
        Ok((exact, round(repeats) as u64 * rows as u64, difference))
    }
}

/// What others would make of it: always down, always up, and a half that is nothing.
const WRONG: [fn(f64) -> f64; 3] = [f64::floor, f64::ceil, |repeats| (repeats - 0.5).ceil()];

fn comes_out(hand: &Hand<'_>, work: Worker<'_>) -> Said {
    for (gauge, rows, length, expected) in [
        // 120 x 44 / 10
        ("26 stitches and 44 rows in 10 cm", 2, "120 cm", 528),
        ("26 stitches and 44 rows in 10 cm", 2, "1200 mm", 528),
        ("26 stitches and 44 rows in 10 cm", 2, "1.2 m", 528),
        // 10 in are 25.4 cm, and 25.4 x 50 / 10 = 127
        ("26 stitches and 50 rows in 10 cm", 1, "10 in", 127),
        // 4 in are 10.16 cm: 254 cm are 100 in, or 25 times the measure
        ("20 stitches and 28 rows in 4 in", 1, "254 cm", 700),
        ("20 stitches and 28 rows in 4 in", 4, "8 in", 56),
        // (21 - 2) x 6
        ("4 stitches and 6 rows in 1 in", 1, "21 in - 2 in", 114),
        ("4 stitches and 6 rows in 1 in", 2, "21 in - 2 in", 114),
        // 13 x 7
        ("11 stitches and 14 rows in 2 in", 1, "13 in", 91),
    ] {
        let worked = work(hand, gauge, rows, length)?;
        agree!(worked, (expected.to_string(), expected, String::new()), "{gauge}, {length}");
    }
    Ok(())
}

#[test]
fn lengths_that_come_out_exactly() {
    stands(
        |hand| comes_out(hand, &by_wale),
        &[("10 in\n", "254 cm\n"), ("21 in - 2 in", "21 in - 2 cm"), ("44 rows", "43 rows")],
    );
}

/// To the nearest whole number of times that the stitch is worked; a half counts as a whole one. The nearest one is below
/// in some and above in others, so that whoever always rounds down fails, and whoever always rounds up.
fn is_nearest(hand: &Hand<'_>, work: Worker<'_>) -> Said {
    let gauge = "26 stitches and 44 rows in 10 cm";
    for (gauge, rows, length, exact, expected, more) in [
        // 12 cm x 44 / 10: the nearest even number is 52, which is 11.818 cm.
        (gauge, 2, "12 cm", "52.8", 52, "0.18 cm less"),
        // 12.7 x 4.4 = 55.88, nearest 56, which is 12.727 cm
        (gauge, 2, "12.7 cm", "55.88", 56, "0.03 cm more"),
        // 12.6 x 4.4 = 55.44: 27.72 times
        (gauge, 2, "12.6 cm", "55.44", 56, "0.13 cm more"),
        // 12.5 x 4.4 = 55: 27 times and a half
        (gauge, 2, "12.5 cm", "55", 56, "0.23 cm more"),
        // 12.4 x 4.4 = 54.56: 27.28 times
        (gauge, 2, "12.4 cm", "54.56", 54, "0.13 cm less"),
        // 4.9 x 4.4 = 21.56: 5.39 times 4 rows; 5.3 x 4.4 = 23.32: 5.83 times
        (gauge, 4, "4.9 cm", "21.56", 20, "0.35 cm less"),
        (gauge, 4, "5.3 cm", "23.32", 24, "0.15 cm more"),
        // K. TenDyke, blog, 2006 and 2014 (an excerpt was read): 15 1/2 in at 7 rows an inch is 108.5, and is printed
        // as 108. wale makes a half a whole one: a piece that is too long can be eased in.
        ("5 stitches and 7 rows in 1 in", 1, "15.5 in", "108.5", 109, "0.07 in more"),
        ("5 stitches and 7 rows in 1 in", 2, "15.5 in", "108.5", 108, "0.07 in less"),
    ] {
        let (said, knitted, difference) = work(hand, gauge, rows, length)?;
        agree!((said.as_str(), knitted), (exact, expected), "{gauge}, {length}, {rows} rows at a time");
        must!(difference.starts_with(more), "{length}: {difference}, not {more}");
    }
    Ok(())
}

#[test]
fn lengths_that_do_not_come_out_go_to_the_nearest_and_say_so() {
    stands(|hand| is_nearest(hand, &by_wale), &[("12.6 cm", "12.4 cm"), ("15.5 in", "15 in")]);
    for wrong in WRONG {
        let said = is_nearest(&Hand::plain(), &rounded_by(wrong));
        println!("another rounding: {said:?}");
        assert!(said.is_err(), "another rounding is not noticed");
    }
}

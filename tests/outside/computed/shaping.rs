//! Shaping at even intervals: the rows that are knitted and the stitches that are left, as they are printed. Where no source
//! is named the figures are common practice, and their sums our own.

use crate::outside::hand::{Hand, Said, played, stands};
use wale::beds::Bed;

/// A slope: what it is, stitches before, how many stitches each step adds or takes, the steps as (times, rows), straight rows
/// after them, rows in all, stitches after.
type Slope = (&'static str, i64, i64, &'static [(u64, u64)], u64, usize, i64);

const SLOPES: &[Slope] = &[
    // Every 3rd row 4 times and every 4th 32 times.
    ("36 increases on each side in 140 rows", 10, 2, &[(4, 3), (32, 4)], 0, 140, 82),
    // K. TenDyke, blog, 2006 and 2014 (an excerpt was read): 11 rows with increases in 108 rows.
    ("38 to 60 stitches in 108 rows", 38, 2, &[(9, 10), (2, 9)], 0, 108, 60),
    // 5.5 stitches and 7 rows an inch over 13 inches.
    ("50 to 72 stitches in 91 rows", 50, 2, &[(3, 9), (8, 8)], 0, 91, 72),
    ("42 to 92 stitches in 90 rows", 42, 2, &[(10, 3), (15, 4)], 0, 90, 92),
    // With a straight run after the last: 5 parts of 4 rows.
    ("24 to 20 stitches in 20 rows", 24, -1, &[(4, 4)], 4, 20, 20),
    ("18 increases on each side in 96 rows", 20, 2, &[(18, 5)], 6, 96, 56),
];

fn slopes(hand: &Hand<'_>) -> Said {
    for &(what, before, change, steps, straight, rows, after) in SLOPES {
        let shape = match change {
            2 => "increase front 1 at each edge",
            _ => "decrease front 1 at left",
        };
        let steps: Vec<String> = steps
            .iter()
            .map(|(times, every)| format!("repeat {times} times {{\nrows {every} front knit\n{shape}\n}}"))
            .collect();
        let straight = if straight > 0 { format!("rows {straight} front knit\n") } else { String::new() };
        let half = before / 2;
        let text = hand.piece(&format!(
            "in work front L{half}-R{half}\ncast on wound front\nmark \"begin\"\n{}\n{straight}mark \"end\"\nrow front knit\nbind off front",
            steps.join("\n")
        ));
        let played = played(&text).map_err(|said| format!("{what}: {said}"))?;
        agree!(played.courses.len(), rows, "{what}: rows");
        agree!(played.start.stitch_count(Bed::Front), before as u64, "{what}: stitches before");
        agree!(played.end.stitch_count(Bed::Front), after as u64, "{what}: stitches after");
        agree!(played.end.row - played.start.row, rows as u64, "{what}: rows of the counter");
    }
    Ok(())
}

#[test]
fn even_slopes_have_the_rows_and_stitches_that_are_printed() {
    stands(
        slopes,
        &[
            ("rows 4 front", "rows 3 front"),
            ("repeat 32 times", "repeat 31 times"),
            ("increase front 1 at each edge", "increase front 1 at left"),
        ],
    );
}

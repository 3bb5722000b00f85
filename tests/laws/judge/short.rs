//! Every program of a few lines: three needles of each bed are used, and each line is put behind each other one.

use super::compare::compare;
use super::tally::{Tally, number};
use std::time::Instant;

/// How the beds stand at first.
const STARTS: &[&str] = &[
    "",
    "in work front L1-R2\ncast on wound front",
    "in work both L1-R2\ncast on wound front\ngaiting opposite",
    "in work both L1-R2\ncast on zigzag\nrow both knit",
];

const LINES: &[&str] = &[
    "row front knit",
    "row both knit",
    "row front tuck, back knit",
    "row front slip on L1, knit elsewhere",
    "row back knit, new loops",
    "tubular 2 rows",
    "free pass",
    "transfer front to back",
    "transfer back to front, joining",
    "transfer front L1 to back, joining, emptied go out of work",
    "move front L1 1 right, joining",
    "move front R2 to back R1",
    "cross front L1 over R1",
    "rack 1 left",
    "rack 1 right",
    "gaiting opposite",
    "gaiting between",
    "in work both L1-R2",
    "out of work front empty",
    "out of work back",
    "hold front L1",
    "release front",
    "cast on zigzag",
    "new loops front L1",
    "increase front 1 at left",
    "decrease front 1 at right",
    "drop back R1",
    "bind off front",
    "onto waste yarn front",
    "pick up front L1 from waste yarn",
    "expect 3 stitches front",
];

/// The lines of the program of that number, each one a digit.
fn lines(mut number: usize, length: usize) -> String {
    let mut text = String::new();
    for _ in 0..length {
        text = text + LINES[number % LINES.len()] + "\n";
        number /= LINES.len();
    }
    text
}

#[test]
fn the_judge_and_the_compiler_agree_on_every_short_program() {
    // A line more takes as many times longer as there are lines.
    let longest = match number("WALE_SOAK_PROGRAMS") {
        None => 2,
        Some(programs) if programs < 3_000_000 => 3,
        Some(_) => 4,
    };
    let begun = Instant::now();
    let mut tally = Tally::default();
    for start in STARTS {
        for length in 0..=longest {
            for number in 0..LINES.len().pow(length as u32) {
                let lines = lines(number, length);
                let text = format!(
                    "machine small {{\nneedles 2 each side\nracking back bed, 1 left to 1 right\nselectors front bed\n}}\n\
                     yarn slate {{}}\npiece \"Swatch\" {{\nthread slate\n{start}\n{lines}bind off both\n}}\n"
                );
                tally.take(compare(&text));
            }
        }
    }
    tally.tell(&format!("every program of up to {longest} of {} lines, {} starts", LINES.len(), STARTS.len()), begun);
    assert!(tally.errors.len() >= 11, "{:?}", tally.errors);
}

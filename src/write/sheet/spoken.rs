//! What the pattern says to the knitter, and what it promises, in the words of the sheet.

use crate::beds::Both;
use crate::plan::program::{Promise, Rounding, Speech};
use crate::words;

/// What is said to the knitter, in one line.
pub(crate) fn speech(speech: &Speech) -> String {
    match speech {
        Speech::Words(word, text) => format!("{}: {text}", word.heading()),
        Speech::Remind { every, text } => format!("From here on, {}: {text}", words::every(*every)),
        Speech::Rounded(rounding) => rounded(rounding),
    }
}

/// How a length became rows.
fn rounded(rounding: &Rounding) -> String {
    let rows = words::total_of(rounding.rows, "row", "rows");
    if rounding.difference.is_empty() {
        return format!("Length: {} is {rows} exactly.", rounding.wish);
    }
    format!("Length: {} would be {} rows. Work {rows}: {}.", rounding.wish, rounding.exact, rounding.difference)
}

pub(crate) fn promise(promise: &Promise) -> String {
    match promise {
        Promise::Stitches { count, front, back } => {
            let beds = match (front, back) {
                (true, true) => "both beds together",
                _ => words::beds(&Both { front: *front, back: *back }),
            };
            format!("{} on {beds}", words::total_of(*count, "stitch", "stitches"))
        }
        Promise::Carriage(side) => format!("carriage on the {side}"),
        Promise::Counter(counter) => format!("counter {counter}"),
        Promise::Gaiting(gaiting) => format!("gaiting {gaiting}"),
        Promise::Racking(place) => format!("racking at {}", words::racking(*place)),
        Promise::Tube(Some(side)) => format!("tube open at the {side}"),
        Promise::Tube(None) => "tube closed".to_owned(),
    }
}

//! Edges that are shaped, blocks that are repeated, and stitches that the pattern has a name for.

use super::heard::Heard;
use super::{Advice, Around};

/// `decrease 1 each end every 4 rows, 8 times`.
pub(super) fn edge(heard: &Heard, around: &Around<'_>) -> Option<Advice> {
    let heard = heard.begin();
    let word = if heard.begins(&["decrease", "dec"]) {
        "decrease"
    } else if heard.begins(&["increase", "inc"]) {
        "increase"
    } else {
        return None;
    };
    let every = heard.number_behind(&["every"]).or_else(|| heard.says(&["every row"]).then_some(1));
    heard.says(&["th row", "nd row", "rd row", "st row", "th rows", "rows", "row"]);
    let times = heard.times();
    let bed = heard.bed().filter(|bed| *bed != "both" || around.bed() == Some("both"));
    let each =
        ["each edge", "each end", "each side", "both edges", "both ends", "both sides", "either side", "edges", "both"];
    let edge = if heard.says(&each) { Some("each edge") } else { heard.side() };
    heard.says(&["edge", "side", "end"]);
    let number = heard.number().unwrap_or(1);
    let edge = edge.filter(|_| heard.done())?;
    let bed = bed.unwrap_or_else(|| around.bed_or_blank());
    let line = format!("{word} {bed} {number} at {edge}");
    Some(match (every, times) {
        (Some(every), Some(times)) => {
            let rows = if every == 1 { format!("row {bed} knit") } else { format!("rows {every} {bed} knit") };
            let why = "What is done again and again stands in a block that is repeated: the shaping, and the rows up to the next one.";
            Advice::one(
                "how often and after how many rows is not said behind a shaping",
                why,
                format!("repeat {times} times {{\n    {line}\n    {rows}\n}}"),
            )
        }
        (None, None) => {
            let why =
                "A shaping names the bed, how many stitches, and behind `at` the edge: `left`, `right` or `each edge`.";
            Advice::one("the words of this shaping do not stand so", why, line)
        }
        _ => return None,
    })
}

/// `repeat 4`, `do 4 times`, `loop 4`.
pub(super) fn repeat(heard: &Heard, around: &Around<'_>) -> Option<Advice> {
    if !around.opens {
        return None;
    }
    let heard = heard.begin();
    heard.says(&["repeat", "do", "for", "loop", "while", "rep", "work"]);
    heard.says(&["these rows", "this", "block", "rows"]);
    let times = heard.times().or_else(|| heard.number())?;
    heard.done().then(|| {
        let why = "What is done several times stands in the block of a line that says how often, and ends in `times`.";
        Advice::one("a repeat does not begin so", why, format!("repeat {times} times"))
    })
}

/// `half cardigan 8 rows`, `work rib until 30 cm`.
pub(super) fn named(heard: &Heard, around: &Around<'_>) -> Option<Advice> {
    let heard = heard.begin();
    heard.says(&["work", "knit", "repeat", "do", "follow"]);
    let times = heard.times();
    let rows = if times.is_none() { heard.number_of(&["rows", "row"]) } else { None };
    let length = if times.is_none() && rows.is_none() { length(heard) } else { None };
    heard.says(&["until", "for", "to"]);
    heard.says(&["measures", "it measures", "work measures", "long"]);
    let words: Vec<String> = heard.rest().iter().map(|word| (*word).to_owned()).collect();
    let name = words.join("-");
    if words.is_empty() || words.len() > 4 || !around.is_name_of("stitch", &name) {
        return None;
    }
    let extent = match (times, rows, length) {
        (Some(times), ..) => format!(" {times} times"),
        (_, Some(rows), _) => format!(" for {rows} rows"),
        (.., Some(length)) => format!(" for {length}"),
        _ => String::new(),
    };
    let why = "A stitch of the pattern is worked by its name, which is one word, and behind it stands how often (`times`) or how \
               long (`for`).";
    Some(Advice::one("a stitch is not worked so", why, format!("work {name}{extent}")))
}

/// A length with its unit, however it is spelt.
fn length(heard: &Heard) -> Option<String> {
    let unit = heard.phrase(&[
        "cm",
        "mm",
        "centimetres",
        "centimeters",
        "centimetre",
        "millimetres",
        "inches",
        "inch",
        "in",
        "metres",
        "m",
    ])?;
    let unit = match unit {
        "cm" | "centimetres" | "centimeters" | "centimetre" => "cm",
        "mm" | "millimetres" => "mm",
        "metres" | "m" => "m",
        _ => "in",
    };
    Some(format!("{} {unit}", heard.measure()?))
}

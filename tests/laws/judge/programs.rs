//! Random patterns as text, for a machine of a few needles: right ones, right ones with one slip, and wild ones.

use super::facts::Bench;
use super::read::{read, statements};
use super::verdict::Play;
use crate::common::random::Dice;
use std::fmt::Write as _;

/// A statement, or a repeat with its block.
type Chunk = String;

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Manner {
    /// Every line is chosen so that it can be done.
    Right,
    /// The same, and then one line is changed, left out, done twice or put in.
    OneSlip,
    /// Every line by chance.
    Wild,
}

fn percent(dice: &mut Dice, chance: usize) -> bool {
    dice.below(100) < chance
}

/// The lines before the piece.
fn machine(dice: &mut Dice) -> String {
    let mut text = format!("machine small {{\n    needles {} each side\n", 2 + dice.below(2));
    if percent(dice, 50) {
        let (bed, left, right) = (dice.pick(&["front", "back"]), 1 + dice.below(3), 1 + dice.below(3));
        let _ = writeln!(text, "    racking {bed} bed, {left} left to {right} right");
    }
    if percent(dice, 40) {
        let _ = writeln!(text, "    half step to the {}", dice.pick(&["left", "left", "right"]));
    }
    let beds = &["both beds", "both beds", "front bed", "back bed", "none"];
    for (chance, what) in [(40, "selectors"), (40, "hold")] {
        if percent(dice, chance) {
            let _ = writeln!(text, "    {what} {}", dice.pick(beds));
        }
    }
    if percent(dice, 40) {
        let ways = &["", " to back from left", " to front from right"];
        let _ = writeln!(text, "    transfer carriage{}", dice.pick(ways));
        if percent(dice, 60) {
            let takes = &[
                "every stitch",
                "lone stitches",
                "every second needle",
                "picked needles",
                "every stitch, every second needle",
                "lone stitches, picked needles",
            ];
            let _ = writeln!(text, "    transfer carriage takes {}", dice.pick(takes));
        }
    }
    if percent(dice, 30) {
        let _ = writeln!(text, "    most tucks {}", 1 + dice.below(3));
    }
    if percent(dice, 40) {
        let _ = writeln!(text, "    emptied needles {}", dice.pick(&["stay in work", "go out of work"]));
    }
    text + "}\nyarn slate {}\nyarn chalk {}\npiece \"Swatch\" {\n"
}

fn bed(dice: &mut Dice) -> &'static str {
    if percent(dice, 60) { "front" } else { "back" }
}

fn beds(dice: &mut Dice) -> &'static str {
    let beds = ["front", "back", "both"];
    beds[dice.below(3)]
}

/// A needle, now and then one that the machine does not have.
fn needle(dice: &mut Dice) -> String {
    let number = if percent(dice, 3) { 4 } else { 1 + dice.below(3).min(dice.below(4)) };
    format!("{}{number}", dice.pick(&["L", "R"]))
}

fn run(dice: &mut Dice) -> String {
    let runs = ["L2-R2", "L3-R3", "L2-L1", "R1-R2", "L1-R1", "L2-R1", "L1-R2", "L1-R3"];
    if percent(dice, 40) { needle(dice) } else { runs[dice.below(runs.len())].to_owned() }
}

fn selection(dice: &mut Dice) -> String {
    match dice.below(20) {
        0..=9 => run(dice),
        10 => "all".to_owned(),
        11 => "loaded".to_owned(),
        12 => "empty".to_owned(),
        13 => format!("leftmost {}", 1 + dice.below(3)),
        14 => format!("rightmost {}", 1 + dice.below(3)),
        15 => format!("every {}", 1 + dice.below(3)),
        16 => format!("\"{}\"", dice.pick(&["|.", ".|", "|..", "||."])),
        17 => format!("all but {}", needle(dice)),
        _ => format!("{} or {}", needle(dice), needle(dice)),
    }
}

fn targets(dice: &mut Dice) -> String {
    match dice.below(10) {
        0..=5 => format!("{} {}", beds(dice), selection(dice)),
        6..=7 => beds(dice).to_owned(),
        _ => format!("front {}, back {}", selection(dice), selection(dice)),
    }
}

fn action(dice: &mut Dice) -> &'static str {
    ["knit", "knit", "knit", "tuck", "slip"][dice.below(5)]
}

/// What one bed does, or both.
fn work(dice: &mut Dice, bed: &str) -> String {
    match dice.below(10) {
        0..=5 => format!("{bed} {}", action(dice)),
        6..=8 => format!("{bed} {} on {}, {} elsewhere", action(dice), selection(dice), action(dice)),
        _ => format!("{bed} {} on {}", action(dice), selection(dice)),
    }
}

fn row(dice: &mut Dice) -> String {
    let mut text = match dice.below(12) {
        0..=6 => "row ".to_owned(),
        7..=10 => format!("rows {} ", 2 + dice.below(3)),
        _ => format!("rows {} ", 2 + dice.below(60)),
    };
    let turns = text.starts_with("rows") && percent(dice, 15);
    if turns {
        let (to_left, to_right) = (beds(dice), beds(dice));
        let _ = write!(text, "to left {} knit, to right {}", to_left, work(dice, to_right));
    } else {
        if text.starts_with("row ") && percent(dice, 10) {
            text.push_str(dice.pick(&["to left ", "to right "]));
        }
        match dice.below(10) {
            0..=3 => text.push_str(&work(dice, "both")),
            4..=5 => {
                let (front, back) = (work(dice, "front"), work(dice, "back"));
                let _ = write!(text, "{front}, {back}");
            }
            _ => {
                let bed = bed(dice);
                text.push_str(&work(dice, bed));
            }
        }
    }
    if percent(dice, 15) {
        text.push_str(", new loops");
    }
    if percent(dice, 20) {
        let _ = write!(text, ", loosened {}", 1 + dice.below(3));
    }
    text
}

fn manner(dice: &mut Dice, transfer: bool) -> String {
    let mut text = String::new();
    if percent(dice, 50) {
        text.push_str(", joining");
    }
    if percent(dice, 30) {
        text.push_str(dice.pick(&[", emptied stay in work", ", emptied go out of work"]));
    }
    if transfer && percent(dice, 20) {
        text.push_str(dice.pick(&[", by hand", ", by carriage"]));
    }
    text
}

fn carried(dice: &mut Dice) -> Chunk {
    match dice.below(10) {
        0..=4 => {
            let (from, to) = if percent(dice, 50) { ("front", "back") } else { ("back", "front") };
            let which = if percent(dice, 50) { String::new() } else { format!(" {}", selection(dice)) };
            format!("transfer {from}{which} to {to}{}", manner(dice, true))
        }
        5..=6 => {
            let (way, steps) = (dice.pick(&["left", "right"]), 1 + dice.below(2));
            format!("move {} {} {steps} {way}{}", bed(dice), run(dice), manner(dice, false))
        }
        7 => {
            let (from, to) = (bed(dice), bed(dice));
            let (mut one, other) = (needle(dice), needle(dice));
            if from == to && one == other {
                one = if one == "L1" { "R1" } else { "L1" }.to_owned();
            }
            format!("move {from} {one} to {to} {other}{}", manner(dice, false))
        }
        _ => {
            let groups = ["L1 over R1", "R1 over L1", "L2-L1 over R1", "L2 over L1", "R1 over R2-R3", "L3 over L2-L1"];
            format!("cross {} {}", bed(dice), dice.pick(&groups))
        }
    }
}

fn setting(dice: &mut Dice) -> Chunk {
    let fixed = [
        "gaiting opposite",
        "gaiting opposite",
        "gaiting between",
        "gaiting between",
        "rack to centre",
        "rack 1 left",
        "rack 1 right",
        "rack to 1 left",
        "rack to 2 right",
        "rack 3 right",
        "thread slate",
        "thread chalk",
        "free pass",
        "carriage left",
        "carriage right",
        "reset counter",
        "stitch size 5",
        "stitch size 9",
    ];
    dice.pick(&fixed).to_owned()
}

fn edge(dice: &mut Dice) -> Chunk {
    let what = dice.pick(&["increase", "decrease"]);
    let (by, place) = (1 + dice.below(2), dice.pick(&["left", "right", "each edge"]));
    let inset = if percent(dice, 40) { format!(", inset {}", 1 + dice.below(3)) } else { String::new() };
    format!("{what} {} {by} at {place}{inset}", bed(dice))
}

fn handled(dice: &mut Dice) -> Chunk {
    match dice.below(10) {
        0..=1 => {
            let how = dice.pick(&["zigzag", "zigzag", "open"]);
            if percent(dice, 60) { format!("cast on {how}") } else { format!("cast on {how} {}", targets(dice)) }
        }
        2 => format!("cast on {} {}", dice.pick(&["wound", "chain"]), targets(dice)),
        3 => format!("new loops {} {}", beds(dice), selection(dice)),
        4 => format!("drop {}", targets(dice)),
        5 => format!("bind off {}", targets(dice)),
        6 => format!("onto waste yarn {}", targets(dice)),
        7 => format!("pick up {} {}", beds(dice), run(dice)),
        8 => format!("pick up {} {} from waste yarn", beds(dice), run(dice)),
        _ => edge(dice),
    }
}

fn placed(dice: &mut Dice) -> Chunk {
    match dice.below(10) {
        0..=3 => format!("in work {} {}", beds(dice), run(dice)),
        4..=5 => format!("out of work {}", targets(dice)),
        6..=7 => format!("hold {}", targets(dice)),
        _ => format!("release {}", targets(dice)),
    }
}

fn promise(dice: &mut Dice) -> Chunk {
    match dice.below(6) {
        0..=1 => format!("expect {} stitches {}", dice.below(7), beds(dice)),
        2 => format!("expect counter {}", dice.below(6)),
        3 => format!("expect gaiting {}", dice.pick(&["between", "opposite"])),
        4 => format!("expect racking {}", dice.pick(&["centre", "1 left", "1 right"])),
        _ => format!("expect carriage {}", dice.pick(&["left", "right"])),
    }
}

/// Rules that some programs allow for a few lines. Not `facing-needles`: where two needles meet at one place nobody can
/// say which the yarn reaches first, so what is wrong after that is no matter of fact.
const ALLOWED: &[&str] =
    &["doubled-stitch", "lost-stitch", "no-selector", "nothing-to-do", "unplanned-loop", "wrong-side"];

fn chunk(dice: &mut Dice, depth: usize) -> Chunk {
    match dice.below(if depth > 0 { 22 } else { 20 }) {
        0..=5 => row(dice),
        6..=8 => carried(dice),
        9..=11 => setting(dice),
        12..=15 => handled(dice),
        16..=18 => placed(dice),
        19 if percent(dice, 50) => promise(dice),
        19 => format!("tubular {} rows", 2 + 2 * dice.below(2)),
        _ if percent(dice, 15) => {
            let rule = dice.pick(ALLOWED);
            let inner = chunk(dice, depth - 1);
            format!("allow {rule} because \"a test\" {{\n{inner}\n}}")
        }
        _ => {
            let mut text = format!("repeat {} times {{\n", 1 + dice.below(4));
            for _ in 0..1 + dice.below(4) {
                let inner = chunk(dice, depth - 1);
                let _ = writeln!(text, "{inner}");
            }
            text + "}"
        }
    }
}

/// How a piece often begins.
fn begin(dice: &mut Dice) -> Vec<Chunk> {
    let set_out =
        ["in work front L2-R2", "in work both L2-R2", "in work front L2-R2, back L2-R1", "in work back L1-R2"];
    let cast_on = ["cast on zigzag", "cast on zigzag", "cast on open", "cast on wound front", "cast on chain both"];
    let mut chunks = vec![dice.pick(&set_out).to_owned(), "thread slate".to_owned(), dice.pick(&cast_on).to_owned()];
    if percent(dice, 30) {
        chunks.insert(1, "stitch size 5".to_owned());
    }
    if percent(dice, 50) {
        chunks.push("gaiting opposite".to_owned());
    }
    chunks
}

/// The end that this piece needs.
fn end(bench: &Bench) -> Vec<Chunk> {
    let model = &bench.model;
    let mut chunks = Vec::new();
    if model.beds.iter().flatten().any(|hook| hook.position == crate::laws::second_model::Position::Held) {
        chunks.push("release both".to_owned());
    }
    for (bed, called) in ["front", "back"].into_iter().enumerate() {
        if !model.all_loaded(bed).is_empty() {
            chunks.push(format!("bind off {called}"));
        }
    }
    if model.racking != 0 {
        chunks.push("rack to centre".to_owned());
    }
    chunks
}

fn right(dice: &mut Dice, head: &str) -> Vec<Chunk> {
    let mut play = Play::new(Bench::new(read(&format!("{head}}}")).profile));
    let mut chunks = Vec::new();
    let mut coming = begin(dice);
    coming.reverse();
    let most = 3 + dice.below(9);
    // Some programs do without warnings as well.
    let strict = percent(dice, 60);
    for _ in 0..most * 8 {
        let next = coming.pop().unwrap_or_else(|| chunk(dice, 2));
        let mut tried = play.clone();
        tried.lines(&statements(1, &next), true);
        let warned = tried.warning.is_some() && play.warning.is_none();
        if tried.error.is_none() && !tried.jammed && (!warned || !strict && percent(dice, 15)) {
            play = tried;
            chunks.push(next);
        }
        if chunks.len() >= most {
            break;
        }
    }
    chunks.extend(end(&play.bench));
    chunks
}

/// One slip of the hand.
fn slip(dice: &mut Dice, chunks: &mut Vec<Chunk>) {
    let at = dice.below(chunks.len());
    match dice.below(5) {
        0 => drop(chunks.remove(at)),
        1 => chunks.insert(at, chunks[at].clone()),
        2 => chunks[at] = chunk(dice, 1),
        3 if at > 0 => chunks.swap(at - 1, at),
        _ => chunks.insert(at, chunk(dice, 1)),
    }
}

/// The pattern of that number.
pub(crate) fn program(dice: &mut Dice) -> (Manner, String) {
    let head = machine(dice);
    let manner = match dice.below(10) {
        0..=3 => Manner::Right,
        4..=7 => Manner::OneSlip,
        _ => Manner::Wild,
    };
    let chunks = if manner == Manner::Wild {
        let mut chunks = if percent(dice, 70) { begin(dice) } else { Vec::new() };
        (0..1 + dice.below(8)).for_each(|_| chunks.push(chunk(dice, 2)));
        chunks
    } else {
        let mut chunks = right(dice, &head);
        if manner == Manner::OneSlip {
            slip(dice, &mut chunks);
        }
        chunks
    };
    (manner, format!("{head}{}\n}}\n", chunks.join("\n")))
}

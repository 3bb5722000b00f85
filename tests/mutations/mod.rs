//! Mutants of every example: one slip of the hand at a time, everywhere it can happen. Each is found, or is the same
//! knitting, or another pattern that somebody may well want; none is a mistake that could have been seen and was not.
//!
//! `cargo test --test always mutations:: -- --nocapture` prints the table, and the mutants with the most findings.
#![allow(missing_docs, unreachable_pub, clippy::print_stdout)]

pub mod fabric;
mod judged;
pub mod mutate;

use crate::common::{Examples, examples};
use judged::JUDGED;
use mutate::Mutant;
use serde_json::Value;
use std::collections::BTreeMap;

/// What becomes of a mutant.
enum Fate {
    /// The lines on which something is found, with the rules.
    Caught(Vec<(usize, &'static str)>),
    /// Every loop is where it was.
    Same,
    /// Somebody may well want it; which judgement says so, if it is one of the list.
    OtherPattern(Option<usize>),
    /// It is not what was meant, and nothing is said.
    Missed,
}

fn fate(name: &str, original: &Value, mutant: &Mutant) -> Fate {
    let checked = wale::check(name, &mutant.text, &Examples);
    if !checked.findings.is_empty() {
        let line = |finding: &wale::finding::Finding| checked.sources.position(finding.at.span).line as usize;
        return Fate::Caught(checked.findings.iter().map(|finding| (line(finding), finding.rule.name)).collect());
    }
    // Declarations alone are a file for others to use; `sheet` says that there is nothing to write.
    if checked.programs.iter().all(|program| program.pieces.is_empty()) {
        return Fate::OtherPattern(None);
    }
    let knitted = fabric::fabric(&checked);
    if knitted == *original {
        return Fate::Same;
    }
    // How large the stitches are is for the knitter's hands and yarn to decide.
    let without_sizes = |fabric: &Value| fabric::without(fabric, &["size", "stitch_size"]);
    if without_sizes(&knitted) == without_sizes(original) {
        return Fate::OtherPattern(None);
    }
    let judges = |judged: &judged::Judged| {
        (judged.example, judged.kind) == (name, mutant.kind) && mutant.before.contains(judged.line)
    };
    match JUDGED.iter().position(judges) {
        Some(judgement) => Fate::OtherPattern(Some(judgement)),
        None => Fate::Missed,
    }
}

/// The mutants of every example and their fates. The examples are looked at side by side.
fn all() -> Vec<(String, Mutant, Fate)> {
    std::thread::scope(|scope| {
        let of_example = |(name, text): (String, String)| {
            scope.spawn(move || {
                let original = fabric::fabric(&wale::check(&name, &text, &Examples));
                let look = |mutant| (name.clone(), fate(&name, &original, &mutant), mutant);
                mutate::mutants(&text).into_iter().map(look).collect::<Vec<_>>()
            })
        };
        let threads: Vec<_> = examples().into_iter().map(of_example).collect();
        let mutants = threads.into_iter().flat_map(|thread| thread.join().expect("no check panics"));
        mutants.map(|(name, fate, mutant)| (name, mutant, fate)).collect()
    })
}

#[derive(Default)]
struct Row {
    made: usize,
    caught: usize,
    same: usize,
    other: usize,
    missed: usize,
}

impl Row {
    /// How many of a hundred that are neither the same knitting nor another pattern are caught.
    fn mistakes_caught(&self) -> usize {
        100 * self.caught / (self.caught + self.missed).max(1)
    }
}

/// How many of each kind are caught. When an example is made shorter these numbers may become smaller; when a rule is
/// weakened, they tell. Dropped promises and sizes change nothing that a rule could see.
const FLOORS: &[(&str, usize)] = &[
    ("cast on in another way", 7),
    ("change a count by one", 84),
    ("change a number of a declaration", 6),
    ("change a promised number", 124),
    ("change a stitch size", 3),
    ("change a tile", 1),
    ("double a statement", 127),
    ("drop a block", 22),
    ("drop a declaration", 52),
    ("drop a promise or a note", 0),
    ("drop a row", 59),
    ("drop a stitch size", 0),
    ("drop another statement", 64),
    ("drop in work, out of work, gaiting or hold", 27),
    ("forget a racking", 6),
    ("rack the other way", 4),
    ("shift a needle by one", 78),
    ("swap front and back", 109),
    ("swap knit, tuck and slip on one bed", 130),
    ("swap left and right", 21),
    ("swap two neighbouring lines", 78),
    ("the other gaiting", 14),
    ("use the other yarn", 12),
];

#[test]
fn every_slip_of_the_hand_is_seen() {
    let all = all();
    let mut table: BTreeMap<&str, Row> = BTreeMap::new();
    let mut total = Row::default();
    let mut missed = Vec::new();
    let mut judged = vec![0; JUDGED.len()];
    let (mut single, mut later) = (0, 0);
    let mut cascades: Vec<(usize, String)> = Vec::new();
    for (name, mutant, fate) in &all {
        let row = table.entry(mutant.kind).or_default();
        let told = format!("{name}:{} {}: {}", mutant.line, mutant.kind, mutant.what);
        for row in [row, &mut total] {
            row.made += 1;
            match fate {
                Fate::Caught(_) => row.caught += 1,
                Fate::Same => row.same += 1,
                Fate::OtherPattern(_) => row.other += 1,
                Fate::Missed => row.missed += 1,
            }
        }
        match fate {
            Fate::Caught(found) => {
                single += usize::from(found.len() == 1);
                later += usize::from(found.first().is_some_and(|(line, _)| *line >= mutant.line));
                cascades.push((found.len(), format!("{told}\n         {found:?}")));
            }
            Fate::Missed => missed.push(told),
            Fate::OtherPattern(Some(judgement)) => judged[*judgement] += 1,
            Fate::OtherPattern(None) | Fate::Same => {}
        }
    }
    let line = |kind: &str, row: &Row| {
        let Row { made, caught, same, other, missed } = row;
        println!("{kind:44} {made:5} {caught:6} {same:5} {other:6} {missed:6} {:5} %", row.mistakes_caught());
    };
    println!(
        "{:44} {:>5} {:>6} {:>5} {:>6} {:>6} {:>7}",
        "slip", "made", "caught", "same", "other", "missed", "caught"
    );
    table.iter().for_each(|(kind, row)| line(kind, row));
    line("all", &total);
    println!("one finding: {single} of {}; the first at or after the slip: {later}", total.caught);
    cascades.sort_by(|one, other| other.cmp(one));
    cascades.iter().take(12).for_each(|(findings, told)| println!("{findings:3} findings: {told}"));

    assert!(missed.is_empty(), "{} mutants knit something else, and nothing is said:\n{missed:#?}", missed.len());
    for (judgement, times) in JUDGED.iter().zip(judged) {
        assert!(times > 0, "{}: {:?} is judged needlessly ({})", judgement.example, judgement.line, judgement.why);
    }
    for (kind, floor) in FLOORS {
        let caught = table.get(kind).map_or(0, |row| row.caught);
        assert!(caught >= *floor, "{kind}: {caught} are caught, at least {floor} were");
    }
    for kind in table.keys() {
        assert!(FLOORS.iter().any(|(known, _)| known == kind), "{kind} has no floor");
    }
    assert!(100 * single >= 84 * total.caught, "one slip is one finding: {single} of {}", total.caught);
    assert!(cascades.iter().all(|(findings, _)| *findings <= 6), "one slip has many findings");
}

//! The earlier lines that a finding points at are the same whether repeats are taken as done or played.
//!
//! A pattern by chance seldom comes back to a state it has been in by other lines. Here every line has one that takes
//! it back, and stitches are worked within stitches, so that repeats are taken as done all the time.

use super::programs::only_piece;
use proptest::prelude::*;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use wale::finding::Finding;
use wale::play::Manner;

/// Lines after which the beds stand as they stood before, but for rows and for who did it last.
const ROUND_TRIPS: &[&str] = &[
    "rack 1 left\nrack 1 right",
    "rack 1 right\nrack to centre",
    "gaiting opposite\ngaiting between",
    "gaiting between",
    "stitch size 5\nstitch size 4",
    "stitch size 4",
    "free pass\nfree pass",
    "row front knit\nrow front knit",
    "rows 2 front knit",
    "rows 2 both knit",
    "hold front L3\nrelease front L3",
    "out of work back R4\nin work back R4",
    "increase front 1 at left\ndecrease front 1 at left",
    "decrease back 1 at left\nincrease back 1 at left",
    "drop front R3\nnew loops front R3",
    "reset counter",
    "reset counter\nexpect counter 0",
    "expect carriage left",
    "expect carriage right",
    "expect 6 stitches front",
    "expect 12 stitches both",
    "note \"Go on.\"",
];

/// Lines that are wrong at the end, each of which points at what came before.
const WRONG: &[&str] = &[
    "expect racking 5 left",
    "expect gaiting opposite",
    "row front knit, loosened 9",
    "row back knit, loosened 9",
    "gaiting opposite\ntransfer front to back, joining",
    "gaiting opposite\ntransfer back to front, joining",
    "expect carriage left",
    "expect carriage right",
    "row to left front knit",
    "expect counter 999",
    "expect 99 stitches front",
    "expect 99 stitches back",
    "expect 99 stitches both",
    "drop front R3, back L1\nrow both knit",
    "in work back R4\nrow both knit",
    "hold front R2\nrow front knit",
    "transfer front to back",
    "gaiting opposite\nrow both knit",
    "rack 9 left",
];

/// Kinds of round trips in one pattern. Among many, what a line did last is seldom asked for.
const KINDS: usize = 2;

/// A line of a body: a round trip, or a stitch of those defined before.
#[derive(Debug, Clone, Copy)]
enum Line {
    Trip(usize),
    Work(usize),
}

fn body(stitches: usize, longest: usize) -> impl Strategy<Value = Vec<Line>> {
    let trip = (0..KINDS).prop_map(Line::Trip);
    let line = if stitches == 0 { trip.boxed() } else { prop_oneof![trip, (0..stitches).prop_map(Line::Work)].boxed() };
    proptest::collection::vec(line, 1..longest)
}

fn pattern() -> impl Strategy<Value = String> {
    let stitches = (body(0, 4), body(1, 5), body(2, 5));
    let wrong = proptest::sample::subsequence(WRONG, 3);
    let trips = proptest::sample::subsequence(ROUND_TRIPS, KINDS);
    (stitches, body(3, 14), trips, wrong).prop_map(|((first, second, third), main, trips, wrong)| {
        let mut text = "machine small {\n    needles 6 each side\n}\nyarn slate {}\n".to_owned();
        let write = |text: &mut String, lines: &[Line]| {
            for line in lines {
                let _ = match line {
                    Line::Trip(which) => writeln!(text, "{}", trips[*which]),
                    Line::Work(which) => writeln!(text, "work strip-{which}"),
                };
            }
        };
        for (at, lines) in [first, second, third].iter().enumerate() {
            let _ = writeln!(text, "stitch strip-{at} on both {{\nrepeat 2 times {{");
            write(&mut text, lines);
            text.push_str("}\n}\n");
        }
        text.push_str(
            "piece \"Swatch\" {\nin work both L3-R3\nthread slate\ncast on zigzag\nstitch size 4\nrows 2 both knit\n",
        );
        write(&mut text, &main);
        for line in wrong {
            let _ = writeln!(text, "{line}");
        }
        text.push_str("}\n");
        text
    })
}

/// What is told, as a reader sees it: the rule, the words of its line, and those of the lines that it points at.
fn told(text: &str, findings: &[Finding]) -> Vec<String> {
    let words = |finding: &Finding| {
        let at = &text[finding.at.span.range()];
        let also: Vec<String> = finding
            .also
            .iter()
            .map(|label| {
                let line = text[..label.span.range().start].lines().count();
                format!("line {line} `{}`: {}", &text[label.span.range()], label.text)
            })
            .collect();
        format!("{} at `{at}`, {also:#?}", finding.rule.name)
    };
    findings.iter().map(words).collect()
}

#[test]
fn what_is_taken_as_done_is_pointed_at_as_what_is_played() {
    let mut pointed: BTreeMap<&'static str, u32> = BTreeMap::new();
    let mut runner = proptest::test_runner::TestRunner::new(super::cases(4_000));
    let pointed_at = std::cell::RefCell::new(&mut pointed);
    runner
        .run(&pattern(), |text| {
            let piece = only_piece(&text);
            let counted = wale::rules::check_piece_in(&piece, Manner::CHECK);
            let played = wale::rules::check_piece_in(&piece, Manner::EVERY);
            for finding in played.iter().filter(|finding| !finding.also.is_empty()) {
                *pointed_at.borrow_mut().entry(finding.rule.name).or_default() += 1;
            }
            prop_assert_eq!(told(&text, &counted), told(&text, &played), "{}", text);
            Ok(())
        })
        .unwrap();
    println!("findings that point at an earlier line: {pointed:?}");
    for rule in ["count-mismatch", "facing-needles", "size-range", "tight-transfer", "unplanned-loop", "wrong-side"] {
        assert!(pointed.get(rule).is_some_and(|&times| times >= 5), "{rule}: {pointed:?}");
    }
}

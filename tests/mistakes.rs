//! The mistakes a knitter makes, put one at a time into the examples: each is found, by its rule, at the right line.
#![allow(missing_docs, clippy::print_stdout)]

use crate::common::{MISTAKES, example, found};

#[test]
fn every_seeded_mistake_is_found_where_it_is() {
    let mut missed = Vec::new();
    for (name, words, instead, rule, line) in MISTAKES {
        let text = example(name);
        assert!(text.contains(words), "{name} has {words:?}");
        let mistaken = text.replacen(words, instead, 1);
        let found = found(name, &mistaken);
        let lines: Vec<&str> = mistaken.split_inclusive('\n').collect();
        let there = found.iter().any(|(at, by)| by == rule && lines[*at as usize - 1].contains(line));
        let others: Vec<_> = found.iter().filter(|(_, by)| by != rule).collect();
        println!("{name:24} {rule:22} {} finding(s), others: {others:?}", found.len());
        if !there {
            missed.push(format!("{name}: {rule} at {line:?}, found {found:?}"));
        }
    }
    assert!(missed.is_empty(), "{missed:#?}");
}

/// Every rule that the project must have from its first day is put to the test by a mistake in an example.
#[test]
fn the_mistakes_cover_the_rules() {
    for rule in [
        "lost-stitch",
        "doubled-stitch",
        "unplanned-loop",
        "left-on-needles",
        "count-mismatch",
        "open-repeat",
        "ragged-repeat",
        "facing-needles",
        "not-opposite",
        "off-bed",
        "racking-range",
        "wrong-side",
        "wrong-bed",
        "unit-mismatch",
        "unknown-name",
        "tuck-pile",
        "long-float",
        "tight-transfer",
        "size-left-changed",
        "eyelet-becomes-ladder",
        "far-move",
        "held-at-carriage-side",
        "lone-edge",
        "needle-in-the-way",
        "racking-strain",
        "stretched-hold",
        "tubular-floats",
        "unsupported-tuck",
        "wide-cable",
        "yarn-not-at-this-side",
    ] {
        assert!(MISTAKES.iter().any(|mistake| mistake.3 == rule), "{rule}");
    }
}

//! The mistakes a knitter makes, put one at a time into the examples: each is found, by its rule, at the right line.
#![allow(missing_docs, clippy::print_stdout)]

mod common;

use common::{example, found};

/// An example, the words that are changed (the first place where they stand), what they become, the rule that must
/// find it, and the words on the line where it must be found.
const MISTAKES: &[(&str, &str, &str, &str, &str)] = &[
    // Breakwater: half cardigan, closed to one bed.
    ("breakwater.wale", "transfer back to front, joining", "transfer back to front", "doubled-stitch", "transfer back"),
    ("breakwater.wale", "        bind off front\n", "", "left-on-needles", "}\n"),
    (
        "breakwater.wale",
        "expect 60 stitches front, 0 back",
        "expect 59 stitches front, 0 back",
        "count-mismatch",
        "59 stitches front, 0",
    ),
    ("breakwater.wale", "120 (160) cm", "120 (160) rows + 3 cm", "unit-mismatch", "160"),
    ("breakwater.wale", "row both knit, loosened 3", "row both knit", "tight-transfer", "transfer back"),
    ("breakwater.wale", "work half-cardigan for length", "work half-cardigan for 33 rows", "ragged-repeat", "33 rows"),
    ("breakwater.wale", "work half-cardigan for", "work half-cardgan for", "unknown-name", "half-cardgan"),
    // Harbour wall: rib to one bed, then plain.
    (
        "harbour-wall.wale",
        "        out of work back\n",
        "        out of work front\n",
        "lost-stitch",
        "out of work front",
    ),
    ("harbour-wall.wale", "        gaiting opposite\n", "", "not-opposite", "transfer back"),
    ("harbour-wall.wale", "in work front L40-R40", "in work front L40-R94", "off-bed", "R94"),
    // Lobster pot: every other stitch to the back bed and home again.
    ("lobster-pot.wale", "        out of work front ribs\n", "", "facing-needles", "rows 29"),
    ("lobster-pot.wale", "        in work back ribs\n", "", "lost-stitch", "transfer front ribs"),
    ("lobster-pot.wale", "in work front ribs\n        transfer", "transfer", "lost-stitch", "transfer back"),
    // Shingle: garter stitch by transfers.
    ("shingle.wale", "    transfer back to front\n", "", "wrong-bed", "stitch shingle"),
    ("shingle.wale", "row front knit, loosened 1", "row front knit", "tight-transfer", "transfer front"),
    (
        "shingle.wale",
        "work shingle for 30 cm",
        "repeat 3 times {\n        row front knit, loosened 1\n        transfer front to back\n    }",
        "open-repeat",
        "repeat 3 times",
    ),
    // Tide marks: only the middle stitches.
    (
        "tide-marks.wale",
        "transfer front middle to back, emptied go out of work",
        "transfer front middle to back",
        "facing-needles",
        "row both knit",
    ),
    ("tide-marks.wale", "(middle L18-R18)", "(middle L18-R34)", "nothing-to-do", "transfer front middle"),
    ("tide-marks.wale", "carriage left, counter 104", "carriage right, counter 104", "wrong-side", "carriage right"),
    // Sampler: three rib stitches.
    (
        "net-loft-sampler.wale",
        "work half-cardigan 20 times",
        "rows 6 to left front knit, back tuck, to right back tuck",
        "tuck-pile",
        "rows 6",
    ),
    ("net-loft-sampler.wale", "back L20-R20", "back L20-R19", "edge-tuck", "front tuck, back knit"),
    ("net-loft-sampler.wale", "rows 2 both knit", "rows 3 both knit", "wrong-side", "to left"),
    // Quay: three rows in a repeat.
    ("quay.wale", "    row back knit\n", "    row back knit, size 11\n", "size-range", "size 11"),
    ("quay.wale", "work milano for 10 cm", "work milano for 10 rows", "ragged-repeat", "10 rows"),
    ("quay.wale", "    row back knit\n", "    stitch size 6\n    row back knit\n", "size-left-changed", "work milano"),
    // Gull wing: racked zigzag.
    ("gull-wing.wale", "        rack 1 left\n", "        rack 1 right\n", "racking-range", "rack 1 right"),
    ("gull-wing.wale", "    row to left front knit, back tuck\n}", "}", "wrong-side", "row to right"),
    // Foam: eyelets.
    ("foam-edging.wale", "row front knit, new loops", "row front knit", "unplanned-loop", "row front knit\n"),
    ("foam-edging.wale", "move front holes 1 left, joining", "move front holes 1 left", "doubled-stitch", "1 left"),
    (
        "foam-edging.wale",
        "rows 3 front knit",
        "rows 2 front knit\n    row front slip on L7-R6, knit elsewhere",
        "long-float",
        "slip",
    ),
    // Lantern: two sizes.
    ("lantern-hat.wale", "80 (96) stitches", "80 (94) stitches", "count-mismatch", "94"),
    ("lantern-hat.wale", "        out of work front empty\n", "", "unplanned-loop", "rows 2 front knit"),
    ("lantern-hat.wale", "half = 40 (48)", "half = 40 (48, 52)", "wrong-count-of-sizes", "52"),
    // Mooring cuff: racked cast-on.
    ("mooring-cuff.wale", "    rack 1 left\n", "", "cast-on-shares-a-loop", "cast on"),
    ("mooring-cuff.wale", "    rack to centre\n", "", "count-mismatch", "racking centre"),
    ("mooring-cuff.wale", "over L24-R24, back", "over L24-R25, back", "ragged-repeat", "R25"),
    // Headland: short rows.
    ("headland.wale", "    release front\n", "", "hold-left-on", "}\n"),
    ("headland.wale", "repeat 6 times", "repeat 8 times", "nothing-to-do", "rows 2 front knit"),
    ("headland.wale", "        rows 2 front knit\n    }", "        row front knit\n    }", "wrong-side", "hold front"),
    ("headland.wale", "work wedge 12 times", "work wedge 11 times", "count-mismatch", "counter"),
];

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
    ] {
        assert!(MISTAKES.iter().any(|mistake| mistake.3 == rule), "{rule}");
    }
}

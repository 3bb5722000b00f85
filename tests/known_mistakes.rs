//! The mistakes that are made at the machine, one by one, and what wale does about each: the page of them is made here.
#![allow(missing_docs, clippy::unwrap_used)]

use crate::common;
use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::path::Path;
use wale::catalogue::Severity;
use wale::rules::{ALL, find};

/// A mistake, and what is done about it. Common practice, no source, unless its rules name one.
struct Known {
    /// The mistake, in our words.
    mistake: &'static str,
    /// The rules that find it.
    rules: &'static [&'static str],
    /// An example, and what its row sheet says against it.
    sheet: Option<(&'static str, &'static str)>,
    /// What else there is to say: how far the rules go, or why it cannot be seen.
    rest: &'static str,
}

const fn known(
    mistake: &'static str,
    rules: &'static [&'static str],
    sheet: Option<(&'static str, &'static str)>,
    rest: &'static str,
) -> Known {
    Known { mistake, rules, sheet, rest }
}

const NEVER_FORCE: Option<(&str, &str)> = Some(("quay", "Never force a carriage that stops. Find out what holds it."));
const COUNTER: Option<(&str, &str)> = Some(("lobster-pot", "Carriage right to left, counter 12."));

const MISTAKES: &[Known] = &[
    known(
        "A stitch falls off in a transfer",
        &["lost-stitch", "tight-transfer", "there-and-back", "nothing-to-do", "not-opposite", "off-bed"],
        Some(("lobster-pot", "Check every hook, then go on.")),
        "A receiving needle out of work is found. A stitch that was not seated shows only at the machine.",
    ),
    known(
        "Two stitches are caught together in a transfer",
        &["loose-transfer"],
        Some(("lobster-pot", "Afterwards look at every hook.")),
        "As far as the yarn, the machine's profile or the pattern says which sizes are right.",
    ),
    known(
        "The transfer carriage is set over stitches that it cannot take, or over held needles",
        &["not-by-carriage", "held-transfer"],
        Some(("lobster-pot", "No needle is held.")),
        "As far as the machine's profile says what the carriage takes.",
    ),
    known(
        "The wrong bed is cast on, or bound off",
        &["no-needle-found", "unplanned-loop", "left-on-needles"],
        None,
        "Where the other bed has needles to serve, at the first row or at the end of the piece.",
    ),
    known("Two stitches come to lie on one needle", &["doubled-stitch"], None, "Meant, it is written `joining`."),
    known(
        "An emptied needle stays in work and catches the yarn",
        &["unplanned-loop", "adjacent-empties"],
        None,
        "Meant, it is written `new loops`.",
    ),
    known(
        "The needle of an eyelet is put out of work and makes a ladder",
        &["eyelet-becomes-ladder"],
        None,
        "Found where the next row asks for `new loops`, or where only the profile takes the needle out.",
    ),
    known(
        "Needles stand face to face and both work",
        &["facing-needles", "needle-in-the-way"],
        NEVER_FORCE,
        "Worked out from set-out, racking and gaiting.",
    ),
    known(
        "A sleeve pushes an extra needle into work",
        &[],
        Some(("headland", "it catches sleeves, hair and jewellery")),
        "It happens at the machine. `wale at ROW` tells how many needles should be in work.",
    ),
    known("Two neighbours of one bed share a loop of the cast-on", &["cast-on-shares-a-loop"], None, ""),
    known(
        "The beds are not racked back",
        &["cast-on-racking-kept", "no-way-back", "count-mismatch"],
        Some(("gull-wing", "Racking at the centre.")),
        "After a cast-on for which they were racked, and at the end of a piece, always; elsewhere where `expect racking` says so.",
    ),
    known(
        "The racking is a step or half a step off",
        &["racked-two-steps", "racking-strain", "no-slant"],
        None,
        "Steps are whole needles, and half a step is a change of gaiting. How far a handle moved the bed only you can see.",
    ),
    known("The racking handle comes to its end", &["racking-range"], None, ""),
    known(
        "A racked zigzag is out of step",
        &["no-way-back", "racking-range", "count-mismatch", "wrong-side"],
        None,
        "Where the beds do not come back, or a row claims its side. That the points meet is not judged.",
    ),
    known("A racked stitch does not slant", &["no-slant"], None, ""),
    known(
        "Tucks pile up, or nothing beside them knits",
        &["tuck-pile", "many-tucks", "unsupported-tuck"],
        None,
        "How many a hook bears is in the profile. Too little weight is not seen.",
    ),
    known("The last needle of a row tucks", &["edge-tuck"], None, ""),
    known("Neighbours tuck side by side", &["adjacent-tucks"], None, ""),
    known(
        "The machine knits the needles beside a gap when it should not",
        &[],
        None,
        "A setting of some machines that the profile does not have. In wale a needle does what the row says.",
    ),
    known(
        "A float is too long",
        &["long-float"],
        None,
        "In a row, and from where the last row ended to the first needle of the next.",
    ),
    known(
        "Needles are held on the side of the carriage",
        &["held-at-carriage-side"],
        None,
        "One needle is let pass: the yarn wraps it.",
    ),
    known(
        "The turn of a short row is not wrapped",
        &[],
        None,
        "The language has no words for a wrap yet; a `note` can ask for it.",
    ),
    known(
        "Hold is left on, or was never set",
        &["hold-left-on", "left-on-needles", "wrong-bed", "nothing-to-do"],
        Some(("headland", "See that the carriage is set to leave held needles.")),
        "",
    ),
    known(
        "The carriage stands on the wrong side",
        &["wrong-side", "yarn-not-at-this-side"],
        Some(("headland", "carriage on the left")),
        "Where a row or an `expect` claims a side, or the yarn hangs on the other one. The sheet says it at every stage.",
    ),
    known("Several stitches are added away from the carriage", &["wrong-side"], None, ""),
    known(
        "Both edges are shaped in one row by a way that needs the yarn",
        &["wrong-side"],
        None,
        "For increases of several stitches.",
    ),
    known(
        "The stitch size is not set back",
        &["size-left-changed", "size-range"],
        Some(("lobster-pot", "Then back to stitch size 5 on the front bed.")),
        "A size for one row returns by itself.",
    ),
    known(
        "Settings were changed between two sittings",
        &[],
        None,
        "Not seen from the text. `wale at ROW` lists every setting as it should be there.",
    ),
    known("The yarn is out of the feeder after a pause", &[], None, "It happens at the machine."),
    known(
        "There is no yarn, or it runs out",
        &["no-yarn"],
        None,
        "A row before any `thread` line is found. How long a ball lasts is not judged.",
    ),
    known(
        "The yarn breaks in a row",
        &["racking-strain", "racked-two-steps", "stretched-hold", "wide-cable", "tight-cross", "far-move"],
        None,
        "What strains it by the pattern is found; a weak yarn is not seen.",
    ),
    known("The yarn does not flow", &[], None, "It lies in winding, wax and guides, which no text shows."),
    known(
        "Loops stand out at the edge",
        &[],
        None,
        "It lies in the take-up of the yarn and in where the carriage turns.",
    ),
    known("The carriage is pushed too fast", &[], None, "It lies in the hand."),
    known(
        "The carriage jams",
        &["facing-needles", "needle-in-the-way", "tuck-pile", "many-tucks", "stitch-pile"],
        NEVER_FORCE,
        "Where the pattern is the cause.",
    ),
    known(
        "The comb is caught, or a weight hangs askew",
        &[],
        Some(("gull-wing", "Weights fall when stitches drop.")),
        "It happens at the machine; the sheet names comb and weights among the tools.",
    ),
    known(
        "Weights hang unevenly",
        &[],
        Some(("breakwater", "Move the weights up.")),
        "Only a `remind` line of the pattern asks for it.",
    ),
    known(
        "Edge stitches of one bed drop after shaping or racking",
        &["lone-edge", "edge-tuck"],
        None,
        "Where racking leaves an edge alone, or its last needle tucks.",
    ),
    known(
        "A part of the machine is not fitted",
        &[],
        Some(("gull-wing", "Tools: cast-on comb, weights and waste yarn.")),
        "The sheet lists the tools; it cannot see the machine.",
    ),
    known("Lint sits under a brush", &[], None, "It lies in the care of the machine."),
    known(
        "The strip that numbers the needles has slipped",
        &[],
        None,
        "It lies in the machine. Needles are counted from the centre.",
    ),
    known(
        "The row counter was not set back, or turned twice",
        &["count-mismatch"],
        COUNTER,
        "`expect counter` checks the pattern; the sheet says the counter after every row.",
    ),
    known(
        "The place in the pattern is lost",
        &[],
        COUNTER,
        "The sheet numbers every row; `wale at ROW` says how the beds stand.",
    ),
    known("A repeat does not fit the width or the rows", &["ragged-repeat", "open-repeat"], None, ""),
    known(
        "The stitch for the seam was forgotten",
        &["odd-last-needle"],
        None,
        "Where every second stitch is transferred. What a seam takes elsewhere is the pattern's choice.",
    ),
    known(
        "A cable is crossed too early or on the wrong side",
        &["wrong-side", "count-mismatch"],
        None,
        "Where the row claims a side or a counter is promised. How far apart crossings should be is not judged.",
    ),
    known("A cable is too wide", &["wide-cable"], None, ""),
    known(
        "A part is bound off, and the yarn hangs at the other end",
        &["far-bind-off"],
        None,
        "A bind-off with a yarn of its own is written behind `cut yarn`.",
    ),
    known("Lace leans because every eyelet leans one way", &[], None, "A leaning lace is as often meant."),
    known("A motif is drawn from the wrong side", &[], None, "Which side is the right one is for the pattern to say."),
    known("The hem of a rib has an odd number of rows", &["tubular-floats"], None, "Three are taken as meant."),
    known(
        "The stitch size of the cast-on is kept for the fabric",
        &["cast-on-size-kept"],
        None,
        "Where it was set before a zigzag cast-on and is not set again.",
    ),
    known(
        "A tube has a slit, or is closed where it should open out",
        &["slit-in-tube", "tube-mismatch"],
        None,
        "A slit between rows of `tubular`; how the edges are meant is promised with `expect tube`.",
    ),
    known(
        "A stitch is left on waste yarn, or more are picked up than were taken off",
        &["too-few-to-pick-up", "left-on-waste"],
        None,
        "From one piece to another where the waste yarn has a name.",
    ),
    known(
        "Shapings do not add up",
        &["count-mismatch", "nothing-to-do"],
        None,
        "Where the stitches are promised with `expect`, or a needle has nothing to give.",
    ),
    known(
        "Two halves differ in rows",
        &["count-mismatch"],
        None,
        "With `reset counter` before each half and the same `expect counter` behind it.",
    ),
    known(
        "One size is misprinted",
        &["wrong-count-of-sizes", "count-mismatch"],
        None,
        "A size that is missing, or whose promises fail. That sizes grow by even steps is not judged.",
    ),
    known(
        "The number of stitches between two sections is not stated",
        &["count-mismatch"],
        Some(("lobster-pot", "End of Rim. Now 61 stitches on the front bed")),
        "The sheet states it at the end of every section.",
    ),
    known(
        "The second piece is knitted otherwise than the first",
        &[],
        None,
        "A pattern under version control keeps its changes; `note` keeps the reasons.",
    ),
    known(
        "The knitter is tired or in a hurry",
        &[],
        Some(("headland", "Rest your hands and eyes every half hour.")),
        "",
    ),
    known(
        "A chart or a selection is wrong",
        &["uneven-chart", "ragged-repeat", "no-selector", "long-float", "adjacent-tucks"],
        None,
        "Its widths, and what its rows do to the yarn; not the picture it makes.",
    ),
];

/// Whether the rule's name stands in the table above: every rule of the play must answer a mistake.
fn is_named(name: &str) -> bool {
    MISTAKES.iter().any(|known| known.rules.contains(&name))
}

fn page() -> String {
    let mut text = String::from(
        "# Mistakes at the machine\n\nThe mistakes that knitters make with two beds, and what wale does about each. A rule that is an *error* stops the\n\
         pattern; a *warning* leaves the choice to you. [What wale finds](findings.md) shows every rule at work. What the row sheet\n\
         says stands in quotation marks. That these mistakes are made is common practice, no source; the rules name the sources\n\
         of their numbers. This page is made by a test.\n\n\
         | The mistake | What wale does |\n| --- | --- |\n",
    );
    for known in MISTAKES {
        let mut says: Vec<String> = Vec::new();
        for (severity, word) in [(Severity::Error, "Error"), (Severity::Warning, "Warning")] {
            let names: Vec<String> = known
                .rules
                .iter()
                .filter(|name| find(name).is_some_and(|rule| rule.severity == severity))
                .map(|name| format!("[`{name}`](findings.md#{name})"))
                .collect();
            if !names.is_empty() {
                says.push(format!("{word}: {}.", names.join(", ")));
            }
        }
        if let Some((_, words)) = known.sheet {
            says.push(format!("On the sheet: \"{}\".", words.trim_end_matches('.')));
        }
        if !known.rest.is_empty() && !says.is_empty() {
            says.push(known.rest.to_owned());
        }
        let what = if says.is_empty() { format!("Not found. {}", known.rest) } else { says.join(" ") };
        let _ = writeln!(text, "| {} | {what} |", known.mistake);
    }
    let others: Vec<String> = ALL
        .iter()
        .filter(|rule| !wale::rules::is_found_in_reading(rule) && !is_named(rule.name))
        .map(|rule| format!("[`{}`](findings.md#{})", rule.name, rule.name))
        .collect();
    assert!(others.is_empty(), "each rule of the machine answers a mistake: {others:?}");
    text.push_str("\nWhatever in a pattern cannot be read or understood is found beside these.\n");
    text
}

#[test]
fn the_page_of_mistakes_is_up_to_date() {
    common::kept(&Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/mistakes.md"), &page());
}

#[test]
fn every_mistake_has_an_answer_that_is_true() {
    let mut seen = BTreeSet::new();
    for known in MISTAKES {
        assert!(seen.insert(known.mistake), "{} stands twice", known.mistake);
        assert!(!known.rules.is_empty() || !known.rest.is_empty() || known.sheet.is_some(), "{}", known.mistake);
        for name in known.rules {
            assert!(find(name).is_some(), "{}: there is no rule `{name}`", known.mistake);
        }
        if let Some((example, words)) = known.sheet {
            let kept = common::folder().join("golden").join(format!("{example}.sheet.txt"));
            let sheet = std::fs::read_to_string(kept).unwrap();
            let sheet = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(sheet.contains(words), "the sheet of {example} does not say \"{words}\"");
        }
    }
}

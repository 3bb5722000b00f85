//! What several tests need: the examples, and where they are.
#![allow(dead_code, missing_docs, unreachable_pub, clippy::unwrap_used)]

pub mod fences;
pub mod place;
pub mod random;
pub mod sound;

use std::path::{Path, PathBuf};
use wale::source::Library;

/// Reads what the examples `use`.
pub struct Examples;

impl Library for Examples {
    fn read(&self, _from: &str, path: &str) -> Result<(String, String), String> {
        std::fs::read_to_string(folder().join(path))
            .map(|text| (path.to_owned(), text))
            .map_err(|error| error.to_string())
    }
}

/// The folder of the examples.
pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples")
}

/// Every example: its file name and its text, by name.
pub fn examples() -> Vec<(String, String)> {
    let mut found: Vec<_> = std::fs::read_dir(folder())
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "wale"))
        .map(|path| (path.file_name().unwrap().to_string_lossy().into_owned(), std::fs::read_to_string(&path).unwrap()))
        .collect();
    found.sort();
    assert!(found.len() >= 10, "the examples are there");
    found
}

/// One example's text.
pub fn example(name: &str) -> String {
    std::fs::read_to_string(folder().join(name)).unwrap()
}

/// The lines, counted from 1, on which something is found, with the rule.
pub fn found(name: &str, text: &str) -> Vec<(u32, &'static str)> {
    let checked = wale::check(name, text, &Examples);
    let at = |finding: &wale::finding::Finding| checked.sources.position(finding.at.span).line;
    checked.findings.iter().map(|finding| (at(finding), finding.rule.name)).collect()
}

/// One of the schemas that programs are given.
pub fn schema(name: &str) -> serde_json::Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("grammar/{name}.schema.json"));
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// Compares a text with the file that keeps it, and shows the lines that differ. With `WALE_REWRITE=1` in the
/// environment the file is written anew; look at what changed before it is committed.
pub fn kept(path: &Path, text: &str) {
    if std::env::var_os("WALE_REWRITE").is_some() {
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
        return;
    }
    let name = path.strip_prefix(env!("CARGO_MANIFEST_DIR")).unwrap_or(path).display();
    let before = std::fs::read_to_string(path).unwrap_or_default();
    if before != text {
        let diff = similar::TextDiff::from_lines(before.as_str(), text).unified_diff().context_radius(1).to_string();
        let shown: String = diff.lines().take(40).map(|line| format!("{line}\n")).collect();
        panic!("{name} is not what is written now. If that is meant: WALE_REWRITE=1 cargo test\n{shown}");
    }
}

/// An example, the words that are changed (the first place where they stand), what they become, the rule that must
/// find it, and the words on the line where it must be found.
pub const MISTAKES: &[(&str, &str, &str, &str, &str)] = &[
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
    ("shingle.wale", "stitch size 6", "stitch size 5", "tight-transfer", "transfer front"),
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
        "bollard-room-sampler.wale",
        "work half-cardigan 20 times",
        "rows 6 to left front knit, back tuck, to right back tuck",
        "tuck-pile",
        "rows 6",
    ),
    ("bollard-room-sampler.wale", "back L20-R20", "back L20-R19", "edge-tuck", "front tuck, back knit"),
    ("bollard-room-sampler.wale", "rows 2 both knit", "rows 3 both knit", "wrong-side", "to left"),
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
    ("mooring-cuff.wale", "    rack 1 right\n", "", "cast-on-shares-a-loop", "cast on"),
    ("mooring-cuff.wale", "    rack to centre\n", "", "count-mismatch", "racking centre"),
    ("mooring-cuff.wale", "over L24-R24, back", "over L24-R25, back", "ragged-repeat", "R25"),
    // Headland: short rows.
    ("headland.wale", "    release front\n", "", "hold-left-on", "}\n"),
    ("headland.wale", "repeat 6 times", "repeat 8 times", "nothing-to-do", "rows 2 front knit"),
    (
        "headland.wale",
        "        rows 2 front knit\n    }",
        "        row front knit\n    }",
        "held-at-carriage-side",
        "row front knit",
    ),
    ("headland.wale", "work wedge 12 times", "work wedge 11 times", "count-mismatch", "counter"),
    // What only the yarn and the racked beds know.
    ("breakwater.wale", "tubular 4 rows", "tubular 5 rows", "tubular-floats", "front knit, back knit"),
    (
        "harbour-wall.wale",
        "rows 23 both knit",
        "rows 20 both knit\n        rack 1 right\n        row both knit\n        rack 1 right\n        row both knit\n        rack 1 right\n        row both knit",
        "lone-edge",
        "row both knit",
    ),
    (
        "gull-wing.wale",
        "rows 2 both knit",
        "row both knit\n    repeat 3 times {\n        rack 1 left\n        row front knit\n    }",
        "racking-strain",
        "rack 1 left",
    ),
    (
        "quay.wale",
        "    row back knit\n",
        "    gaiting opposite\n    hold front leftmost 2\n    row back knit\n    release front\n    gaiting between\n",
        "needle-in-the-way",
        "row back knit",
    ),
    ("tide-marks.wale", "rows 7 front knit", "free pass\n    rows 7 front knit", "yarn-not-at-this-side", "rows 7"),
    (
        "headland.wale",
        "rows 2 front knit\n    work wedge",
        "rows 3 front knit\n    work wedge",
        "held-at-carriage-side",
        "rows 2 front knit",
    ),
    (
        "foam-edging.wale",
        "rows 3 front knit",
        "row front knit\n    rows 9 front slip on R1, knit elsewhere\n    row front knit",
        "stretched-hold",
        "rows 9",
    ),
    (
        "foam-edging.wale",
        "move front holes 1 left, joining",
        "move front holes 1 left, joining, emptied go out of work",
        "eyelet-becomes-ladder",
        "new loops",
    ),
    (
        "foam-edging.wale",
        "move front holes 1 right, joining",
        "cross front L4-L1 over R1-R4",
        "wide-cable",
        "cross front",
    ),
    (
        "foam-edging.wale",
        "move front holes 1 right, joining",
        "move front holes 5 right, joining",
        "far-move",
        "5 right",
    ),
    (
        "bollard-room-sampler.wale",
        "row to right front tuck, back knit",
        "row to right front tuck, back tuck",
        "unsupported-tuck",
        "front tuck, back tuck",
    ),
];

/// The text with one name changed wherever it stands, but not in words in quotation marks and comments.
pub fn renamed(text: &str, old: &str, new: &str) -> String {
    let part = |c: char| c.is_alphanumeric() || c == '-';
    let mut out = String::new();
    for line in text.split_inclusive('\n') {
        let mut rest = line;
        while let Some(first) = rest.chars().next() {
            let end = match first {
                '#' => rest.len(),
                '"' => rest[1..].find('"').map_or(rest.len(), |end| end + 2),
                _ if part(first) => rest.find(|c| !part(c)).unwrap_or(rest.len()),
                _ => first.len_utf8(),
            };
            let word = &rest[..end];
            out.push_str(if word == old { new } else { word });
            rest = &rest[end..];
        }
    }
    out
}

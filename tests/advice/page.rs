//! Reads the pages of slips.

use crate::common::fences::fences;
use std::collections::HashMap;

/// What a newcomer writes.
pub(super) struct Slip {
    /// The page, and the line of it.
    pub place: String,
    /// The pattern that it stands in, with a line `SLIP`.
    pub frame: String,
    pub lines: Vec<String>,
    /// What it may mean: each as the lines that say it.
    pub meant: Vec<Vec<String>>,
    /// What this knitter puts in the place of words in capitals.
    pub fill: Vec<(String, String)>,
    /// Why no good advice is given, where that is known.
    pub known: Option<String>,
}

const FRAMES: &str = "tests/advice/frames.md";

/// All slips of all pages.
pub(super) fn slips() -> Vec<Slip> {
    let frames: HashMap<String, String> =
        fences(FRAMES).into_iter().map(|fence| (fence.word(2).to_owned(), fence.text)).collect();
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/advice");
    let mut pages: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| format!("tests/advice/{}", entry.unwrap().file_name().to_string_lossy()))
        .filter(|page| page.ends_with(".md") && page != FRAMES)
        .collect();
    pages.sort();
    let mut all = Vec::new();
    for fence in pages.iter().flat_map(|page| fences(page)) {
        assert_eq!(fence.word(0), "slips", "{}", fence.place);
        let frame = frames.get(fence.word(1)).unwrap_or_else(|| panic!("{}: there is no such frame", fence.place));
        for text in fence.text.split("\n\n") {
            all.push(slip(format!("{} {}", fence.place, fence.word(1)), frame, text));
        }
    }
    all
}

fn slip(place: String, frame: &str, text: &str) -> Slip {
    let mut slip = Slip { place, frame: frame.to_owned(), lines: vec![], meant: vec![], fill: vec![], known: None };
    for line in text.lines() {
        if let Some(meant) = line.strip_prefix("->").filter(|meant| meant.is_empty() || meant.starts_with(' ')) {
            let meant = meant.trim();
            slip.meant.push(if meant.is_empty() { Vec::new() } else { vec![meant.to_owned()] });
        } else if let Some(meant) = line.strip_prefix(".. ") {
            slip.meant.last_mut().unwrap().push(meant.to_owned());
        } else if let Some((blank, value)) = line.strip_prefix("where ").and_then(|rest| rest.split_once(" is ")) {
            slip.fill.push((blank.to_owned(), value.to_owned()));
        } else if let Some(reason) = line.strip_prefix("known: ") {
            slip.known = Some(reason.to_owned());
        } else {
            slip.lines.push(line.to_owned());
        }
    }
    assert!(!slip.lines.is_empty() && !slip.meant.is_empty(), "{}: {text}", slip.place);
    slip
}

//! What several tests need: the examples, and where they are.
#![allow(dead_code, missing_docs, unreachable_pub, clippy::unwrap_used)]

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
    checked.findings.iter().map(|finding| (at(finding), finding.rule)).collect()
}

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

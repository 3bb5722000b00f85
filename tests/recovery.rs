//! One mistake is one finding: a line that cannot be read is reported where it stands, and neither hides what is wrong
//! elsewhere nor makes other lines look wrong.
#![allow(missing_docs, clippy::unwrap_used)]

use std::path::{Path, PathBuf};
use wale::source::Library;

struct Examples;

impl Library for Examples {
    fn read(&self, _from: &str, path: &str) -> Result<(String, String), String> {
        std::fs::read_to_string(folder().join(path))
            .map(|text| (path.to_owned(), text))
            .map_err(|error| error.to_string())
    }
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples")
}

fn examples() -> Vec<(String, String)> {
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

/// The lines, counted from 1, on which something is found, with the rule.
fn found(name: &str, text: &str) -> Vec<(u32, &'static str)> {
    let checked = wale::check(name, text, &Examples);
    let at = |finding: &wale::finding::Finding| checked.sources.position(finding.at.span).line;
    checked.findings.iter().map(|finding| (at(finding), finding.rule)).collect()
}

/// Which lines stand inside a piece or a stitch: between its opening line and the brace in the first column.
fn inside(text: &str) -> Vec<usize> {
    let mut block = false;
    let mut lines = Vec::new();
    for (index, line) in text.lines().enumerate() {
        if line.starts_with('}') {
            block = false;
        }
        if block && !line.trim().is_empty() && !line.trim().starts_with(['#', '}']) {
            lines.push(index);
        }
        block |= line.starts_with("piece ") || line.starts_with("stitch ");
    }
    lines
}

fn with_line(text: &str, index: usize, make: impl Fn(&str) -> String) -> String {
    text.lines().enumerate().map(|(at, line)| if at == index { make(line) } else { line.to_owned() } + "\n").collect()
}

#[test]
fn every_example_is_clean() {
    for (name, text) in examples() {
        assert_eq!(found(&name, &text), [], "{name}");
    }
}

#[test]
fn a_line_that_cannot_be_read_is_one_finding_on_that_line() {
    let mut lines = 0;
    for (name, text) in examples() {
        for index in inside(&text) {
            // A word nobody knows, a word too many at the end, and a sign that stands for nothing.
            let words = ["zzz ", "~ "].map(|word| with_line(&text, index, |line| format!("{word}{line}")));
            for broken in words {
                let found = found(&name, &broken);
                assert_eq!(
                    found.iter().map(|(line, _)| *line as usize).collect::<Vec<_>>(),
                    [index + 1],
                    "{name}, line {}: {found:?}\n{broken}",
                    index + 1
                );
                lines += 1;
            }
        }
    }
    assert!(lines > 200, "{lines} lines were broken");
}

#[test]
fn broken_lines_are_each_reported_and_the_rest_is_still_checked() {
    for (name, text) in examples() {
        let rows: Vec<usize> = inside(&text)
            .into_iter()
            .filter(|&index| text.lines().nth(index).unwrap().trim().starts_with("row"))
            .collect();
        let mut broken = text.clone();
        for &index in &rows {
            broken = with_line(&broken, index, |line| line.replace("knit", "kint"));
        }
        // A mistake of another kind in a piece of its own, behind all of them.
        broken.push_str("piece \"Last\" {\n    in work front L5-R5\n    row front knit\n}\n");
        let last = broken.lines().count() as u32 - 1;
        let expected: Vec<u32> = rows.iter().map(|&index| index as u32 + 1).collect();
        let found = found(&name, &broken);
        let misspelt: Vec<u32> =
            found.iter().filter(|(_, rule)| *rule == "misspelt-word").map(|(line, _)| *line).collect();
        assert_eq!(misspelt, expected, "{name}: {found:?}");
        assert!(found.contains(&(last, "no-yarn")), "{name}: {found:?}");
    }
}

#[test]
fn line_ends_do_not_matter() {
    for (name, text) in examples() {
        let crlf = text.replace('\n', "\r\n");
        assert_eq!(found(&name, &crlf), [], "{name}");
        assert_eq!(found(&name, text.trim_end()), [], "{name} without its last line end");
    }
}

//! Three patterns written from nothing in the part of a newcomer, who knows the machine and had only skimmed the README:
//! every draft, what wale said of it, and what the newcomer made of that. They are played parts, not reports of a trial
//! with knitters. Each page in `tests/drafts` is replayed from its own words.
//!
//! A block fenced with `wale` is a whole draft. One fenced with `diff` changes the draft before it, place by place, with
//! `@@` between two places. One fenced with `text` is a command and all that it prints. `WALE_REWRITE=1` writes the
//! outputs anew; the remarks stay, so look whether they still fit.
#![allow(missing_docs, clippy::unwrap_used)]

use crate::common;
use std::path::Path;
use std::process::{Command, ExitStatus};
use wale::source::NoLibrary;

/// A draft after some lines of it were changed. Every place must stand in it, behind the one before.
fn changed(draft: &str, changes: &str) -> String {
    let mut done = String::new();
    let mut rest = draft;
    for place in changes.split("@@\n") {
        let side = |left_out: char| -> String {
            let lines = place.lines().filter(|line| !line.starts_with(left_out));
            lines.map(|line| format!("{}\n", line.get(1..).unwrap_or_default())).collect()
        };
        let (old, new) = (side('+'), side('-'));
        let (before, behind) = rest.split_once(&old).unwrap_or_else(|| panic!("this is not in the draft:\n{old}"));
        done.push_str(before);
        done.push_str(&new);
        rest = behind;
    }
    done + rest
}

/// What `wale` prints when it is given these words in a folder that holds the draft, which it may change.
fn said(name: &str, words: &str, draft: &mut String) -> (String, ExitStatus) {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("draft-{}", std::process::id())).join(name);
    let file = folder.join(format!("{name}.wale"));
    std::fs::create_dir_all(&folder).unwrap();
    std::fs::write(&file, &draft).unwrap();
    let mut command = Command::new(env!("CARGO_BIN_EXE_wale"));
    let output = command.args(words.split_whitespace()).current_dir(&folder).output().unwrap();
    *draft = std::fs::read_to_string(&file).unwrap();
    std::fs::remove_dir_all(&folder).unwrap();
    let text = String::from_utf8(output.stdout).unwrap() + &String::from_utf8(output.stderr).unwrap();
    (text, output.status)
}

/// Replays a page: it says what is printed today, and its last draft is clean and can be knitted from.
fn replayed(name: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/drafts/{name}.md"));
    let page = std::fs::read_to_string(&path).unwrap();
    let (mut now, mut draft, mut drafts, mut sheet) = (String::new(), String::new(), 0, None);
    let mut rest = page.as_str();
    while let Some((prose, behind)) = rest.split_once("```") {
        let (block, behind) = behind.split_once("\n```").expect("a block is closed");
        let (sort, body) = block.split_once('\n').unwrap();
        let body = format!("{body}\n");
        rest = behind;
        let body = match sort {
            "wale" => {
                draft.clone_from(&body);
                body
            }
            "diff" => {
                draft = changed(&draft, &body);
                body
            }
            "text" => {
                let command = body.lines().next().unwrap();
                let words = command.strip_prefix("$ wale ").unwrap_or_else(|| panic!("no command: {command}"));
                drafts += usize::from(words.starts_with("check"));
                let (text, status) = said(name, words, &mut draft);
                if words.starts_with("sheet") {
                    sheet = Some(status);
                }
                format!("{command}\n{text}")
            }
            other => panic!("{name}: a block of sort `{other}`"),
        };
        now.push_str(&format!("{prose}```{sort}\n{}\n```", body.trim_end()));
    }
    now.push_str(rest);
    common::kept(&path, &now);
    let left = wale::check(name, &draft, &NoLibrary).findings;
    assert!(left.is_empty(), "the last draft is not clean: {left:?}");
    assert!(sheet.is_some_and(|status| status.success()), "the last draft has a sheet");
    assert!(drafts >= 5, "the story has {drafts} drafts");
}

#[test]
fn the_mitts_are_told_as_they_were() {
    replayed("mitts");
}

#[test]
fn the_blanket_is_told_as_it_was() {
    replayed("blanket");
}

#[test]
fn the_cushion_is_told_as_it_was() {
    replayed("cushion");
}

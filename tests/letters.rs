//! Letters that are not what they seem, and characters that a terminal would take for orders.
#![allow(missing_docs, clippy::unwrap_used)]

use crate::hostile::piece;
use std::fs;
use std::path::Path;
use std::process::Command;
use wale::source::NoLibrary;

/// Names that look the same and are not: with a letter of another alphabet, or one that cannot be seen.
#[test]
fn names_that_look_alike_are_told() {
    for (name, said) in [
        ("sl\u{430}te", "of two alphabets"),
        ("\u{441}late", "of two alphabets"),
        ("slate\u{3164}", "U+3164"),
        ("sl\u{115f}ate", "U+115F"),
        ("slate\u{fe0f}", "U+FE0F"),
        ("sla\u{34f}te", "U+034F"),
        ("slate-\u{3bf}r", "of two alphabets"),
    ] {
        let text = format!("{}yarn {name} {{}}\n", piece("    rows 4 both knit"));
        let checked = wale::check("hostile.wale", &text, &NoLibrary);
        let found: Vec<&str> = checked.findings.iter().map(|finding| finding.what.as_str()).collect();
        let named = checked.findings.iter().find(|finding| finding.rule.name == "look-alike-character");
        assert!(named.is_some_and(|finding| finding.what.contains(said)), "{name:?}: {found:?}");
        assert!(named.is_some_and(|finding| finding.at.span.start as usize > text.len() - name.len() - 6), "{named:?}");
    }
    // Names in one alphabet, whichever it is, with marks and numbers.
    for name in ["gr\u{e5}", "gra\u{30a}", "шерсть", "μαλλί", "毛糸", "けいと-2", "ウール", "엮다", "wełna", "सूत", "ꮎꮟ"]
    {
        let text = format!("{}yarn {name} {{}}\n", piece("    rows 4 both knit"));
        let checked = wale::check("hostile.wale", &text, &NoLibrary);
        let found = checked.findings.iter().any(|finding| finding.rule.name == "look-alike-character");
        assert!(!found, "{name}: {:?}", checked.findings);
    }
}

/// git hands what `compare --rows` writes to its pager, so nothing in it may move a cursor; nor may JSON hide what turns the
/// direction of writing.
#[test]
fn what_is_compared_is_not_sent_raw() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("raw-{}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    let hostile = "pattern \"A\u{1b}]0;gone\u{7}\u{9b}31m\u{202e}B\u{2028}\"\nrow \u{1b}[2J\n";
    let (old, new) = (folder.join("old.wale"), folder.join("new.wale"));
    fs::write(&old, hostile).unwrap();
    fs::write(&new, hostile.replace('A', "C")).unwrap();
    fs::write(folder.join("bytes.wale"), b"\xff\x1b[2J\x9b\xc2\x9b").unwrap();
    let run = |words: &[&str]| {
        let output = Command::new(env!("CARGO_BIN_EXE_wale")).args(words).current_dir(&folder).output().unwrap();
        String::from_utf8(output.stdout).unwrap()
    };
    for words in [
        &["compare", "--rows", "old.wale"][..],
        &["compare", "--rows", "bytes.wale"],
        &["compare", "--format", "json", "old.wale", "new.wale"],
        &["check", "--format", "json", "old.wale"],
        &["compare", "old.wale", "new.wale"],
    ] {
        let told = run(words);
        assert!(told.len() > 10, "{words:?}: {told:?}");
        let raw: Vec<char> = told.chars().filter(|sign| *sign != '\n' && wale::clean::is_hidden(*sign)).collect();
        assert!(raw.is_empty(), "{words:?}: {raw:?} in\n{told:?}");
        if words.contains(&"json") {
            let value: serde_json::Value = serde_json::from_str(&told).unwrap();
            assert!(value.is_object(), "{told}");
        }
    }
}

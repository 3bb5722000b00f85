//! Every sample of the language reference and of the README is what it says it is: it is checked as a pattern, and it
//! has exactly the findings that are announced, which for nearly all of them is none.
//!
//! What the words behind ```` ```wale ```` mean is told in `common/fences.rs`.

use crate::common::fences::{Fence, fences};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use wale::source::FileId;
use wale::syntax::tree::{Kind, MachineLine, PromiseKind, RowPartKind, SideWord, Statement};

const REFERENCE: &str = "grammar/README.md";
const README: &str = "README.md";

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn page(name: &str) -> String {
    fs::read_to_string(root().join(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

fn patterns_of(name: &str) -> Vec<Fence> {
    fences(name).into_iter().filter(|fence| fence.word(0) == "wale").collect()
}

#[test]
fn every_sample_is_what_it_says() {
    for name in [REFERENCE, README] {
        let samples = patterns_of(name);
        assert!(samples.len() > 2, "{name} has samples");
        assert!(samples.iter().all(|sample| !["", "before"].contains(&sample.form())), "{name}: a sample has no form");
        let wrong: Vec<String> = samples.iter().filter_map(Fence::wrong).collect();
        assert!(wrong.is_empty(), "these samples are not what they say:\n{}", wrong.join("\n"));
    }
}

/// The words of a text as the language cuts them.
fn words_of(text: &str) -> BTreeSet<&str> {
    text.split(|character: char| !(character.is_alphanumeric() || character == '-')).collect()
}

#[test]
fn every_word_of_the_language_stands_in_a_sample_of_the_reference() {
    let samples = patterns_of(REFERENCE);
    let code: String = samples.iter().flat_map(|sample| sample.text.lines()).map(without_comment_and_text).collect();
    let words = words_of(&code);
    let missing: Vec<&&str> = wale::syntax::keywords().iter().filter(|word| !words.contains(**word)).collect();
    assert!(missing.is_empty(), "no sample of the reference shows these words: {missing:?}");
}

/// What the language reads of a line as words.
fn without_comment_and_text(line: &str) -> String {
    let mut inside = false;
    let mut kept = String::new();
    for character in line.chars() {
        match character {
            '"' => inside = !inside,
            '#' if !inside => break,
            _ if inside => continue,
            _ => {}
        }
        kept.push(character);
    }
    kept + "\n"
}

/// Names the forms of a type, each once, so that a new form cannot be forgotten: the match would not compile.
macro_rules! forms {
    ($name:ident, $all:ident, $kind:ty, $($pattern:pat => $form:literal),+ $(,)?) => {
        const $all: &[&str] = &[$($form),+];
        fn $name(kind: &$kind) -> &'static str {
            match kind { $($pattern => $form),+ }
        }
    };
}

/// Lines of a machine that say one of two things.
const CHOICES: &[&str] = &[
    "half step with the racking handle",
    "half step with a lever",
    "half step to the right",
    "half step to the left",
    "emptied needles stay in work",
    "emptied needles go out of work",
    "takes every stitch",
    "takes every second needle",
    "takes lone stitches",
    "takes picked needles",
];

fn choices(line: &MachineLine) -> Vec<&'static str> {
    let at = match line {
        MachineLine::HalfStep(by_handle) => vec![usize::from(!by_handle)],
        MachineLine::HalfStepWay(side) => vec![2 + usize::from(*side == SideWord::Left)],
        MachineLine::EmptiedStay(stay) => vec![4 + usize::from(!stay)],
        MachineLine::TransferTakes(takes) => takes.iter().map(|taking| 6 + *taking as usize).collect(),
        _ => Vec::new(),
    };
    at.into_iter().map(|at| CHOICES[at]).collect()
}

forms!(form_of_a_row_part, ROW_PARTS, RowPartKind,
    RowPartKind::Toward(_) => "to left", RowPartKind::Act { on: Some(_), .. } => "knit on",
    RowPartKind::Act { elsewhere: true, .. } => "knit elsewhere", RowPartKind::Act { .. } => "front knit", RowPartKind::Loosened(..) => "loosened",
    RowPartKind::Tightened(..) => "tightened", RowPartKind::Size(..) => "size in a row",
    RowPartKind::NewLoops => "new loops in a row",
);
forms!(form_of_a_promise, PROMISES, PromiseKind,
    PromiseKind::Stitches(..) => "expect stitches", PromiseKind::Carriage(_) => "expect carriage",
    PromiseKind::Counter(_) => "expect counter", PromiseKind::Gaiting(_) => "expect gaiting",
    PromiseKind::Racking(_) => "expect racking", PromiseKind::Tube(_) => "expect tube",
);

fn gather(statements: &[Statement], seen: &mut BTreeSet<&'static str>) {
    for statement in statements {
        seen.insert(wale::syntax::sort(&statement.kind));
        match &statement.kind {
            Kind::MachineLine(line) => seen.extend(choices(line)),
            Kind::Row(parts) | Kind::Rows(_, parts) => {
                seen.extend(parts.iter().map(|part| form_of_a_row_part(&part.kind)));
            }
            Kind::Expect(promises) => seen.extend(promises.iter().map(|promise| form_of_a_promise(&promise.kind))),
            _ => {}
        }
        if let Some(body) = &statement.body {
            gather(&body.statements, seen);
        }
    }
}

#[test]
fn every_form_of_every_statement_stands_in_a_sample_of_the_reference() {
    let mut seen = BTreeSet::new();
    for sample in patterns_of(REFERENCE) {
        let (tree, _) = wale::syntax::read(FileId(0), &sample.pattern());
        gather(&tree.statements, &mut seen);
    }
    // The first sort is a line that cannot be read.
    let all = [CHOICES, ROW_PARTS, PROMISES].into_iter().flatten().copied().chain(wale::syntax::sorts().skip(1));
    let missing: Vec<_> = all.filter(|form| !seen.contains(form)).collect();
    assert!(missing.is_empty(), "no sample of the reference shows {missing:?}");
}

/// What the command says of a pattern in a file called `scarf.wale`.
fn said_of(pattern: &str, command: &str) -> String {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("readme-{command}-{}", std::process::id()));
    fs::create_dir_all(&folder).expect("a folder for the test");
    fs::write(folder.join("scarf.wale"), pattern).expect("a file for the test");
    let output = Command::new(env!("CARGO_BIN_EXE_wale")).args([command, "scarf.wale"]).current_dir(&folder).output();
    let _ = fs::remove_dir_all(&folder);
    String::from_utf8(output.expect("the command runs").stdout).expect("the command writes UTF-8")
}

/// The block of the README that shows an output of that sort, and what the command says of the sample that it belongs to.
fn shown_and_said(sort: &str, announces: bool, command: &str) -> (Fence, String) {
    let mut samples = fences(README);
    let is_shown = |sample: &Fence| sample.word(0) == "text" && sample.word(1) == sort;
    let at = samples.iter().position(is_shown).expect("the README shows it");
    let is_its_pattern = |sample: &&Fence| sample.word(1) == "whole" && sample.finds() == announces;
    let pattern = samples[..at].iter().rev().find(is_its_pattern).expect("a pattern stands before it");
    let said = said_of(&pattern.text, command);
    (samples.swap_remove(at), said)
}

/// A knitter who types the sample sees exactly what the README shows.
#[test]
fn the_finding_in_the_readme_is_the_one_that_is_printed() {
    let (shown, said) = shown_and_said("finds", true, "check");
    assert_eq!(shown.text.trim_end(), said.trim_end(), "{}", shown.place);
}

#[test]
fn the_rows_in_the_readme_stand_in_the_sheet() {
    let (shown, said) = shown_and_said("sheet", false, "sheet");
    assert!(said.contains(&shown.text), "{}: the sheet is\n{said}", shown.place);
}

/// The changes that the README tells of, made in the scarf that stands before them, are told in the words that it shows.
#[test]
fn the_comparison_in_the_readme_is_the_one_that_is_printed() {
    const CHANGES: &[(&str, &str)] = &[
        ("row front knit, back tuck", "row front knit, back tuck on every 2, knit elsewhere"),
        ("tubular 4 rows", "tubular 6 rows"),
    ];
    let samples = fences(README);
    let is_shown = |sample: &Fence| sample.word(0) == "text" && sample.word(1) == "compare";
    let at = samples.iter().position(is_shown).expect("the README shows a comparison");
    let is_its_pattern = |sample: &&Fence| sample.word(1) == "whole" && !sample.finds();
    let old = &samples[..at].iter().rev().find(is_its_pattern).expect("a pattern stands before it").text;
    let mut new = format!("# A comment more.\n{old}");
    for (before, after) in CHANGES {
        assert!(page(README).contains(&format!("`{after}`")), "the README tells of {after}");
        assert!(new.contains(before), "{before} stands in the scarf");
        new = new.replace(before, after);
    }
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("readme-compare-{}", std::process::id()));
    fs::create_dir_all(&folder).expect("a folder for the test");
    fs::write(folder.join("old.wale"), old).expect("a file for the test");
    fs::write(folder.join("scarf.wale"), new).expect("a file for the test");
    let wale = |arguments: &[&str]| {
        Command::new(env!("CARGO_BIN_EXE_wale"))
            .args(arguments)
            .current_dir(&folder)
            .output()
            .expect("the command runs")
    };
    let checked = wale(&["check", "scarf.wale"]);
    let output = wale(&["compare", "old.wale", "scarf.wale"]);
    let _ = fs::remove_dir_all(&folder);
    assert_eq!(checked.status.code(), Some(0), "{}", String::from_utf8_lossy(&checked.stdout));
    assert_eq!(output.status.code(), Some(1));
    assert_eq!(samples[at].text, String::from_utf8_lossy(&output.stdout), "{}", samples[at].place);
}

/// A link to a file of the project leads somewhere.
#[test]
fn links_between_the_pages_hold() {
    for name in [REFERENCE, README, "DEVELOPERS.md", "editors/README.md", "editors/git/README.md"] {
        let text = page(name);
        let folder = root().join(name).parent().map(Path::to_path_buf).unwrap_or_default();
        for (_, behind) in text.match_indices("](").map(|(at, found)| text.split_at(at + found.len())) {
            let target = behind.split(')').next().unwrap_or_default();
            let file = target.split('#').next().unwrap_or_default();
            if !file.is_empty() && !file.contains("://") {
                assert!(folder.join(file).exists(), "{name} links to {file}, which is not there");
            }
        }
    }
}

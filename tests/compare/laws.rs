//! What must hold of every comparison, on the examples and all their mutants; and that it agrees with the traces.

use super::{between, checked, compare};
use crate::common::random::{Dice, slipped};
use crate::common::{examples, renamed as renamed_in};
use crate::mutations::{fabric, mutate};
use proptest::prelude::*;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::sync::LazyLock;
use wale::Checked;
use wale::catalogue::Severity;
use wale::compare::form::{Change, Comparison, How};

/// Each example and its mutants.
static FAMILIES: LazyLock<Vec<(String, Vec<String>)>> = LazyLock::new(|| {
    let family = |(_, text): (String, String)| {
        let mutants = mutate::mutants(&text).into_iter().map(|mutant| mutant.text).collect();
        (text, mutants)
    };
    examples().into_iter().map(family).collect()
});

/// A pattern and one that a slip of the hand made of it.
fn pair() -> impl Strategy<Value = (String, String)> {
    (0..FAMILIES.len(), any::<prop::sample::Index>()).prop_map(|(family, at)| {
        let (text, mutants) = &FAMILIES[family];
        (text.clone(), mutants[at.index(mutants.len())].clone())
    })
}

fn has_errors(checked: &Checked) -> bool {
    checked.findings.iter().any(|finding| finding.rule.severity == Severity::Error)
}

/// The places of needles such as `L10-L6`, counted from the centre to the right.
fn places(words: &Value) -> impl Iterator<Item = i32> + '_ {
    let place = |word: &str| {
        let number: i32 = word[1..].parse().unwrap();
        if word.starts_with('L') { -number } else { number - 1 }
    };
    words.as_array().into_iter().flatten().flat_map(move |range| {
        let range = range.as_str().unwrap();
        let (first, last) = range.split_once('-').unwrap_or((range, range));
        place(first)..=place(last)
    })
}

/// Lines that only put needles into work, out of it, to hold or back, taken together: what comes of them stands before the
/// operation that follows, in whichever lines and order it was written. What changes back, or is used by nothing, is left out.
fn needles_together(done: Vec<Value>) -> Vec<Value> {
    let mut changed: BTreeSet<(bool, &'static str, i32)> = BTreeSet::new();
    let mut all = Vec::new();
    for operation in done {
        let what = operation["what"].as_str().unwrap();
        let beds = ["front", "back"];
        if ["in work", "out of work", "hold", "release"].contains(&what) {
            for bed in beds {
                for place in places(&operation[bed]["changed"]) {
                    let needle = (what.ends_with("work"), bed, place);
                    if !changed.remove(&needle) {
                        changed.insert(needle);
                    }
                }
            }
            continue;
        }
        let grows = ["increase", "decrease"].contains(&what);
        if grows && beds.iter().all(|bed| operation[*bed].is_null()) && operation["edges"].is_null() {
            continue;
        }
        if !changed.is_empty() {
            all.push(json!(std::mem::take(&mut changed)));
        }
        all.push(operation);
    }
    all
}

/// What is worked, read from the trace alone: all operations with everything they did and left behind, without where they
/// are written, what they are called, and what is only said beside them. None where there is no trace because of errors.
pub fn worked(checked: &Checked) -> Option<Value> {
    if has_errors(checked) {
        return None;
    }
    let programs: Vec<_> = checked.programs.iter().collect();
    let mut out = Vec::new();
    wale::write::trace::write(&mut out, &programs, &checked.sources, None).unwrap();
    let trace: Value = serde_json::from_slice(&out).unwrap();
    // Only what is said has no place of its own in the trace.
    let is_done = |entry: &&Value| !entry["source"].is_null() && entry["what"] != "expect";
    let of_piece = |piece: &Value| {
        let operations = piece["operations"].as_array().unwrap().iter();
        let done: Vec<Value> = operations
            .filter(is_done)
            .map(|operation| fabric::without(operation, &["source", "sections", "stitch", "pass"]))
            .map(|mut operation| {
                operation.as_object_mut().unwrap().remove("number");
                operation
            })
            .collect();
        json!({ "piece": piece["piece"], "make": piece["make"], "done": needles_together(done) })
    };
    let of_size = |size: &Value| {
        let pieces: Vec<Value> = size["pieces"].as_array().unwrap().iter().map(of_piece).collect();
        // A yarn that nobody threads is not knitted with.
        let text = Value::from(pieces.clone()).to_string();
        let yarns = size["yarns"].as_array().unwrap().iter();
        let used: Vec<Value> = yarns.filter(|yarn| text.contains(&yarn["name"].to_string())).cloned().collect();
        json!({ "size": size["size"], "yarns": used, "pieces": pieces })
    };
    Some(trace["sizes"].as_array().unwrap().iter().map(of_size).collect())
}

/// The changes without their sentences, from the other side.
fn turned(changes: &[Change]) -> Vec<String> {
    let turned =
        |change: &Change| format!("{:?} {:?} {:?} {:?}", change.about, change.how.turned(), change.new, change.old);
    let mut all: Vec<String> = changes.iter().map(turned).collect();
    all.sort();
    all
}

fn straight(changes: &[Change]) -> Vec<String> {
    let mut all: Vec<String> = changes
        .iter()
        .map(|change| format!("{:?} {:?} {:?} {:?}", change.about, change.how, change.old, change.new))
        .collect();
    all.sort();
    all
}

fn says_nothing(comparison: &Comparison) -> bool {
    comparison.is_same() && comparison.words.is_empty() && comparison.totals.is_empty()
}

/// An outside check: the traces are laid side by side as JSON values by `serde_json`, a general library. They are equal,
/// but for places and names, exactly where the comparison says that it is the same knitting.
#[test]
fn the_traces_agree_with_every_verdict() {
    let (mut same, mut other, mut with_errors) = (0, 0, 0);
    let wrong: Vec<String> = std::thread::scope(|scope| {
        let of_family = |(text, mutants): &'static (String, Vec<String>)| {
            scope.spawn(move || {
                let original = checked("old.wale", text);
                let knitted = worked(&original).expect("an example has no errors");
                let mut counts = (0, 0, 0);
                let mut wrong = Vec::new();
                for mutant in mutants.iter().step_by(2) {
                    let mutant_checked = checked("new.wale", mutant);
                    let comparison = compare(&original, &mutant_checked, None, None);
                    let Some(traced) = worked(&mutant_checked) else {
                        counts.2 += 1;
                        continue;
                    };
                    if traced == knitted {
                        counts.0 += 1;
                    } else {
                        counts.1 += 1;
                    }
                    if (traced == knitted) != comparison.is_same() {
                        let changed = similar::TextDiff::from_lines(text.as_str(), mutant)
                            .unified_diff()
                            .context_radius(0)
                            .to_string();
                        wrong.push(format!("{changed}\n{}", super::told(&comparison)));
                    }
                }
                (counts, wrong)
            })
        };
        let threads: Vec<_> = FAMILIES.iter().map(of_family).collect();
        let mut all = Vec::new();
        for thread in threads {
            let (counts, wrong) = thread.join().expect("no comparison panics");
            (same, other, with_errors) = (same + counts.0, other + counts.1, with_errors + counts.2);
            all.extend(wrong);
        }
        all
    });
    assert!(
        wrong.is_empty(),
        "{} verdicts are not those of the traces:\n{}",
        wrong.len(),
        wrong[..wrong.len().min(5)].join("\n\n")
    );
    println!("{same} the same, {other} others, {with_errors} without a trace");
    assert!(
        same >= 20 && other >= 200 && with_errors >= 200,
        "{same}, {other}, {with_errors}: both verdicts are tried"
    );
}

/// A slip that loses or makes a line of work is told of: it is never the same knitting, and something is said of it.
#[test]
fn what_is_other_knitting_is_said_where_it_is_written() {
    for (text, mutants) in FAMILIES.iter() {
        for mutant in mutants.iter().step_by(5) {
            let comparison = between(text, mutant);
            let all = comparison.knitting.iter().chain(&comparison.words);
            for change in all {
                assert!(!change.what.is_empty() && !change.what.ends_with('.'), "{change:?}");
                if let (Some(old), Some(new)) = (&change.old, &change.new) {
                    assert!(old.line >= 1 && new.line >= 1);
                }
            }
            assert_eq!(comparison.is_same(), comparison.knitting.is_empty());
        }
    }
}

/// Other blanks, where no words for the knitter are, and comments.
fn wider(text: &str) -> String {
    let line = |line: &str| if line.contains(['"', '#']) { line.to_owned() } else { line.replace(", ", "  ,\t") };
    text.lines().map(|text| format!("  {}   # a word about it\n\n", line(text))).collect()
}

/// Blanks, comments, and how a row is written.
fn scrambled(text: &str) -> String {
    wider(text).replace("row both knit", "row front knit, back knit")
}

/// The names that the examples give to stitches and values, and others for them. A gauge goes with its stitch.
fn renamed(text: &str) -> String {
    let mut text = text.to_owned();
    for line in text.clone().lines() {
        let mut words = line.split_whitespace();
        if let (Some("let" | "stitch"), Some(name)) = (words.next(), words.next())
            && name != "size"
        {
            text = renamed_in(&text, name, &format!("zz-{name}"));
        }
    }
    text
}

/// Declarations in another order: those with names, the last one first.
fn turned_round(text: &str) -> String {
    let mut blocks: Vec<String> = Vec::new();
    for line in text.split_inclusive('\n') {
        let begins = !line.starts_with([' ', '}', '#', '\n']);
        match blocks.last_mut() {
            Some(last) if !begins => last.push_str(line),
            _ => blocks.push(line.to_owned()),
        }
    }
    let moves = |block: &String| ["let ", "stitch ", "gauge "].iter().any(|word| block.starts_with(word));
    let mut moved: Vec<String> = blocks.iter().filter(|block| moves(block)).cloned().collect();
    let stay: Vec<String> = blocks.into_iter().filter(|block| !moves(block)).collect();
    moved.reverse();
    stay.concat() + "\n" + &moved.concat()
}

#[test]
fn an_example_written_otherwise_is_the_same_knitting() {
    for (name, text) in examples() {
        for (how, other) in [("spacing", scrambled(&text)), ("names", renamed(&text)), ("order", turned_round(&text))] {
            let comparison = between(&text, &other);
            assert!(comparison.is_same(), "{name}, {how}:\n{other}\n{}", super::told(&comparison));
            if how != "names" {
                assert!(says_nothing(&comparison), "{name}, {how}:\n{}", super::told(&comparison));
            } else {
                let renamed = |change: &Change| change.how == How::Renamed;
                assert!(comparison.words.iter().all(renamed), "{name}:\n{}", super::told(&comparison));
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, ..ProptestConfig::default() })]

    #[test]
    fn a_pattern_is_the_same_as_itself((_, text) in pair()) {
        let comparison = between(&text, &text);
        prop_assert!(says_nothing(&comparison), "{}", super::told(&comparison));
    }

    #[test]
    fn spacing_and_comments_change_nothing((_, text) in pair()) {
        let comparison = between(&text, &wider(&text));
        prop_assert!(says_nothing(&comparison), "{text}\n{}", super::told(&comparison));
    }

    #[test]
    fn from_the_other_side_what_was_added_is_gone((old, new) in pair()) {
        let (there, back) = (between(&old, &new), between(&new, &old));
        prop_assert_eq!(there.verdict, back.verdict);
        let files = |texts: Vec<String>| texts.into_iter().map(|text| text.replace("new.wale", "old.wale")).collect::<Vec<_>>();
        prop_assert_eq!(files(straight(&there.knitting)), files(turned(&back.knitting)));
        prop_assert_eq!(files(straight(&there.words)), files(turned(&back.words)));
        let totals = |comparison: &Comparison| comparison.totals.iter().map(|total| (total.what, total.old, total.new)).collect::<Vec<_>>();
        prop_assert_eq!(totals(&there), totals(&back).into_iter().map(|(what, old, new)| (what, new, old)).collect::<Vec<_>>());
    }

    #[test]
    fn any_two_texts_can_be_compared((old, new) in pair(), seed in any::<u64>()) {
        let dice = &mut Dice::new(seed);
        let (one, other) = (slipped(dice, &old, &new), slipped(dice, &new, &old));
        let (there, back) = (between(&one, &other), between(&other, &one));
        prop_assert_eq!(there.verdict, back.verdict);
        let itself = between(&one, &one);
        prop_assert!(says_nothing(&itself), "{one}\n{}", super::told(&itself));
        prop_assert_eq!(there.is_same(), there.knitting.is_empty());
        let text = super::told(&there);
        prop_assert!(!text.contains(|c: char| c.is_control() && c != '\n'), "{text:?}");
    }

    #[test]
    fn the_text_of_a_comparison_is_fit_to_be_shown((old, new) in pair()) {
        let text = super::told(&between(&old, &new));
        prop_assert!(text.ends_with('\n') && !text.ends_with("\n\n"));
        for line in text.lines() {
            prop_assert!(line.chars().count() <= 100, "{line}");
            prop_assert_eq!(line.trim_end(), line);
        }
    }
}

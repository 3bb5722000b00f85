//! Tidying twice is tidying once; and a tidy text says the same as the one it was made from, is found to have the same
//! mistakes, and is knitted in the same way.

use super::pages;
use crate::common::random::{Dice, cases, slipped, words};
use crate::common::{Examples, examples, folder};
use crate::mutations::{fabric, mutate};
use proptest::prelude::*;
use std::fs;
use std::sync::LazyLock;
use std::time::{Duration, Instant};
use wale::finding::Finding;
use wale::source::FileId;
use wale::syntax::{Tidied, read, tidy};

pub(crate) fn tidied(text: &str) -> Tidied<'_> {
    tidy(FileId(0), text)
}

fn squeezed(text: &str) -> String {
    text.chars().filter(|character| !" \t\r\n\u{feff}".contains(*character)).collect()
}

/// The tree of a text as words, without any place.
fn tree(text: &str) -> String {
    let debug = format!("{:?}", read(FileId(0), text).0);
    let mut parts = debug.split("Span {");
    let first = parts.next().unwrap_or_default().to_owned();
    // A place holds another pair of braces at most, that of nothing.
    parts.fold(first, |tree, part| tree + part.split_once('}').map_or("", |(_, behind)| behind))
}

/// What is found, in order, without places and blanks: the rule, the sentence, and the words it is about.
fn found(checked: &wale::Checked) -> Vec<(&'static str, String, String)> {
    let of = |found: &Finding| (found.rule.name, squeezed(&found.what), squeezed(checked.sources.words(found.at.span)));
    checked.findings.iter().map(of).collect()
}

/// What every tidy text looks like.
fn looks(text: &str) -> Result<(), String> {
    if text.is_empty() {
        return Ok(());
    }
    if text.starts_with(['\n', '\u{feff}'])
        || !text.ends_with('\n')
        || text.ends_with("\n\n")
        || text.contains("\n\n\n")
    {
        return Err("there are empty lines that should not be".to_owned());
    }
    let mut before = "";
    for line in text.lines() {
        let words = line.trim_start_matches(' ');
        if line.ends_with([' ', '\t']) || words.starts_with('\t') || (line.len() - words.len()) % 4 != 0 {
            return Err(format!("there are blanks that should not be: {line:?}"));
        }
        let opens = |line: &str| line.ends_with('{') && !line.contains('#');
        if words.is_empty() && opens(before) || words == "}" && before.is_empty() {
            return Err(format!("an empty line at an end of a block: {before:?}, {line:?}"));
        }
        before = line;
    }
    Ok(())
}

/// All that must hold of a text and its tidy form, as far as reading goes. Gives the tidy form, if there is one.
fn reads_alike(text: &str) -> Result<Option<String>, String> {
    let tidy = tidied(text);
    if !tidy.findings.is_empty() {
        let (_, found) = read(FileId(0), text);
        // Most of it cannot be read, or nobody can tell what belongs where.
        let is_reason = |finding: &Finding| found.contains(finding) || finding.what.starts_with("most of");
        if tidy.text != text || !tidy.findings.iter().all(is_reason) {
            return Err(format!("it is left alone for no reason: {:?}", tidy.findings));
        }
        return Ok(None);
    }
    let after = tidy.text.into_owned();
    let again = tidied(&after);
    if again.text != after || !again.findings.is_empty() || again.unread != tidy.unread {
        return Err(format!("tidying twice is more than once:\n{after}\nbecame\n{}{:?}", again.text, again.findings));
    }
    let plain = after.replace("\r\n", "\n");
    looks(&plain).map_err(|error| format!("{error}\n{after}"))?;
    let sorted = |text: &str| {
        let mut letters: Vec<char> = squeezed(text).chars().collect();
        letters.sort_unstable();
        letters
    };
    // Only a brace may move, before the comments above it.
    if sorted(text) != sorted(&after) || !text.contains('#') && squeezed(text) != squeezed(&after) {
        return Err(format!("something was lost or added:\n{after}"));
    }
    if tree(text) != tree(&after) {
        return Err(format!("it is read in another way:\n{after}"));
    }
    Ok(Some(after))
}

/// The same, and that it is found and knitted alike.
fn checks_alike(text: &str) -> Result<(), String> {
    let Some(after) = reads_alike(text)? else { return Ok(()) };
    let [before, after] = [text, &after].map(|text| wale::check("pattern.wale", text, &Examples));
    if found(&before) != found(&after) {
        return Err(format!("other things are found: {:?}\nand\n{:?}", found(&before), found(&after)));
    }
    if fabric::trace(&before) != fabric::trace(&after) {
        return Err("it is knitted in another way".to_owned());
    }
    Ok(())
}

#[test]
fn every_example_is_tidy() {
    let machines = fs::read_dir(folder().join("machines")).unwrap().map(|entry| entry.unwrap().path());
    let machines: Vec<_> =
        machines.map(|path| (path.display().to_string(), fs::read_to_string(path).unwrap())).collect();
    assert!(!machines.is_empty());
    for (name, text) in examples().into_iter().chain(machines) {
        assert_eq!((tidied(&text).text.as_ref(), tidied(&text).findings), (text.as_str(), Vec::new()), "{name}");
    }
}

#[test]
fn the_good_examples_of_the_rules_are_tidy() {
    for rule in wale::rules::ALL.iter().filter(|rule| !rule.good.is_empty()) {
        let text = format!("{}\n", rule.good.trim_end());
        assert_eq!(tidied(&text).text, text, "{}", rule.name);
    }
}

#[test]
fn every_text_that_the_tests_know_is_found_and_knitted_alike() {
    let rules = wale::rules::ALL.iter().flat_map(|rule| [rule.bad, rule.good]).map(wale::catalogue::Rule::whole);
    let pages = pages::all().into_iter().map(|sample| sample.text);
    for text in rules.chain(pages).chain(examples().into_iter().map(|(_, text)| text)) {
        // As it stands, without any indentation, and with too much of everything.
        let flat: String = text.lines().map(|line| line.trim().to_owned() + "\n").collect();
        let wide: String = text.lines().map(|line| format!("\t {line} \t# and a word\r\n\n\r")).collect();
        for text in [&text, &flat, &wide] {
            checks_alike(text).unwrap_or_else(|error| panic!("{error}\n{text}"));
        }
    }
}

/// What is done with every text that comes by chance.
static SAMPLES: LazyLock<Vec<String>> = LazyLock::new(|| {
    let mutants = |text: &String| mutate::mutants(text).into_iter().map(|mutant| mutant.text).collect::<Vec<_>>();
    let examples = examples().into_iter().flat_map(|(_, text)| [mutants(&text), vec![text]].concat());
    examples.chain(pages::all().into_iter().map(|sample| sample.text)).collect()
});

fn sample() -> impl Strategy<Value = String> {
    (0..SAMPLES.len()).prop_map(|at| SAMPLES[at].clone())
}

/// Pieces of patterns with slips in them, words of the language, and any characters at all.
fn any_text() -> impl Strategy<Value = String> {
    prop_oneof![
        2 => (sample(), sample(), any::<u64>())
            .prop_map(|(one, other, seed)| slipped(&mut Dice::new(seed), &one, &other)),
        2 => any::<u64>().prop_map(|seed| words(&mut Dice::new(seed), 120)),
        1 => "(row|rwo|front knit|piece \"a\"|[{}#\",()=+*/<>|-]|\\{ \\}|<<<<<<< |=======|[\\n\\r\\t ]{1,3}|3|cm|\\PC|\\pC){0,60}",
    ]
}

proptest! {
    #![proptest_config(cases(1200))]

    #[test]
    fn any_text_is_read_alike(text in any_text()) {
        let result = reads_alike(&text);
        prop_assert!(result.is_ok(), "{}", result.err().unwrap_or_default());
    }
}

proptest! {
    #![proptest_config(cases(200))]

    #[test]
    fn any_text_is_found_and_knitted_alike(text in any_text()) {
        let result = checks_alike(&text);
        prop_assert!(result.is_ok(), "{}", result.err().unwrap_or_default());
    }
}

/// Twice the lines take twice the time, and not four times: no more than three times, for what else runs on the machine.
/// The best of three runs is taken.
#[test]
fn long_files_take_time_in_proportion() {
    let time = |text: &str| {
        let once = || {
            let begun = Instant::now();
            std::hint::black_box(tidied(text));
            begun.elapsed()
        };
        (0..3).map(|_| once()).min().unwrap_or_default().max(Duration::from_millis(2))
    };
    type Lines<'a> = &'a dyn Fn(usize) -> String;
    let kinds: [(&str, Lines<'_>); 9] = [
        ("rows", &|n| format!("piece  \"A\" {{\n{}}}", "row  both knit ,loosened 3 # a\n".repeat(n))),
        ("lines that cannot be read", &|n| "rwo  both knit\nrow  both knit\n".repeat(n)),
        ("one line", &|n| format!("let a = {}1", "1  + ".repeat(n))),
        ("one statement", &|n| format!("in work front {}L1", "L1 ,back  ".repeat(n))),
        ("blocks", &|n| "yarn  a{ }".repeat(n)),
        ("comments before a brace", &|n| format!("yarn a\n{}{{}}", "# a\n".repeat(n))),
        ("braces on lines of their own", &|n| "yarn a # b\n{\n# c\n}\n".repeat(n / 4)),
        ("markers", &|n| "yarn a { } <<<<<<<  a\n".repeat(n)),
        ("empty lines", &|n| "\r\n\r \n".repeat(n)),
    ];
    for (name, lines) in kinds {
        let (one, two) = (time(&lines(800)), time(&lines(1_600)));
        assert!(two < one * 3 + Duration::from_millis(20), "{name}: 800 take {one:?}, 1600 take {two:?}");
    }
}

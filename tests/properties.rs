//! What must hold of any pattern: how a line ends, how its blanks stand, what a name is, and in which file a declaration
//! stands changes nothing of the knitting.
#![allow(missing_docs, unreachable_pub, dead_code, clippy::unwrap_used)]

use crate::common::{Examples, examples, renamed, sound};
use crate::mutations::{fabric, mutate};
use proptest::prelude::*;
use proptest::sample::select;
use std::sync::LazyLock;
use wale::source::{FileId, Library};

/// The examples, and all their mutants.
static PATTERNS: LazyLock<Vec<String>> = LazyLock::new(|| {
    let mutants = |text: &String| mutate::mutants(text).into_iter().map(|mutant| mutant.text).collect::<Vec<_>>();
    examples().into_iter().flat_map(|(_, text)| [mutants(&text), vec![text]].concat()).collect()
});

fn pattern() -> impl Strategy<Value = String> {
    (0..PATTERNS.len()).prop_map(|at| PATTERNS[at].clone())
}

/// What is found: the line, the rule and the sentence.
fn found(text: &str) -> Vec<(u32, &'static str, String)> {
    let checked = sound::check_with("pattern.wale", text, &Examples).unwrap();
    let line = |span| checked.sources.position(span).line;
    checked.findings.iter().map(|found| (line(found.at.span), found.rule.name, found.what.clone())).collect()
}

/// The words of the language, numbers, names and signs, with blanks and line ends between them.
fn words() -> impl Strategy<Value = String> {
    let word = prop_oneof![
        6 => select(wale::syntax::keywords()).prop_map(str::to_owned),
        1 => (0_u64..130).prop_map(|number| number.to_string()),
        1 => any::<u64>().prop_map(|number| number.to_string()),
        1 => (0_u16..50, 0_u16..1000).prop_map(|(whole, part)| format!("{whole}.{part}")),
        1 => (select(&["L", "R"][..]), 0_u8..130).prop_map(|(side, number)| format!("{side}{number}")),
        1 => "[a-z][a-z0-9-]{0,6}",
        1 => "\"[|.X]{0,6}\"",
        2 => select(&["{", "}", "{\n", "}\n", ",", "(", ")", "=", "+", "-", "*", "/", "\"", "#", "\r\n"][..]).prop_map(str::to_owned),
    ];
    let gap = select(&[" ", " ", " ", " ", "\n", "\t", "  ", ""][..]);
    prop::collection::vec((word, gap), 0..80)
        .prop_map(|parts| parts.into_iter().map(|(word, gap)| word + gap).collect::<String>())
}

/// The names that a pattern gives, but for that of its machine, which stands in another file.
fn names(text: &str) -> Vec<String> {
    let given = |line: &str| {
        let mut words = line.split_whitespace();
        let first = words.next()?;
        let named = ["yarn", "let", "stitch", "gauge"].contains(&first) && !line.starts_with(' ');
        words.next().filter(|_| named).map(str::to_owned)
    };
    let mut names: Vec<String> = text.lines().filter_map(given).collect();
    names.sort();
    names.dedup();
    names
}

/// A file beside the examples.
struct Beside(String);

impl Library for Beside {
    fn read(&self, from: &str, path: &str) -> Result<(String, String), String> {
        if path == "parts.wale" { Ok((path.to_owned(), self.0.clone())) } else { Examples.read(from, path) }
    }
}

/// The pattern with its declarations in a file of their own: what stays, and that file. What it uses itself, the
/// declarations use there.
fn split(text: &str) -> (String, String) {
    let (mut main, mut parts) = (String::from("use \"parts.wale\"\n"), String::new());
    let mut stays = true;
    for line in text.split_inclusive('\n') {
        if !line.starts_with([' ', '}', '#', '\n']) {
            stays = line.starts_with("pattern") || line.starts_with("piece");
        }
        if stays { &mut main } else { &mut parts }.push_str(line);
    }
    (main, parts)
}

/// However its lines end, every form of the findings names the same line of a text.
#[test]
fn all_forms_name_the_same_line() {
    use wale::tell::{Colour, annotation, json, sarif, short, terminal};
    for end in ["\n", "\r\n", "\r"] {
        let text =
            ["machine club { needles 71 each side }", "# é", "", "yarn slate {}", "rwo front knit", ""].join(end);
        let checked = wale::check("pattern.wale", &text, &Examples);
        let found = checked.findings.iter().find(|found| found.rule.name == "misspelt-word").unwrap();
        let sources = &checked.sources;
        assert!(terminal::text(sources, found, Colour::Plain).contains("pattern.wale:5:1"), "{end:?}");
        assert!(terminal::text(sources, found, Colour::Plain).contains("5 │ rwo front knit\n"), "{end:?}");
        assert!(short::line(sources, found).starts_with("pattern.wale:5:1:"), "{end:?}");
        assert!(annotation::line(sources, found).contains("line=5,col=1,endLine=5,endColumn=4"), "{end:?}");
        let patterns = [(sources, std::slice::from_ref(found))];
        let (mut plain, mut forge) = (Vec::new(), Vec::new());
        json::Report::new(&patterns).write(&mut plain).unwrap();
        sarif::write(&mut forge, &patterns).unwrap();
        let plain: serde_json::Value = serde_json::from_slice(&plain).unwrap();
        let forge: serde_json::Value = serde_json::from_slice(&forge).unwrap();
        assert_eq!(plain["findings"][0]["at"]["start"]["line"], 5, "{end:?}");
        let region = "/runs/0/results/0/locations/0/physicalLocation/region/startLine";
        assert_eq!(forge.pointer(region), Some(&5.into()), "{end:?} {forge}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn the_words_of_the_language_in_any_order_can_be_checked(text in words()) {
        prop_assert!(sound::check(&text).is_ok(), "{:?}", sound::check(&text).err());
    }

    #[test]
    fn how_lines_end_changes_no_finding_in_any_text(text in words()) {
        // A carriage return alone ends a line too, so only whole line ends are exchanged.
        let text = text.replace('\r', "");
        for end in ["\r\n", "\r"] {
            prop_assert_eq!(found(&text), found(&text.replace('\n', end)));
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

    #[test]
    fn how_lines_end_changes_no_finding(text in pattern()) {
        for end in ["\r\n", "\r"] {
            prop_assert_eq!(found(&text), found(&text.replace('\n', end)));
        }
    }

    #[test]
    fn blanks_and_comments_change_no_finding_but_its_line(text in pattern()) {
        let wider = text.replace(", ", "  ,\t").replace('\n', "   # a word about it\n\n");
        let twice: Vec<_> = found(&text).into_iter().map(|(line, rule, what)| (2 * line - 1, rule, what)).collect();
        prop_assert_eq!(twice, found(&wider));
    }

    #[test]
    fn a_name_is_only_a_name(text in pattern(), at in any::<prop::sample::Index>(), new in "zz[a-z0-9é]{0,6}") {
        let names = names(&text);
        prop_assume!(!names.is_empty());
        let old = &names[at.index(names.len())];
        let other = renamed(&text, old, &new);
        prop_assert_ne!(&other, &text);
        let back: Vec<_> = found(&other).into_iter().map(|(line, rule, what)| (line, rule, what.replace(&new, old))).collect();
        prop_assert_eq!(&back, &found(&text), "{} is now {}", old, new);
        let traces = [&text, &other].map(|text| fabric::trace(&wale::check("pattern.wale", text, &Examples)));
        prop_assert_eq!(traces[0].clone(), traces[1].as_ref().map(|trace| trace.replace(&new, old)));
    }

    #[test]
    fn a_tidied_pattern_is_the_same_pattern(text in pattern()) {
        let untidy = |text: &str| text.replace(", ", "  ,\t").replace("    ", " ").replace(" {\n", "\n{ # opened here\n\n\n");
        let tidied = |text: &str| {
            let tidied = wale::syntax::tidy(FileId(0), text);
            (tidied.text.into_owned(), tidied.findings)
        };
        let (main, parts) = split(&text);
        let (main, parts) = (untidy(&main), untidy(&parts));
        let ((tidy_main, found_main), (tidy_parts, found_parts)) = (tidied(&main), tidied(&parts));
        let is_whole = found_main.is_empty() && found_parts.is_empty();
        prop_assert!(!is_whole || tidy_main != main || tidy_parts != parts);
        // The message may quote what has other blanks now.
        let what = |checked: &wale::Checked| {
            let plain = |what: &str| what.replace([' ', '\t'], "");
            let found = checked.findings.iter().map(|found| (found.rule.name, plain(&found.what), found.sizes.clone()));
            found.collect::<Vec<_>>()
        };
        let before = sound::check_with("pattern.wale", &main, &Beside(parts)).unwrap();
        let after = sound::check_with("pattern.wale", &tidy_main, &Beside(tidy_parts)).unwrap();
        prop_assert_eq!(what(&before), what(&after));
        prop_assert_eq!(fabric::trace(&before), fabric::trace(&after));
    }

    #[test]
    fn in_which_file_a_declaration_stands_changes_nothing(text in pattern()) {
        let (main, parts) = split(&text);
        let together = wale::check("pattern.wale", &text, &Examples);
        let apart = sound::check_with("pattern.wale", &main, &Beside(parts)).unwrap();
        // What is found in another file says in which. A file of declarations may offer more than is taken.
        let named = |what: &str| what.split(" (in the used file").next().unwrap_or_default().to_owned();
        let what = |checked: &wale::Checked| {
            let mut found: Vec<_> = checked.findings.iter().filter(|found| found.rule.name != "unused-name").map(|found| (found.rule.name, named(&found.what))).collect();
            found.sort();
            found
        };
        prop_assert_eq!(what(&together), what(&apart));
        prop_assert_eq!(fabric::trace(&together), fabric::trace(&apart));
    }
}

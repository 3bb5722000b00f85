//! Fixes: what they are, which of them are safe, and `wale check --mend`.
#![allow(missing_docs, clippy::unwrap_used)]

use crate::common::{Examples, MISTAKES, example, examples};
use std::collections::BTreeSet;
use wale::Checked;
use wale::catalogue::Rule;
use wale::finding::Finding;
use wale::mend::{apply, mend};
use wale::rules::{ALL, find, is_found_in_reading};
use wale::source::FileId;

fn checked(text: &str) -> Checked {
    wale::check("breakwater.wale", text, &Examples)
}

fn names(checked: &Checked) -> BTreeSet<&'static str> {
    checked.findings.iter().map(|finding| finding.rule.name).collect()
}

fn count(checked: &Checked, rule: &str) -> usize {
    checked.findings.iter().filter(|finding| finding.rule.name == rule).count()
}

/// The text with the fix of one finding made.
fn with_fix(text: &str, finding: &Finding) -> String {
    let (mended, made) = apply(text, FileId(0), &finding.fix);
    assert_eq!(made, 1, "{finding:?}");
    mended
}

/// Every text with a mistake that the tests know: the examples with one each, and the bad examples of the rules.
fn mistaken() -> Vec<String> {
    let seeded = MISTAKES.iter().map(|(name, words, instead, ..)| example(name).replacen(words, instead, 1));
    let bad = ALL.iter().filter(|rule| !rule.bad.is_empty()).map(|rule| Rule::whole(rule.bad));
    seeded.chain(bad).collect()
}

#[test]
fn a_safe_fix_takes_its_finding_away_and_brings_no_other() {
    let mut safe = BTreeSet::new();
    for text in mistaken() {
        let before = checked(&text);
        for finding in before.findings.iter().filter(|finding| finding.is_safely_mended()) {
            let after = checked(&with_fix(&text, finding));
            assert!(
                count(&after, finding.rule.name) < count(&before, finding.rule.name),
                "{}\n{text}",
                finding.rule.name
            );
            assert!(names(&after).is_subset(&names(&before)), "{}: {:?}\n{text}", finding.rule.name, names(&after));
            safe.insert(finding.rule.name);
        }
    }
    let all = ["capital-word", "look-alike-character", "misspelt-word", "not-opposite"];
    assert_eq!(safe.into_iter().collect::<Vec<_>>(), all);
}

/// A fix that is only offered may be the wrong one, but what it writes can be read and does what it says.
#[test]
fn an_offered_fix_takes_its_finding_away() {
    let mut offered = BTreeSet::new();
    for text in mistaken() {
        let before = checked(&text);
        for finding in before.findings.iter().filter(|finding| finding.fix.as_ref().is_some_and(|fix| !fix.safe)) {
            let after = checked(&with_fix(&text, finding));
            assert!(
                count(&after, finding.rule.name) < count(&before, finding.rule.name),
                "{}\n{text}",
                finding.rule.name
            );
            for rule in names(&after) {
                let reading = find(rule).is_some_and(is_found_in_reading);
                assert!(!reading || names(&before).contains(rule), "{} brings {rule}\n{text}", finding.rule.name);
            }
            offered.insert(finding.rule.name);
        }
    }
    for rule in ["doubled-stitch", "facing-needles", "lost-stitch", "tight-transfer", "unplanned-loop"] {
        assert!(offered.contains(rule), "{rule} is among {offered:?}");
    }
}

#[test]
fn mending_twice_is_mending_once() {
    for text in mistaken() {
        let once = mend(&text, checked);
        let twice = mend(&once.text, checked);
        assert_eq!((twice.text, twice.count), (once.text, 0));
    }
    for (name, text) in examples() {
        let mended = mend(&text, checked);
        assert_eq!((mended.text, mended.count), (text, 0), "{name}");
    }
}

/// All lines but the mended ones are as they were, byte for byte.
#[test]
fn only_the_mended_lines_change() {
    for text in mistaken() {
        let mended = mend(&text, checked);
        let before: Vec<&str> = text.split_inclusive('\n').collect();
        let after: Vec<&str> = mended.text.split_inclusive('\n').collect();
        assert!(after.len() >= before.len());
        let kept = before.iter().filter(|line| after.contains(line)).count();
        assert!(kept + mended.count >= before.len(), "{text}\nbecame\n{}", mended.text);
    }
}

#[test]
fn a_slip_in_any_line_of_an_example_is_put_right_or_left_alone() {
    let mut right = 0;
    for (name, text) in examples() {
        let words: BTreeSet<&str> = text.split_whitespace().filter(|word| word.len() > 4).collect();
        for word in words.into_iter().filter(|word| wale::syntax::keywords().contains(word)) {
            let slip = format!("{}{}", &word[..2], &word[3..]);
            let slipped = text.replacen(&format!("{word} "), &format!("{slip} "), 1);
            let before = checked(&slipped);
            let mended = mend(&slipped, checked);
            if !before.findings.iter().any(|finding| finding.rule.name == "misspelt-word") {
                continue;
            }
            // Never to anything but what was there before the slip.
            assert!(mended.text == text || mended.text == slipped, "{name}: {slip} became\n{}", mended.text);
            right += usize::from(mended.text == text);
        }
    }
    assert!(right > 30, "{right} slips were put right");
}

// ---- where a fix is written -----------------------------------------------------------------------------------------

const TRANSFER: &str = "machine small {\n\tneedles 20 each side\n}\nyarn slate {}\npiece \"Strap\" {\n\tin work front L3-R3, back L3-R3\n\tthread slate\n\tcast on wound front\n\trow front knit, loosened 1\n\ttransfer front to back # across\n\tbind off back\n}\n";

#[test]
fn a_new_line_is_indented_and_ended_as_its_neighbour() {
    for end in ["\n", "\r\n", "\r"] {
        let text = TRANSFER.replace('\n', end);
        let mended = mend(&text, checked);
        let wanted = TRANSFER.replace("\ttransfer", "\tgaiting opposite\n\ttransfer").replace('\n', end);
        assert_eq!((mended.text, mended.count), (wanted, 1));
        assert_eq!(names(&mended.checked), BTreeSet::new());
    }
}

#[test]
fn beds_are_racked_back_on_a_line_of_the_piece() {
    let racked = |tail: &str| {
        format!(
            "{}piece \"Strap\" {{\n  in work front L3-R3\n  thread slate\n  cast on wound front\n  rack 1 right\n  bind off front{tail}",
            Rule::whole("piece \"Empty\" {\n}")
        )
    };
    for (tail, wanted) in [
        ("\n}\n", Some("\n  rack to centre\n}\n")),
        ("\n\n  # The end.\n}", Some("\n\n  # The end.\n  rack to centre\n}")),
        // The brace stands as far in as the lines of its block.
        ("\n  }\n", Some("\n  rack to centre\n  }\n")),
        ("\n }\n", Some("\n  rack to centre\n }\n")),
        ("\n    }\n", Some("\n        rack to centre\n    }\n")),
        // There is no line of its own to write it on.
        (" }\n", None),
        ("", None),
    ] {
        let mended = mend(&racked(tail), checked);
        assert_eq!(mended.text, racked(wanted.unwrap_or(tail)));
    }
}

#[test]
fn what_another_line_counts_on_is_not_changed_without_asking() {
    let safe = |lines: &str| {
        let text = Rule::whole(&format!(
            "in work front L3-R3, back L3-R3\nthread slate\ncast on wound front\nrow front knit, loosened 1\n{lines}"
        ));
        let found = checked(&text).findings;
        let first = found.iter().find(|finding| finding.rule.name == "not-opposite").expect("the gaiting is missed");
        first.is_safely_mended()
    };
    assert!(safe("transfer front to back\nrow back knit\nbind off back"));
    assert!(safe("transfer front to back\ngaiting between\nrow both knit, new loops\nbind off both"));
    assert!(!safe("transfer front to back\nrow both knit, new loops\nbind off both"));
    // Nor where only the first bed has needles to knit with, since nothing was transferred.
    assert!(!safe("transfer front every 2 to back\nout of work back empty\nrow both knit\nbind off both"));
    assert!(!safe("repeat 2 times {\nrow front knit, loosened 1\ntransfer front to back\ntransfer back to front\n}"));
    // A definition is changed for all who work it.
    let text = TRANSFER.replace("\ttransfer front to back # across\n", "\twork across\n")
        + "stitch across from front to back {\n\ttransfer front to back\n}\n";
    let found = checked(&text).findings;
    assert!(
        found.iter().any(|finding| finding.rule.name == "not-opposite" && !finding.is_safely_mended()),
        "{found:?}"
    );
}

#[test]
fn a_long_list_of_needles_is_read_in_the_edit() {
    let title = |idle: &str| {
        let text = Rule::whole(&format!(
            "in work front L20-R20\nthread slate\ncast on wound front all but {idle}\nrow front knit\nbind off front"
        ));
        let found = checked(&text).findings;
        let fix =
            found.iter().find(|finding| finding.rule.name == "unplanned-loop").and_then(|finding| finding.fix.clone());
        fix.map(|fix| fix.title)
    };
    assert_eq!(title("L3-R3").as_deref(), Some("write `out of work front L3-R3` on a line before it"));
    assert_eq!(title("every 4").as_deref(), Some("write a line before it"));
}

#[test]
fn beds_with_stitches_are_not_racked_without_asking() {
    let text = Rule::whole("in work front L3-R3\nthread slate\ncast on wound front\nrack 1 right");
    let found = checked(&text).findings;
    let racked = found.iter().find(|finding| finding.rule.name == "no-way-back").expect("they are racked");
    assert!(racked.fix.as_ref().is_some_and(|fix| !fix.safe));
}

/// What would be right in one size would change the other one.
#[test]
fn what_holds_for_one_size_is_not_mended_without_asking() {
    let text = TRANSFER
        .replace("piece", "sizes short, long\npiece")
        .replace("\ttransfer front to back # across\n", "\trepeat 0 (1) times {\n\track 1 left\n\t}\n")
        .replace("bind off back", "bind off front");
    let found = checked(&text).findings;
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!((found[0].rule.name, found[0].sizes.as_slice()), ("no-way-back", &["long".to_owned()][..]));
    assert!(!found[0].is_safely_mended());
}

#[test]
fn what_stands_in_a_used_file_is_left_alone() {
    struct Mooring;
    impl wale::source::Library for Mooring {
        fn read(&self, _from: &str, path: &str) -> Result<(String, String), String> {
            Ok((path.to_owned(), "machine small {\n    needels 20 each side\n}\n".to_owned()))
        }
    }
    let text = "use \"mooring.wale\"\n";
    let mended = mend(text, |text| wale::check("strap.wale", text, &Mooring));
    assert_eq!((mended.text.as_str(), mended.count), (text, 0));
    assert!(mended.checked.findings.iter().any(Finding::is_safely_mended));
}

#[test]
fn look_alikes_are_replaced_only_where_the_line_reads_afterwards() {
    for (line, wanted) in [
        ("pattern \u{201c}Breakwater\u{201d}", Some("pattern \"Breakwater\"")),
        ("let\u{a0}width = 3\u{a0}cm", Some("let width = 3 cm")),
        ("let width\u{200b} = 2 \u{d7} 3", Some("let width = 2 * 3")),
        ("let width = 2 \u{d7}", None),
        ("pattern \u{2018}Breakwater\u{201d} and more", None),
        ("let width = 2\u{2028}let length = 3", None),
    ] {
        assert_eq!(mend(line, checked).text, wanted.unwrap_or(line), "{line}");
    }
}

/// A line of a piece whose file has the names `α`, `a`, `b`, `c`, `b-c` and one in Cyrillic letters that look like `pac`.
fn in_a_piece(line: &str) -> String {
    let lets: Vec<String> = ["α", "a", "b", "c", "b-c", "\u{440}\u{430}\u{441}"]
        .iter()
        .map(|name| format!("let {name} = 10 rows\n"))
        .collect();
    format!(
        "machine small {{\n    needles 20 each side\n}}\nyarn slate {{}}\n{}piece \"Strap\" {{\n    in work front L3-R3\n    thread slate\n    cast on wound front\n    {line}\n    bind off front\n}}\n",
        lets.concat()
    )
}

fn mended_in_a_piece(line: &str) -> String {
    let text = mend(&in_a_piece(line), checked).text;
    let line = text.lines().rev().nth(2).expect("it has lines");
    line.trim_start().to_owned()
}

#[test]
fn a_name_is_never_mended_to_another() {
    for (line, wanted) in [
        ("rows α\u{a0}front knit", "rows α front knit"),
        ("rows α front knitt", "rows α front knit"),
        ("rows α fr\u{43e}nt knit", "rows α front knit"),
        ("rows \u{440}\u{430}\u{441} fr\u{43e}nt knit", "rows \u{440}\u{430}\u{441} front knit"),
        ("r\u{43e}ws α\u{a0}front knit", "rows α front knit"),
        ("rows \u{663} front knit", "rows 3 front knit"),
        ("thread sla\u{ad}te", "thread slate"),
        // A dash between two names makes one of them.
        ("rows b\u{2013}c front knit", "rows b\u{2013}c front knit"),
        ("rows b\u{2212}c front knit", "rows b\u{2212}c front knit"),
        ("rows b\u{ff0d}c front knit", "rows b\u{ff0d}c front knit"),
        ("rows b \u{2013} c front knit", "rows b - c front knit"),
        ("rows b\u{2011}c front knit", "rows b-c front knit"),
        ("row front knit on L3\u{2013}R3", "row front knit on L3-R3"),
    ] {
        assert_eq!(mended_in_a_piece(line), wanted, "{line}");
    }
    // Where only the plain word can stand it is that word that is meant.
    let lever = "machine small {\n    needles 20 each side\n    half step with \u{430} lever\n}\n";
    assert_eq!(mend(lever, checked).text, lever.replace('\u{430}', "a"));
}

#[test]
fn words_for_the_knitter_are_left_as_they_are() {
    for words in [
        "То же самое: а – это край, то да",
        "٣ rows – then",
        "a ！ b – c 1 2",
        "don’t cut the yarn",
        "5″ wide",
        "x – y ‘z’",
        "hang # 5 weights",
        "a {b} c",
    ] {
        for (open, close) in [("“", "”"), ("„", "“"), ("«", "»"), ("“", "\""), ("\"", "”")] {
            let line = format!("note {open}{words}{close}");
            let text = in_a_piece(&line);
            let found = checked(&text).findings;
            if close != "\"" && open != "\"" {
                let here = found.iter().filter(|finding| finding.rule.name != "unused-name").count();
                assert_eq!(here, 1, "{line}: {found:?}");
                assert_eq!(mended_in_a_piece(&line), format!("note \"{words}\""));
            } else {
                // Where a comment or a block could begin it is not certain.
                let mended = mended_in_a_piece(&line);
                assert!([format!("note \"{words}\""), line].contains(&mended), "{mended}");
            }
        }
    }
    for (line, wanted) in [
        ("note ‘don’t’", "note \"don’t\""),
        ("remind every 2 rows “x – y ‘z’”", "remind every 2 rows \"x – y ‘z’\""),
        ("note\u{a0}“x – y”", "note \"x – y\""),
    ] {
        assert_eq!(mended_in_a_piece(line), wanted);
    }
}

#[test]
fn a_unit_with_a_capital_is_mended() {
    for (slip, right) in [
        ("24 stitches and 34 Rows in 10 cm", "24 stitches and 34 rows in 10 cm"),
        ("24 Stitches and 34 rows in 10 Cm", "24 stitches and 34 rows in 10 cm"),
        ("24 (26) stitches and 34 (36) Rows in 10 cm", "24 (26) stitches and 34 (36) rows in 10 cm"),
    ] {
        let text = format!("gauge rib {{\n    {slip}\n}}\n");
        assert!(names(&checked(&text)).contains("capital-word"), "{:?}", names(&checked(&text)));
        assert_eq!(mend(&text, checked).text, text.replace(slip, right));
    }
}

/// Unicode Standard Annex 15 calls the two ways of writing such a letter canonically equivalent (from memory).
#[test]
fn a_letter_with_a_mark_is_one_letter_however_it_is_written() {
    let text = in_a_piece("row front knit").replacen("yarn slate", "yarn r\u{e5}g", 1).replacen(
        "thread slate",
        "thread ra\u{30a}g",
        1,
    );
    let found = checked(&text).findings;
    assert!(found.iter().all(|finding| finding.rule.name == "unused-name"), "{found:?}");
    let twice = "let r\u{e5}g = 1\nlet ra\u{30a}g = 2\n";
    assert!(names(&checked(twice)).contains("duplicate-name"), "{:?}", names(&checked(twice)));
}

/// Every character of the Basic Multilingual Plane, wherever it stands in a line: no edit of a fix lies over another,
/// and each is at a character of its own.
#[test]
fn every_character_can_be_mended() {
    let odd = || ('\u{80}'..='\u{ffff}').filter(|character| !matches!(character, '\u{85}' | '\u{2028}' | '\u{2029}'));
    for (before, after) in [("", ""), ("let a = ", "1)"), ("row front knit", " {"), ("sizes l\u{ff08}", "\u{ff09}")] {
        let text: String = odd().map(|character| format!("{before}{character}{after}\n")).collect();
        for finding in checked(&text).findings {
            let edits = finding.fix.iter().flat_map(|fix| &fix.edits);
            let mut end = 0;
            for edit in edits {
                assert!(end <= edit.span.start && text.is_char_boundary(edit.span.start as usize), "{finding:?}");
                assert!(text.is_char_boundary(edit.span.end as usize), "{finding:?}");
                end = edit.span.end;
            }
        }
    }
}

proptest::proptest! {
    /// Any text at all can be mended: nothing panics, and the second time there is nothing left to do.
    #[test]
    fn any_text_can_be_mended(
        words in proptest::collection::vec(
            "(row|rwo|front|Back|knitt|transfer|to|piece \"a\"|\\{|\\}|\\n|\\r\\n|\u{201c}|\u{a0}|\u{ff08}|é|rack 1 left|,| |\\PC){1}",
            0..40,
        ),
    ) {
        let text = words.join(" ");
        let once = mend(&text, checked);
        let twice = mend(&once.text, checked);
        proptest::prop_assert_eq!((twice.count, &twice.text), (0, &once.text));
    }
}

// ---- what is not read ------------------------------------------------------------------------------------------------

/// Beds of which a line could not be read may stand in any way, so what would mend their state waits.
#[test]
fn nothing_of_the_beds_is_mended_while_a_line_is_not_read() {
    for (line, instead) in [
        // Somebody's own words for a line that is there.
        ("    transfer front", "    set the gaiting to opposite\n    transfer front"),
        ("    row front knit, loosened 1\n", "    row front knit, loosened 1\n    pitch opposite please\n"),
    ] {
        let text = TRANSFER.replace('\t', "    ").replacen(line, instead, 1);
        assert!(text.contains(instead));
        let mended = mend(&text, checked);
        assert_eq!((mended.text.as_str(), mended.count), (text.as_str(), 0));
        let offered = |finding: &&Finding| finding.rule.name == "not-opposite";
        assert!(mended.checked.findings.iter().filter(offered).all(|finding| !finding.is_safely_mended()));
    }
    // Once the line is read the fix is safe again: both are mended one after the other.
    let slip = TRANSFER.replacen("\tthread slate", "\tthraed slate", 1);
    let mended = mend(&slip, checked);
    assert_eq!((mended.text, mended.count), (TRANSFER.replace("\ttransfer", "\tgaiting opposite\n\ttransfer"), 2));
}

//! The rules: their texts, their examples, and the gallery of everything that wale says.

mod carriage;
mod once;
mod pages;

use crate::common;
use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::path::Path;
use wale::Checked;
use wale::catalogue::{Rule, Severity};
use wale::clean;
use wale::finding::Finding;
use wale::play::{Manner, Watcher, play};
use wale::rules::{ALL, find};
use wale::source::{FileId, Library};
use wale::tell::rule::{self, RuleText};
use wale::tell::{Colour, terminal};

/// Rules without a bad example, and why. Each has a test of its own below.
const WITHOUT_EXAMPLE: [(&str, &str); 4] = [
    ("not-tidied", "nothing is tidied when a pattern is checked"),
    ("too-deep", "its shortest example is 65 blocks deep"),
    ("too-long-to-check", "its shortest example takes longer to play than anybody would wait"),
    ("too-many-findings", "its shortest example has 201 lines"),
];

/// The name that an example is checked under.
const NAME: &str = "breakwater.wale";

/// The folder in which the examples stand: the example itself, and a machine.
struct Folder<'t>(&'t str);

impl Library for Folder<'_> {
    fn read(&self, _from: &str, path: &str) -> Result<(String, String), String> {
        match path {
            NAME => Ok((NAME.to_owned(), self.0.to_owned())),
            "bollard-room.wale" => {
                Ok((path.to_owned(), include_str!("../../examples/machines/bollard-room.wale").to_owned()))
            }
            _ => Err(format!("there is no file `{path}`")),
        }
    }
}

fn checked(text: &str) -> Checked {
    wale::check(NAME, text, &Folder(text))
}

fn names(findings: &[Finding]) -> BTreeSet<&str> {
    findings.iter().map(|finding| finding.rule.name).collect()
}

fn with_examples() -> impl Iterator<Item = &'static Rule> {
    ALL.iter().copied().filter(|rule| !WITHOUT_EXAMPLE.iter().any(|(name, _)| *name == rule.name))
}

fn told(checked: &Checked) -> String {
    checked.findings.iter().map(|finding| terminal::text(&checked.sources, finding, Colour::Plain)).collect()
}

#[test]
fn a_bad_example_breaks_its_rule_and_no_other() {
    for rule in with_examples() {
        let checked = checked(&Rule::whole(rule.bad));
        let found = names(&checked.findings);
        assert!(found == BTreeSet::from([rule.name]), "`{}` brings {found:?}:\n{}", rule.name, told(&checked));
    }
}

#[test]
fn a_good_example_is_right() {
    for rule in with_examples() {
        let checked = checked(&Rule::whole(rule.good));
        assert!(checked.findings.is_empty(), "the good example of `{}`:\n{}", rule.name, told(&checked));
        assert_ne!(rule.bad, rule.good, "{}", rule.name);
    }
}

#[test]
#[expect(clippy::print_stdout, reason = "what is not tested by an example is said aloud")]
fn rules_without_an_example_are_known() {
    for (name, reason) in WITHOUT_EXAMPLE {
        let rule = find(name).expect("the rule is in the table");
        println!("{name} has no example: {reason}");
        assert_eq!((rule.bad, rule.good), ("", ""), "{name}");
    }
}

/// Everything in the examples that is found has a rule of the table and its severity.
#[test]
fn findings_are_as_severe_as_their_rules() {
    let pairs = with_examples().flat_map(|rule| [rule.bad, rule.good]).map(Rule::whole);
    let broken =
        ["row both knitt\n}\npiece \"Strap\" {\nrow front both", "in work front L3-R3\ncast on zigzg\nrow both knit"];
    for text in pairs.chain(broken.map(Rule::whole)) {
        for finding in checked(&text).findings {
            let Some(rule) = find(finding.rule.name) else { panic!("no rule is called `{}`", finding.rule.name) };
            assert_eq!(finding.rule.severity, rule.severity, "{}", rule.name);
        }
    }
}

#[test]
fn warnings_are_about_strain_looks_and_habit() {
    let warnings: Vec<&str> =
        ALL.iter().filter(|rule| rule.severity == Severity::Warning).map(|rule| rule.name).collect();
    insta::assert_snapshot!(
        warnings.join(" "),
        @"adjacent-tucks cast-on-racking-kept cast-on-size-kept circular-use edge-tuck eyelet-becomes-ladder far-bind-off far-move held-at-carriage-side held-transfer hold-left-on left-on-waste lone-edge long-float loose-transfer many-tucks needless-allow no-selector no-slant no-way-back nothing-to-do odd-last-needle racked-two-steps racking-strain size-left-changed slit-in-tube stitch-pile stretched-hold there-and-back tight-cross tight-transfer tubular-floats unsupported-tuck unused-name wide-cable yarn-not-at-this-side"
    );
}

// ---- texts --------------------------------------------------------------------------------------------------------

/// Words that only programmers use, in texts for knitters.
const PROGRAMMERS_WORDS: [&str; 16] = [
    "invalid",
    "illegal",
    "expected",
    "unexpected",
    "token",
    "parse",
    "parser",
    "identifier",
    "argument",
    "arguments",
    "parameter",
    "parameters",
    "expression",
    "null",
    "EOI",
    "boolean",
];

fn is_for_knitters(text: &str, of: &str) {
    for word in text.split(|letter: char| !letter.is_alphabetic()) {
        assert!(!PROGRAMMERS_WORDS.contains(&word), "{of}: `{word}` in \"{text}\"");
    }
    assert!(!text.contains("  "), "{of}: two blanks in \"{text}\"");
    let words: Vec<&str> = text.split(' ').collect();
    for pair in words.windows(2) {
        let many =
            ["needles", "stitches", "rows", "steps", "loops", "tucks", "pairs", "times", "marks", "values", "sizes"];
        let second = pair[1].trim_matches(|letter: char| !letter.is_alphabetic());
        assert!(pair[0] != "1" || !many.contains(&second), "{of}: \"1 {second}\" in \"{text}\"");
    }
}

#[test]
fn every_rule_says_what_why_and_where_from() {
    for rule in ALL.iter() {
        for sentence in [rule.summary, rule.why] {
            assert!(sentence.ends_with('.') && sentence.len() > 20, "{}: \"{sentence}\"", rule.name);
            assert!(!sentence.starts_with(char::is_lowercase), "{}: \"{sentence}\"", rule.name);
            is_for_knitters(sentence, rule.name);
        }
        assert!(!rule.source.is_empty() && !rule.source.ends_with('.'), "{}: \"{}\"", rule.name, rule.source);
        is_for_knitters(rule.source, rule.name);
        assert_ne!(rule.summary, rule.why, "{}", rule.name);
    }
}

#[test]
fn every_message_says_what_why_and_what_to_do() {
    for rule in with_examples() {
        for finding in checked(&Rule::whole(rule.bad)).findings {
            let what = &finding.what;
            assert!(!what.ends_with('.') && !what.starts_with(char::is_uppercase), "{}: \"{what}\"", rule.name);
            assert!(!finding.mend.is_empty(), "{} says nothing of what to do", rule.name);
            for sentences in [&finding.why, &finding.mend] {
                assert!(sentences.is_empty() || sentences.ends_with(['.', '?']), "{}: \"{sentences}\"", rule.name);
                assert!(!sentences.starts_with(char::is_lowercase) || sentences.starts_with(['f', 'b']), "{sentences}");
            }
            for text in [what, &finding.why, &finding.mend, &finding.at.text] {
                is_for_knitters(text, rule.name);
            }
        }
    }
}

#[test]
fn a_rule_explained() {
    let explained = |name| rule::text(&RuleText::from(find(name).expect("the rule is in the table")));
    insta::assert_snapshot!(explained("unplanned-loop"), @r#"
    unplanned-loop (error)
    An empty needle in work would catch the yarn and begin a stitch that nobody asked for.

    Why
      A needle that is empty but still in work takes the yarn when the carriage passes. One row later
      there is an extra stitch, and a hole below it; after a decrease the decrease is undone.

    Where the numbers come from
      D. J. Spencer, Knitting Technology, 3rd ed., 2001, section 15.2.1: an emptied needle first forms a
      tuck-like loop, and a stitch only at its second knitting

    To be mended
        in work front L3-R3
        thread slate
        cast on wound front
        row front knit, loosened 1
        move front L3 1 right, joining
        row front knit
        bind off front

    Mended
        in work front L3-R3
        thread slate
        cast on wound front
        row front knit, loosened 1
        move front L3 1 right, joining
        out of work front L3
        row front knit
        bind off front
    "#);
    insta::assert_snapshot!(explained("no-gauge"), @r#"
    no-gauge (error)
    A stitch is worked for a length, and no gauge says how many rows that is.

    Why
      The same stitch is longer or shorter in every yarn, at every stitch size and on every machine.
      Only a swatch, rested and washed as the piece will be, tells how many rows make the length.

    Where the numbers come from
      the swatch (`gauge`)

    To be mended
        stitch plain on front {
            row front knit
        }
        piece "Strap" {
            in work front L3-R3
            thread slate
            cast on wound front
            work plain for 40 cm
            bind off front
        }

    Mended
        gauge plain { 28 stitches and 40 rows in 10 cm, washed }
        stitch plain on front {
            row front knit
        }
        piece "Strap" {
            in work front L3-R3
            thread slate
            cast on wound front
            work plain for 40 cm
            bind off front
        }
    "#);
}

// ---- rules that no short example shows ------------------------------------------------------------------------------

#[test]
fn blocks_may_not_stand_inside_one_another_without_end() {
    let nested = |depth: usize| {
        Rule::whole(&format!("{}row front slip{}", "repeat 2 times {\n".repeat(depth), "\n}".repeat(depth)))
    };
    assert!(names(&checked(&nested(65)).findings).contains("too-deep"));
    assert!(!names(&checked(&nested(62)).findings).contains("too-deep"));
}

#[test]
fn only_so_many_findings_are_listed() {
    let lines = |count: usize| "rwo front knit\n".repeat(count);
    let found = checked(&lines(wale::syntax::MOST_FINDINGS + 5)).findings;
    assert_eq!(found.len(), wale::syntax::MOST_FINDINGS + 1);
    let last =
        found.iter().find(|finding| finding.rule.name == "too-many-findings").expect("it says that there are more");
    assert!(last.what.contains('5'), "{}", last.what);
    assert!(!names(&checked(&lines(wale::syntax::MOST_FINDINGS)).findings).contains("too-many-findings"));

    let played = |count: usize| {
        checked(&Rule::whole(&format!("{KNITTED}drop front\n{}", "drop front L3\n".repeat(count)))).findings
    };
    assert_eq!(names(&played(500)), BTreeSet::from(["nothing-to-do"]));
    let found = played(507);
    assert_eq!(found.len(), 501);
    let last =
        found.iter().find(|finding| finding.rule.name == "too-many-findings").expect("it says that there are more");
    assert!(last.what.contains('7'), "{}", last.what);
}

/// Comments are short, and deep in blocks their lines are not.
#[test]
fn a_text_that_would_become_too_long_is_not_tidied() {
    let nested = |lines: usize| {
        let depth = wale::syntax::DEEPEST_BLOCK;
        format!("{}{}{}", "section \"S\" {\n".repeat(depth), "#\n".repeat(lines), "}\n".repeat(depth))
    };
    let text = nested(270_000);
    let tidied = wale::syntax::tidy(FileId(0), &text);
    assert_eq!(names(&tidied.findings), BTreeSet::from(["not-tidied"]));
    assert_eq!(tidied.text, text);
    assert_eq!(Some(tidied.findings[0].rule.severity), find("not-tidied").map(|rule| rule.severity));
    assert!(tidied.findings[0].why.contains("4 MiB"), "{}", tidied.findings[0].why);
    assert_eq!(wale::syntax::tidy(FileId(0), &nested(1_000)).findings, []);
}

/// A program in another language, and a letter.
#[test]
fn what_is_no_pattern_is_not_tidied() {
    for text in [
        "def knit(rows):\n    for row in rows:\n        print(row)\n",
        "Dear Bollard Room,\n\n    yarn slate {}\n\n\n  Yours\n",
    ] {
        let tidied = wale::syntax::tidy(FileId(0), text);
        assert_eq!(names(&tidied.findings), BTreeSet::from(["not-tidied"]));
        assert_eq!(tidied.text, text);
        is_for_knitters(&tidied.findings[0].why, "not-tidied");
        is_for_knitters(&tidied.findings[0].mend, "not-tidied");
    }
    let half = "  yarn slate {}\n  yorn slate {}\n";
    assert_eq!(wale::syntax::tidy(FileId(0), half).text, "yarn slate {}\nyorn slate {}\n");
}

#[test]
fn a_piece_that_is_too_long_says_so_and_nothing_that_follows_from_it() {
    let checked = checked(&Rule::whole(
        "in work front L3-R3\nthread slate\ncast on wound front\nrepeat 50 times {\n    row front knit\n    row front slip on L1, knit elsewhere\n}\nbind off front",
    ));
    assert!(checked.findings.is_empty(), "{}", told(&checked));
    let piece = &checked.programs[0].pieces[0];
    let manner = Manner { skip: false, most_operations: 40, ..Manner::CHECK };
    let found = wale::rules::check_piece_in(piece, manner);
    assert_eq!(names(&found), BTreeSet::from(["too-long-to-check"]));
    assert!(found[0].why.contains("row 37"), "{}", found[0].why);
    assert_eq!(Some(found[0].rule.severity), find("too-long-to-check").map(|rule| rule.severity));
}

// ---- what can be allowed ------------------------------------------------------------------------

const KNITTED: &str = "in work front L3-R3, back L3-R3\nthread slate\ncast on wound front\n";

#[test]
fn only_rules_that_are_played_can_be_allowed() {
    let allow = |rule: &str| {
        let text = format!("{KNITTED}allow {rule} because \"a test\" {{\n    row front knit\n}}\nbind off front");
        checked(&Rule::whole(&text)).findings
    };
    assert_eq!(names(&allow("long-float")), BTreeSet::from(["needless-allow"]));
    let found = allow("unit-mismatch");
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].what, "`unit-mismatch` cannot be allowed");
    let found = allow("long-flaot");
    assert_eq!(found.len(), 1, "a rule that there is not is said once: {found:?}");
    assert!(found[0].mend.contains("`long-float`"), "{}", found[0].mend);
}

// ---- counting passes ------------------------------------------------------------------------------------------------

/// Sixteen needles of the front bed, the machine having a pitch of 5 mm.
const FRONT: &str = "in work front L8-R8\nthread slate\ncast on wound front\n";

/// Counting the passes of a repeat leaves the beds, the yarns and the findings as playing them does.
#[test]
fn a_repeat_counted_is_a_repeat_played() {
    let longer = [
        "rows 1000 front slip on R1, knit elsewhere\nrow front knit\nbind off front",
        "repeat 60 times {\n    hold front L8-L7\n    rows 2 front knit\n    release front\n    row front knit\n}\nbind off front",
        "repeat 50 times {\n    row front knit\n    free pass\n    row front knit\n    free pass\n}\nbind off front",
        "in work back L8-R8\nrow front knit\nrow both knit, new loops\nrepeat 80 times {\n    row both knit\n    rack 1 right\n    row front knit\n    rack 1 right\n    row front knit\n    rack 1 right\n    row front knit\n    rack to centre\n}\nrow both knit\nbind off both",
        "gaiting opposite\nin work back L8-R8\nrepeat 40 times {\n    row front knit, loosened 1\n    transfer front L4-L1 to back\n    rack 1 right\n    rack to centre\n    transfer back to front\n    row front knit\n}\nbind off front",
    ];
    let of_rules = with_examples().flat_map(|rule| [rule.bad, rule.good]).map(Rule::whole);
    let threads = "yarn foam {}\npiece \"Stripes\" {\n    in work front L3-R3\n    thread slate\n    cast on wound front\n    repeat 100 times {\n        thread foam\n        rows 2 front knit\n        thread slate\n        repeat 3 times {\n            row front knit\n        }\n    }\n    bind off front\n}";
    let longer = longer.map(|lines| Rule::whole(&format!("{FRONT}{lines}")));
    let mut pieces = 0;
    for text in of_rules.chain(longer).chain([Rule::whole(&format!("yarn slate {{}}\n{threads}"))]) {
        for piece in checked(&text).programs.iter().flat_map(|program| &program.pieces) {
            let found = wale::rules::check_piece_in(piece, Manner::CHECK);
            let one_by_one =
                wale::rules::check_piece_in(piece, Manner { from_memory: false, skip: false, ..Manner::CHECK });
            assert_eq!(found, one_by_one, "{text}");
            let (counted, played) = (play(piece, Manner::CHECK, &mut Nobody), play(piece, Manner::EVERY, &mut Nobody));
            assert_eq!(counted, played, "{text}");
            pieces += 1;
        }
    }
    assert!(pieces > 50, "the examples give pieces");
}

struct Nobody;
impl Watcher for Nobody {}

// ---- the gallery ----------------------------------------------------------------------------------------------------

fn indented(text: &str) -> String {
    text.lines().map(|line| format!("    {line}").trim_end().to_owned() + "\n").collect()
}

fn gallery() -> String {
    let mut text = String::from(
        "# What wale finds\n\nEvery rule with its bad example, and what `wale check` says of it. An example that is not a whole pattern is put\n\
         into a piece, so its first line is line 2. This page is made by a test from the rules; `wale explain RULE` tells\n\
         more of each.\n",
    );
    for rule in ALL.iter() {
        let _ = write!(text, "\n## {}\n\n{}\n", rule.name, rule.summary);
        match WITHOUT_EXAMPLE.iter().find(|(name, _)| *name == rule.name) {
            Some((_, reason)) => {
                let _ = write!(text, "\nNo example: {reason}.\n");
            }
            None => {
                let checked = checked(&Rule::whole(rule.bad));
                let _ = write!(
                    text,
                    "\n{}\nwale says:\n\n{}",
                    indented(&clean::block(rule.bad)),
                    indented(told(&checked).trim_end())
                );
            }
        }
    }
    text
}

#[test]
fn the_gallery_is_up_to_date() {
    common::kept(&Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/findings.md"), &gallery());
}

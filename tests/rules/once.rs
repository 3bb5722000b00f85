//! What is said once, and what follows from it.

use super::{KNITTED, checked, names};
use std::collections::BTreeSet;
use wale::catalogue::Rule;
use wale::finding::Finding;
use wale::rules::find;

#[test]
fn the_later_passes_of_an_open_repeat_are_not_judged() {
    let repeat = "gaiting opposite\nrepeat 2 times {\n    row front knit, loosened 1\n    transfer front to back\n}\nbind off back";
    let found = checked(&Rule::whole(&format!("{KNITTED}{repeat}"))).findings;
    assert_eq!(names(&found), BTreeSet::from(["open-repeat"]));
    let allowed = format!("{KNITTED}allow open-repeat because \"a test\" {{\n{repeat}\n}}");
    let found = checked(&Rule::whole(&allowed)).findings;
    assert_eq!(names(&found), BTreeSet::from(["unplanned-loop"]));
}

#[test]
fn what_a_setting_causes_is_said_once_until_it_is_made_anew() {
    let found = |lines: &str| {
        let checked = checked(&Rule::whole(&format!("in work front L3-R3, back L3-R3\n{lines}")));
        let line = |finding: &Finding| checked.sources.position(finding.at.span).line - 2;
        checked.findings.iter().map(|finding| (line(finding), finding.rule.name)).collect::<Vec<_>>()
    };
    let yarn = "cast on wound front\nrow front knit\nrow front knit\nthread slate\nrow front knit\nbind off front";
    assert_eq!(found(yarn), [(1, "no-yarn")]);
    let facing = "thread slate\ncast on wound front, back\ngaiting opposite\nrow both knit\nrow both knit\n";
    assert_eq!(found(&format!("{facing}bind off both")), [(4, "facing-needles")]);
    let again = "gaiting between\nrow both knit\ngaiting opposite\nrow both knit\nbind off both";
    assert_eq!(found(&format!("{facing}{again}")), [(4, "facing-needles"), (9, "facing-needles")]);
    let allowed = "allow facing-needles because \"a test\" {\nrow both knit\n}\nbind off both";
    assert_eq!(found(&format!("{facing}{allowed}")), [(4, "facing-needles")]);
    let idle = "thread slate\nout of work front\nout of work back\ncast on wound front\nrow front knit\nbind off front";
    assert_eq!(found(idle), [(4, "no-needle-found")]);
}

#[test]
fn a_mistake_that_differs_from_size_to_size_only_in_its_numbers_is_said_once() {
    let sized = |work: &str| {
        checked(&Rule::whole(&format!(
            "sizes small, large\npiece \"Example\" {{\n    {work}\n    thread slate\n    cast on wound both\n    \
             row both knit, loosened 1\n    gaiting opposite\n    transfer back to front, joining\n    bind off front\n}}"
        )))
        .findings
    };
    let found = sized("in work front L5 (7)-R5 (7), back L5 (7)-R6 (8)");
    assert_eq!(found.iter().map(|finding| finding.rule.name).collect::<Vec<_>>(), ["lost-stitch"]);
    assert!(found[0].what.contains("R6") && found[0].sizes.is_empty(), "{:?}", found[0]);
    assert!(found[0].why.ends_with("In size `large` it is the same, with other numbers."), "{}", found[0].why);
    let three = checked(&Rule::whole(
        "sizes small, medium, large\npiece \"Example\" {\n    in work front L5 (6, 7)-R5 (6, 7), back L5 (6, 7)-R6 (7, 8)\n    \
         thread slate\n    cast on wound both\n    row both knit, loosened 1\n    gaiting opposite\n    \
         transfer back to front, joining\n    bind off front\n}",
    ));
    let why = &three.findings[0].why;
    assert!(why.ends_with("In sizes `medium` and `large` it is the same, with other numbers."), "{why}");
    assert_eq!(why.matches("it is the same").count(), 1, "{why}");
    let found = sized("in work front L5 (7)-R5 (7), back L5 (7)-R6 (7)");
    assert_eq!(found.iter().map(|finding| finding.sizes.clone()).collect::<Vec<_>>(), [["small"]]);
}

#[test]
fn what_one_mistake_brings_with_it_is_not_said_as_well() {
    let found = |text: &str| {
        let checked = checked(&Rule::whole(text));
        let line = |finding: &Finding| checked.sources.position(finding.at.span).line;
        checked.findings.iter().map(|finding| (line(finding), finding.rule.name)).collect::<Vec<_>>()
    };
    let piece = |lines: &str| {
        format!(
            "piece \"Example\" {{\nin work front L5-R5, back L5-R5\nthread slate\ncast on zigzag\n{lines}\nbind off both\n}}"
        )
    };
    // A bed that never knits: the tucks pile up in both rows, and the edges are of the same making.
    let tucks = "section \"Tucks\" {\nrow front tuck, back knit\nrow front tuck, back knit\nrow front tuck, back knit\nrow front tuck, back knit\nrow front tuck, back knit\nrow front tuck, back knit\n}\n";
    let piles = |found: &[(u32, &str)]| found.iter().filter(|(_, rule)| *rule == "tuck-pile").count();
    assert_eq!(piles(&found(&piece(tucks))), 1);
    assert_eq!(piles(&found(&piece(&format!("{tucks}row both knit\n{tucks}")))), 2);
    // A racking that is not taken back is found where it ends; the tucks of the passes before it lean with it.
    let drift = "repeat 12 times {\nrow front knit, back tuck\nrack 1 right\nrow both knit\n}";
    assert_eq!(found(&piece(drift)), [(7, "racking-range")]);
    // A definition that works on the wrong bed says so itself.
    let stitch = "stitch slub on front {\nrow back knit\nrow front knit\n}\n";
    let work = "piece \"Example\" {\nin work front L5-R5\nthread slate\ncast on wound front\nwork slub 3 times\nbind off front\n}";
    assert_eq!(found(&format!("{stitch}{work}")), [(2, "wrong-bed")]);
    // Only what comes of it: what is wrong before it, and in other places, is told.
    let before = work.replacen("work slub", "row front knit\nout of work front L5\nwork slub", 1);
    assert_eq!(found(&format!("{stitch}{before}")), [(2, "wrong-bed"), (10, "lost-stitch")]);
    let below = format!("{work}\n{}", stitch.replace("slub", "other")).replacen(
        "work slub 3 times",
        "row front knit\nout of work front L5\nwork other",
        1,
    );
    assert_eq!(found(&below), [(6, "lost-stitch"), (11, "wrong-bed")]);
    // What is allowed need not come up in a piece that has gone wrong before, or of which a row is unknown.
    let allow = |line: &str| {
        piece(&format!("row both knit\n{line}\nallow long-float because \"a test\" {{\nrow both knit\n}}"))
    };
    assert_eq!(found(&allow("note \"All is well.\"")), [(7, "needless-allow")]);
    assert_eq!(found(&allow("out of work front L5")), [(6, "lost-stitch")]);
    assert_eq!(found(&allow("rwo both knit")), [(6, "misspelt-word")]);
    // A yarn that is declared on a line that cannot be read is not unknown as well; another one is.
    let quoted = "yarn \"foam\" {}\nyarn slate {}\n";
    assert_eq!(found(&format!("{quoted}{}", piece("thread foam\nrow both knit"))), [(1, "unreadable-line")]);
    let other = [(1, "unreadable-line"), (7, "unknown-name")];
    assert_eq!(found(&format!("{quoted}{}", piece("thread grey\nrow both knit"))), other);
    // A name that nothing has is told once, and where else it stands.
    let text = piece(
        "thread grey\nrow both knit\nthread slate\nrow both knit\nthread grey\nrow front knit on ends, slip elsewhere",
    );
    assert_eq!(found(&text), [(5, "unknown-name"), (10, "unknown-name")]);
    let grey = &checked(&Rule::whole(&text)).findings[0];
    assert_eq!((grey.also.len(), grey.why.as_str()), (1, "The same stands in 2 places."));
    // Values for sizes, and no sizes.
    let values = "let a = 3 (4)\nlet b = 5 (6) cm\n";
    assert_eq!(found(&format!("{values}{}", piece("row both knit"))), [(1, "wrong-count-of-sizes")]);
}

#[test]
fn a_habit_is_told_once_and_mended_everywhere() {
    let there_and_back = "gaiting opposite\ntransfer front to back\nrow back knit\ntransfer back to front\n";
    let text = Rule::whole(&format!(
        "{KNITTED}row front knit\n{there_and_back}row front knit, loosened 1\n{there_and_back}bind off front"
    ));
    let found = checked(&text).findings;
    let [habit] = &found[..] else { panic!("{found:?}") };
    assert_eq!(habit.rule.name, "tight-transfer");
    assert!(habit.why.ends_with("The same stands in 3 places."), "{}", habit.why);
    assert_eq!(habit.also.iter().filter(|label| label.text == "here too").count(), 2);
    // Each transfer has a row of its own to be loosened; the first front row is ordinary too.
    let Some(fix) = &habit.fix else { panic!("the rows can be loosened") };
    assert_eq!((fix.edits.len(), fix.safe), (3, false));
    let mut mended = text.clone();
    for edit in fix.edits.iter().rev() {
        mended.replace_range(edit.span.range(), &edit.text);
    }
    assert_eq!(checked(&mended).findings, []);
    // Another number of stitches is told by itself.
    let fewer = text.replacen("row back knit\n", "row back knit\ndrop back L3\n", 1);
    let tight = |text: &str| checked(text).findings.iter().filter(|found| found.rule.name == "tight-transfer").count();
    assert_eq!((tight(&text), tight(&fewer)), (1, 2));
}

/// A row of a repeat would be loosened in each of its passes, and one that has a size has it already.
#[test]
fn only_a_row_by_itself_is_offered_to_be_loosened() {
    let offered = |row: &str| {
        let text = format!("{KNITTED}row front knit\n{row}\ngaiting opposite\ntransfer front to back\nbind off back");
        let found = checked(&Rule::whole(&text)).findings;
        assert_eq!(names(&found), BTreeSet::from(["tight-transfer"]), "{row}");
        found[0].fix.is_some()
    };
    assert!(offered("row front knit"));
    assert!(!offered("repeat 2 times {\nrow front knit\n}"));
    assert!(!offered("stitch size 5\nrow front knit, size 4"));
}

#[test]
fn needles_that_strike_each_other_are_mended_as_they_came_to_do_so() {
    let advice = |row: &str| {
        let found = checked(&Rule::whole(&format!(
            "in work front L4-R4, back L4-R4\nthread slate\ncast on zigzag\nrow both knit, loosened 1\n\
             gaiting opposite\ntransfer back L2-R2 to front, joining\n{row}\nbind off both"
        )))
        .findings;
        assert_eq!(names(&found), BTreeSet::from(["facing-needles"]), "{row}");
        found[0].mend.clone()
    };
    // What a transfer emptied and still works, in each pair; but not if one pair carries stitches on both beds.
    let empty = advice("row both knit on L2-R2");
    assert!(
        empty.contains("write `out of work back L2-R2` before the row, or write `emptied go out of work`"),
        "{empty}"
    );
    let mixed = advice("row both knit on L3-R2");
    assert!(mixed.contains("only one needle of each pair") && !mixed.contains("out of work"), "{mixed}");
}

#[test]
fn a_name_that_is_not_used_is_told_in_a_whole_pattern() {
    let whole = find("unused-name").expect("it is a rule").bad;
    let rules =
        |text: &str| checked(&Rule::whole(text)).findings.iter().map(|found| found.rule.name).collect::<Vec<_>>();
    assert_eq!(rules(whole), ["unused-name"]);
    assert_eq!(rules(&whole.replacen("pattern \"Cuff\"\n", "", 1)), [""; 0]);
    assert_eq!(rules(&format!("let a = 3\nlet b = a\n{whole}")), ["unused-name", "unused-name"]);
    // Where a line could not be read, or names something that is not there, that is all there is to say.
    assert_eq!(rules(&whole.replacen("row front knit", "rwo front knit", 1)), ["misspelt-word"]);
    assert_eq!(rules(&whole.replacen("thread slate", "thread embr", 1)), ["unknown-name"]);
}

/// Before the first loop one forgotten line is the reason for all that find nothing; what else is wrong is told of each.
#[test]
fn what_finds_nothing_before_the_first_loop_is_told_once() {
    let found = |lines: &str| {
        let text =
            format!("in work front L3-R3\nthread slate\n{lines}\ncast on wound front\nrow front knit\nbind off front");
        checked(&Rule::whole(&text)).findings.iter().map(|finding| finding.rule.name).collect::<Vec<_>>()
    };
    assert_eq!(found("release front\nrelease back"), ["nothing-to-do"]);
    assert_eq!(found("stitch size 12\nstitch size 13\nstitch size 5"), ["size-range"; 2]);
    let later = "cast on wound front L3\nrelease front\nrelease back\nbind off front L3";
    assert_eq!(found(later), ["nothing-to-do"; 2]);
}

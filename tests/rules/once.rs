//! What is said once, where the page of it (`once.md`) cannot show that: in several sizes, in a fix, and in more uses than
//! can be looked at.

use super::{KNITTED, checked};
use wale::catalogue::Rule;

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

/// Twenty stitches that each work the one before twice are a million uses, and one look at each is enough.
#[test]
fn the_end_of_a_piece_is_looked_for_once_in_each_stitch() {
    let stitches: String = (1..40).fold("stitch s-a on front {\nrow front knit\n}\n".to_owned(), |all, number| {
        let name =
            |number: u32| format!("s-{}", "abcdefghijklmnopqrstuvwxyz".repeat(2).split_at(number as usize + 1).0);
        format!(
            "{all}stitch {} on front {{\nwork {before}\nwork {before}\n}}\n",
            name(number),
            before = name(number - 1)
        )
    });
    let piece = "piece \"Long\" {\nin work front L3-R3\nthread slate\ncast on wound front\nout of work front L3\nwork STITCH\n}";
    let last = format!("s-{}", "abcdefghijklmnopqrstuvwxyz".repeat(2).split_at(40).0);
    let found = checked(&Rule::whole(&format!("{stitches}{}", piece.replace("STITCH", &last)))).findings;
    assert_eq!(found.iter().map(|found| found.rule.name).collect::<Vec<_>>(), ["lost-stitch", "left-on-needles"]);
}

//! What follows from an earlier finding and is not said, and what does not follow from it and is said beside it.

use super::checked;
use wale::catalogue::Rule;
use wale::finding::Finding;

/// The lines of these statements, from 1, on which something is found in a piece with needles on both beds, and the
/// rules.
fn found(lines: &str) -> Vec<(u32, &'static str)> {
    let checked = checked(&Rule::whole(&format!("in work front L3-R3, back L3-R3\n{lines}")));
    let line = |finding: &Finding| checked.sources.position(finding.at.span).line - 2;
    checked.findings.iter().map(|finding| (line(finding), finding.rule.name)).collect()
}

const CAST_ON: &str = "thread slate\ncast on wound front\nrow front knit\n";
/// A stitch falls off here, in line 4.
const LOST: (u32, &str) = (4, "lost-stitch");

#[test]
fn a_promise_follows_only_from_what_changes_its_subject() {
    let after = |mistake: &str, promise: &str| found(&format!("{CAST_ON}{mistake}\nexpect {promise}\nbind off front"));
    let lost = "out of work front L3";
    assert_eq!(after(lost, "6 stitches front"), [LOST]);
    assert_eq!(after(lost, "counter 9"), [LOST, (5, "count-mismatch")]);
    assert_eq!(after(lost, "gaiting opposite"), [LOST, (5, "count-mismatch")]);
    assert_eq!(after(lost, "carriage left"), [LOST, (5, "wrong-side")]);
    // A racking that goes wrong moves no stitch and makes no row.
    let racked = "rack 9 left";
    let range = (4, "racking-range");
    assert_eq!(after(racked, "racking 9 left"), [range]);
    assert_eq!(after(racked, "5 stitches front"), [range, (5, "count-mismatch")]);
    assert_eq!(after(racked, "counter 9"), [range, (5, "count-mismatch")]);
    // A row too few is a counter and a side, but neither a stitch nor a setting.
    let counter = "expect counter 2";
    let first = (4, "count-mismatch");
    assert_eq!(after(counter, "counter 3"), [first]);
    assert_eq!(after(counter, "carriage left"), [first]);
    assert_eq!(after(counter, "5 stitches front"), [first, (5, "count-mismatch")]);
    assert_eq!(after("expect carriage left", "counter 2"), [(4, "wrong-side")]);
    assert_eq!(after("expect carriage left", "5 stitches front"), [(4, "wrong-side"), (5, "count-mismatch")]);
    // Stitches, gaiting and racking each follow from their own.
    for (own, other) in [
        ("5 stitches front", "racking 1 left"),
        ("gaiting opposite", "5 stitches front"),
        ("racking 1 left", "gaiting opposite"),
    ] {
        assert_eq!(after(&format!("expect {own}"), own), [first], "{own}");
        assert_eq!(after(&format!("expect {own}"), other), [first, (5, "count-mismatch")], "{own}, {other}");
    }
    // A transfer at the wrong gaiting.
    let transfer = "transfer front to back\nexpect gaiting opposite\nexpect counter 9\nbind off back";
    let found = found(&format!("thread slate\ncast on wound front\n{transfer}"));
    assert_eq!(found, [(3, "not-opposite"), (5, "count-mismatch")]);
}

#[test]
fn a_row_that_cannot_be_read_changes_the_counter_and_no_setting() {
    let after = |promise: &str| found(&format!("{CAST_ON}rwo front knit\nexpect {promise}\nbind off front"));
    for promise in ["counter 9", "carriage left", "5 stitches front"] {
        assert_eq!(after(promise), [(4, "misspelt-word")], "{promise}");
    }
    for promise in ["gaiting opposite", "racking 1 left"] {
        assert_eq!(after(promise), [(4, "misspelt-word"), (5, "count-mismatch")], "{promise}");
    }
}

#[test]
fn a_forgotten_cast_on_was_a_row_as_well() {
    let rows = "thread slate\nrows 2 both knit\nexpect counter 3, carriage right\nbind off both";
    assert_eq!(found(rows), [(2, "unplanned-loop")]);
    assert_eq!(found(&rows.replace("rows", "cast on zigzag\nrows")), []);
    // An empty needle later is something else.
    let later = format!("{CAST_ON}row both knit\nexpect counter 3\nbind off both");
    assert_eq!(found(&later), [(4, "unplanned-loop"), (5, "count-mismatch")]);
}

#[test]
fn a_missing_yarn_is_all_that_is_told_of_it_and_hides_nothing() {
    let bare = "cast on wound front\nrows 2 front knit\nout of work front L3\nbind off front";
    assert_eq!(found(bare), [(1, "no-yarn"), (3, "lost-stitch")]);
}

#[test]
fn a_forgotten_end_is_told_whatever_went_wrong_before() {
    let lost = format!("{CAST_ON}out of work front L3");
    assert_eq!(found(&lost), [LOST, (5, "left-on-needles")]);
    // Where stitches are taken off somewhere, what is left may follow from what went wrong.
    for end in ["bind off back", "onto waste yarn front L2", "drop front L2"] {
        let allowed = format!("allow no-needle-found because \"a test\" {{\n{end}\n}}");
        assert_eq!(found(&format!("{lost}\n{allowed}")), [LOST], "{end}");
    }
    let in_a_section = format!("{lost}\nsection \"End\" {{\nrepeat 2 times {{\nbind off front L2\n}}\n}}");
    assert!(!found(&in_a_section).iter().any(|(_, rule)| *rule == "left-on-needles"));
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

#[test]
fn what_is_cast_on_anew_has_nothing_to_do_with_what_went_wrong_before() {
    let lost = format!("{CAST_ON}out of work front L3\n");
    let anew = "cast on wound front L2-R3\nrow front knit\nout of work front R3\nbind off front";
    for end in ["bind off front", "drop front", "onto waste yarn front"] {
        assert_eq!(found(&format!("{lost}{end}\n{anew}")), [LOST, (8, "lost-stitch")], "{end}");
    }
    let promises = "expect 5 stitches front\nbind off front\ncast on wound front\nexpect 4 stitches front";
    assert_eq!(found(&format!("{CAST_ON}{promises}\nbind off front")), [(4, "count-mismatch"), (7, "count-mismatch")]);
    // Loops that come back from waste yarn are the same fabric.
    let back = "onto waste yarn front\npick up front L2-R3 from waste yarn\nout of work front R3\nbind off front";
    assert_eq!(found(&format!("{lost}{back}")), [LOST]);
    // Not where some loops stay, and not at the end of the piece.
    assert_eq!(found(&format!("{lost}bind off front L2-L1\nout of work front R3\nbind off front")), [LOST]);
    assert_eq!(found(&format!("{lost}row front knit\nhold front R3\nbind off front")), [LOST]);
    // A second bind-off has nothing to bind off because of what was lost, until something is cast on.
    assert_eq!(found(&format!("{lost}bind off front\nbind off front")), [LOST]);
    // Nor for what was lost as a whole: nothing has ended there.
    assert_eq!(found(&format!("{CAST_ON}out of work front\nrow front knit\nbind off front")), [LOST]);
}

#[test]
fn what_follows_from_a_cast_on_or_bind_off_that_finds_no_needle_is_not_said_as_well() {
    let one_bed = |lines: &str| {
        let checked = checked(&Rule::whole(&format!("in work front L3-R3\nthread slate\n{lines}")));
        checked.findings.iter().map(|finding| (finding.rule.name, finding.what.clone())).collect::<Vec<_>>()
    };
    let alone = |lines: &str, what: &str| {
        let found = one_bed(lines);
        assert!(matches!(&found[..], [("no-needle-found", told)] if told.contains(what)), "{lines}: {found:?}");
    };
    alone("cast on wound back\nrow front knit\nexpect 6 stitches front\nbind off front", "this cast-on");
    alone("cast on open back L3-R3\nrow front knit\nbind off front", "this cast-on");
    let line = "Write before this line: `in work back L3-R3`";
    let bare = checked(&Rule::whole("in work front L3-R3\nthread slate\ncast on open back L3-R3"));
    assert!(bare.findings[0].mend.starts_with(line), "{:?}", bare.findings[0]);
    alone("cast on wound front\nrow front knit\nbind off back", "this bind-off");
    alone("cast on wound front\nrow front knit\nbind off front R9", "this bind-off");
    // Needles that are held are to be released, not to be brought into work.
    let held = checked(&Rule::whole(
        "in work front L3-R3\nthread slate\nhold front\ncast on open front L3-R3\nbind off front",
    ));
    assert_eq!(held.findings.len(), 1);
    assert!(
        held.findings[0].mend.starts_with("Write before this line: `release front L3-R3`"),
        "{:?}",
        held.findings[0]
    );
    // Where some needles are found, and where nothing else is wrong than that, it is as it was.
    assert_eq!(
        one_bed("cast on wound front\nrow front knit\nbind off front L3-R4").first().map(|found| found.0),
        Some("nothing-to-do")
    );
    let other = one_bed("cast on wound front\nrow front knit\nexpect counter 2\nbind off back");
    assert_eq!(other.iter().map(|found| found.0).collect::<Vec<_>>(), ["count-mismatch", "no-needle-found"]);
    assert_eq!(one_bed("cast on wound front\nrow front knit\nbind off front\ndrop front")[0].0, "nothing-to-do");
}

/// A warning may be lived with, so it must not hide another one at other needles or of another kind.
#[test]
fn a_warning_hides_what_comes_of_it_and_no_more() {
    let piece = |lines: &str| {
        let lines = format!(
            "in work front L20-R20\nthread slate\ncast on wound front\nrows 2 front knit\n{lines}\nbind off front"
        );
        let checked = checked(&Rule::whole(&lines));
        let line = |finding: &Finding| checked.sources.position(finding.at.span).line - 5;
        checked.findings.iter().map(|finding| (line(finding), finding.rule.name)).collect::<Vec<_>>()
    };
    // A line that does nothing to needles leaves the rows as they are.
    let float = "row front slip on L5-R5, knit elsewhere\nrow front knit";
    assert_eq!(piece(&format!("release front\n{float}")), [(1, "nothing-to-do"), (2, "long-float")]);
    // The yarn that lies across held needles runs to them when they are released; the next hold is another.
    let hold = |needles: &str| format!("hold front {needles}\nrows 2 front knit\nrelease front\nrows 2 front knit\n");
    assert_eq!(piece(&hold("L20-L15")), [(2, "held-at-carriage-side")]);
    assert_eq!(
        piece(&format!("{}{}{float}", hold("L20-L15"), hold("L20-L11"))),
        [(2, "held-at-carriage-side"), (6, "held-at-carriage-side"), (9, "long-float")]
    );
    // A stitch that waits is told once in a section, however many lines it waits.
    let waits = |needle: &str| {
        let row = format!("rows 12 front slip on {needle}, knit elsewhere\n");
        format!("section \"Ridge\" {{\n{row}row front slip on {needle}, knit elsewhere\nrow front knit\n}}\n")
    };
    assert_eq!(piece(&waits("L10")), [(2, "stretched-hold")]);
    assert_eq!(piece(&(waits("L10") + &waits("R10"))), [(2, "stretched-hold"), (7, "stretched-hold")]);
}

/// Loops that were pulled too far one way are told once until the beds are racked again.
#[test]
fn a_strain_is_told_again_when_the_beds_are_racked_again() {
    let away = |bed: &str, way: &str, back: &str| {
        let rows = |way: &str| format!("repeat 3 times {{\nrack 1 {way}\nrow {bed} knit\n}}\n");
        rows(way) + &rows(back) + "rows 10 both knit\n"
    };
    let start = "thread slate\ncast on zigzag\n";
    let one = found(&format!("{start}{}bind off both", away("front", "right", "left")));
    assert_eq!(one, [(4, "racking-strain")]);
    let two =
        found(&format!("{start}{}{}bind off both", away("front", "right", "left"), away("back", "left", "right")));
    assert_eq!(two, [(4, "racking-strain"), (13, "racking-strain")]);
}

/// What is remembered of a repeat is by what stood when it began: a fabric that was taken off is not one that fell off.
#[test]
fn a_repeat_after_a_fabric_was_taken_off_is_judged_anew() {
    let lost = format!("{CAST_ON}out of work front\nin work front L3-R3\n");
    let anew = "cast on wound front\nexpect 5 stitches front\nrows 2 front knit\nbind off front";
    // Nothing has ended before the first pass; after it the first fabric is gone.
    assert_eq!(found(&format!("{lost}repeat 1 times {{\nsection \"One\" {{\n{anew}\n}}\n}}")), [LOST]);
    let nested = format!("{lost}repeat 3 times {{\nthread slate\nrepeat 1 times {{\n{anew}\n}}\n}}");
    assert_eq!(found(&nested), [LOST, (10, "count-mismatch")]);
}

#[test]
fn a_mistake_that_is_made_twice_is_still_one_when_a_repeat_begins() {
    // No needle is free at the left: both lines are refused, and the beds stay as they were.
    let machine = "machine small {\nneedles 6 each side\n}\n";
    let calm = "stitch calm on front {\nrepeat 2 times {\nrows 2 front knit\n}\n}\n";
    let lines = "in work front L6-R3\nthread slate\ncast on wound front\nrows 2 front knit\nin work back R1\nout of work back R1\nwork calm\nincrease front 1 at left\n\
                 increase front 1 at left\nwork calm\nrow back knit\nbind off front";
    let checked = checked(&Rule::whole(&format!("{machine}{calm}piece \"Strap\" {{\n{lines}\n}}")));
    let rules: Vec<&str> = checked.findings.iter().map(|finding| finding.rule.name).collect();
    assert_eq!(rules, ["off-bed", "off-bed"]);
}

#[test]
fn what_stands_until_it_is_set_anew_stands_beyond_its_section() {
    let sections = "section \"One\" {\ncast on wound front\nrow front knit\n}\nrows 2 front knit\nbind off front";
    assert_eq!(found(sections), [(2, "no-yarn")]);
}

#[test]
fn a_promise_that_failed_before_hides_no_more_and_no_less() {
    let both = "expect 5 stitches front\nout of work front L3\nrow back knit\nbind off front";
    assert_eq!(found(&format!("{CAST_ON}{both}")), [(4, "count-mismatch"), (5, "lost-stitch")]);
}

#[test]
fn a_row_that_knits_nothing_loosens_nothing() {
    let transfer = "gaiting opposite\ntransfer front to back\nbind off back";
    // The loosened row names the wrong bed; that the stitches are tight is the same mistake.
    let idle = "out of work back\nrow back knit, loosened 2\nin work back L3-R3";
    assert_eq!(found(&format!("{CAST_ON}{idle}\n{transfer}")), [(5, "nothing-to-do")]);
    assert_eq!(found(&format!("{CAST_ON}{transfer}")), [(5, "tight-transfer")]);
    // A line about needles that does nothing has nothing to do with it.
    assert_eq!(found(&format!("{CAST_ON}release front\n{transfer}")), [(4, "nothing-to-do"), (6, "tight-transfer")]);
}

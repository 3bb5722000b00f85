//! Which needles are neighbours: those that follow each other in the yarn's path, whatever their numbers, and the ends of
//! the beds where they stand now.

use super::edges::FRONT;
use super::{checked, told};
use wale::rules::Rule;

/// Every second of nine needles of the front bed: L9, L7, L5, L3, L1, R2, R4, R6, R8.
const EVERY_SECOND: &str = "in work front every 2 over L9-R9\nthread slate\ncast on wound front\n";

/// A rib over all needles.
const RIB: &str = "in work front L10-R10, back L10-R9\nthread slate\ncast on zigzag\n";

/// A rib whose front bed begins two needles outside the back bed and ends three outside it.
const INSIDE: &str = "in work front L10-R10, back L8-R7\nthread slate\ncast on wound front\ncast on wound back\n";

/// What is found in a piece: the rule of each finding with what it says.
fn found(lines: &str) -> Vec<(&'static str, String)> {
    checked(&Rule::whole(lines)).findings.into_iter().map(|finding| (finding.rule, finding.what)).collect()
}

/// The findings of a piece are just those rules.
#[track_caller]
fn finds(lines: &str, rules: &[&str]) {
    let checked = checked(&Rule::whole(lines));
    let named: Vec<&str> = checked.findings.iter().map(|finding| finding.rule).collect();
    assert_eq!(named, rules, "{lines}\n{}", told(&checked));
}

#[test]
fn empties_with_only_idle_needles_between_them_share_a_loop() {
    let end = "row front knit, new loops\nrow front knit\nbind off front";
    // L4 is out of work.
    let both = "rows 3 front knit\nrow front knit, loosened 1\nmove front L5 2 left, joining\nmove front L3 2 right, joining\n";
    finds(&format!("{EVERY_SECOND}{both}{end}"), &["adjacent-empties"]);
    assert!(found(&format!("{EVERY_SECOND}{both}{end}"))[0].1.contains("front L5, L3"));
    let one = "rows 3 front knit\nrow front knit, loosened 1\nmove front L5 2 left, joining\n";
    finds(&format!("{EVERY_SECOND}{one}{end}"), &[]);
    // A stitch between them, at L5, ties the yarn down.
    let apart = "rows 3 front knit\nrow front knit, loosened 1\nmove front L7 2 left, joining\nmove front L3 2 right, joining\n";
    finds(&format!("{EVERY_SECOND}{apart}{end}"), &[]);

    // L2 slips or knits.
    let emptied = "row front knit, loosened 1\nmove front L3 1 left, joining\nmove front L1 1 right, joining\n";
    let slips = "row front slip on L2, knit elsewhere, new loops\nrow front knit\nbind off front";
    finds(&format!("{FRONT}{emptied}{slips}"), &["adjacent-empties"]);
    finds(&format!("{FRONT}{emptied}{end}"), &[]);
    // The back bed knits between them.
    let back =
        "rows 3 both knit\nrow both knit, loosened 1\nmove front L3 1 left, joining\nmove front L1 1 right, joining\n";
    let row = "row front slip on L2, knit elsewhere, back knit, new loops\nrow both knit\nbind off both";
    finds(&format!("{RIB}{back}{row}"), &[]);
}

#[test]
fn the_neighbours_of_a_stitch_that_waits_may_stand_farther_off() {
    let waits = |rows: u32, needles: &str| {
        let row = format!("rows {rows} front slip on {needles}, knit elsewhere\nrow front knit\nbind off front");
        format!("{EVERY_SECOND}rows 2 front knit\n{row}")
    };
    finds(&waits(9, "L3"), &["stretched-hold"]);
    finds(&waits(8, "L3"), &[]);
    // Two of them wait together; then two with a needle between them that knits.
    finds(&waits(20, "L3 or L5"), &["long-float"]);
    finds(&waits(9, "L3 or L7"), &["stretched-hold"]);
    assert!(found(&waits(9, "L3 or L7"))[0].1.contains("front L7, L3 waits"));
    // At the end of the bed there is one neighbour only.
    finds(&waits(20, "L9"), &[]);
}

#[test]
fn a_tuck_of_the_other_bed_supports_none() {
    let piece = |row: &str| format!("{RIB}rows 2 both knit\nrow {row}\nrow both knit\nbind off both");
    // Between front L3 and the knitting front L4 the back bed tucks.
    let between = piece("front tuck on L3-L2, knit elsewhere, back tuck");
    finds(&between, &["unsupported-tuck"]);
    assert!(found(&between)[0].1.contains("front L3-L2 and back L3 tuck"), "{:?}", found(&between));
    // One tuck on the front bed leaves each back tuck a front needle that knits, and it has none itself.
    assert!(found(&piece("front tuck on L3, knit elsewhere, back tuck"))[0].1.contains("front L3 tucks"));
    finds(&piece("front knit, back tuck"), &[]);
    finds(&piece("front tuck on L3-L2, knit elsewhere, back knit"), &[]);
    // Where the back bed slips, the front needles are next to each other.
    finds(&piece("front tuck on L3-L2, knit elsewhere, back slip"), &[]);
    finds(&piece("front tuck on L3, knit elsewhere, back tuck on L4, knit elsewhere"), &[]);
    // The same on the back bed; its needles stand half a pitch to the right.
    let back = piece("front tuck on L3-L2, knit elsewhere, back tuck on L3, knit elsewhere");
    assert!(found(&back)[0].1.contains("back L3 tucks"), "{:?}", found(&back));
    let back = piece("front tuck on L3-L1, knit elsewhere, back tuck on L3-L2, knit elsewhere");
    assert!(found(&back)[0].1.contains("front L2 and back L3-L2 tuck"), "{:?}", found(&back));
    // Racked, each needle has others beside it.
    let racked = |row: &str| {
        let rows = "row both knit\nrack 1 right\nrow both knit";
        format!("{RIB}{rows}\nrow {row}\nrow both knit\nrack to centre\nrow both knit\nbind off both")
    };
    assert!(
        found(&racked("front tuck on L3-L2, knit elsewhere, back tuck"))[0].1.contains("front L3-L2 and back L4 tuck")
    );
    finds(&racked("front knit, back tuck"), &[]);
}

#[test]
fn facing_needles_that_work_in_turn_lie_between_each_other() {
    // At gaiting opposite, front and back needles of the same place never both work.
    let piece = |row: &str| {
        let start = "in work front L8-R8, back L8-R8\nthread slate\ncast on wound front\ncast on wound back\ngaiting opposite\n";
        format!("{start}row front knit\nrow back knit\nrow {row}\nrow front knit\nrow back knit\nbind off both")
    };
    let knit = "front knit on L8-L4 or R4-R8";
    finds(
        &piece(&format!("{knit}, tuck on L2, slip elsewhere, back tuck on L3 or L1, slip elsewhere")),
        &["unsupported-tuck"],
    );
    finds(&piece(&format!("{knit}, tuck on L2, slip elsewhere, back knit on L3 or L1, slip elsewhere")), &[]);
}

#[test]
fn every_second_stitch_is_every_second_stitch_however_it_is_named() {
    let ribbed = |front: &str, pick: &str| {
        let start = format!("in work front {front}, back {pick}\nthread slate\ncast on wound front\n");
        let transfer = format!("row front knit, loosened 1\ngaiting opposite\ntransfer front {pick} to back\n");
        format!("{start}{transfer}out of work front empty\nrow both knit\nbind off both")
    };
    for pick in ["every 2 over L4-R4", "\".|\" over L4-R4", "\"|.\" over L4-R4", "L4 or L2 or R1 or R3"] {
        finds(&ribbed("L4-R4", pick), &["odd-last-needle"]);
    }
    // Both edge stitches stay; two by two; three of four.
    for (front, pick) in [
        ("L4-R5", "every 2 over L3-R4"),
        ("L4-R4", "\"|..|\" over L4-R4"),
        ("L4-R4", "L4 or L3 or R1 or R2"),
        ("L4-R4", "L3 or L1 or R2"),
    ] {
        finds(&ribbed(front, pick), &[]);
    }
}

#[test]
fn a_hem_outlasts_a_few_stitches_moved_by_hand() {
    let odd = |rows: u32, hand: &str| {
        let lines = format!("{RIB}tubular {rows} rows\n{hand}\nrows 2 both knit\nbind off both");
        let found = found(&lines);
        assert!(!found.iter().any(|(rule, _)| *rule == "unreadable-line"), "{lines}\n{found:?}");
        found.iter().filter(|(rule, _)| *rule == "tubular-floats").count()
    };
    let transfer = |pick: &str| {
        format!("gaiting opposite\ntransfer front {pick} to back, joining, emptied go out of work\ngaiting between")
    };
    for hand in [
        "decrease front 1 at left",
        "increase front 1 at right",
        "move front L5 1 right, joining\nout of work front L5",
        "cross front L2 over L1",
        "bind off front L10-L8\nout of work front L10-L8",
        &transfer("every 4 over L10-R9"),
    ] {
        assert_eq!(odd(2, hand), 0, "{hand}");
        assert_eq!(odd(3, hand), 1, "{hand}");
    }
    // The loosened row on one bed is knitted for the transfer.
    let quarter = transfer("every 4 over L10-R9");
    assert_eq!(odd(2, &format!("row front knit, loosened 2\n{quarter}")), 0);
    assert_eq!(odd(2, &format!("row front knit\n{quarter}")), 1);
    // When half of a bed has gone, or all of it, it is another fabric.
    assert_eq!(odd(3, &transfer("every 2")), 0);
    assert_eq!(odd(3, "bind off front L10-R4\nout of work front L10-R4"), 0);
    let all = "gaiting opposite\ntransfer back to front, joining\ngaiting between\nnew loops back L10-R9";
    assert_eq!(odd(3, all), 0);
    assert_eq!(odd(3, "bind off both\ncast on wound front L10-R10\nnew loops back L10-R9"), 0);
}

#[test]
fn ends_set_a_little_apart_hang_alone_after_racking() {
    let racked = |start: &str, steps: usize| {
        let there = "rack 1 right\nrow both knit\n".repeat(steps);
        let back = "rack 1 left\nrow both knit\n".repeat(steps);
        format!("{start}row both knit\n{there}{back}bind off both")
    };
    finds(&racked(INSIDE, 1), &[]);
    finds(&racked(INSIDE, 5), &["lone-edge"]);
    assert!(found(&racked(INSIDE, 5))[0].1.contains("the left edge of the front bed"));
    finds(&racked(RIB, 2), &[]);
    finds(&racked(RIB, 3), &["lone-edge"]);
    // A back bed that is a part of the width stands alone nowhere by being racked.
    let part = "in work front L10-R10, back L3-R3\nthread slate\ncast on wound front\ncast on wound back\n";
    finds(&racked(part, 4), &[]);
}

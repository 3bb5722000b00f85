//! Which needles are neighbours: those that follow each other in the yarn's path, whatever their numbers, and the ends of
//! the beds where they stand now.

use super::edges::FRONT;
use super::{checked, told};
use wale::catalogue::Rule;

/// Every second of nine needles of the front bed: L9, L7, L5, L3, L1, R2, R4, R6, R8.
const EVERY_SECOND: &str = "in work front every 2 over L9-R9\nthread slate\ncast on wound front\n";

/// A rib over all needles.
const RIB: &str = "in work front L10-R10, back L10-R9\nthread slate\ncast on zigzag\n";

/// A rib whose front bed begins two needles outside the back bed and ends three outside it.
const INSIDE: &str = "in work front L10-R10, back L8-R7\nthread slate\ncast on wound front\ncast on wound back\n";

/// What is found in a piece: the rule of each finding with what it says.
fn found(lines: &str) -> Vec<(&'static str, String)> {
    checked(&Rule::whole(lines)).findings.into_iter().map(|finding| (finding.rule.name, finding.what)).collect()
}

/// The findings of a piece are just those rules.
#[track_caller]
fn finds(lines: &str, rules: &[&str]) {
    let checked = checked(&Rule::whole(lines));
    let named: Vec<&str> = checked.findings.iter().map(|finding| finding.rule.name).collect();
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
    assert!(found(&waits(9, "L3 or L7"))[0].1.contains("front L7, L3 wait while"));
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
        assert_eq!(odd(5, hand), 1, "{hand}");
    }
    // The loosened row on one bed is knitted for the transfer.
    let quarter = transfer("every 4 over L10-R9");
    assert_eq!(odd(4, &format!("row front knit, loosened 2\n{quarter}")), 0);
    assert_eq!(odd(4, &format!("row front knit\n{quarter}")), 1);
    // When half of a bed has gone, or all of it, it is another fabric.
    assert_eq!(odd(5, &transfer("every 2")), 0);
    assert_eq!(odd(5, "bind off front L10-R4\nout of work front L10-R4"), 0);
    let all = "gaiting opposite\ntransfer back to front, joining\ngaiting between\nnew loops back L10-R9";
    assert_eq!(odd(5, all), 0);
    assert_eq!(odd(5, "bind off both\ncast on wound front L10-R10\nnew loops back L10-R9"), 0);
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

#[test]
fn an_edge_is_alone_three_places_outside_the_other_bed() {
    // The back bed begins two places and a half inside the front bed, so one step more is enough, either way.
    let racked = |start: &str, way: &str, steps: usize| {
        let row = "row both knit\n";
        let there = format!("rack 1 {way}\n{row}").repeat(steps);
        found(&format!("{start}{row}{there}rack to centre\n{row}bind off both"))
            .into_iter()
            .find(|(rule, _)| *rule == "lone-edge")
            .map(|(_, what)| what)
    };
    let lines = format!(
        "{INSIDE}row both knit\nrack 1 right\nrow both knit\nrack 1 right\nrow both knit\nrack to centre\nrow both knit\nbind off both"
    );
    let why = &checked(&Rule::whole(&lines)).findings[0].why;
    assert!(why.contains("there front L10 has no stitch of the other bed beside it"), "{why}");
    assert_eq!(racked(INSIDE, "right", 1), None, "one step never does");
    let left = "the left edge of the front bed stands 4.5 places outside the back bed";
    assert_eq!(racked(INSIDE, "right", 2).as_deref(), Some(left));
    let right = "the right edge of the front bed stands 4.5 places outside the back bed";
    assert_eq!(racked(INSIDE, "left", 2).as_deref(), Some(right));
    // Two places and a half are not alone, three are.
    assert_eq!(racked(RIB, "right", 2), None);
    let apart = "in work front every 2 over L9-R9, back every 2 over L8-R9\nthread slate\ncast on wound front\ncast on wound back\ngaiting opposite\n";
    let three = "the left edge of the front bed stands 3 places outside the back bed";
    assert_eq!(racked(apart, "right", 2).as_deref(), Some(three));
}

#[test]
fn a_needle_that_only_comes_to_stand_opposite_has_passed_none() {
    // Every third needle; racked one step, the back needles stand opposite empty places, and one step from a needle.
    let racked = |back: &str, gaiting: &str| {
        let start = format!("in work front every 3 over L6-R6, back every 3 over {back}\nthread slate\n");
        let cast_on = format!("cast on wound front\ncast on wound back\ngaiting {gaiting}\n");
        let rows = "row both knit\nrack 1 right\nrow both knit\nrack to centre\nrow both knit\nbind off both";
        found(&format!("{start}{cast_on}{rows}")).into_iter().filter(|(rule, _)| *rule == "no-slant").count()
    };
    assert_eq!(racked("L5-R6", "opposite"), 1);
    // At gaiting between that step takes them past a needle of the front bed, or past an empty place.
    assert_eq!(racked("L7-R6", "between"), 0);
    assert_eq!(racked("L5-R6", "between"), 1);
}

#[test]
fn the_yarn_does_not_lie_across_a_held_needle_opposite_the_first_that_takes_it() {
    let held = |needles: &str| {
        let start = "in work front L8-R8, back L8-R8\nthread slate\ncast on wound front\ncast on wound back\ngaiting opposite\n";
        let rows =
            format!("row front knit\nrow back knit\nhold front {needles}\nrow back knit on L7-R8, slip elsewhere");
        found(&format!("{start}{rows}\nrelease front\nrow front knit\nbind off both"))
            .into_iter()
            .filter(|(rule, _)| *rule == "held-at-carriage-side")
            .count()
    };
    assert_eq!(held("L8-L7"), 0);
    assert_eq!(held("L8-L6"), 0);
}

#[test]
fn what_the_other_bed_has_beside_a_gap_takes_its_part() {
    // Front L1 is emptied and goes out of work; a stitch of the back bed lies opposite it, or a place beside.
    let gap = |back: &str, racked: &str| {
        let machine =
            "machine attic {\n    needles 20 each side\n    emptied needles go out of work\n}\nyarn slate {}\n";
        let start =
            format!("in work front L5-R5, back {back}\nthread slate\ncast on wound front\ncast on wound back\n");
        let rows = format!("gaiting opposite\n{racked}row front knit, loosened 1\nmove front L1 1 left, joining");
        let text = format!("{machine}piece \"Strap\" {{\n{start}{rows}\nbind off both\n}}\n");
        checked(&text).findings.iter().filter(|finding| finding.rule.name == "eyelet-becomes-ladder").count()
    };
    for beside in ["L2", "L1", "R1"] {
        assert_eq!(gap(beside, ""), 0, "{beside}");
    }
    for farther in ["L3", "R2"] {
        assert_eq!(gap(farther, ""), 1, "{farther}");
    }
    assert_eq!(gap("R2", "rack 1 left\n"), 0);
    assert_eq!(gap("L2", "rack 2 left\n"), 1);
}

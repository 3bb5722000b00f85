//! Limits that are printed: at the figure nothing is said, past it something is.

use super::fixture::{Played, needle, piece, played, rules_broken};
use wale::beds::Bed;

const SMALL: &str = "in work front L6-R6, back L6-R5
cast on zigzag
";

#[test]
fn four_tucks_pass_and_five_do_not() {
    // D. J. Spencer, Knitting Technology, 3rd ed., 2001, p. 96: up to 4 successive tucks in normal conditions.
    for tucks in 1..=7 {
        let text = piece(&format!("{SMALL}rows {tucks} front knit, back tuck\nrow both knit\nbind off both"));
        let expected: &[&str] = if tucks <= 4 { &[] } else { &["many-tucks"] };
        assert_eq!(rules_broken(&text), expected, "{tucks} tucks");
    }
}

#[test]
fn a_knitted_row_between_begins_the_count_again() {
    // Spencer 2001, p. 96: the 4 are successive tucks.
    let text =
        piece(&format!("{SMALL}repeat 5 times {{\nrows 4 front knit, back tuck\nrow both knit\n}}\nbind off both"));
    assert_eq!(rules_broken(&text), [""; 0]);
}

#[test]
fn two_neighbours_may_tuck_and_three_may_not() {
    // Spencer 2001, p. 96: adjacent tucks in one course, generally no more than 2.
    for (needles, most) in [("L1", true), ("L1-R1", true), ("L1-R2", false), ("L2-R2", false), ("L3-R3", false)] {
        let text = piece(&format!(
            "in work front L6-R6\ncast on wound front\nrow front tuck on {needles}, knit elsewhere\nrow front knit\n\
             bind off front"
        ));
        let expected: &[&str] = if most { &[] } else { &["adjacent-tucks"] };
        assert_eq!(rules_broken(&text), expected, "{needles}");
    }
}

#[test]
fn the_last_needle_of_a_tucking_row_must_knit() {
    // Spencer 2001, ch. 18: a tucking traverse ends on a needle of the other bed, which knits.
    for (front, back, left_end, right_end) in [
        ("L6-R6", "L6-R5", Bed::Front, Bed::Front),
        ("L6-R6", "L6-R6", Bed::Front, Bed::Back),
        ("L5-R6", "L6-R5", Bed::Back, Bed::Front),
        ("L5-R6", "L6-R6", Bed::Back, Bed::Back),
    ] {
        for (begins, ends_at) in [("left", left_end), ("right", right_end)] {
            for (work, tucks) in [("front knit, back tuck", Bed::Back), ("front tuck, back knit", Bed::Front)] {
                // The zigzag crosses once, so the tucking row ends on the side where the carriage began.
                let text = piece(&format!(
                    "in work front {front}, back {back}\ncarriage {begins}\ncast on zigzag\nrow to {begins} {work}\n\
                     row both knit\nbind off both"
                ));
                let expected: &[&str] = if tucks == ends_at { &["edge-tuck"] } else { &[] };
                assert_eq!(rules_broken(&text), expected, "{front} {back}, {work}, to the {begins}");
            }
        }
    }
}

#[test]
fn a_two_by_two_rib_is_begun_racked_by_one_needle() {
    // Spencer 2001, p. 68: it cannot be started on empty needles in its own set-out; one bed is racked by one needle
    // for the set-up course, and back.
    let begun = |rack: &str, back: &str| {
        rules_broken(&piece(&format!(
            "gaiting between\nin work front \".||\" over L6-R6, back \"|.|\" over L6-R6\n{rack}cast on zigzag\n{back}\
             rows 2 both knit\nbind off both"
        )))
    };
    assert_eq!(begun("", ""), ["cast-on-shares-a-loop"]);
    assert_eq!(begun("rack 1 left\n", "tubular 2 rows\nrack to centre\n"), [""; 0]);
    assert_eq!(begun("rack 1 right\n", "tubular 2 rows\nrack to centre\n"), [""; 0]);
}

#[test]
fn an_emptied_needle_makes_a_stitch_at_its_second_knitting() {
    // Spencer 2001, section 15.2.1 and ch. 9: first a tuck-like loop, a real loop only after the second knitting.
    let text = piece(
        "in work front L6-R6
cast on wound front
rows 2 front knit
move front L1 1 left, joining
mark \"begin\"
row front knit, new loops
row front knit
row front knit
mark \"end\"
bind off front",
    );
    let Played { start, courses, .. } = played(&text);
    let at = needle("L1");
    assert!(!start.loops.loaded(Bed::Front).contains(at));
    assert_eq!(start.stitch_count(Bed::Front), 11);
    let seen = courses.iter().map(|course| {
        let stack = course.state.loops.stack(Bed::Front, at);
        assert_eq!(stack.len(), 1);
        (stack[0].caught, course.state.loops.stitches(Bed::Front).contains(at), course.state.stitch_count(Bed::Front))
    });
    assert!(seen.eq([(true, false, 11), (false, true, 12), (false, true, 12)]));
}

#[test]
fn facing_needles_never_work_together() {
    // Interlock gaiting: a facing pair is never selected together. Spencer 2001, ch. 7; a taught course on knitting,
    // author not shown.
    let row = |work: &str| {
        rules_broken(&piece(&format!(
            "in work front L6-R6, back L6-R6\ncast on zigzag\ngaiting opposite\nrow {work}\ngaiting between\n\
             bind off both"
        )))
    };
    assert_eq!(row("both knit"), ["facing-needles"]);
    assert_eq!(row("front knit on \"|.\", slip elsewhere, back knit on \".|\", slip elsewhere"), [""; 0]);
    assert_eq!(row("front knit on \"|.\", slip elsewhere, back knit on \"|.\", slip elsewhere"), ["facing-needles"]);
    assert_eq!(row("front knit on R6, slip elsewhere, back tuck on R6, slip elsewhere"), ["facing-needles"]);
    // A needle that faces an idle place may work at either gaiting: common practice, no source.
    assert_eq!(row("front knit"), [""; 0]);
}

#[test]
fn a_rack_changes_which_needles_face() {
    // Our own conclusion from the geometry: alternate needles face idle places, and after one step each other.
    let racked = |steps: &str| {
        rules_broken(&piece(&format!(
            "gaiting opposite\nin work front \"|.\" over L6-R6, back \".|\" over L6-R6\ncast on zigzag\n{steps}\
             row both knit\nrack to centre\nbind off both"
        )))
    };
    assert_eq!(racked("rack 1 right\n"), ["facing-needles"]);
    assert_eq!(racked("rack 1 left\n"), ["facing-needles"]);
    assert_eq!(racked(""), [""; 0]);
}

#[test]
fn two_empty_neighbours_do_not_begin_together() {
    // Spencer 2001, section 15.2.1: two adjacent empty needles that restart in one course are insecure.
    let begin = |moves: &str, rest: &str| {
        rules_broken(&piece(&format!(
            "in work front L6-R6\ncast on wound front\nrow front knit\n{moves}row front knit, new loops\n{rest}\
             rows 2 front knit\nbind off front"
        )))
    };
    assert_eq!(begin("move front L1 1 left, joining\nmove front R1 1 right, joining\n", ""), ["adjacent-empties"]);
    assert_eq!(begin("move front L1 1 left, joining\nmove front R2 1 right, joining\n", ""), [""; 0]);
    assert_eq!(
        begin("move front L1 1 left, joining\n", "move front R1 1 right, joining\nrow front knit, new loops\n"),
        [""; 0]
    );
}

#[test]
fn the_row_before_a_transfer_is_loosened() {
    // Common practice, no source.
    let before = |row: &str| {
        rules_broken(&piece(&format!(
            "in work front L6-R6, back L6-R6\ncast on wound front\nstitch size 4\n{row}\ngaiting opposite\n\
             transfer front to back\nbind off back"
        )))
    };
    assert_eq!(before("row front knit"), [""; 0], "one row at one size: nothing tells what is usual");
    assert_eq!(before("rows 8 front knit"), ["tight-transfer"]);
    assert_eq!(before("row front knit, loosened 0.5"), ["tight-transfer"]);
    assert_eq!(before("row front knit, loosened 4"), [""; 0]);
    assert_eq!(before("row front knit, loosened 5"), ["loose-transfer"]);
    assert_eq!(before("row front knit, tightened 1"), ["tight-transfer"]);
    assert_eq!(before("row front knit, loosened 1"), [""; 0]);
    assert_eq!(before("row front knit, size 6"), [""; 0]);
}

#[test]
fn an_even_number_leaves_an_odd_last_needle() {
    // Common practice, no source: every second stitch of an even number leaves one edge on each bed.
    for stitches in 4..=15 {
        let last = stitches - 1;
        let text = piece(&format!(
            "gaiting opposite\nin work front L1-R{last}, back L1-R{last}\ncast on wound front\n\
             row front knit, loosened 1\ntransfer front every 2 to back\nout of work front empty\n\
             out of work back empty\nrow both knit\nbind off both"
        ));
        let expected: &[&str] = if stitches % 2 == 0 { &["odd-last-needle"] } else { &[] };
        assert_eq!(rules_broken(&text), expected, "{stitches} stitches");
    }
}

#[test]
fn one_needle_at_a_time_is_racked() {
    // H. D. Buck, Flat Machine Knitting and Fabrics, 1921, ch. IV: one course between two racks.
    let racked = |steps: &str| {
        rules_broken(&piece(&format!("{SMALL}row both knit\n{steps}row both knit\nrack to centre\nbind off both")))
    };
    assert_eq!(racked("rack 1 right\n"), [""; 0]);
    assert_eq!(racked("rack 2 right\n")[0], "racked-two-steps");
    assert_eq!(racked("rack 1 right\nrack 1 right\n")[0], "racked-two-steps");
}

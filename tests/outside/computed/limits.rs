//! Limits that are printed: at the figure nothing is said, past it something is.

use crate::outside::hand::{Hand, Played, Said, needle, played, stands};
use wale::beds::Bed;

const SMALL: &str = "in work front L6-R6, back L6-R5
cast on zigzag
";

#[test]
fn four_tucks_pass_and_five_do_not() {
    let check = |hand: &Hand<'_>| -> Said {
        // D. J. Spencer, Knitting Technology, 3rd ed., 2001, p. 96: up to 4 successive tucks in normal conditions.
        for tucks in 1..=7 {
            let text = format!("{SMALL}rows {tucks} front knit, back tuck\nrow both knit\nbind off both");
            let expected: &[&str] = if tucks <= 4 { &[] } else { &["many-tucks"] };
            agree!(hand.rules_broken(&text), expected, "{tucks} tucks");
        }
        Ok(())
    };
    stands(check, &[("pitch 5 mm", "pitch 5 mm\nmost tucks 5"), ("pitch 5 mm", "pitch 5 mm\nmost tucks 3")]);
}

#[test]
fn a_knitted_row_between_begins_the_count_again() {
    let check = |hand: &Hand<'_>| -> Said {
        // Spencer 2001, p. 96: the 4 are successive tucks.
        let text = format!("{SMALL}repeat 5 times {{\nrows 4 front knit, back tuck\nrow both knit\n}}\nbind off both");
        agree!(hand.rules_broken(&text), [""; 0]);
        Ok(())
    };
    stands(check, &[("row both knit\n}", "}")]);
}

#[test]
fn two_neighbours_may_tuck_and_three_may_not() {
    let check = |hand: &Hand<'_>| -> Said {
        // Spencer 2001, p. 96: adjacent tucks in one course, generally no more than 2.
        for (needles, most) in [("L1", true), ("L1-R1", true), ("L1-R2", false), ("L2-R2", false), ("L3-R3", false)] {
            let text = format!(
                "in work front L6-R6\ncast on wound front\nrow front tuck on {needles}, knit elsewhere\nrow front knit\n\
             bind off front"
            );
            let expected: &[&str] = if most { &[] } else { &["adjacent-tucks"] };
            agree!(hand.rules_broken(&text), expected, "{needles}");
        }
        Ok(())
    };
    stands(
        check,
        &[("pitch 5 mm", "pitch 5 mm\nmost adjacent tucks 3"), ("pitch 5 mm", "pitch 5 mm\nmost adjacent tucks 1")],
    );
}

#[test]
fn the_last_needle_of_a_tucking_row_must_knit() {
    let check = |hand: &Hand<'_>| -> Said {
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
                    let text = format!(
                        "in work front {front}, back {back}\ncarriage {begins}\ncast on zigzag\nrow to {begins} {work}\n\
                     row both knit\nbind off both"
                    );
                    let expected: &[&str] = if tucks == ends_at { &["edge-tuck"] } else { &[] };
                    agree!(hand.rules_broken(&text), expected, "{front} {back}, {work}, to the {begins}");
                }
            }
        }
        Ok(())
    };
    stands(check, &[("half step to the right", "half step to the left"), ("back tuck", "back knit")]);
}

#[test]
fn a_two_by_two_rib_is_begun_racked_by_one_needle() {
    let check = |hand: &Hand<'_>| -> Said {
        // Spencer 2001, p. 68: it cannot be started on empty needles in its own set-out; one bed is racked by one needle
        // for the set-up course, and back.
        let begun = |rack: &str, back: &str| {
            hand.rules_broken(&format!(
            "gaiting between\nin work front \".||\" over L6-R6, back \"|.|\" over L6-R6\n{rack}cast on zigzag\n{back}\
             rows 2 both knit\nbind off both"
        ))
        };
        agree!(begun("", ""), ["cast-on-shares-a-loop"]);
        agree!(begun("rack 1 left\n", "tubular 2 rows\nrack to centre\n"), [""; 0]);
        agree!(begun("rack 1 right\n", "tubular 2 rows\nrack to centre\n"), [""; 0]);
        Ok(())
    };
    stands(check, &[("rack 1 left\n", ""), ("\"|.|\"", "\"||.\"")]);
}

#[test]
fn an_emptied_needle_makes_a_stitch_at_its_second_knitting() {
    let check = |hand: &Hand<'_>| -> Said {
        // Spencer 2001, section 15.2.1 and ch. 9: first a tuck-like loop, a real loop only after the second knitting.
        let text = hand.piece(
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
        let Played { start, courses, .. } = played(&text)?;
        let at = needle("L1");
        must!(!start.loops.loaded(Bed::Front).contains(at));
        agree!(start.stitch_count(Bed::Front), 11);
        let seen = courses.iter().map(|course| {
            let stack = course.state.loops.stack(Bed::Front, at);
            (
                stack.len() == 1 && stack[0].caught,
                course.state.loops.stitches(Bed::Front).contains(at),
                course.state.stitch_count(Bed::Front),
            )
        });
        must!(seen.eq([(true, false, 11), (false, true, 12), (false, true, 12)]));
        Ok(())
    };
    stands(
        check,
        &[
            (
                "row front knit, new loops\nrow front knit\n",
                "row front knit, new loops\nrow front tuck on L1, knit elsewhere\n",
            ),
            ("L1 1 left", "L2 1 left"),
        ],
    );
}

#[test]
fn facing_needles_never_work_together() {
    let check = |hand: &Hand<'_>| -> Said {
        // Interlock gaiting: a facing pair is never selected together. Spencer 2001, ch. 7.
        let row = |work: &str| {
            hand.rules_broken(&format!(
                "in work front L6-R6, back L6-R6\ncast on zigzag\ngaiting opposite\nrow {work}\ngaiting between\n\
             bind off both"
            ))
        };
        agree!(row("both knit"), ["facing-needles"]);
        agree!(row("front knit on \"|.\", slip elsewhere, back knit on \".|\", slip elsewhere"), [""; 0]);
        agree!(row("front knit on \"|.\", slip elsewhere, back knit on \"|.\", slip elsewhere"), ["facing-needles"]);
        agree!(row("front knit on R6, slip elsewhere, back tuck on R6, slip elsewhere"), ["facing-needles"]);
        // A needle that faces an idle place may work at either gaiting: common practice, no source.
        agree!(row("front knit"), [""; 0]);
        Ok(())
    };
    stands(check, &[("gaiting opposite\n", ""), ("back knit on \".|\"", "back knit on \"|.\"")]);
}

#[test]
fn a_rack_changes_which_needles_face() {
    let check = |hand: &Hand<'_>| -> Said {
        // Our own conclusion from the geometry: alternate needles face idle places, and after one step each other.
        let racked = |steps: &str| {
            hand.rules_broken(&format!(
                "gaiting opposite\nin work front \"|.\" over L6-R6, back \".|\" over L6-R6\ncast on zigzag\n{steps}\
             row both knit\nrack to centre\nbind off both"
            ))
        };
        agree!(racked("rack 1 right\n"), ["facing-needles"]);
        agree!(racked("rack 1 left\n"), ["facing-needles"]);
        agree!(racked(""), [""; 0]);
        Ok(())
    };
    stands(check, &[("rack 1 right\n", "rack 2 right\n"), ("back \".|\" over", "back \"|.\" over")]);
}

#[test]
fn two_empty_neighbours_do_not_begin_together() {
    let check = |hand: &Hand<'_>| -> Said {
        // Spencer 2001, section 15.2.1: two adjacent empty needles that restart in one course are insecure.
        let begin = |moves: &str, rest: &str| {
            hand.rules_broken(&format!(
                "in work front L6-R6\ncast on wound front\nrow front knit\n{moves}row front knit, new loops\n{rest}\
             rows 2 front knit\nbind off front"
            ))
        };
        agree!(begin("move front L1 1 left, joining\nmove front R1 1 right, joining\n", ""), ["adjacent-empties"]);
        agree!(begin("move front L1 1 left, joining\nmove front R2 1 right, joining\n", ""), [""; 0]);
        agree!(
            begin("move front L1 1 left, joining\n", "move front R1 1 right, joining\nrow front knit, new loops\n"),
            [""; 0]
        );
        Ok(())
    };
    stands(check, &[("R1 1 right", "R2 1 right")]);
}

#[test]
fn the_row_before_a_transfer_is_loosened() {
    let check = |hand: &Hand<'_>| -> Said {
        // Common practice, no source.
        let before = |row: &str| {
            hand.rules_broken(&format!(
                "in work front L6-R6, back L6-R6\ncast on wound front\nstitch size 4\n{row}\ngaiting opposite\n\
             transfer front to back\nbind off back"
            ))
        };
        agree!(before("row front knit"), [""; 0], "one row at one size: nothing tells what is usual");
        agree!(before("rows 8 front knit"), ["tight-transfer"]);
        agree!(before("row front knit, loosened 0.5"), ["tight-transfer"]);
        agree!(before("row front knit, loosened 4"), [""; 0]);
        agree!(before("row front knit, loosened 5"), ["loose-transfer"]);
        agree!(before("row front knit, tightened 1"), ["tight-transfer"]);
        agree!(before("row front knit, loosened 1"), [""; 0]);
        agree!(before("row front knit, size 6"), [""; 0]);
        Ok(())
    };
    stands(check, &[("loosened 1", "tightened 1"), ("size 6", "size 4")]);
}

#[test]
fn an_even_number_leaves_an_odd_last_needle() {
    let check = |hand: &Hand<'_>| -> Said {
        // Common practice, no source: every second stitch of an even number leaves one edge on each bed.
        for stitches in 4..=15 {
            let last = stitches - 1;
            let text = format!(
                "gaiting opposite\nin work front L1-R{last}, back L1-R{last}\ncast on wound front\n\
             row front knit, loosened 1\ntransfer front every 2 to back\nout of work front empty\n\
             out of work back empty\nrow both knit\nbind off both"
            );
            let expected: &[&str] = if stitches % 2 == 0 { &["odd-last-needle"] } else { &[] };
            agree!(hand.rules_broken(&text), expected, "{stitches} stitches");
        }
        Ok(())
    };
    stands(check, &[("every 2", "every 3")]);
}

#[test]
fn one_needle_at_a_time_is_racked() {
    let check = |hand: &Hand<'_>| -> Said {
        // H. D. Buck, Flat Machine Knitting and Fabrics, 1921, ch. IV: one course between two racks.
        let racked = |steps: &str| {
            hand.rules_broken(&format!("{SMALL}row both knit\n{steps}row both knit\nrack to centre\nbind off both"))
        };
        agree!(racked("rack 1 right\n"), [""; 0]);
        agree!(racked("rack 2 right\n").first().copied(), Some("racked-two-steps"));
        agree!(racked("rack 1 right\nrack 1 right\n").first().copied(), Some("racked-two-steps"));
        Ok(())
    };
    stands(check, &[("pitch 5 mm", "pitch 5 mm\nracking step 2"), ("rack 2 right\n", "rack 1 right\n")]);
}

#[test]
fn a_float_of_an_inch_passes_and_a_longer_one_does_not() {
    // Interweave's glossary, on stranding by hand (read): no longer than 1 inch (2.5 cm). A float past k needles spans k + 1
    // pitches, here of 5 mm: 25 mm past 4 needles, 30 mm past 5.
    let check = |hand: &Hand<'_>| -> Said {
        for past in 1..=8 {
            let found = hand.rules_broken(&format!(
                "in work front L6-R6\ncast on wound front\nrow front knit\nrow front slip on L4-{}, knit elsewhere\n\
                 row front knit\nbind off front",
                ["L4", "L3", "L2", "L1", "R1", "R2", "R3", "R4"][past - 1]
            ));
            let expected: &[&str] = if past <= 4 { &[] } else { &["long-float"] };
            agree!(found, expected, "past {past} needles");
        }
        Ok(())
    };
    stands(
        check,
        &[
            ("pitch 5 mm", "pitch 6 mm"),
            ("pitch 5 mm", "pitch 5 mm\nlongest float 30 mm"),
            ("pitch 5 mm", "pitch 5 mm\nlongest float 20 mm"),
        ],
    );
}

#[test]
fn a_tuck_ties_a_long_float_in() {
    // Spencer 2001, p. 96 (read; which needles do it is our own reading): in accordion fabrics a tuck ties in a float that
    // would pass too many needles.
    let check = |hand: &Hand<'_>| -> Said {
        let row = |row: &str| {
            hand.rules_broken(&format!(
                "in work front L6-R6\ncast on wound front\nrow front knit\nrow front {row}\nrow front knit\nbind off front"
            ))
        };
        agree!(row("slip on L4-R3, knit elsewhere"), ["long-float"], "7 needles free");
        agree!(row("slip on L4-L2 or R1-R3, tuck on L1, knit elsewhere"), [""; 0], "the middle one tucks");
        Ok(())
    };
    stands(check, &[("tuck on L1, knit", "slip on L1, knit"), ("L4-R3", "L4-L1")]);
}

#[test]
fn fashioning_from_bed_to_bed_needs_empty_needles() {
    // Spencer 2001, section 16.4.1, p. 185 (read): it requires the receiving needles to be empty.
    let check = |hand: &Hand<'_>| -> Said {
        let moved = |back: &str, joining: &str| {
            hand.rules_broken(&format!(
                "in work front L6-R6, back L6-R6\ncast on wound front\n{back}row front knit, loosened 1\ngaiting opposite\n\
                 transfer front L6 to back{joining}\nonto waste yarn both"
            ))
        };
        agree!(moved("", ""), [""; 0], "empty");
        agree!(moved("cast on wound back L6\n", ""), ["doubled-stitch"], "a stitch there");
        agree!(moved("cast on wound back L6\n", ", joining"), [""; 0], "a stitch there, and it is meant");
        Ok(())
    };
    stands(check, &[("cast on wound back L6\n", ""), ("to back, joining", "to back")]);
}

//! Racking sequences as they are printed, and the slant they give.
//!
//! H. D. Buck, Flat Machine Knitting and Fabrics, 1921, ch. IV; D. J. Spencer, Knitting Technology, 3rd ed., 2001,
//! p. 221.

use super::fixture::{Played, Rack, piece, played};
use std::cmp::Ordering;
use wale::beds::{Bed, Needle, State};

const BEGIN: &str = "gaiting between
in work front L6-R6, back L6-R6
cast on zigzag
tubular 2 rows
";
const END: &str = "
mark \"end\"
onto waste yarn both";

/// Steps to the right after each course of the marked part; 0 where the beds stay.
fn vector(played: &Played) -> Vec<i32> {
    let mut steps = vec![0; played.courses.len()];
    for rack in &played.racks {
        steps[rack.after_course - 1] += rack.steps();
    }
    steps
}

/// The bed that knitted in a course of full cardigan; the other one tucked.
fn knitting_bed(played: &Played, course: usize) -> Bed {
    let course = &played.courses[course];
    let beds: Vec<Bed> = Bed::BOTH.into_iter().filter(|&bed| !course.knit[bed].is_empty()).collect();
    assert_eq!(beds.len(), 1, "one bed knits and the other tucks");
    assert!(!course.tuck[beds[0].other()].is_empty());
    beds[0]
}

/// Which way the loops of the bed that knitted off lean, for each course: the way that bed goes against the other.
/// Only the back bed moves, so the front bed goes the other way.
fn slants(played: &Played) -> Vec<(Bed, i32)> {
    let lean = |(course, steps): (usize, i32)| match knitting_bed(played, course) {
        Bed::Front => (Bed::Front, -steps),
        Bed::Back => (Bed::Back, steps),
    };
    vector(played).into_iter().enumerate().map(lean).collect()
}

#[test]
fn half_cardigan_is_racked_on_the_course_that_tucks() {
    // Buck 1921, ch. IV: by one needle, on the tucking course, with one full round (two courses) between two racks.
    let text = piece(&format!(
        "gaiting between
in work front L6-R6, back L6-R5
cast on zigzag
tubular 2 rows
row to left both knit
mark \"begin\"
repeat 4 times {{
    row to right front knit, back knit
    row to left front knit, back tuck
    rack 1 right
    row to right front knit, back knit
    row to left front knit, back tuck
    rack 1 left
}}{END}"
    ));
    let played = played(&text);
    assert_eq!(vector(&played), [0, 1, 0, -1].repeat(4));
    for rack in &played.racks {
        let course = &played.courses[rack.after_course - 1];
        assert_eq!(course.tuck.back.len(), 11, "the back bed tucks");
        assert_eq!(course.knit.front.len(), 12, "the front bed knits off, and there the slant shows");
    }
    assert!(played.racks.windows(2).all(|pair| pair[1].after_course - pair[0].after_course == 2));
}

#[test]
fn full_cardigan_racked_both_ways_leans_one_way_on_both_faces() {
    // Buck 1921, ch. IV; Spencer 2001, p. 221, rule 6: left after course 1 and right after course 2.
    let text = piece(&format!(
        "{BEGIN}rack 1 right
mark \"begin\"
repeat 4 times {{
    row to left front knit, back tuck
    rack 1 left
    row to right front tuck, back knit
    rack 1 right
}}
mark \"end\"
row both knit
rack to centre
onto waste yarn both"
    ));
    let played = played(&text);
    assert_eq!(vector(&played), [-1, 1].repeat(4));
    assert!(slants(&played).iter().all(|&(_, lean)| lean == 1), "all loops lean right, on both faces");
}

#[test]
fn two_racks_each_way_lean_in_turn() {
    // Spencer 2001, p. 221, rule 7: two racks the same way, then two back: alternate courses slant opposite ways.
    // The back bed ends one needle earlier on the right, so that no more than two of its needles stick out there.
    let text = piece(&format!(
        "gaiting between
in work front L6-R6, back L6-R5
cast on zigzag
tubular 2 rows
mark \"begin\"
repeat 4 times {{
    row to left front knit, back tuck
    rack 1 right
    row to right front tuck, back knit
    rack 1 right
    row to left front knit, back tuck
    rack 1 left
    row to right front tuck, back knit
    rack 1 left
}}{END}"
    ));
    let played = played(&text);
    assert_eq!(vector(&played), [1, 1, -1, -1].repeat(4));
    let leans: Vec<i32> = slants(&played).into_iter().map(|(_, lean)| lean).collect();
    assert_eq!(leans, [-1, 1, 1, -1].repeat(4));
    for bed in Bed::BOTH {
        let of_bed: Vec<i32> = slants(&played).into_iter().filter(|&(on, _)| on == bed).map(|(_, lean)| lean).collect();
        assert!(of_bed.windows(2).all(|pair| pair[0] == -pair[1]), "{bed}: {of_bed:?}");
    }
}

#[test]
fn vandyke_of_sixteen_courses() {
    // Spencer 2001, p. 221, rule 8: 16 courses with a rack to the right after the odd ones and to the left after the
    // even ones; one course without a rack reverses the phase; 8 face rows in each direction.
    let text = piece(&format!(
        "{BEGIN}mark \"begin\"
repeat 2 times {{
    repeat 8 times {{
        row to left front knit, back tuck
        rack 1 right
        row to right front tuck, back knit
        rack 1 left
    }}
    row to left front knit, back tuck
    repeat 8 times {{
        row to right front tuck, back knit
        rack 1 right
        row to left front knit, back tuck
        rack 1 left
    }}
    row to right front tuck, back knit
}}{END}"
    ));
    let played = played(&text);
    // The printed rule, course by course from 1; course 17 and every 17th after it has no rack and swaps odd and even.
    let mut printed = Vec::new();
    let mut right_after_odd = true;
    for course in 1..=68 {
        if course % 17 == 0 {
            printed.push(0);
            right_after_odd = !right_after_odd;
        } else {
            printed.push(if (course % 2 == 1) == right_after_odd { 1 } else { -1 });
        }
    }
    assert_eq!(vector(&played), printed);
    // Face rows are those the front bed knits off and that are racked: 8 lean one way, then 8 the other.
    let face: Vec<i32> = slants(&played)
        .into_iter()
        .filter(|&(bed, lean)| bed == Bed::Front && lean != 0)
        .map(|(_, lean)| lean)
        .collect();
    let runs: Vec<(i32, usize)> = face.chunk_by(|one, two| one == two).map(|run| (run[0], run.len())).collect();
    assert_eq!(runs, [(-1, 8), (1, 8), (-1, 8), (1, 8)]);
}

#[test]
fn zigzag_turns_where_a_rack_is_left_out() {
    // Buck 1921, ch. IV, Fig. 35: full cardigan, a rack at every course for 5 rounds, one rack skipped, and again.
    let text = piece(&format!(
        "{BEGIN}mark \"begin\"
repeat 2 times {{
    repeat 5 times {{
        row to left front knit, back tuck
        rack 1 right
        row to right front tuck, back knit
        rack 1 left
    }}
    row to left front knit, back tuck
    repeat 5 times {{
        row to right front tuck, back knit
        rack 1 right
        row to left front knit, back tuck
        rack 1 left
    }}
    row to right front tuck, back knit
}}{END}"
    ));
    let played = played(&text);
    let one_way = [1, -1, 1, -1, 1, -1, 1, -1, 1, -1, 0];
    assert_eq!(vector(&played), one_way.repeat(4));
    let skipped: Vec<usize> =
        vector(&played).iter().enumerate().filter(|(_, steps)| **steps == 0).map(|(at, _)| at + 1).collect();
    assert_eq!(skipped, [11, 22, 33, 44]);
    // Each skip is a turning point: before it all loops of a bed lean one way, after it the other way.
    let slants = slants(&played);
    let lean_near = |at: usize, bed: Bed, before: bool| {
        let leans = |(of, lean): &&(Bed, i32)| *of == bed && *lean != 0;
        let found = if before { slants[..at].iter().rev().find(leans) } else { slants[at..].iter().find(leans) };
        found.map(|&(_, lean)| lean)
    };
    for course in [11, 22, 33] {
        for bed in Bed::BOTH {
            let (before, after) = (lean_near(course, bed, true).unwrap(), lean_near(course, bed, false).unwrap());
            assert_eq!(before, -after, "the {bed} bed turns at course {course}");
        }
    }
    for rounds in slants.chunks(11) {
        for bed in Bed::BOTH {
            let leans: Vec<i32> = rounds.iter().filter(|(of, lean)| *of == bed && *lean != 0).map(|it| it.1).collect();
            assert_eq!(leans.len(), 5, "five rounds");
            assert!(leans.windows(2).all(|pair| pair[0] == pair[1]), "no turn within the five rounds");
        }
    }
}

/// The beds of the needles that the yarn meets first and last.
fn outermost(played: &Played, state: &State) -> (Bed, Bed) {
    let mut places: Vec<(i32, Bed)> = Bed::BOTH
        .into_iter()
        .flat_map(|bed| state.in_work[bed].iter().map(move |needle| (bed, needle)))
        .map(|(bed, needle)| (state.half_pitches(&played.machine, bed, needle), bed))
        .collect();
    places.sort_unstable();
    (places[0].1, places[places.len() - 1].1)
}

#[test]
fn a_rack_of_one_needle_swaps_the_outermost_bed() {
    // Buck 1921, ch. IV: one bed carries the end needle on one side, the other bed on the other; a rack swaps them.
    let text = piece(&format!(
        "{BEGIN}mark \"begin\"
repeat 3 times {{
    row both knit
    rack 1 left
    row both knit
    rack 1 right
}}{END}"
    ));
    let played = played(&text);
    assert_eq!(played.racks.len(), 6);
    for rack in &played.racks {
        let (before, after) = (outermost(&played, &rack.before), outermost(&played, &rack.after));
        assert_ne!(before.0, before.1, "each bed has one end");
        assert_eq!(after, (before.1, before.0), "the ends change beds");
    }
}

/// The working front needles that a working back needle goes past in a rack, and how many of them.
fn passed(played: &Played, rack: &Rack) -> Vec<(Needle, usize)> {
    let place = |state: &State, bed, needle| state.half_pitches(&played.machine, bed, needle);
    let past = |front: Needle, back: Needle| {
        let side = |state: &State| place(state, Bed::Back, back).cmp(&place(state, Bed::Front, front));
        let (before, after) = (side(&rack.before), side(&rack.after));
        before != after && before != Ordering::Equal && after != Ordering::Equal
    };
    rack.before.in_work[Bed::Front]
        .iter()
        .map(|front| (front, rack.before.in_work[Bed::Back].iter().filter(|&back| past(front, back)).count()))
        .filter(|&(_, times)| times > 0)
        .collect()
}

#[test]
fn a_slant_needs_a_working_needle_to_go_past() {
    // Spencer 2001, p. 221, rule 9: a slant appears only where a needle passes a working needle of the other bed.
    let swing_in = |set_out: &str, first: &str, back: &str, row: &str| {
        let text = piece(&format!(
            "gaiting between
in work {set_out}
cast on wound both
mark \"begin\"
row both knit
rack 1 {first}
{row}
rack 1 {back}
mark \"end\"
onto waste yarn both"
        ));
        let played = played(&text);
        let counts: Vec<usize> = played.racks.iter().map(|rack| passed(&played, rack).len()).collect();
        assert_eq!(counts[0], counts[1], "the way back passes the same needles");
        counts[0]
    };
    let swing = |set_out: &str, first: &str, back: &str| swing_in(set_out, first, back, "row both knit");
    // Where nothing slants the checker warns of it, and is told that it is meant.
    let straight = |set_out: &str, first: &str, back: &str| {
        let row = "allow no-slant because \"that is what is measured\" {\nrow both knit\n}";
        swing_in(set_out, first, back, row)
    };
    // Every needle in work: each passes one, but for the front edge needle on the side the back bed leaves.
    assert_eq!(swing("front L6-R6, back L6-R6", "right", "left"), 11);
    assert_eq!(swing("front L6-R6, back L6-R6", "left", "right"), 12);
    // Every second needle of both beds: one way all go past a working needle, the other way all past an empty place.
    let alternate = "front \"|.\" over L6-R6, back \".|\" over L6-R6";
    assert_eq!(swing(alternate, "right", "left"), 5);
    assert_eq!(straight(alternate, "left", "right"), 0);
    // Two in, two out: of each front pair one needle is passed, and its neighbour shows no slant.
    let pairs = "front \"||..\" over L6-R6, back \"..||\" over L6-R6";
    assert_eq!(swing(pairs, "right", "left"), 2);
    assert_eq!(straight(pairs, "left", "right"), 0);
    // One needle of the back bed in work: one slant, wherever the rest is knitted plain.
    assert_eq!(swing("front L6-R6, back L1", "right", "left"), 1);
}

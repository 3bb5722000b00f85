//! Racking as it is printed, and the way the stitches lean, worked out from the trace.
//!
//! H. D. Buck, Flat Machine Knitting and Fabrics, 1921, ch. IV; D. J. Spencer, Knitting Technology, 3rd ed., 2001,
//! p. 221.

use crate::outside::fabric::Fabric;
use crate::outside::hand::{Hand, Said, stands_either_way, trace};
use std::collections::BTreeSet;

const BEGIN: &str = "gaiting between
in work front L6-R6, back L6-R6
cast on zigzag
tubular 2 rows
";
const END: &str = "
mark \"end\"
onto waste yarn both";

/// A slip in the profile: the other bed racks.
const OTHER_BED: (&str, &str) = ("racking back bed", "racking front bed");

fn knitted(hand: &Hand<'_>, statements: &str) -> Result<Fabric, String> {
    Fabric::read(&trace(&hand.piece(statements))?, hand.is_mirrored())
}

/// Needles that the back bed goes to the right against the front bed after each row; 0 where the beds stay.
fn vector(fabric: &Fabric) -> Vec<i64> {
    let mut steps = vec![0; fabric.marked().len()];
    for rack in &fabric.racks {
        steps[rack.after - 1] += rack.by / 2;
    }
    steps
}

/// The bed that knits off in a row of full cardigan, and which way its stitches lean.
fn knitting_off(fabric: &Fabric, row: usize) -> Result<(usize, i64), String> {
    let bed = (0..2).find(|&bed| fabric.all_knit(row, bed) && fabric.all_tuck(row, 1 - bed));
    let bed = bed.ok_or_else(|| format!("row {row} is not full cardigan"))?;
    Ok((bed, fabric.lean_of(row, bed).ok_or_else(|| format!("the stitches of row {row} lean both ways"))?))
}

/// The same for all rows but the last, whose tucks nothing has knitted off yet.
fn leans(fabric: &Fabric) -> Result<Vec<(usize, i64)>, String> {
    (0..fabric.marked().len() - 1).map(|row| knitting_off(fabric, row)).collect()
}

#[test]
fn half_cardigan_is_racked_on_the_course_that_tucks() {
    // Buck 1921, ch. IV: by one needle, on the tucking course, with one full round (two courses) between two racks; the
    // slant shows on the bed that knits off.
    let check = |hand: &Hand<'_>| -> Said {
        let fabric = knitted(
            hand,
            &format!(
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
            ),
        )?;
        agree!(vector(&fabric), [0, 1, 0, -1].repeat(4), "racks");
        for rack in &fabric.racks {
            must!(
                fabric.all_tuck(rack.after - 1, 1) && fabric.all_knit(rack.after - 1, 0),
                "racked where the back bed tucks"
            );
        }
        // The last row has nothing after it that would hold it fast.
        for row in 0..15 {
            let expected = match row % 4 {
                1 => Some(-1),
                3 => Some(1),
                _ => Some(0),
            };
            agree!(fabric.lean_of(row, 0), expected, "how the front bed's stitches of row {row} lean");
        }
        Ok(())
    };
    let early = "row to right front knit, back knit\n    rack 1 right\n    row to left front knit, back tuck";
    stands_either_way(
        check,
        &[
            OTHER_BED,
            ("row to right front knit, back knit\n    row to left front knit, back tuck\n    rack 1 right", early),
        ],
    );
}

#[test]
fn full_cardigan_racked_both_ways_leans_one_way_on_both_faces() {
    // Buck 1921, ch. IV; Spencer 2001, p. 221, rule 6: left after course 1 and right after course 2.
    let check = |hand: &Hand<'_>| -> Said {
        let fabric = knitted(
            hand,
            &format!(
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
            ),
        )?;
        agree!(vector(&fabric), [-1, 1].repeat(4), "racks");
        must!(
            leans(&fabric)?.iter().all(|&(_, lean)| lean == 1),
            "all lean right, on both faces: {:?}",
            leans(&fabric)?
        );
        let faces: BTreeSet<usize> = leans(&fabric)?.into_iter().map(|(bed, _)| bed).collect();
        agree!(faces.len(), 2, "faces");
        Ok(())
    };
    stands_either_way(check, &[OTHER_BED, ("    rack 1 right\n}", "    rack to centre\n}")]);
}

#[test]
fn two_racks_each_way_lean_in_turn() {
    // Spencer 2001, p. 221, rule 7: two racks the same way, then two back: alternate courses slant opposite ways.
    // The back bed ends one needle earlier on the right, so that no more than two of its needles stick out there.
    let check = |hand: &Hand<'_>| -> Said {
        let fabric = knitted(
            hand,
            &format!(
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
            ),
        )?;
        agree!(vector(&fabric), [1, 1, -1, -1].repeat(4), "racks");
        for bed in 0..2 {
            let of_bed: Vec<i64> =
                leans(&fabric)?.into_iter().filter(|&(on, _)| on == bed).map(|(_, lean)| lean).collect();
            must!(of_bed.len() >= 7 && of_bed[0] != 0, "bed {bed} leans: {of_bed:?}");
            must!(of_bed.windows(2).all(|pair| pair[0] == -pair[1]), "bed {bed}: {of_bed:?}");
        }
        agree!(
            leans(&fabric)?[0],
            (0, -1),
            "the first course: the back bed goes right, so the front bed's stitches lean left"
        );
        Ok(())
    };
    let swing = "rack 1 left\n    row to left front knit, back tuck\n    rack 1 right";
    stands_either_way(
        check,
        &[OTHER_BED, ("rack 1 right\n    row to left front knit, back tuck\n    rack 1 left", swing)],
    );
}

/// A Vandyke: full cardigan, racked so many times, one course without a rack, and so on; four such parts.
fn vandyke(hand: &Hand<'_>, twice: usize) -> Result<Fabric, String> {
    knitted(
        hand,
        &format!(
            "{BEGIN}mark \"begin\"
repeat 2 times {{
    repeat {twice} times {{
        row to left front knit, back tuck
        rack 1 right
        row to right front tuck, back knit
        rack 1 left
    }}
    row to left front knit, back tuck
    repeat {twice} times {{
        row to right front tuck, back knit
        rack 1 right
        row to left front knit, back tuck
        rack 1 left
    }}
    row to right front tuck, back knit
}}{END}"
        ),
    )
}

const NO_UPRIGHT_ROW: (&str, &str) = (
    "    row to left front knit, back tuck\n    repeat",
    "    row to left front knit, back tuck\n    rack 1 right\n    rack 1 left\n    row to right both knit\n    repeat",
);

#[test]
fn vandyke_of_sixteen_courses() {
    // Spencer 2001, p. 221, rule 8: 16 courses with a rack to the right after the odd ones and to the left after the
    // even ones; one course without a rack reverses the phase; 8 face rows in each direction.
    let check = |hand: &Hand<'_>| -> Said {
        let fabric = vandyke(hand, 8)?;
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
        agree!(vector(&fabric), printed, "racks");
        // Face rows are those the front bed knits off: 8 lean one way, then 8 the other, upright ones left out.
        let face: Vec<i64> =
            leans(&fabric)?.into_iter().filter(|&(bed, lean)| bed == 0 && lean != 0).map(|(_, lean)| lean).collect();
        let runs: Vec<(i64, usize)> = face.chunk_by(|one, two| one == two).map(|run| (run[0], run.len())).collect();
        agree!(runs, [(-1, 8), (1, 8), (-1, 8), (1, 8)], "face rows by the way they lean");
        Ok(())
    };
    stands_either_way(check, &[OTHER_BED, ("repeat 8 times", "repeat 7 times"), NO_UPRIGHT_ROW]);
}

#[test]
fn vandyke_has_one_upright_row_every_sixteen_on_each_side_in_turn() {
    // Spencer 2001, p. 221, rule 8 (read): one upright row every 16 face rows, alternately on each side.
    let check = |hand: &Hand<'_>| -> Said {
        let fabric = vandyke(hand, 8)?;
        let leans = leans(&fabric)?;
        let upright: Vec<usize> = leans.iter().filter(|(_, lean)| *lean == 0).map(|(bed, _)| *bed).collect();
        agree!(upright, [0, 1, 0], "the sides of the upright rows, in their order");
        for bed in 0..2 {
            let rows: Vec<i64> = leans.iter().filter(|(on, _)| *on == bed).map(|(_, lean)| *lean).collect();
            let slanted: Vec<usize> = rows.split(|lean| *lean == 0).map(<[i64]>::len).collect();
            let inner = if bed == 0 { &slanted[1..slanted.len() - 1] } else { &slanted[..1] };
            must!(
                inner.iter().all(|rows| *rows == 16),
                "bed {bed}: slanted rows between the upright ones: {slanted:?}"
            );
        }
        Ok(())
    };
    stands_either_way(check, &[("repeat 8 times", "repeat 7 times"), NO_UPRIGHT_ROW]);
}

#[test]
fn zigzag_turns_where_a_rack_is_left_out() {
    // Buck 1921, ch. IV, Fig. 35: full cardigan, a rack at every course for 5 rounds, one rack skipped, and again.
    let check = |hand: &Hand<'_>| -> Said {
        let fabric = vandyke(hand, 5)?;
        let one_way = [1, -1, 1, -1, 1, -1, 1, -1, 1, -1, 0];
        agree!(vector(&fabric), one_way.repeat(4), "racks");
        let leans = leans(&fabric)?;
        // Each skip is a turning point: before it all stitches of a bed lean one way, after it the other way.
        for bed in 0..2 {
            let of_bed: Vec<i64> =
                leans.iter().filter(|(on, lean)| *on == bed && *lean != 0).map(|(_, lean)| *lean).collect();
            let runs: Vec<usize> = of_bed.chunk_by(|one, two| one == two).map(<[i64]>::len).collect();
            agree!(runs, [5, 5, 5, 5], "rounds of bed {bed} that lean one way");
        }
        let first: Vec<i64> = leans.chunks(11).map(|rounds| rounds[0].1).collect();
        agree!(leans[0], (0, -1), "the first row");
        must!(first.iter().all(|lean| *lean != 0), "each part begins with a row that leans");
        Ok(())
    };
    stands_either_way(check, &[OTHER_BED, ("repeat 5 times", "repeat 4 times"), NO_UPRIGHT_ROW]);
}

#[test]
fn a_slant_needs_a_working_needle_to_go_past() {
    // Spencer 2001, p. 221, rule 9: a slant appears only where a needle passes a working needle of the other bed.
    let check = |hand: &Hand<'_>| -> Said {
        // How many stitches of the front bed lean after a swing to that side.
        let swing = |set_out: &str, first: &str, back: &str, straight: bool| -> Result<(usize, usize), String> {
            let row = "row both knit";
            // Where nothing slants the checker warns of it, and is told that it is meant.
            let row = if straight {
                format!("allow no-slant because \"that is what is measured\" {{\n{row}\n}}")
            } else {
                row.into()
            };
            let fabric = knitted(
                hand,
                &format!(
                    "gaiting between\nin work {set_out}\ncast on wound both\nmark \"begin\"\nrow both knit\nrack 1 {first}\n{row}\n\
                     rack 1 {back}\n{row}{END}"
                ),
            )?;
            let lean = |row: usize| {
                let loops = &fabric.marked()[row].loops;
                loops.iter().filter(|it| fabric.loops[**it].bed == 0 && fabric.lean(**it) != 0).count()
            };
            Ok((lean(0), lean(1)))
        };
        let all = "front L6-R6, back L6-R6";
        // Every needle in work: each goes past one, but for the front edge needle on the side that the back bed leaves.
        agree!(swing(all, "right", "left", false)?, (11, 11), "all, to the right");
        agree!(swing(all, "left", "right", false)?, (12, 12), "all, to the left");
        // Every second needle of both beds: one way all go past a working needle, the other way all past an empty place.
        let alternate = "front \"|.\" over L6-R6, back \".|\" over L6-R6";
        agree!(swing(alternate, "right", "left", false)?, (5, 5), "every second, to the right");
        agree!(swing(alternate, "left", "right", true)?, (0, 0), "every second, to the left");
        // Two in, two out: of each front pair one needle is passed, and its neighbour shows no slant.
        let pairs = "front \"||..\" over L6-R6, back \"..||\" over L6-R6";
        agree!(swing(pairs, "right", "left", false)?, (2, 2), "pairs, to the right");
        agree!(swing(pairs, "left", "right", true)?, (0, 0), "pairs, to the left");
        // One needle of the back bed in work: one slant, wherever the rest is knitted plain.
        agree!(swing("front L6-R6, back L1", "right", "left", false)?, (1, 1), "one needle behind");
        Ok(())
    };
    stands_either_way(check, &[("half step to the right", "half step to the left"), ("\".|\" over", "\"||\" over")]);
}

#[test]
fn groups_of_five_slant_in_turn() {
    // Buck 1921, ch. IV, to Fig. 37 (read): every second needle of the front bed out; of the back bed every second one out in
    // groups of five, two together between the groups. Racked by one, every second group slants; racked on by one, the
    // groups change over; 10 rounds each.
    let check = |hand: &Hand<'_>| -> Said {
        let rounds = "repeat 5 times {
    rows 2 both knit
    rack 1 right
    rows 2 both knit
    rack 1 left
}
";
        let fabric = knitted(
            hand,
            &format!(
                "gaiting between
in work front \"|.\" over L18-R20, back \"|.|.|.|.||.|.|.|.|\" over L18-R18
cast on wound both
mark \"begin\"
{rounds}rows 2 both knit
rack 1 right
{rounds}mark \"end\"
row both knit
rack to centre
onto waste yarn both"
            ),
        )?;
        // Where the back bed stands after each rack, from where it began.
        let places: Vec<i64> = fabric
            .racks
            .iter()
            .scan(0, |at, rack| {
                *at += rack.by / 2;
                Some(*at)
            })
            .collect();
        agree!(places, [[1, 0].repeat(5), vec![1], [2, 1].repeat(5)].concat(), "places of the back bed");
        // The groups of the back bed, from the left: where two needles stand together one ends and the next begins.
        let working: Vec<i64> = fabric.working(1).into_iter().collect();
        let groups: Vec<Vec<i64>> = working.chunk_by(|one, two| two - one == 2).map(<[i64]>::to_vec).collect();
        agree!(groups.iter().map(Vec::len).collect::<Vec<_>>(), [5, 5, 5, 5], "needles of the groups");
        // Which groups slant in the rows from one round to another.
        let slanting = |rows: std::ops::Range<usize>| -> Vec<usize> {
            let loops = rows.flat_map(|row| fabric.marked()[row].loops.iter()).map(|it| (&fabric.loops[*it], *it));
            let lean = loops.filter(|(it, number)| it.bed == 1 && fabric.lean(*number) != 0);
            let needles: BTreeSet<i64> = lean.map(|(it, _)| it.needle).collect();
            let slants = |group: &Vec<i64>| group.iter().filter(|at| needles.contains(at)).count();
            // All needles of a group slant, or none; the last one of the right edge has no front needle to go past.
            (0..groups.len()).filter(|&group| slants(&groups[group]) >= 4).collect()
        };
        let all = fabric.marked().len();
        agree!(all, 42, "rows: 10 rounds of two rows, one round, and 10 rounds");
        let (first, then) = (slanting(0..20), slanting(22..all));
        agree!(first, [1, 3], "the groups that slant in the first 10 rounds");
        agree!(then, [0, 2], "the groups that slant after racking on by one");
        Ok(())
    };
    stands_either_way(
        check,
        &[
            OTHER_BED,
            ("\"|.|.|.|.||.|.|.|.|\"", "\".|.|.|.|.|.|.|.|.|\""),
            ("rows 2 both knit\nrack 1 right\nrepeat", "rows 2 both knit\nrack 1 left\nrepeat"),
        ],
    );
}

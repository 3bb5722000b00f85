//! Structures of two beds, course by course, and what is said of them in words.

use super::table::{Cells, Structure, Words};
use crate::outside::fabric::Fabric;
use crate::outside::hand::{Hand, Said, stands_either_way, trace};

const SPENCER_7: &str = "D. J. Spencer, Knitting Technology, 3rd ed., 2001, ch. 7";
const LAM: &str = "J. Lam, Hong Kong Polytechnic University, Introduction to Textile Fabric, Part 4";
const NONE: &str = "common practice, no source";

/// Both edges of the front bed stand outside the back bed.
const FRONT_OUTSIDE: &str = "gaiting between
in work front L6-R6, back L6-R5
cast on zigzag
tubular 2 rows";
/// The front bed has the left edge, the back bed the right one.
const ALTERNATE: &str = "gaiting between
in work front L6-R6, back L6-R6
cast on zigzag
tubular 2 rows";
/// Begun between, worked face to face.
const OPPOSITE: &str = "gaiting between
in work front L6-R6, back L6-R6
cast on zigzag
tubular 2 rows
gaiting opposite";

const WIDE: (&str, [&str; 2]) = ("L6", ["R6", "R6"]);
const INSIDE: (&str, [&str; 2]) = ("L6", ["R6", "R5"]);

/// In every marked row the yarn goes over to the other bed from each needle to the next.
fn goes_over_at_each_needle(fabric: &Fabric, row: usize) -> bool {
    fabric.links(row) + 1 == fabric.path(row).len()
}

fn every_row(fabric: &Fabric, holds: impl Fn(usize) -> bool) -> bool {
    (0..fabric.marked().len()).all(holds)
}

/// The rows of one period, those for which something is so.
fn rows_where(fabric: &Fabric, holds: impl Fn(usize) -> bool) -> Vec<usize> {
    (0..fabric.period()).filter(|&row| holds(row)).collect()
}

fn loops(fabric: &Fabric, front: (usize, usize), back: (usize, usize)) -> bool {
    [fabric.in_a_period(0), fabric.in_a_period(1)] == [Some(front), Some(back)]
}

/// How many loops each stitch of a bed was drawn through that was knitted after the first period.
fn drawn_through(fabric: &Fabric, bed: usize, strands: usize) -> bool {
    let later = fabric.begin + fabric.period()..fabric.end;
    let mut stitches = fabric.loops.iter().filter(|it| it.course.is_some_and(|row| later.contains(&row)));
    stitches.all(|it| it.bed != bed || it.is_tuck || it.through.len() == strands)
}

/// Each wale shows one face all the way: those of the front bed the knit side, those of the back bed the purl side.
fn each_wale_shows_one_face(fabric: &Fabric) -> bool {
    let tops = |bed: usize| fabric.at_end[bed].values().filter_map(|stack| stack.last().copied());
    (0..2).all(|bed| tops(bed).all(|top| fabric.wale(top).iter().all(|face| *face == bed)))
}

/// No needle takes the yarn that stands at the same place as one of the other bed that does.
fn no_facing_pair(fabric: &Fabric, row: usize) -> bool {
    let course = &fabric.marked()[row];
    let places = |bed: usize| {
        let acting = course.knit[bed].union(&course.tuck[bed]);
        acting.map(|at| Fabric::place_of(bed, *at, course.offset)).collect::<std::collections::BTreeSet<_>>()
    };
    places(0).is_disjoint(&places(1))
}

/// Two rows together are a row of interlock: each needle knits in one of them, and every second one in each.
fn an_interlock_row(fabric: &Fabric, one: usize, two: usize) -> bool {
    (0..2).all(|bed| {
        let [first, second] = [one, two].map(|row| &fabric.marked()[row].knit[bed]);
        let apart =
            |set: &std::collections::BTreeSet<i64>| !set.is_empty() && set.iter().all(|at| !set.contains(&(at + 1)));
        first.is_disjoint(second)
            && first.union(second).copied().eq(fabric.working(bed))
            && apart(first)
            && apart(second)
    }) && no_facing_pair(fabric, one)
        && no_facing_pair(fabric, two)
}

#[test]
fn full_needle_rib() {
    let structure = Structure {
        source: &format!("1x1 rib: {SPENCER_7}; H. D. Buck, Flat Machine Knitting and Fabrics, 1921"),
        set_out: FRONT_OUTSIDE,
        rows: "row both knit",
        times: 4,
        courses: &[["K", "K"]],
        height: 1,
        width: INSIDE,
        words: &[
            ("one needle of each bed in turn takes the yarn", |it| {
                every_row(it, |row| goes_over_at_each_needle(it, row))
            }),
            ("wales of the knit side and of the purl side in turn", each_wale_shows_one_face),
            ("every course is alike, and clears every stitch", |it| {
                it.period() == 1 && loops(it, (1, 0), (1, 0)) && (0..2).all(|bed| drawn_through(it, bed, 1))
            }),
        ],
        wrong: &[&[["K", "K"], ["K", "-"]]],
    };
    structure.proved(&[("row both knit", "row front knit"), ("gaiting between", "gaiting opposite")]);
}

#[test]
fn half_gauge_rib() {
    // Half-gauging is mentioned by Spencer 2001, p. 234; the set-out is common practice, no source.
    let structure = Structure {
        source: NONE,
        set_out: "gaiting opposite
in work front \"|.\" over L6-R6, back \".|\" over L6-R6
cast on zigzag",
        rows: "row both knit",
        times: 4,
        courses: &[["K.", ".K"]],
        height: 1,
        width: WIDE,
        words: &[
            ("every second needle of each bed", |it| {
                (0..2).all(|bed| {
                    it.working(bed).len() == 6 && it.working(bed).iter().all(|at| !it.working(bed).contains(&(at + 1)))
                })
            }),
            ("each working needle faces an idle place", |it| every_row(it, |row| no_facing_pair(it, row))),
            ("a 1x1 rib", |it| every_row(it, |row| goes_over_at_each_needle(it, row)) && loops(it, (1, 0), (1, 0))),
        ],
        wrong: &[&[["K.", ".K"], ["K.", ".-"]]],
    };
    structure.proved(&[("\".|\"", "\"|.\""), ("row both knit", "row back knit")]);
}

#[test]
fn two_by_two_rib_of_two_needles_in_three() {
    let structure = Structure {
        source: "2x2 Swiss rib: D. J. Spencer, Knitting Technology, 3rd ed., 2001, section 7.3.1, pp. 68-69",
        set_out: "gaiting between
in work front \".||\" over L6-R6, back \"|.|\" over L6-R6
rack 1 left
cast on zigzag
tubular 2 rows
rack to centre",
        rows: "row both knit",
        times: 6,
        courses: &[[".KK", "K.K"]],
        height: 1,
        width: WIDE,
        words: &[
            ("two wales of the knit side, two of the purl side", |it| {
                every_row(it, |row| it.inner_runs(row) == [(0, 2), (1, 2)].into()) && each_wale_shows_one_face(it)
            }),
            ("two needles in three work", |it| (0..2).all(|bed| it.working(bed).len() == 8)),
            ("every course clears every stitch", |it| loops(it, (1, 0), (1, 0))),
        ],
        wrong: &[],
    };
    structure.proved(&[("\"|.|\"", "\"||.\""), ("rack to centre", "rack 1 left")]);
}

#[test]
fn two_by_two_rib_of_two_needles_in_four() {
    let structure = Structure {
        source: "2x2 English rib: Spencer 2001, p. 69; Buck 1921 (\"2 and 2\": two together alternating in each plate)",
        set_out: "gaiting opposite
in work front \"||..\" over L6-R6, back \"..||\" over L6-R6
cast on wound both",
        rows: "row both knit",
        times: 4,
        courses: &[["KK..", "..KK"]],
        height: 1,
        width: WIDE,
        words: &[
            ("two together alternating in each bed", |it| {
                every_row(it, |row| it.inner_runs(row) == [(0, 2), (1, 2)].into()) && each_wale_shows_one_face(it)
            }),
            ("two empty places opposite the pair", |it| {
                every_row(it, |row| no_facing_pair(it, row)) && (0..2).all(|bed| it.working(bed).len() == 6)
            }),
            ("every course clears every stitch", |it| loops(it, (1, 0), (1, 0))),
        ],
        wrong: &[],
    };
    structure.proved(&[("\"..||\"", "\".||.\"")]);
}

#[test]
fn half_cardigan() {
    let structure = Structure {
        source: "half cardigan: Spencer 2001, ch. 18; Buck 1921, ch. III",
        set_out: FRONT_OUTSIDE,
        rows: "row front knit, back knit\nrow front knit, back tuck",
        times: 3,
        courses: &[["K", "K"], ["K", "T"]],
        height: 2,
        width: INSIDE,
        words: &[
            ("a repeat of two courses", |it| it.period() == 2),
            ("one bed alone tucks, at alternate courses, and it is the back bed (Buck)", |it| {
                rows_where(it, |row| it.all_tuck(row, 1)).len() == 1 && every_row(it, |row| it.all_knit(row, 0))
            }),
            ("twice as many cleared courses on the side that always knits (Spencer)", |it| loops(it, (2, 0), (1, 1))),
            ("a tuck lies over the held stitch and is knitted off with it", |it| {
                drawn_through(it, 0, 1) && drawn_through(it, 1, 2)
            }),
        ],
        wrong: &[&[["K", "T"], ["T", "K"]], &[["K", "K"], ["K", "T"], ["K", "T"]], &[["K", "K"], ["T", "K"]]],
    };
    structure.proved(&[("back tuck", "back knit"), ("row front knit, back tuck", "row front knit")]);
}

#[test]
fn full_cardigan() {
    let structure = Structure {
        source: "full cardigan: Buck 1921, ch. III",
        set_out: ALTERNATE,
        rows: "row front knit, back tuck\nrow front tuck, back knit",
        times: 3,
        courses: &[["K", "T"], ["T", "K"]],
        height: 2,
        width: WIDE,
        words: &[
            ("the beds change parts at every course", |it| {
                let part =
                    |row| [it.all_knit(row, 0) && it.all_tuck(row, 1), it.all_tuck(row, 0) && it.all_knit(row, 1)];
                it.period() == 2 && every_row(it, |row| part(row)[row % 2])
            }),
            ("both faces alike", |it| loops(it, (1, 1), (1, 1)) && (0..2).all(|bed| drawn_through(it, bed, 2))),
        ],
        wrong: &[&[["K", "K"], ["K", "T"]], &[["K", "T"], ["K", "K"], ["T", "K"], ["K", "K"]]],
    };
    structure.proved(&[("front tuck", "front knit"), ("back tuck", "back knit")]);
}

/// What is said of half Milano.
const HALF_MILANO: &[Words] = &[
    ("two courses", |it| it.period() == 2),
    ("one of them 1x1 rib", |it| rows_where(it, |row| goes_over_at_each_needle(it, row)).len() == 1),
    ("the second on the front needles only", |it| {
        rows_where(it, |row| it.alone(row) == Some(0) && it.all_knit(row, 0)).len() == 1
    }),
    ("plain courses on the face: two stitches there to one behind", |it| loops(it, (2, 0), (1, 0))),
];

/// What is said of Milano.
const MILANO: &[Words] = &[
    ("three courses", |it| it.period() == 3),
    ("one of them 1x1 rib", |it| rows_where(it, |row| goes_over_at_each_needle(it, row)).len() == 1),
    ("one plain course on each side", |it| {
        (0..2).all(|bed| rows_where(it, |row| it.alone(row) == Some(bed) && it.all_knit(row, bed)).len() == 1)
    }),
    ("as many stitches on one side as on the other", |it| loops(it, (2, 0), (2, 0))),
];

const HALF_MILANO_COURSES: &[Cells] = &[["K", "K"], ["K", "-"]];
const MILANO_COURSES: &[Cells] = &[["K", "K"], ["K", "-"], ["-", "K"]];

#[test]
fn half_milano() {
    let structure = Structure {
        source: &format!("half Milano: {LAM}"),
        set_out: ALTERNATE,
        rows: "row both knit\nrow front knit",
        times: 3,
        courses: HALF_MILANO_COURSES,
        height: 2,
        width: WIDE,
        words: HALF_MILANO,
        wrong: &[
            MILANO_COURSES,
            &[["K", "K"], ["-", "K"]],
            &[["K", "K"], ["K", "K"], ["K", "-"]],
            &[["K", "-"], ["-", "K"]],
        ],
    };
    structure.proved(&[("row front knit", "row back knit"), ("row front knit", "row front knit\nrow back knit")]);
}

#[test]
fn milano() {
    let structure = Structure {
        source: &format!("Milano rib: {LAM}"),
        set_out: ALTERNATE,
        rows: "row both knit\nrow front knit\nrow back knit",
        times: 4,
        courses: MILANO_COURSES,
        height: 3,
        width: WIDE,
        words: MILANO,
        wrong: &[
            HALF_MILANO_COURSES,
            &[["K", "K"], ["K", "-"], ["K", "-"]],
            &[["K", "K"], ["K", "-"], ["K", "K"], ["-", "K"]],
            &[["K", "K"], ["K", "-"], ["-", "K"], ["K", "-"], ["-", "K"]],
        ],
    };
    structure.proved(&[("row back knit", "row front knit"), ("row both knit\n", "")]);
}

#[test]
fn interlock() {
    let structure = Structure {
        source: &format!("interlock: {SPENCER_7}; which needles knit in which course: {NONE}"),
        set_out: OPPOSITE,
        rows: "row front knit on \"|.\", slip elsewhere, back knit on \".|\", slip elsewhere
row front knit on \".|\", slip elsewhere, back knit on \"|.\", slip elsewhere",
        times: 3,
        courses: &[["K-", "-K"], ["-K", "K-"]],
        height: 2,
        width: WIDE,
        words: &[
            ("two courses make one row of stitches", |it| it.period() == 2 && an_interlock_row(it, 0, 1)),
            ("a facing pair is never used together", |it| every_row(it, |row| no_facing_pair(it, row))),
            ("every course is a rib of half the needles", |it| {
                every_row(it, |row| goes_over_at_each_needle(it, row)) && loops(it, (1, 0), (1, 0))
            }),
        ],
        wrong: &[&[["K-", "-K"]], &[["K-", "-K"], ["-K", "--"], ["--", "K-"]]],
    };
    structure.proved(&[
        ("back knit on \".|\", slip elsewhere\n", "back knit on \".|\", tuck elsewhere\n"),
        ("\".|\"", "\"|.\""),
    ]);
}

#[test]
fn punto_di_roma_of_four_courses() {
    let structure = Structure {
        source: NONE,
        set_out: OPPOSITE,
        rows: "row front knit on \"|.\", slip elsewhere, back knit on \".|\", slip elsewhere
row front knit on \".|\", slip elsewhere, back knit on \"|.\", slip elsewhere
row front knit
row back knit",
        times: 3,
        courses: &[["K-", "-K"], ["-K", "K-"], ["KK", "--"], ["--", "KK"]],
        height: 4,
        width: WIDE,
        words: &[
            ("four courses, of which the first two make a row of interlock", |it| {
                it.period() == 4 && an_interlock_row(it, 0, 1)
            }),
            ("then a plain course on the one bed and one on the other", |it| {
                let plain = |row: usize, bed| it.alone(row) == Some(bed) && it.all_knit(row, bed);
                plain(2, 0) && plain(3, 1)
            }),
            ("balanced", |it| loops(it, (2, 0), (2, 0))),
        ],
        wrong: &[
            &[["K-", "-K"], ["KK", "--"], ["-K", "K-"], ["--", "KK"]],
            &[["K-", "-K"], ["-K", "K-"], ["KK", "--"], ["KK", "--"]],
        ],
    };
    structure.proved(&[("row back knit", "row front knit")]);
}

#[test]
fn punto_di_roma_of_six_courses() {
    let structure = Structure {
        source: NONE,
        set_out: OPPOSITE,
        rows: "row front knit on \"|.\", slip elsewhere, back knit on \".|\", slip elsewhere
row front knit on \".|\", slip elsewhere
row back knit on \"|.\", slip elsewhere
row front knit on \"|.\", slip elsewhere
row back knit on \".|\", slip elsewhere
row front knit on \".|\", slip elsewhere, back knit on \"|.\", slip elsewhere",
        times: 2,
        courses: &[["K-", "-K"], ["-K", "--"], ["--", "K-"], ["K-", "--"], ["--", "-K"], ["-K", "K-"]],
        height: 6,
        width: WIDE,
        words: &[
            ("six courses, of which the first and the last make a row of interlock", |it| {
                it.period() == 6 && an_interlock_row(it, 0, 5)
            }),
            ("between them plain courses on every second needle, the beds in turn", |it| {
                [1, 2, 3, 4].map(|row| it.alone(row)) == [Some(0), Some(1), Some(0), Some(1)]
            }),
            ("those of one bed have other needles each time", |it| {
                (0..2).all(|bed| it.marked()[1 + bed].knit[bed].is_disjoint(&it.marked()[3 + bed].knit[bed]))
            }),
            ("balanced", |it| loops(it, (2, 0), (2, 0))),
        ],
        wrong: &[&[["K-", "-K"], ["-K", "K-"], ["-K", "--"], ["--", "K-"], ["K-", "--"], ["--", "-K"]]],
    };
    structure.proved(&[("row back knit on \".|\"", "row back knit on \"|.\"")]);
}

/// The cords of one bed: how many extra courses it has is common practice, no source; both forms are published.
fn cords(extra: usize, rest: &'static str) -> Vec<Cells> {
    let mut courses = vec![["K", "K"]];
    courses.extend(std::iter::repeat_n(["K", rest], extra));
    courses
}

/// For how many rows the stitches of the back bed hang before they are knitted off.
fn back_waits(fabric: &Fabric, rows: usize) -> bool {
    let waits = |it: &crate::outside::fabric::Loop| {
        let made = it.course.filter(|made| *made >= fabric.begin && it.bed == 1 && !it.is_tuck)?;
        Some(it.cleared? - made)
    };
    fabric.loops.iter().filter_map(waits).all(|waited| waited == rows)
}

#[test]
fn ottoman_misses() {
    // The bed that rests misses.
    for extra in 1..=5 {
        let structure = Structure {
            source: "ottoman: D. J. Spencer, Knitting Technology, 3rd ed., 2001, ch. 13, Fig. 13.4: so in the USA the form \
                     that misses is called",
            set_out: FRONT_OUTSIDE,
            rows: &format!("row both knit\nrows {extra} front knit"),
            times: 4,
            courses: &cords(extra, "-"),
            height: 1 + extra,
            width: INSIDE,
            words: &[
                ("a ground course on both beds", |it| {
                    rows_where(it, |row| it.all_knit(row, 0) && it.all_knit(row, 1)).len() == 1
                }),
                ("cords from more courses on one bed, which the other misses", |it| {
                    let more = it.period() - 1;
                    more >= 1
                        && rows_where(it, |row| it.alone(row) == Some(0) && it.all_knit(row, 0)).len() == more
                        && loops(it, (1 + more, 0), (1, 0))
                }),
                ("behind a cord hangs one long stitch", |it| back_waits(it, it.period()) && drawn_through(it, 1, 1)),
            ],
            wrong: &[&cords(extra.min(4), "T")[..], &[["K", "K"], ["-", "K"]]],
        };
        structure.proved(&[("front knit\n}", "front knit, back tuck\n}")]);
    }
}

#[test]
fn horizontal_ripple_tucks() {
    // The bed that rests tucks; more than 4 tucks are too many (Spencer 2001, p. 96).
    for extra in 1..=4 {
        let structure = Structure {
            source: "horizontal ripple: Spencer 2001, ch. 13: the form that tucks is sometimes called so",
            set_out: FRONT_OUTSIDE,
            rows: &format!("row both knit\nrows {extra} front knit, back tuck"),
            times: 4,
            courses: &cords(extra, "T"),
            height: 1 + extra,
            width: INSIDE,
            words: &[
                ("a ground course on both beds", |it| {
                    rows_where(it, |row| it.all_knit(row, 0) && it.all_knit(row, 1)).len() == 1
                }),
                ("cords from more courses on one bed, in which the other tucks", |it| {
                    let more = it.period() - 1;
                    more >= 1
                        && rows_where(it, |row| it.all_knit(row, 0) && it.all_tuck(row, 1)).len() == more
                        && loops(it, (1 + more, 0), (1, more))
                }),
                ("behind a cord hangs one long stitch, with all the tucks on it", |it| {
                    back_waits(it, it.period()) && drawn_through(it, 1, it.period())
                }),
            ],
            wrong: &[&cords(extra, "-")[..], &[["K", "K"], ["T", "K"]]],
        };
        structure.proved(&[("back tuck\n}", "back slip\n}")]);
    }
}

#[test]
fn tubular_rounds() {
    let structure = Structure {
        source: NONE,
        set_out: ALTERNATE,
        rows: "row front knit\nrow back knit",
        times: 3,
        courses: &[["K", "-"], ["-", "K"]],
        height: 2,
        width: WIDE,
        words: &[
            ("one bed in each row, and the other in the next", |it| {
                it.period() == 2 && every_row(it, |row| it.alone(row) == Some(row % 2) && it.all_knit(row, row % 2))
            }),
            ("so the beds are joined at the edges alone", |it| {
                let way = |row: usize| it.marked()[row].to_the_right;
                every_row(it, |row| it.links(row) == 0) && (1..it.marked().len()).all(|row| way(row) != way(row - 1))
            }),
        ],
        wrong: &[&[["K", "-"], ["K", "-"], ["-", "K"], ["-", "K"]], MILANO_COURSES],
    };
    structure.proved(&[("row back knit", "row front knit"), ("row back knit", "row both knit")]);
}

/// Spencer 2001, ch. 7: purl is the only base structure with face and reverse loops in one wale. Buck 1921, ch. IX: the
/// direction of draw reverses at every course. All stitches go to the other bed between two courses.
fn purl(hand: &Hand<'_>) -> Said {
    let text = hand.with(
        "stitch garter on front {
row front knit, loosened 1
transfer front to back
row back knit, loosened 1
transfer back to front
}",
        "gaiting opposite
in work front L6-R6, back L6-R6
cast on wound front
mark \"begin\"
work garter 3 times
mark \"end\"
onto waste yarn both",
    );
    let fabric = Fabric::read(&trace(&text)?, hand.is_mirrored())?;
    agree!(fabric.marked().len(), 6, "rows");
    agree!(fabric.at_end[0].len(), 12, "wales");
    for stack in fabric.at_end[0].values() {
        agree!(stack.len(), 1, "stitches of a wale on the needle");
        agree!(
            fabric.wale(stack[0]),
            [1, 0, 1, 0, 1, 0],
            "faces of a wale from the newest course down, 1 is the purl side"
        );
    }
    for (row, before) in (0..6).zip(fabric.before.iter().skip(fabric.begin)) {
        agree!(
            [before[0].len(), before[1].len()],
            if row % 2 == 0 { [12, 0] } else { [0, 12] },
            "stitches before row {row}"
        );
        must!(fabric.all_knit(row, row % 2) && fabric.alone(row) == Some(row % 2), "row {row} is one bed's");
    }
    Ok(())
}

#[test]
fn purl_of_one_course_each_by_transfer() {
    stands_either_way(
        purl,
        &[
            ("row back knit, loosened 1\n", "rows 2 back knit, loosened 1\n"),
            ("transfer front to back\nrow back knit, loosened 1\ntransfer back to front\n", "row front knit\n"),
        ],
    );
}

/// Three courses with one carriage: repeats begin on alternate sides, and all is as before after six (our own sum).
fn six_passes(hand: &Hand<'_>) -> Said {
    let text = hand.with(
        "stitch milano on both {\nrow both knit\nrow front knit\nrow back knit\n}",
        &format!("{ALTERNATE}\nmark \"begin\"\nwork milano 4 times\nmark \"end\"\nonto waste yarn both"),
    );
    let fabric = Fabric::read(&trace(&text)?, hand.is_mirrored())?;
    let begins: Vec<bool> = fabric.marked().iter().step_by(3).map(|row| row.to_the_right).collect();
    must!(begins.windows(2).all(|pair| pair[0] != pair[1]), "the repeats begin at {begins:?}");
    let rows = fabric.marked();
    let alike = |row: usize, by: usize| {
        (&rows[row].knit, rows[row].to_the_right) == (&rows[row - by].knit, rows[row - by].to_the_right)
    };
    let closes = (1..rows.len()).find(|&by| (by..rows.len()).all(|row| alike(row, by)));
    agree!(closes, Some(6), "passes after which all is done again from the same side");
    Ok(())
}

#[test]
fn milano_comes_round_after_six_passes() {
    stands_either_way(six_passes, &[("row back knit\n", "row back knit\nrow back knit\n")]);
}

//! Structures of two beds, course by course.
//!
//! The loops per needle and repeat are counted from the printed course list (our own sums).

use super::fixture::{Published, knitted, piece, played, with};

const SPENCER_18: &str = "D. J. Spencer, Knitting Technology, 3rd ed., 2001, ch. 18";
const BUCK_3: &str = "H. D. Buck, Flat Machine Knitting and Fabrics, 1921, ch. III";
const LAM: &str = "J. Lam, Hong Kong Polytechnic University, Introduction to Textile Fabric, Part 4";
const ROMA: &str = "a Chinese course text on weft knitting, punto di Roma (the reading is ours)";

/// Both edges of the front bed stand outside the back bed.
const FRONT_OUTSIDE: &str = "gaiting between
in work front L6-R6, back L6-R5
cast on zigzag
tubular 2 rows
mark \"begin\"
";
/// The front bed has the left edge, the back bed the right one.
const ALTERNATE: &str = "gaiting between
in work front L6-R6, back L6-R6
cast on zigzag
tubular 2 rows
mark \"begin\"
";
/// Begun between, worked face to face.
const OPPOSITE: &str = "gaiting between
in work front L6-R6, back L6-R6
cast on zigzag
tubular 2 rows
gaiting opposite
mark \"begin\"
";
const END: &str = "
mark \"end\"
onto waste yarn both";

#[test]
fn full_needle_rib() {
    let text = piece(&format!("{FRONT_OUTSIDE}rows 4 both knit{END}"));
    let published = Published {
        source: "1x1 rib: D. J. Spencer, Knitting Technology, 3rd ed., 2001, ch. 7; Buck 1921",
        courses: &[["K", "K"]],
        loops: [(1, 0), (1, 0)],
    };
    published.agrees_with(&played(&text), "L6", ["R6", "R5"]);
}

#[test]
fn half_gauge_rib() {
    // Half-gauging is mentioned by Spencer 2001, p. 234; the set-out is common practice, no source.
    let text = piece(
        "gaiting opposite
in work front \"|.\" over L6-R6, back \".|\" over L6-R6
cast on zigzag
mark \"begin\"
rows 4 both knit
mark \"end\"
onto waste yarn both",
    );
    let published = Published {
        source: "half-gauge rib: common practice, no source",
        courses: &[["K.", ".K"]],
        loops: [(1, 0), (1, 0)],
    };
    published.agrees_with(&played(&text), "L6", ["R6", "R6"]);
}

#[test]
fn two_by_two_rib_of_two_needles_in_three() {
    let text = piece(
        "gaiting between
in work front \".||\" over L6-R6, back \"|.|\" over L6-R6
rack 1 left
cast on zigzag
tubular 2 rows
rack to centre
mark \"begin\"
rows 6 both knit
mark \"end\"
onto waste yarn both",
    );
    let published = Published {
        source: "2x2 Swiss rib: Spencer 2001, section 7.3.1, pp. 68-69",
        courses: &[[".KK", "K.K"]],
        loops: [(1, 0), (1, 0)],
    };
    published.agrees_with(&played(&text), "L6", ["R6", "R6"]);
}

#[test]
fn two_by_two_rib_of_two_needles_in_four() {
    let text = piece(
        "gaiting opposite
in work front \"||..\" over L6-R6, back \"..||\" over L6-R6
cast on wound both
mark \"begin\"
rows 4 both knit
mark \"end\"
onto waste yarn both",
    );
    let published = Published {
        source: "2x2 English rib: Spencer 2001, p. 69; Buck 1921 (\"2 and 2\")",
        courses: &[["KK..", "..KK"]],
        loops: [(1, 0), (1, 0)],
    };
    published.agrees_with(&played(&text), "L6", ["R6", "R6"]);
}

#[test]
fn half_cardigan() {
    let source = format!("half cardigan: {SPENCER_18}; {BUCK_3}");
    let published = Published { source: &source, courses: &[["K", "K"], ["K", "T"]], loops: [(2, 0), (1, 1)] };
    let text = with(
        "stitch half-cardigan on both {\nrow front knit, back knit\nrow front knit, back tuck\n}",
        &format!("{FRONT_OUTSIDE}work half-cardigan 3 times{END}"),
    );
    let played = played(&text);
    published.agrees_with(&played, "L6", ["R6", "R5"]);
    // Spencer 2001, ch. 18: twice as many cleared courses on the side that always knits.
    assert_eq!(published.cleared(), (2, 1));
    let (front, back) = knitted(&played);
    assert_eq!(front * 11, 2 * back * 12, "12 needles in front, 11 behind");
}

#[test]
fn full_cardigan() {
    let source = format!("full cardigan: {BUCK_3}");
    let published = Published { source: &source, courses: &[["K", "T"], ["T", "K"]], loops: [(1, 1), (1, 1)] };
    let text = with(
        "stitch full-cardigan on both {\nrow front knit, back tuck\nrow front tuck, back knit\n}",
        &format!("{ALTERNATE}work full-cardigan 3 times{END}"),
    );
    let played = played(&text);
    published.agrees_with(&played, "L6", ["R6", "R6"]);
    let (front, back) = knitted(&played);
    assert_eq!(front, back, "balanced");
}

#[test]
fn half_milano() {
    let source = format!("half Milano: {LAM}");
    let published = Published { source: &source, courses: &[["K", "K"], ["K", "-"]], loops: [(2, 0), (1, 0)] };
    let text = with(
        "stitch half-milano on both {\nrow both knit\nrow front knit\n}",
        &format!("{ALTERNATE}work half-milano 3 times{END}"),
    );
    let played = played(&text);
    published.agrees_with(&played, "L6", ["R6", "R6"]);
    let (front, back) = knitted(&played);
    assert_eq!(front, 2 * back, "unbalanced, two to one");
}

#[test]
fn milano_and_its_six_passes() {
    let source = format!("Milano rib: {LAM}");
    let published =
        Published { source: &source, courses: &[["K", "K"], ["K", "-"], ["-", "K"]], loops: [(2, 0), (2, 0)] };
    let text = with(
        "stitch milano on both {\nrow both knit\nrow front knit\nrow back knit\n}",
        &format!("{ALTERNATE}work milano 4 times{END}"),
    );
    let played = played(&text);
    published.agrees_with(&played, "L6", ["R6", "R6"]);
    let (front, back) = knitted(&played);
    assert_eq!(front, back, "balanced");
    // Three courses with one carriage: repeats begin on alternate sides, and all is as before after six (our own sum).
    let begins: Vec<_> = played.courses.iter().step_by(3).map(|course| course.toward).collect();
    assert!(begins.windows(2).all(|pair| pair[0] != pair[1]), "{begins:?}");
    let closes = (1..=12).find(|&passes| {
        let state = &played.courses[passes - 1].state;
        passes % 3 == 0 && state.carriage == played.start.carriage
    });
    assert_eq!(closes, Some(6));
    // The model itself sees the same cycle: the beds go on alike after six passes and not after three.
    let after = |passes: usize| &played.courses[passes - 1].state;
    assert!(!after(6).goes_on_like(after(3), 32));
    assert!(after(9).goes_on_like(after(3), 32));
}

#[test]
fn interlock() {
    let published = Published {
        source: "interlock: D. J. Spencer, Knitting Technology, 3rd ed., 2001, ch. 7; the two courses after a taught \
                 course on knitting, author not shown",
        courses: &[["K-", "-K"], ["-K", "K-"]],
        loops: [(1, 0), (1, 0)],
    };
    let text = with(
        "stitch interlock on both {
row front knit on \"|.\", slip elsewhere, back knit on \".|\", slip elsewhere
row front knit on \".|\", slip elsewhere, back knit on \"|.\", slip elsewhere
}",
        &format!("{OPPOSITE}work interlock 3 times{END}"),
    );
    published.agrees_with(&played(&text), "L6", ["R6", "R6"]);
}

#[test]
fn punto_di_roma_of_four_courses() {
    let published = Published {
        source: ROMA,
        courses: &[["K-", "-K"], ["-K", "K-"], ["KK", "--"], ["--", "KK"]],
        loops: [(2, 0), (2, 0)],
    };
    let text = with(
        "stitch roma on both {
row front knit on \"|.\", slip elsewhere, back knit on \".|\", slip elsewhere
row front knit on \".|\", slip elsewhere, back knit on \"|.\", slip elsewhere
row front knit
row back knit
}",
        &format!("{OPPOSITE}work roma 3 times{END}"),
    );
    let played = played(&text);
    published.agrees_with(&played, "L6", ["R6", "R6"]);
    let (front, back) = knitted(&played);
    assert_eq!(front, back, "balanced");
}

#[test]
fn punto_di_roma_of_six_courses() {
    // Courses 1 and 6 make one interlock row, 2 and 4 are plain on alternate needles of the lower bed, 3 and 5 of the
    // upper bed. Which half works in which is not printed; that the two halves differ is our own conclusion.
    let published = Published {
        source: ROMA,
        courses: &[["K-", "-K"], ["-K", "--"], ["--", "K-"], ["K-", "--"], ["--", "-K"], ["-K", "K-"]],
        loops: [(2, 0), (2, 0)],
    };
    let text = with(
        "let odd = \"|.\" over L6-R6
let even = \".|\" over L6-R6
stitch long-roma on both {
row front knit on odd, slip elsewhere, back knit on even, slip elsewhere
row front knit on even, slip elsewhere
row back knit on odd, slip elsewhere
row front knit on odd, slip elsewhere
row back knit on even, slip elsewhere
row front knit on even, slip elsewhere, back knit on odd, slip elsewhere
}",
        &format!("{OPPOSITE}work long-roma 2 times{END}"),
    );
    published.agrees_with(&played(&text), "L6", ["R6", "R6"]);
}

#[test]
fn ripples_of_any_number_of_extra_courses() {
    // How many extra courses a ripple has is common practice, no source; the form is published.
    for extra in 1..=5 {
        let mut courses = vec![["K", "K"]];
        courses.extend(std::iter::repeat_n(["K", "-"], extra));
        let published = Published {
            source: "horizontal ripple: D. J. Spencer, Knitting Technology, 3rd ed., 2001, ch. 13, Fig. 13.4",
            courses: &courses,
            loops: [(1 + extra, 0), (1, 0)],
        };
        let text = with(
            &format!("stitch ripple on both {{\nrow both knit\nrows {extra} front knit\n}}"),
            &format!("{ALTERNATE}work ripple 4 times{END}"),
        );
        let played = played(&text);
        published.agrees_with(&played, "L6", ["R6", "R6"]);
        // 1 + n passes: an odd number changes sides at every repeat.
        let first_two = (played.courses[0].toward, played.courses[1 + extra].toward);
        assert_eq!(first_two.0 == first_two.1, (1 + extra).is_multiple_of(2), "{extra} extra courses");
    }
}

#[test]
fn tubular_rounds() {
    let published = Published {
        source: "tubular: common practice, no source",
        courses: &[["K", "-"], ["-", "K"]],
        loops: [(1, 0), (1, 0)],
    };
    let text = piece(&format!("{ALTERNATE}tubular 6 rows, front first{END}"));
    published.agrees_with(&played(&text), "L6", ["R6", "R6"]);
}

#[test]
fn purl_of_one_course_each_by_transfer() {
    // Spencer 2001, ch. 7: purl is the only base structure with face and reverse loops in one wale. Buck 1921, ch. IX:
    // the direction of draw reverses at every course. All stitches go to the other bed between two courses.
    let published = Published {
        source: "1x1 purl: Spencer 2001, ch. 7; Buck 1921, ch. IX",
        courses: &[["K", "-"], ["-", "K"]],
        loops: [(1, 0), (1, 0)],
    };
    let text = with(
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
    let played = played(&text);
    published.agrees_with(&played, "L6", ["R6", "R6"]);
    let carried = |passes: usize| {
        let state = &played.courses[passes].state;
        (state.loops.loaded(wale::beds::Bed::Front).len(), state.loops.loaded(wale::beds::Bed::Back).len())
    };
    assert_eq!([carried(0), carried(1), carried(2), carried(3)], [(12, 0), (0, 12), (12, 0), (0, 12)]);
}

//! What the compiler and the judge once answered differently, and what both say now.

use super::compare::compare;

/// The first error and its line in the piece, and the first warning of fact. Both beds have L2-R2 in work, of three
/// needles each side; the machine's profile says that too.
fn said(profile: &str, lines: &str) -> (Vec<String>, Vec<String>) {
    let head = format!(
        "machine small {{\nneedles 3 each side\n{profile}\n}}\nyarn slate {{}}\nyarn chalk {{}}\npiece \"Swatch\" {{\n\
         in work both L2-R2\nthread slate\n"
    );
    let agreed = compare(&format!("{head}{lines}\n}}\n")).unwrap_or_else(|differ| panic!("{}", differ.told));
    let before = head.matches('\n').count();
    let told = |first: super::verdict::First| {
        let told = |(line, rules): (usize, std::collections::BTreeSet<&str>)| {
            rules.into_iter().map(move |rule| format!("{} {rule}", line - before)).collect::<Vec<_>>()
        };
        first.map_or(Vec::new(), told)
    };
    (told(agreed.error), told(agreed.warning))
}

fn error(lines: &str) -> Vec<String> {
    said("", lines).0
}

#[test]
fn a_cast_on_by_the_carriage_is_a_row_in_which_needles_can_meet() {
    let facing = |how: &str| error(&format!("gaiting opposite\ncast on {how}\nbind off both"));
    assert_eq!(facing("zigzag"), ["2 facing-needles"]);
    assert_eq!(facing("open"), ["2 facing-needles"]);
    // By hand one needle is brought forward after the other, and on one bed there is nothing to meet.
    assert!(facing("chain both").is_empty());
    assert!(facing("open front").is_empty());
    let held = "gaiting opposite\nhold back L2\ncast on open front\nrelease back\nbind off front";
    assert_eq!(error(held), ["3 needle-in-the-way"]);
}

#[test]
fn a_stitch_is_not_crossed_onto_a_needle_out_of_work() {
    let crossed = |groups: &str| {
        error(&format!("cast on wound front L2-R1\nout of work front R2\ncross front {groups}\nbind off front"))
    };
    assert_eq!(crossed("R1 over R2"), ["3 lost-stitch"]);
    assert_eq!(crossed("R2 over R1"), ["3 lost-stitch"]);
    assert_eq!(crossed("L1-R1 over R2"), ["3 lost-stitch"]);
    assert!(crossed("L1 over R1").is_empty());
    // An empty needle in work takes a stitch.
    assert!(error("cast on wound front L2-R1\ncross front R1 over R2\nbind off front").is_empty());
}

#[test]
fn only_a_row_that_tucks_on_a_needle_piles_loops_on_it() {
    let rows = |last: &str| {
        let piled = "row front slip, back tuck\nmove back R2 1 left, joining\nout of work back R2\nrow front knit";
        let lines = format!("cast on wound front, back\n{piled}\n{last}\nbind off both");
        said("most tucks 1", &lines).0
    };
    assert!(rows("row front tuck, back slip").is_empty());
    assert_eq!(rows("row front knit, back tuck"), ["6 tuck-pile"]);
}

#[test]
fn the_yarn_of_a_cast_on_may_hang_on_the_other_side() {
    let warned = |lines: &str| said("", &format!("cast on open front\n{lines}\ncast on open front\nbind off front")).1;
    assert!(warned("drop front").is_empty());
    assert_eq!(warned("drop front\nfree pass"), ["4 yarn-not-at-this-side"]);
    // What is bound off is cut off; where nothing is, nothing is cut.
    assert!(warned("free pass\nbind off front").is_empty());
    let nothing = said(
        "",
        "cast on open front\nfree pass\nallow no-needle-found because \"a test\" {\nbind off back\n}\nrow front knit\nbind off front",
    );
    assert_eq!(nothing.1, ["6 yarn-not-at-this-side"]);
}

#[test]
fn where_needles_meet_the_yarn_has_no_path_to_judge() {
    let lines = "cast on wound back L2-R1\ngaiting opposite\nrow both tuck, new loops\nbind off both";
    assert_eq!(error(lines), ["3 facing-needles"]);
}

#[test]
fn needles_that_all_do_the_same_need_no_selector() {
    let warned = |row: &str| said("selectors none", &format!("cast on wound front\nrow front {row}\nbind off front")).1;
    assert_eq!(warned("knit on L2, slip elsewhere"), ["2 no-selector"]);
    assert_eq!(warned("knit on \"|.\", tuck elsewhere"), ["2 no-selector"]);
    assert!(warned("knit on L2, knit elsewhere").is_empty());
    assert!(warned("knit on L2-R2, slip elsewhere").is_empty());
    // None of these is in work.
    assert_eq!(warned("slip on R3, knit elsewhere"), ["2 nothing-to-do"]);
}

#[test]
fn what_looks_like_one_moment_may_be_two() {
    // Stitches are doubled at first; when the outer repeat comes again the needles no longer face each other.
    let lines = "cast on chain both\ngaiting opposite\nrepeat 2 times {\nrepeat 2 times {\n\
                 transfer back to front\n}\ngaiting between\n}";
    assert_eq!(error(lines), ["5 doubled-stitch"]);
}

#[test]
fn empties_are_neighbours_past_a_needle_that_slips() {
    let row = |row: &str| {
        let lines = format!("cast on wound front L1 or R2\nrow front {row}, new loops\nrow front knit\nbind off front");
        error(&lines)
    };
    assert_eq!(row("slip on L1, knit elsewhere"), ["2 adjacent-empties"]);
    assert!(row("knit").is_empty());
}

#[test]
fn a_row_that_does_not_fit_the_bed_jams_nothing() {
    // The pile that was moved together lies there until a row is knitted; the picture of three fits no four needles.
    let body = "row back knit on \"|..\"\nrows 33 front knit, back tuck\nmove back L2 2 right, joining";
    assert_eq!(
        error(&format!("cast on chain both\nrepeat 3 times {{\n{body}\n}}\nbind off both")),
        ["3 ragged-repeat"]
    );
}

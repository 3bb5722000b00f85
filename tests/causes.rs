//! A finding points at the earlier line that it follows from.
#![allow(missing_docs)]

use crate::common::{self, Examples};
use wale::catalogue::Rule;
use wale::finding::Finding;
use wale::play::Manner;
use wale::rules::{check_piece, check_piece_in};

/// The labels beside the first finding of a rule: the words on their lines, and what is said of them.
fn causes(lines: &str, rule: &str) -> Vec<(String, String)> {
    let text = Rule::whole(lines);
    let checked = wale::check("breakwater.wale", &text, &Examples);
    let found = |finding: &&Finding| finding.rule.name == rule;
    let Some(finding) = checked.findings.iter().find(found) else { panic!("{rule}: {:?}", checked.findings) };
    finding.also.iter().map(|label| (checked.sources.words(label.span).to_owned(), label.text.clone())).collect()
}

fn is(lines: &str, rule: &str, expected: &[(&str, &str)]) {
    let found = causes(lines, rule);
    let found: Vec<(&str, &str)> = found.iter().map(|(words, text)| (words.as_str(), text.as_str())).collect();
    assert_eq!(found, expected, "{rule}\n{lines}");
}

const TRANSFER: &str = "gaiting opposite\ntransfer front to back";
const BOTH: &str = "in work front L3-R3, back L3-R3\nthread slate\ncast on wound front\n";

#[test]
fn the_line_that_it_follows_from_is_pointed_at() {
    is(
        &format!("{BOTH}out of work back R3\ngaiting opposite\nrow front knit, loosened 1\ntransfer front to back"),
        "lost-stitch",
        &[("out of work back R3", "back R3 put out of work here")],
    );
    is(
        &format!("{BOTH}move front L3 1 right, joining\nmove front R3 1 left, joining\nrow front knit"),
        "unplanned-loop",
        &[
            ("move front L3 1 right, joining", "front L3 emptied here"),
            ("move front R3 1 left, joining", "front R3 emptied here"),
        ],
    );
    is(
        &format!("{BOTH}row both knit"),
        "unplanned-loop",
        &[("in work front L3-R3, back L3-R3", "back L3-R3 brought into work here, empty")],
    );
    is(
        &format!("{BOTH}cast on wound back\ngaiting between\ngaiting opposite\nrow both knit"),
        "facing-needles",
        &[("gaiting opposite", "the gaiting is set here")],
    );
    is(
        &format!("{BOTH}gaiting opposite\ngaiting between\ntransfer front to back"),
        "not-opposite",
        &[("gaiting between", "the gaiting is set here")],
    );
    is(
        &format!("{BOTH}rack to 5 left\nrow front knit\nrack 1 left"),
        "racking-range",
        &[("rack to 5 left", "the beds are racked here last")],
    );
    is(
        &format!("{BOTH}row front knit\ngaiting opposite\ntransfer front to back"),
        "tight-transfer",
        &[("row front knit", "the last row on the front bed")],
    );
    is(
        &format!("{BOTH}hold front L3\nhold front R3\nrelease front L3\nrow front knit\nbind off front"),
        "hold-left-on",
        &[("hold front R3", "front R3 put to hold here")],
    );
    is(
        &format!("{BOTH}stitch size 9\nrow front knit, loosened 3"),
        "size-range",
        &[("stitch size 9", "the size that it is counted from")],
    );
    is(
        "in work front L3-R3, back L3-R2\nthread slate\ncast on zigzag\ntubular 5 rows\nrows 2 both knit",
        "tubular-floats",
        &[("tubular 5 rows", "rows of the hem")],
    );
    is(
        "in work front L3-R3\nthread slate\ncast on wound front\nrepeat 3 times {\nfree pass\n}\nrows 2 front knit\nexpect carriage left",
        "wrong-side",
        &[("free pass", "a free pass takes the carriage across here")],
    );
}

#[test]
fn a_needle_that_a_transfer_emptied_strikes_the_one_it_emptied_itself_onto() {
    is(
        &format!(
            "{BOTH}gaiting opposite\nrow front knit, loosened 1\ntransfer front L3 to back\nrow both knit, new loops"
        ),
        "facing-needles",
        &[("gaiting opposite", "the gaiting is set here"), ("transfer front L3 to back", "front L3 emptied here")],
    );
}

#[test]
fn a_promise_that_fails_points_at_the_one_like_it_that_was_kept() {
    is(
        &format!("{BOTH}rows 2 front knit\nexpect counter 2\nrow front knit\nexpect counter 4"),
        "count-mismatch",
        &[("counter 2", "still as promised here: counter 2")],
    );
    is(
        &format!("{BOTH}rows 2 front knit\nexpect counter 2\nreset counter\nrow front knit\nexpect counter 2"),
        "count-mismatch",
        &[("reset counter", "the counter is set back here")],
    );
    is(&format!("{BOTH}rows 2 front knit\nexpect counter 4"), "count-mismatch", &[]);
    is(
        &format!("{BOTH}row front knit\nexpect carriage right\nrow front knit\nexpect carriage right"),
        "wrong-side",
        &[("carriage right", "still as promised here: carriage right")],
    );
    is(
        &format!("{BOTH}row front knit\nexpect carriage right\nfree pass\nexpect carriage right"),
        "wrong-side",
        &[("free pass", "a free pass takes the carriage across here")],
    );
    is(&format!("{BOTH}row front knit\nexpect carriage left"), "wrong-side", &[]);
    // The promises of a repeat that is not played again are kept again.
    let lines = "stitch turn on front {\nrepeat 2 times {\nreset counter\nrow front knit\nexpect counter 1\n}\nexpect carriage left\n}\n\
        piece \"Strap\" {\nin work front L3-R3\nthread slate\ncast on wound front\nwork turn\nexpect counter 1\nwork turn\nrow front knit\nexpect counter 3\n}";
    is(lines, "count-mismatch", &[("counter 1", "still as promised here: counter 1")]);
}

#[test]
fn stitches_that_come_and_go_do_not_hide_where_a_count_went_wrong() {
    let there_and_back = "decrease front 1 at left\nincrease front 1 at left\n";
    is(
        &format!("{BOTH}{}row front knit\nexpect 7 stitches front", there_and_back.repeat(3)),
        "count-mismatch",
        &[("cast on wound front", "here the front bed goes from 0 to 6 stitches")],
    );
    // What goes farther, and comes back in several steps.
    is(
        &format!(
            "{BOTH}decrease front 1 at left\ndecrease front 1 at right\nincrease front 1 at left\n\
             increase front 1 at right\nincrease front 1 at right\nexpect 6 stitches front"
        ),
        "count-mismatch",
        &[
            ("increase front 1 at right", "here the front bed goes from 6 to 7 stitches"),
            ("cast on wound front", "here the front bed goes from 0 to 6 stitches"),
        ],
    );
}

#[test]
fn a_cast_on_that_shares_a_loop_points_at_the_set_out() {
    is(
        "in work front L3-R3\nin work back L3-L1\nthread slate\ncast on zigzag\nrow both knit",
        "cast-on-shares-a-loop",
        &[("in work front L3-R3", "the needles are set here"), ("in work back L3-L1", "the needles are set here")],
    );
}

#[test]
fn a_line_is_not_pointed_at_twice() {
    is(&format!("{BOTH}repeat 6 times {{\nrow front knit\nrack 1 left\n}}"), "racking-range", &[]);
    is("in work front L3-R3\nrow front knit, size 11", "size-range", &[]);
}

#[test]
fn a_size_is_pointed_at_inside_the_definition() {
    let lines = "stitch ridge on front {\n    row front knit\n    stitch size 7\n}\npiece \"Strap\" {\n    in work front L3-R3\n    thread slate\n    cast on wound front\n    work ridge\n    bind off front\n}";
    is(
        lines,
        "size-left-changed",
        &[("stitch ridge on front", "defined here"), ("stitch size 7", "the size is changed here")],
    );
}

#[test]
fn a_count_follows_from_the_lines_since_it_was_last_right() {
    is(
        &format!(
            "{BOTH}decrease front 1 at left\nexpect 5 stitches front\nrow front knit\nincrease front 1 at right\nincrease front 1 at right\ndecrease front 1 at left\nexpect 5 stitches front"
        ),
        "count-mismatch",
        &[
            ("decrease front 1 at left", "here the front bed goes from 7 to 6 stitches"),
            ("increase front 1 at right", "here the front bed goes from 6 to 7 stitches"),
            ("increase front 1 at right", "here the front bed goes from 5 to 6 stitches"),
        ],
    );
    // A loop over an empty needle becomes a stitch one row later.
    is(
        &format!(
            "{BOTH}expect 6 stitches front\nin work front R4\nrow front knit, new loops\nrow front knit\nexpect 6 stitches front"
        ),
        "count-mismatch",
        &[("row front knit", "here the front bed goes from 6 to 7 stitches")],
    );
    is(&format!("{BOTH}expect 6 stitches front\nrow front knit\nexpect 7 stitches front"), "count-mismatch", &[]);
    // Loops over empty needles of both beds that rest for a row: they become stitches in the row that knits them.
    is(
        "in work front L3-R3, back L3-R3\nthread slate\ncast on wound front L3-R2\ncast on wound back L3-R2\n\
             row both knit, new loops\nrow both knit on L3-R2\nrows 1 both knit\nexpect 6 stitches front, 6 stitches back\nexpect 5 stitches front",
        "count-mismatch",
        &[],
    );
    is(
        "in work front L3-R3, back L3-R3\nthread slate\ncast on wound front L3-R2\ncast on wound back L3-R2\n\
             row both knit, new loops\nrow both knit on L3-R2\nrows 1 both knit\nexpect 5 stitches front",
        "count-mismatch",
        &[
            ("rows 1 both knit", "here the front bed goes from 5 to 6 stitches"),
            ("cast on wound front L3-R2", "here the front bed goes from 0 to 5 stitches"),
        ],
    );
}

/// Four lines emptied needles; the newest three are enough to see what happens.
#[test]
fn only_a_few_lines_are_pointed_at() {
    let moves = "move front L3 1 right, joining\nmove front R3 1 left, joining\n\
                 move front L2 1 right, joining\nmove front R2 1 left, joining\n";
    assert_eq!(causes(&format!("{BOTH}{moves}row front knit"), "unplanned-loop").len(), 3);
}

/// A repeat that is met again in the same state is not played again; its lines are pointed at all the same, and not the
/// line between that was done after them the first time.
#[test]
fn what_is_taken_as_done_is_pointed_at_as_if_it_were_played() {
    let between = "    rack 1 right\n    rack to centre\n    work turn\n";
    let lines = format!(
        "stitch turn on front {{\n    repeat 2 times {{\n        rack 1 left\n        row front knit\n        rack 1 right # here\n        row front knit\n    }}\n}}\npiece \"Strap\" {{\n    in work front L3-R3\n    thread slate\n    cast on wound front\n    rows 2 front knit\n    work turn\n{}    expect racking 1 left\n    bind off front\n}}",
        between.repeat(3)
    );
    let text = Rule::whole(&lines);
    let checked = wale::check("breakwater.wale", &text, &Examples);
    let inside = text.find("rack 1 right # here");
    assert_eq!(checked.findings.len(), 1, "{:?}", checked.findings);
    let lines: Vec<usize> = checked.findings[0].also.iter().map(|label| label.span.range().start).collect();
    assert_eq!(lines, inside.into_iter().collect::<Vec<_>>());
    for piece in checked.programs.iter().flat_map(|program| &program.pieces) {
        let played = check_piece_in(piece, Manner { skip: false, from_memory: false, ..Manner::CHECK });
        assert_eq!(check_piece(piece), played);
    }
}

/// What was set before such a repeat is not set again by it.
#[test]
fn what_is_taken_as_done_does_not_repeat_what_came_before_it() {
    is(
        "stitch strip on front {\n    repeat 2 times {\n        row front knit\n    }\n}\npiece \"Strap\" {\n\
         in work front L3-R3\nthread slate\ncast on wound front\nrow front knit\nrack to 1 left\n\
         work strip 2 times\nwork strip\nrack to centre\nrack 1 left\nwork strip\nwork strip\nrack 1 left\nrack 1 right\n\
         work strip\nwork strip\nexpect racking centre\nrack to centre\nbind off front\n}",
        "count-mismatch",
        &[("rack 1 right", "the beds are racked here last")],
    );
}

/// What such a repeat did to the stitches, and which promises it kept, is known as if it had been played.
#[test]
fn what_is_taken_as_done_changes_counts_and_keeps_promises() {
    let pattern = |body: &str, first: &str, again: &str, after: &str| {
        format!(
            "stitch strip on front {{\nrepeat 2 times {{\n{body}\n}}\n}}\npiece \"Strap\" {{\nin work front L3-R4, back R4\n\
             thread slate\ncast on wound front L3-R3\n{first}{}\n{after}\nbind off front\n}}",
            "work strip\n".repeat(3) + again + "work strip"
        )
    };
    let there_and_back = "increase front 1 at left\ndecrease front 1 at left\n";
    let sway =
        "out of work front R4\ndecrease front 1 at left\nrow front knit\nincrease front 1 at left\nrow front knit";
    is(
        &pattern(sway, "", "expect 6 stitches front\n", "expect 7 stitches front"),
        "count-mismatch",
        &[
            ("increase front 1 at left", "here the front bed goes from 5 to 6 stitches"),
            ("decrease front 1 at left", "here the front bed goes from 6 to 5 stitches"),
        ],
    );
    let nub = "drop front R4, back R4\nrow front knit, back knit, new loops";
    is(
        &pattern(nub, "row front knit, back knit, new loops\n", "", "row both knit\nexpect 6 stitches front")
            .replace("strip on front", "strip on both"),
        "count-mismatch",
        &[
            ("row both knit", "here the front bed goes from 6 to 7 stitches"),
            ("cast on wound front L3-R3", "here the front bed goes from 0 to 6 stitches"),
        ],
    );
    // A promise in the repeat or behind it makes what came before it of no interest; what comes later is of interest.
    is(&pattern(sway, "", "", "expect 6 stitches front\nexpect 7 stitches front"), "count-mismatch", &[]);
    let expects = "row front knit on L3-R3\nexpect 6 stitches front";
    is(
        &pattern(expects, "", "", "increase front 1 at left\nexpect 6 stitches front"),
        "count-mismatch",
        &[("increase front 1 at left", "here the front bed goes from 6 to 7 stitches")],
    );
    // A repeat without a promise makes none.
    is(
        &pattern("row front knit on L3-R3", "", there_and_back, "expect 7 stitches front"),
        "count-mismatch",
        &[
            ("decrease front 1 at left", "here the front bed goes from 7 to 6 stitches"),
            ("increase front 1 at left", "here the front bed goes from 6 to 7 stitches"),
            ("cast on wound front L3-R3", "here the front bed goes from 0 to 6 stitches"),
        ],
    );
    // Not even where a promise stands right before it each time.
    let before_each = format!(
        "stitch strip on front {{\nrepeat 2 times {{\nrow front knit\n}}\n}}\npiece \"Strap\" {{\nin work front L3-R3\nthread slate\n\
         cast on wound front\n{}{there_and_back}work strip\nexpect 7 stitches front\nbind off front\n}}",
        format!("{there_and_back}expect 6 stitches front\nwork strip\n").repeat(3)
    );
    is(
        &before_each,
        "count-mismatch",
        &[
            ("decrease front 1 at left", "here the front bed goes from 7 to 6 stitches"),
            ("increase front 1 at left", "here the front bed goes from 6 to 7 stitches"),
        ],
    );
    for calm in ["expect 6 stitches front\nrow front knit on L3-R3", "row front knit on L3-R3\nexpect 6 stitches front"]
    {
        is(&pattern(calm, "", there_and_back, "expect 7 stitches front"), "count-mismatch", &[]);
    }
}

/// Lines in a repeat, in one inside another too, are pointed at when it is taken as done, and never a line before it.
#[test]
fn the_last_line_is_pointed_at_through_repeats_that_are_taken_as_done() {
    // What is set first, in the repeat, and between its uses, to the same end; a line that is wrong then, and its rule.
    let scenes = [
        (
            "rack to centre",
            "rack 1 left\nrack 1 right",
            "rack 1 right\nrack 1 left",
            "expect racking 1 left",
            "count-mismatch",
        ),
        (
            "gaiting between",
            "gaiting opposite\ngaiting between",
            "gaiting opposite\ngaiting between",
            "expect gaiting opposite",
            "count-mismatch",
        ),
        (
            "stitch size 4",
            "stitch size 5\nstitch size 4",
            "stitch size 6\nstitch size 4",
            "row front knit, loosened 9",
            "size-range",
        ),
        (
            "rows 2 front knit",
            "row front knit\nrow front knit",
            "row front knit\nrow front knit",
            TRANSFER,
            "tight-transfer",
        ),
        ("row front knit", "free pass\nfree pass", "free pass\nfree pass", "expect carriage left", "wrong-side"),
        (
            "hold front L3",
            "release front L3\nhold front L3",
            "release front L3\nhold front L3",
            "row front knit\nbind off front",
            "hold-left-on",
        ),
    ];
    for (first, inner, between, wrong, rule) in scenes {
        for (kind, inner, between) in [
            ("inside", format!("{inner} # here"), between.to_owned()),
            ("between", "note \"Go on.\"".to_owned(), format!("{between} # here")),
        ] {
            let lines = format!(
                "stitch turn on front {{\nrepeat 2 times {{\n{inner}\n}}\n}}\nstitch pair on front {{\nrepeat 2 times {{\n\
                 work turn\nwork turn\n}}\n}}\npiece \"Strap\" {{\nin work front L3-R3, back L3-R3\nthread slate\ncast on wound front\n{first}\n\
                 work pair\nwork turn\nwork turn\nwork pair\nwork pair\n{between}\nwork pair\n{wrong}\n}}"
            );
            let text = Rule::whole(&lines);
            let checked = wale::check("breakwater.wale", &text, &Examples);
            let Some(finding) = checked.findings.iter().find(|finding| finding.rule.name == rule) else {
                panic!("{rule} {kind}: {:?}\n{text}", checked.findings)
            };
            let here = text[..text.find(" # here").expect("a mark")].rfind('\n').map(|at| at + 1);
            let at: Vec<usize> = finding.also.iter().map(|label| label.span.range().start).collect();
            assert!(here.is_some_and(|here| at.contains(&here)), "{rule} {kind}: {:?}\n{text}", finding.also);
        }
    }
}

/// The same for every example, with every mistake that the tests know.
#[test]
fn counting_and_playing_point_at_the_same_lines() {
    for (name, words, instead, ..) in common::MISTAKES {
        let text = common::example(name).replacen(words, instead, 1);
        let checked = wale::check(name, &text, &Examples);
        for piece in checked.programs.iter().flat_map(|program| &program.pieces) {
            let played = check_piece_in(piece, Manner { skip: false, from_memory: false, ..Manner::CHECK });
            assert_eq!(check_piece(piece), played, "{name}: {instead}");
        }
    }
}

/// Only a promise that was kept says where everything was right.
#[test]
fn a_promise_that_was_not_kept_is_not_pointed_at() {
    let twice = |promise: &str| {
        let allowed = "allow count-mismatch because \"a test\" {\nallow wrong-side because \"a test\" {\nexpect PROMISE # here\n}\n}";
        let lines = "in work front L3-R3\nthread slate\ncast on wound front\nrows 2 front knit\nALLOWED\nrows 2 front knit\nexpect PROMISE\nbind off front";
        lines.replace("ALLOWED", allowed).replace("PROMISE", promise)
    };
    is(&twice("counter 7"), "count-mismatch", &[]);
    is(&twice("carriage right"), "wrong-side", &[]);
    // A promise that was kept before stays the last.
    let kept = "in work front L3-R3\nthread slate\ncast on wound front\nexpect counter 0\nrows 2 front knit\nallow count-mismatch because \"a test\" {\nexpect counter 7\n}\nexpect counter 3\nbind off front";
    is(kept, "count-mismatch", &[("counter 0", "still as promised here: counter 0")]);
}

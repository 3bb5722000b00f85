//! A finding points at the earlier line that it follows from, whether repeats are counted or played. What it points at in
//! each case stands in `rules/causes.md` and `rules/counts.md`.
#![allow(missing_docs)]

use crate::common::{self, Examples};
use wale::catalogue::Rule;
use wale::play::Manner;
use wale::rules::{check_piece, check_piece_in};
use wale::source::NoLibrary;

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
            "gaiting opposite\ntransfer front to back",
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

/// The innermost pass alone does not say how often the whole has been worked.
#[test]
fn a_place_names_the_pass_of_the_repeat_around_it() {
    let place = |repeats: &str, ends: &str| {
        let text = Rule::whole(&format!(
            "in work front L17-L14\nthread slate\ncast on wound front\n{repeats}\nincrease front 1 at left\ndecrease front 1 at right\nrow front knit\n{ends}\nbind off front"
        ));
        let checked = wale::check("strip.wale", &text, &NoLibrary);
        assert_eq!(checked.findings.iter().map(|finding| finding.rule.name).collect::<Vec<_>>(), ["off-bed"], "{text}");
        checked.findings[0].place.clone().map(|place| (place.pass, place.outer))
    };
    let nested = "repeat 5 times {\nrepeat 2 times {";
    assert_eq!(place(nested, "}\n}"), Some((Some((2, 2)), Some((2, 5)))));
    assert_eq!(place("repeat 9 times {", "}"), Some((Some((4, 9)), None)));
    assert_eq!(place("repeat 9 times {\nrepeat 1 times {", "}\n}"), Some((Some((4, 9)), None)));
}

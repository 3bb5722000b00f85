//! What stands where, names, machines.

use super::{Page, only_piece, rules, said};
use crate::beds::{Bed, FloatLimit};
use crate::syntax::tree::*;

#[test]
fn lines_out_of_place_say_where_they_belong() {
    let page = Page::new();
    let profile = page.block(
        Kind::Machine(page.name("mooring")),
        vec![
            page.line(Kind::MachineLine(MachineLine::Needles(page.expression("90")))),
            page.line(Kind::YarnLine(YarnLine::Colour(page.quoted("grey")))),
        ],
    );
    let piece = page.piece(vec![
        page.machine("other", "50"),
        page.set("late", "5"),
        page.line(Kind::MachineLine(MachineLine::HalfStep(true))),
        page.knit(BedWord::Front),
    ]);
    let (programs, findings) = page.plan(vec![profile, page.knit(BedWord::Front), piece]);
    assert_eq!(rules(&findings), vec!["misplaced-line"; 4]);
    assert!(findings.iter().any(|finding| said(finding).contains("Open a piece first")));
    // Those that stand there for one reason are one finding, however many they are.
    let together = findings.iter().find(|finding| finding.what.contains("and the 1 line after it do not belong here"));
    assert!(
        together.is_some_and(|finding| finding.also.len() == 1 && finding.mend.contains("Put them")),
        "{findings:?}"
    );
    assert!(findings.iter().any(|finding| finding.why.contains("belongs between the braces of a `yarn`")));
    assert_eq!(only_piece(&programs).steps.len(), 1, "the line that is in its place is worked out");
}

#[test]
fn holding_nothing_any_more_is_a_release() {
    let page = Page::new();
    let (_, findings) = page.plan_piece(vec![], vec![page.line(Kind::MachineLine(MachineLine::Hold(None)))]);
    assert_eq!(rules(&findings), ["misplaced-line"]);
    assert!(said(&findings[0]).contains("write `release front`"), "{:?}", findings[0]);
}

#[test]
fn missing_and_needless_blocks_are_told_by_the_reading_room() {
    let page = Page::new();
    let body = vec![
        page.line(Kind::Repeat(page.expression("2"))),
        page.block(Kind::FreePass, vec![page.knit(BedWord::Front)]),
        page.line(Kind::Arrange(vec![])),
        page.block(Kind::Shape(page.expression("60 rows")), vec![]),
        page.line(Kind::Broken),
    ];
    let (_, findings) = page.plan_piece(vec![], body);
    let mut found = rules(&findings);
    found.sort_unstable();
    assert_eq!(found, ["not-there-yet", "not-there-yet"]);
}

#[test]
fn deep_blocks_are_refused_and_do_no_harm() {
    let page = Page::new();
    let mut inner = page.knit(BedWord::Front);
    for _ in 0..300 {
        inner = page.block(Kind::Repeat(page.expression("1")), vec![inner]);
    }
    let (_, findings) = page.plan_piece(vec![], vec![inner]);
    assert!(!findings.is_empty());
    assert!(rules(&findings).iter().all(|rule| *rule == "too-deep"));
}

#[test]
fn names_are_given_once_and_are_no_words_of_the_language() {
    let page = Page::new();
    let (_, findings) = page.plan(vec![
        page.set("width", "5"),
        page.set("width", "6"),
        page.set("front", "6"),
        page.set("total", "widht + 1"),
        page.set("other", "total-of-all-things"),
    ]);
    assert_eq!(rules(&findings), ["duplicate-name", "reserved-word", "unknown-name", "unknown-name"]);
    assert_eq!(findings[0].also.len(), 1);
    assert!(findings[2].mend.contains("`width`"), "{:?}", findings[2]);
    assert!(findings[3].mend.contains("`total`"), "{:?}", findings[3]);
}

#[test]
fn a_gauge_may_have_the_name_of_its_stitch() {
    let page = Page::new();
    let stitch = page.stitch("rib", BedWord::Both, BedWord::Both, vec![page.knit(BedWord::Both)]);
    let (_, findings) = page.plan(vec![page.gauge("rib", "44 rows", "10 cm"), stitch]);
    assert_eq!(rules(&findings), Vec::<&str>::new());
}

#[test]
fn gauges_are_checked() {
    let page = Page::new();
    let gauges = vec![
        page.gauge("one", "44 cm", "10 cm"),
        page.gauge("two", "44 rows", "10 rows"),
        page.gauge("three", "0 rows", "10 cm"),
        page.block(Kind::Gauge(page.name("four")), vec![]),
    ];
    assert_eq!(rules(&page.plan(gauges).1), ["unit-mismatch", "unit-mismatch", "out-of-range", "missing-line"]);
}

#[test]
fn machines_are_read() {
    let page = Page::new();
    let line = |line| page.line(Kind::MachineLine(line));
    let lines = vec![
        line(MachineLine::Needles(page.expression("90"))),
        line(MachineLine::Pitch(page.expression("5 mm"))),
        line(MachineLine::Racking { bed: BedWord::Front, left: page.expression("4"), right: page.expression("3") }),
        line(MachineLine::Selectors(Some(BedWord::Front))),
        line(MachineLine::TransferCarriage(vec![])),
        line(MachineLine::LongestFloat(page.expression("5 needles"))),
        line(MachineLine::StitchSizes(page.expression("0"), page.expression("10"))),
    ];
    let machine = page.block(Kind::Machine(page.name("mooring")), lines);
    let (programs, findings) = page.plan(vec![machine, page.piece(vec![])]);
    assert_eq!(rules(&findings), Vec::<&str>::new());
    let machine = &only_piece(&programs).machine;
    assert_eq!((machine.each_side, machine.pitch), (90, Some(5_000)));
    assert_eq!((machine.racking_bed, machine.racking_left, machine.racking_right), (Bed::Front, 4, 3));
    assert_eq!((machine.selectors.front, machine.selectors.back), (true, false));
    assert_eq!(machine.transfer_carriage.len(), 2);
    assert_eq!(machine.longest_float.value, FloatLimit::Needles(5));
    assert_eq!(machine.stitch_sizes.value, (0, 1000));
}

#[test]
fn machine_lines_are_checked() {
    let page = Page::new();
    let line = |line| page.line(Kind::MachineLine(line));
    let lines = vec![
        line(MachineLine::Needles(page.expression("129"))),
        line(MachineLine::Needles(page.expression("90"))),
        line(MachineLine::Pitch(page.expression("5 cm"))),
        line(MachineLine::Racking { bed: BedWord::Both, left: page.expression("4"), right: page.expression("4") }),
        line(MachineLine::LongestFloat(page.expression("5"))),
        line(MachineLine::StitchSizes(page.expression("10"), page.expression("0"))),
        line(MachineLine::MostTucks(page.expression("0"))),
    ];
    let machine = page.block(Kind::Machine(page.name("mooring")), lines);
    let mut found = rules(&page.plan(vec![machine]).1);
    found.sort_unstable();
    assert_eq!(
        found,
        ["one-bed", "out-of-range", "out-of-range", "out-of-range", "said-twice", "too-large", "unit-mismatch"]
    );
}

#[test]
fn a_piece_needs_to_know_its_machine() {
    let page = Page::new();
    let (programs, findings) = page.plan(vec![page.piece(vec![page.knit(BedWord::Front)])]);
    assert_eq!(rules(&findings), ["no-machine"]);
    assert_eq!(only_piece(&programs).steps.len(), 1, "the rest is still worked out");
    let page = Page::new();
    let machines = vec![page.machine("mooring", "90"), page.machine("shed", "50")];
    let named =
        page.block(Kind::Piece { title: page.quoted("Sail"), make: None, machine: Some(page.name("shed")) }, vec![]);
    let unnamed = page.piece(vec![]);
    let (programs, findings) = page.plan(machines.into_iter().chain([named, unnamed]).collect());
    assert_eq!(rules(&findings), ["no-machine"]);
    assert!(findings[0].mend.contains("`on mooring`"));
    assert_eq!(programs[0].pieces[0].machine.each_side, 50);
}

//! Repeats, lengths turned into rows, charts, and the bounds of it all.

use super::super::program::{Repeat, Rounding, Speech, StepKind};
use super::{Page, only_gaps, only_piece, operation, rules, said};
use crate::beds::{Operation, Pick, Work};
use crate::syntax::tree::{ActionWord, BedWord, Extent, Kind, NeedlesWord, Statement};
use proptest::prelude::*;

fn repeat(kind: &StepKind) -> &Repeat {
    match kind {
        StepKind::Repeat(repeat) => repeat,
        other => panic!("not a repeat: {other:?}"),
    }
}

fn cardigan(page: &Page) -> Statement {
    page.stitch("half-cardigan", BedWord::Both, BedWord::Both, vec![page.knit(BedWord::Both), page.knit(BedWord::Both)])
}

fn rounding(rows: &str, over: &str, wish: &str) -> (Rounding, u64) {
    let page = Page::new();
    let before = vec![page.gauge("half-cardigan", rows, over), cardigan(&page)];
    let steps = page.steps(before, vec![page.work("half-cardigan", &[], page.lasting(wish))]);
    let StepKind::Say(Speech::Rounded(rounding)) = &steps[0].kind else { panic!("a rounding first") };
    (rounding.clone(), repeat(&steps[1].kind).times)
}

/// 44 rows in 10 cm are 4.4 rows in 1 cm, and 4.4 times 120 is 528: plain arithmetic.
#[test]
fn a_length_that_comes_out_exactly() {
    let (rounding, times) = rounding("44 rows", "10 cm", "120 cm");
    assert_eq!(times, 264);
    let expected = Rounding { wish: "120 cm".into(), exact: "528".into(), rows: 528, difference: String::new() };
    assert_eq!(rounding, expected);
}

/// 120 cm and 160 cm at 44 rows in 10 cm are 528 and 704 rows, in 2 rows a pass.
#[test]
fn each_size_has_its_own_length() {
    let page = Page::new();
    let work = page.work("half-cardigan", &[], page.lasting("length"));
    let (programs, findings) = page.plan(vec![
        page.sizes(&["short", "long"]),
        page.set("length", "120 (160) cm"),
        page.gauge("half-cardigan", "44 rows", "10 cm"),
        cardigan(&page),
        page.machine("mooring", "90"),
        page.piece(vec![work]),
    ]);
    assert_eq!(rules(&findings), Vec::<&str>::new());
    let times: Vec<u64> = programs.iter().map(|program| repeat(&program.pieces[0].steps[1].kind).times).collect();
    assert_eq!(times, [264, 352]);
}

#[test]
fn a_length_that_is_rounded_says_by_how_much() {
    // 20.5 cm are 90.2 rows; 45 passes of 2 rows are 90 rows, 20.4545... cm.
    let (found, times) = rounding("44 rows", "10 cm", "20.5 cm");
    assert_eq!((times, found.rows, found.exact.as_str()), (45, 90, "90.2"));
    assert_eq!(found.difference, "0.05 cm less than asked");
    // 3 rows in 1 cm and 5 cm: 15 rows lie in the middle of 14 and 16, and the longer one is taken.
    let (found, times) = rounding("3 rows", "1 cm", "5 cm");
    assert_eq!((times, found.rows), (8, 16));
    assert_eq!(found.difference, "0.33 cm more than asked");
    // Never nothing at all.
    assert_eq!(rounding("44 rows", "10 cm", "1 mm").1, 1);
    // 10 in are 25.4 cm: 111.76 rows, 112 rows, a 0.0545... cm more, which is 0.02 in.
    let (found, _) = rounding("44 rows", "10 cm", "10 in");
    assert_eq!((found.rows, found.exact.as_str()), (112, "111.76"));
    assert_eq!(found.difference, "0.02 in more than asked");
}

fn wrong(before: impl Fn(&Page) -> Vec<Statement>, extent: impl Fn(&Page) -> Extent) -> (Vec<&'static str>, String) {
    let page = Page::new();
    let work = page.work("half-cardigan", &[], extent(&page));
    let (programs, findings) = page.plan_piece(before(&page), vec![work]);
    assert!(only_gaps(&programs));
    (rules(&findings), findings.iter().map(said).collect())
}

#[test]
fn how_long_must_make_sense() {
    let before = |page: &Page| vec![page.gauge("other", "44 rows", "10 cm"), cardigan(page)];
    let (rules, text) = wrong(before, |page| page.lasting("30 cm"));
    assert_eq!(rules, ["no-gauge"]);
    assert!(text.contains("`other`"), "{text}");
    let (rules, text) = wrong(before, |page| page.lasting("41 rows"));
    assert_eq!(rules, ["ragged-repeat"]);
    assert!(text.contains("`for 40 rows`") && text.contains("`for 42 rows`"), "{text}");
    assert_eq!(wrong(before, |page| page.lasting("41")).0, ["unit-mismatch"]);
    assert_eq!(wrong(before, |page| page.lasting("3 stitches")).0, ["unit-mismatch"]);
    assert_eq!(wrong(before, |page| page.times("2.5")).0, ["not-a-whole-number"]);
    assert_eq!(wrong(before, |page| page.times("1 - 3")).0, ["not-a-whole-number"]);
    assert_eq!(wrong(before, |page| page.times("2000000 * 1000000")).0, ["too-large"]);
    let empty = |page: &Page| vec![page.stitch("half-cardigan", BedWord::Both, BedWord::Both, vec![])];
    assert_eq!(wrong(empty, |page| page.lasting("4 rows")).0, ["no-rows"]);
}

#[test]
fn repeats_stay_repeats() {
    let page = Page::new();
    let many = page.block(Kind::Repeat(page.expression("1000000")), vec![page.knit(BedWord::Front)]);
    let steps = page.steps(vec![], vec![many]);
    assert_eq!(steps.len(), 1);
    let found = repeat(&steps[0].kind);
    assert_eq!((found.times, found.steps.len(), found.single_row), (1_000_000, 1, false));
}

#[test]
fn a_repeat_of_nothing_is_left_out_without_a_word() {
    let page = Page::new();
    let none = page.block(Kind::Repeat(page.expression("0")), vec![page.knit(BedWord::Front)]);
    assert!(page.steps(vec![], vec![none]).is_empty());
}

#[test]
fn rows_are_counted_with_care() {
    let page = Page::new();
    let mut inner = page.knit(BedWord::Front);
    for _ in 0..4 {
        inner = page.block(Kind::Repeat(page.expression("999999999999")), vec![inner]);
    }
    let (_, findings) = page.plan_piece(vec![], vec![inner]);
    assert_eq!(rules(&findings), ["too-large"]);
}

#[test]
fn a_chart_is_followed_from_its_lowest_line() {
    let page = Page::new();
    let lines = ["|...", ".|.."].map(|line| page.line(Kind::ChartLine(page.quoted(line)))).into();
    let chart = page.block(Kind::Chart(page.name("anchor")), lines);
    let row = page.line(Kind::Row(vec![
        page.act(Some(BedWord::Front), ActionWord::Tuck, Some("anchor"), false),
        page.act(None, ActionWord::Knit, None, true),
    ]));
    let follow = page.block(Kind::Follow(page.name("anchor"), page.times("3")), vec![row]);
    let steps = page.steps(vec![chart], vec![follow]);
    let found = repeat(&steps[0].kind);
    assert_eq!(found.times, 3);
    let marks: Vec<Vec<bool>> = found
        .steps
        .iter()
        .map(|step| match operation(step) {
            Operation::Row(row) => match &row.work {
                Work::Same(beds) => match &beds.front.picked[0].1 {
                    Pick::Tile(tile) => tile.marks.clone(),
                    other => panic!("{other:?}"),
                },
                other => panic!("{other:?}"),
            },
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(marks, [[false, true, false, false], [true, false, false, false]]);
}

#[test]
fn a_chart_has_even_lines_and_holds_only_while_it_is_followed() {
    let page = Page::new();
    let lines = ["|...", ".|."].map(|line| page.line(Kind::ChartLine(page.quoted(line)))).into();
    let chart = page.block(Kind::Chart(page.name("anchor")), lines);
    let row = page.line(Kind::Row(vec![page.act(Some(BedWord::Front), ActionWord::Tuck, Some("anchor"), false)]));
    let (_, findings) = page.plan_piece(vec![chart], vec![row]);
    assert_eq!(rules(&findings), ["uneven-chart", "unknown-name"]);
    assert!(said(&findings[1]).contains("follow anchor"), "{:?}", findings[1]);
}

#[test]
fn charts_in_charts_come_to_an_end() {
    let page = Page::new();
    let lines = (0..2000).map(|_| page.line(Kind::ChartLine(page.quoted("|.")))).collect();
    let chart = page.block(Kind::Chart(page.name("anchor")), lines);
    for body in [vec![], vec![page.knit(BedWord::Front)]] {
        let mut inner = page.block(Kind::Follow(page.name("anchor"), Extent::Once), body);
        for _ in 0..5 {
            inner = page.block(Kind::Follow(page.name("anchor"), Extent::Once), vec![inner]);
        }
        let (_, findings) = page.plan_piece(vec![chart.clone()], vec![inner]);
        assert_eq!(rules(&findings), ["too-large"]);
    }
}

const OPERANDS: &[&str] = &[
    "999999999999 m",
    "0.000001 in",
    "7 rows",
    "999999.999999",
    "0",
    "3",
    "13 cm",
    "L128-R128",
    "every 256 over L7-R120",
    "\"|.|\" over L64-R64",
    "all but loaded",
    "leftmost 3",
    "999999999999 each side",
    "half",
];

proptest! {
    /// Whatever stands there, it ends, and it does not panic.
    #[test]
    fn any_expression_is_borne(
        picks in proptest::collection::vec((0..OPERANDS.len(), 0usize..6), 1..12),
        rows in 1u64..999_999_999_999,
    ) {
        let page = Page::new();
        let signs = ["+", "-", "*", "/", "and", "or"];
        let mut text = String::new();
        for (at, (operand, sign)) in picks.iter().enumerate() {
            if at > 0 {
                text.push_str(&format!(" {} ", signs[*sign]));
            }
            text.push_str(OPERANDS[*operand]);
        }
        let before = vec![
            page.set("half", "1 / 2"),
            page.gauge("half-cardigan", &format!("{rows} rows"), "0.000001 in"),
            cardigan(&page),
        ];
        let body = vec![
            page.work("half-cardigan", &[], page.lasting(&text)),
            page.work("half-cardigan", &[], page.times(&text)),
            page.line(Kind::StitchSize(vec![(BedWord::Both, page.expression(&text))])),
            page.line(Kind::Needles(NeedlesWord::Hold, vec![page.target(BedWord::Front, Some(&text))])),
            page.line(Kind::Cross { bed: BedWord::Front, over: page.expression(&text), under: page.expression(&text) }),
        ];
        let (programs, findings) = page.plan_piece(before, body);
        let understood = only_piece(&programs).steps.iter().filter(|step| !matches!(step.kind, StepKind::Gap(_))).count();
        prop_assert!(understood <= 4);
        prop_assert!(!findings.is_empty(), "a value cannot be a length, a number and needles in one: {text}");
    }
}

//! Rows.

use super::super::program::StepKind;
use super::{Page, only_gaps, operation, rules};
use crate::beds::{Action, BedWork, Both, Operation, Pick, Row, RowSize, Side, Work};
use crate::syntax::tree::{ActionWord, BedWord, Kind, RowPart, RowPartKind, SideWord};

fn row(parts: impl Fn(&Page) -> Vec<RowPart>) -> Row {
    let page = Page::new();
    let steps = page.steps(vec![], vec![page.line(Kind::Row(parts(&page)))]);
    let Operation::Row(row) = operation(&steps[0]) else { panic!("a row") };
    row.clone()
}

fn wrong(parts: impl Fn(&Page) -> Vec<RowPart>) -> Vec<&'static str> {
    let page = Page::new();
    let (programs, findings) = page.plan_piece(vec![], vec![page.line(Kind::Row(parts(&page)))]);
    assert!(only_gaps(&programs));
    rules(&findings)
}

const FRONT: Option<BedWord> = Some(BedWord::Front);
const BACK: Option<BedWord> = Some(BedWord::Back);

#[test]
fn a_bed_that_is_not_named_slips() {
    let found = row(|page| vec![page.act(FRONT, ActionWord::Knit, None, false)]);
    let work = Both { front: BedWork::whole(Action::Knit), back: BedWork::whole(Action::Slip) };
    assert_eq!(found.work, Work::Same(work));
    assert_eq!(found.toward, None);
}

#[test]
fn a_part_without_a_bed_goes_on_with_the_one_before() {
    let found = row(|page| {
        vec![
            page.act(FRONT, ActionWord::Knit, Some("L5"), false),
            page.act(None, ActionWord::Tuck, None, true),
            page.act(BACK, ActionWord::Tuck, Some("every 2"), false),
        ]
    });
    let Work::Same(work) = found.work else { panic!("the same both ways") };
    assert_eq!((work.front.picked.len(), work.front.elsewhere), (1, Action::Tuck));
    assert_eq!(work.back, BedWork { picked: vec![(Action::Tuck, Pick::Every(2))], elsewhere: Action::Slip });
    assert_eq!(wrong(|page| vec![page.act(None, ActionWord::Knit, None, false)]), ["missing-bed"]);
}

#[test]
fn both_is_each() {
    let found = row(|page| vec![page.act(Some(BedWord::Both), ActionWord::Knit, Some("loaded"), false)]);
    let Work::Same(work) = found.work else { panic!("the same both ways") };
    assert_eq!(work.front, work.back);
    assert_eq!(work.front.picked, [(Action::Knit, Pick::Loaded)]);
}

#[test]
fn one_direction_is_a_claim_and_two_are_a_choice() {
    let toward = |page: &Page, side| page.part(RowPartKind::Toward(side));
    let found = row(|page| vec![toward(page, SideWord::Right), page.act(FRONT, ActionWord::Knit, None, false)]);
    assert_eq!(found.toward, Some(Side::Right));
    assert!(matches!(&found.work, Work::Same(work) if work.front.elsewhere == Action::Knit));
    let found = row(|page| {
        vec![
            toward(page, SideWord::Right),
            page.act(FRONT, ActionWord::Knit, None, false),
            toward(page, SideWord::Left),
            page.act(BACK, ActionWord::Knit, None, false),
        ]
    });
    let Work::ByDirection { to_left, to_right } = found.work else { panic!("one way and the other") };
    assert_eq!((to_right.front.elsewhere, to_right.back.elsewhere), (Action::Knit, Action::Slip));
    assert_eq!((to_left.front.elsewhere, to_left.back.elsewhere), (Action::Slip, Action::Knit));
    assert_eq!(found.toward, None);
    assert_eq!(wrong(|page| vec![toward(page, SideWord::Left)]), ["empty-row"]);
    let again = |page: &Page| {
        let side = SideWord::Left;
        vec![toward(page, side), page.act(FRONT, ActionWord::Knit, None, false), toward(page, side)]
    };
    assert_eq!(wrong(again), ["said-twice"]);
}

#[test]
fn sizes_for_one_row() {
    let found = row(|page| {
        vec![
            page.act(FRONT, ActionWord::Knit, None, false),
            page.part(RowPartKind::Loosened(page.expression("1.5"), FRONT)),
            page.part(RowPartKind::Tightened(page.expression("2"), BACK)),
        ]
    });
    assert_eq!(found.sizes, Both { front: Some(RowSize::By(150)), back: Some(RowSize::By(-200)) });
    let found = row(|page| {
        vec![
            page.act(FRONT, ActionWord::Knit, None, false),
            page.part(RowPartKind::Size(page.expression("7.25"), None)),
        ]
    });
    assert_eq!(found.sizes, Both::same(Some(RowSize::To(725))));
    let fine = |page: &Page| {
        vec![
            page.act(FRONT, ActionWord::Knit, None, false),
            page.part(RowPartKind::Size(page.expression("7.255"), None)),
        ]
    };
    assert_eq!(wrong(fine), ["out-of-range"]);
}

#[test]
fn contradictions_are_found() {
    let whole_twice = |page: &Page| {
        vec![page.act(FRONT, ActionWord::Knit, None, false), page.act(FRONT, ActionWord::Tuck, None, false)]
    };
    assert_eq!(wrong(whole_twice), ["said-twice"]);
    let whole_and_some = |page: &Page| {
        vec![page.act(FRONT, ActionWord::Knit, None, false), page.act(None, ActionWord::Tuck, Some("L5"), false)]
    };
    assert_eq!(wrong(whole_and_some), ["said-twice"]);
    let elsewhere_twice = |page: &Page| {
        vec![
            page.act(FRONT, ActionWord::Knit, Some("L5"), false),
            page.act(None, ActionWord::Tuck, None, true),
            page.act(None, ActionWord::Knit, None, true),
        ]
    };
    assert_eq!(wrong(elsewhere_twice), ["said-twice"]);
}

#[test]
fn several_rows() {
    let page = Page::new();
    let rows = |count: &str| {
        page.line(Kind::Rows(page.expression(count), vec![page.act(FRONT, ActionWord::Knit, None, false)]))
    };
    let steps = page.steps(vec![], vec![rows("1"), rows("20 rows"), rows("0")]);
    assert_eq!(steps.len(), 2);
    assert!(matches!(&steps[0].kind, StepKind::Do(Operation::Row(_))));
    assert!(matches!(&steps[1].kind, StepKind::Repeat(repeat) if repeat.times == 20 && repeat.single_row));
}

#[test]
fn tubular_rows_take_turns() {
    let page = Page::new();
    let tubular = page.line(Kind::Tubular(page.expression("5 rows"), BedWord::Back));
    let steps = page.steps(vec![], vec![tubular]);
    let knits = |step: &super::Step| match operation(step) {
        Operation::Row(Row { work: Work::Same(work), .. }) => (work.front.elsewhere, work.back.elsewhere),
        other => panic!("{other:?}"),
    };
    let StepKind::Repeat(repeat) = &steps[0].kind else { panic!("a repeat") };
    assert_eq!(repeat.times, 2);
    let turns: Vec<_> = repeat.steps.iter().map(knits).collect();
    assert_eq!(turns, [(Action::Slip, Action::Knit), (Action::Knit, Action::Slip)]);
    assert_eq!(knits(&steps[1]), (Action::Slip, Action::Knit));
}

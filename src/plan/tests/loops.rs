//! Stitches moved, added and taken off; beds and yarns.

use super::super::program::{StepKind, Unknown};
use super::{Page, only_gaps, only_piece, operation, rules};
use crate::beds::{Both, Operation, Pick, Tool, Waste, Yarn};
use crate::syntax::tree::*;

fn operations(kinds: impl Fn(&Page) -> Vec<Kind>) -> Vec<Operation> {
    let page = Page::new();
    let body = kinds(&page).into_iter().map(|kind| page.line(kind)).collect();
    page.steps(vec![], body).iter().map(|step| operation(step).clone()).collect()
}

fn wrong(kind: impl Fn(&Page) -> Kind) -> Vec<&'static str> {
    let page = Page::new();
    let (programs, findings) = page.plan_piece(vec![], vec![page.line(kind(&page))]);
    assert!(only_gaps(&programs));
    rules(&findings)
}

use BedWord::{Back, Both as BothBeds, Front};

#[test]
fn bare_beds_mean_what_the_statement_is_about() {
    let found = operations(|page| {
        vec![
            Kind::Needles(NeedlesWord::OutOfWork, vec![page.target(Back, None)]),
            Kind::Needles(NeedlesWord::Hold, vec![page.target(Back, None)]),
            Kind::Needles(NeedlesWord::Release, vec![page.target(Back, None)]),
            Kind::Needles(NeedlesWord::Drop, vec![page.target(Back, None)]),
            Kind::Needles(NeedlesWord::BindOff, vec![page.target(Back, None)]),
            Kind::OntoWaste(vec![page.target(Back, None)], None),
            Kind::PickUp(vec![page.target(Back, Some("all"))], LoopsFrom::Waste),
        ]
    });
    let back = |pick| Both { front: None, back: Some(pick) };
    assert_eq!(
        found,
        [
            Operation::OutOfWork(back(Pick::InWork)),
            Operation::Hold(back(Pick::InWork)),
            Operation::Release(back(Pick::InWork)),
            Operation::Drop(back(Pick::Loaded)),
            Operation::BindOff(back(Pick::Loaded)),
            Operation::OntoWaste(back(Pick::Loaded), Waste::PLAIN),
            Operation::PickUp { targets: back(Pick::InWork), from_waste: Some(Waste::PLAIN) },
        ]
    );
    assert_eq!(wrong(|page| Kind::Needles(NeedlesWord::InWork, vec![page.target(Front, None)])), ["missing-needles"]);
    assert_eq!(
        wrong(|page| Kind::Needles(NeedlesWord::InWork, vec![page.target(Front, Some("all"))])),
        ["missing-needles"]
    );
    assert_eq!(wrong(|page| Kind::Needles(NeedlesWord::NewLoops, vec![page.target(Front, None)])), ["missing-needles"]);
    assert_eq!(wrong(|page| Kind::PickUp(vec![page.target(Front, None)], LoopsFrom::Fabric)), ["missing-needles"]);
    let twice = |page: &Page| {
        Kind::Needles(NeedlesWord::Hold, vec![page.target(Front, Some("L5")), page.target(BothBeds, Some("L6"))])
    };
    assert_eq!(wrong(twice), ["said-twice"]);
}

#[test]
fn casting_on() {
    let found = operations(|page| {
        vec![Kind::CastOn(CastOnWord::Zigzag, vec![]), Kind::CastOn(CastOnWord::Wound, vec![page.target(Front, None)])]
    });
    assert!(
        matches!(&found[0], Operation::CastOn(_, targets) if *targets == Both { front: Some(Pick::InWork), back: Some(Pick::InWork) })
    );
    assert!(
        matches!(&found[1], Operation::CastOn(_, targets) if *targets == Both { front: Some(Pick::InWork), back: None })
    );
    assert_eq!(wrong(|_| Kind::CastOn(CastOnWord::Chain, vec![])), ["missing-bed"]);
}

#[test]
fn transfers() {
    let manner = Manner { joining: true, emptied_stay: Some(false), by_hand: Some(true) };
    let found = operations(|page| vec![Kind::Transfer { from: page.target(Back, None), to: Front, manner }]);
    let expected = Operation::Transfer {
        from: crate::beds::Bed::Back,
        pick: None,
        joining: true,
        emptied_stay: Some(false),
        tool: Some(Tool::Hand),
    };
    assert_eq!(found, [expected]);
    let transfer = |from, to| move |page: &Page| Kind::Transfer { from: page.target(from, None), to, manner };
    assert_eq!(wrong(transfer(Back, Back)), ["one-bed"]);
    assert_eq!(wrong(transfer(BothBeds, Front)), ["one-bed"]);
}

fn places(found: &Operation) -> i32 {
    match found {
        Operation::Move { by, .. } => *by,
        other => panic!("{other:?}"),
    }
}

#[test]
fn moves() {
    let manner = Manner::default();
    let found = operations(|page| {
        vec![
            Kind::Move {
                from: page.target(Front, Some("L5")),
                by: page.expression("2"),
                toward: SideWord::Left,
                manner,
            },
            Kind::MoveTo { from: page.target(Front, Some("L2-R1")), to: page.target(Back, Some("L1-R2")), manner },
        ]
    });
    assert_eq!(found.iter().map(places).collect::<Vec<_>>(), [-2, 1]);
    let move_to = |from: &'static str, to: &'static str| {
        move |page: &Page| Kind::MoveTo {
            from: page.target(Front, Some(from)),
            to: page.target(Front, Some(to)),
            manner,
        }
    };
    assert_eq!(wrong(move_to("L2-R1", "L1-R1")), ["uneven-move"]);
    assert_eq!(wrong(move_to("L3 or L1", "L2 or R2")), ["uneven-move"]);
    assert_eq!(wrong(move_to("loaded", "L2")), ["not-fixed"]);
    let by_carriage = |page: &Page| Kind::Move {
        from: page.target(Front, Some("L5")),
        by: page.expression("1"),
        toward: SideWord::Left,
        manner: Manner { by_hand: Some(false), ..Manner::default() },
    };
    assert_eq!(wrong(by_carriage), ["hand-only"]);
}

#[test]
fn crossing() {
    let cross = |over: &'static str, under: &'static str| {
        move |page: &Page| Kind::Cross { bed: Front, over: page.expression(over), under: page.expression(under) }
    };
    let found = operations(|page| vec![cross("L2-L1", "R1-R2")(page), cross("R1", "L1")(page)]);
    assert!(found.iter().all(|operation| matches!(operation, Operation::Cross { .. })));
    assert_eq!(wrong(cross("L2-L1", "R2-R3")), ["not-side-by-side"]);
    assert_eq!(wrong(cross("L2-R1", "R1-R2")), ["not-side-by-side"]);
    assert_eq!(wrong(cross("L5 or L2", "R1")), ["not-side-by-side"]);
}

#[test]
fn edges() {
    let change = |page: &Page, by: &str| EdgeChange {
        bed: BothBeds,
        by: page.expression(by),
        edge: EdgeWord::Each,
        inset: None,
    };
    let found = operations(|page| vec![Kind::Increase(change(page, "2")), Kind::Decrease(change(page, "0"))]);
    assert_eq!(found.len(), 2);
    for (operation, bed) in found.iter().zip(crate::beds::Bed::BOTH) {
        let expected = crate::beds::EdgeChange { bed, by: 2, left: true, right: true, inset: 0 };
        assert_eq!(*operation, Operation::Increase(expected));
    }
}

#[test]
fn racking_and_sizes() {
    let found = operations(|page| {
        vec![
            Kind::RackBy(page.expression("1"), SideWord::Left),
            Kind::RackTo(RackPlace::At(page.expression("2"), SideWord::Right)),
            Kind::RackTo(RackPlace::Centre),
            Kind::StitchSize(vec![(Front, page.expression("5")), (Back, page.expression("4.5"))]),
        ]
    });
    let size = Operation::StitchSize(Both { front: Some(500), back: Some(450) });
    assert_eq!(found, [Operation::RackBy(-1), Operation::RackTo(2), Operation::RackTo(0), size]);
    let twice = |page: &Page| Kind::StitchSize(vec![(Front, page.expression("5")), (BothBeds, page.expression("4"))]);
    assert_eq!(wrong(twice), ["said-twice"]);
}

#[test]
fn yarns_have_numbers_and_counts() {
    let page = Page::new();
    let count =
        YarnLine::Count { first: super::number("2"), second: Some(super::number("15")), system: CountSystem::Metric };
    let yarns = vec![
        page.block(Kind::Yarn(page.name("slate")), vec![page.line(Kind::YarnLine(count.clone()))]),
        page.block(
            Kind::Yarn(page.name("foam")),
            vec![page.line(Kind::YarnLine(count.clone())), page.line(Kind::YarnLine(count))],
        ),
    ];
    let body = vec![page.line(Kind::Thread(page.name("foam"))), page.line(Kind::Thread(page.name("slat")))];
    let (programs, findings) = page.plan_piece(yarns, body);
    assert_eq!(rules(&findings), ["said-twice", "unknown-name"]);
    assert!(findings[1].mend.contains("`slate`"));
    assert_eq!(programs[0].yarns[0].count.as_deref(), Some("2/15 Nm"));
    let steps = &only_piece(&programs).steps;
    let [known, unknown] = &steps[..] else { panic!("two steps: {steps:?}") };
    assert!(matches!(known.kind, StepKind::Do(Operation::Thread(Yarn(1)))));
    assert!(matches!(unknown.kind, StepKind::Gap(Unknown::Rows)));
}

//! Stitch definitions: parameters, types, and that they end.

use super::super::program::StepKind;
use super::{Page, only_gaps, rules, said};
use crate::syntax::tree::{ActionWord, BedWord, Extent, Kind, ParameterKind, RowPartKind, Statement};
use std::sync::Arc;

fn ripple(page: &Page) -> Statement {
    let rows = page.line(Kind::Rows(
        page.expression("depth"),
        vec![page.act(Some(BedWord::Both), ActionWord::Knit, Some("ribs"), false)],
    ));
    page.stitch_with("ripple", &[("depth", ParameterKind::Rows), ("ribs", ParameterKind::Selection)], vec![rows])
}

#[test]
fn parameters_are_filled_in() {
    let page = Page::new();
    let work = page.work("ripple", &[("ribs", "L5-R5"), ("depth", "6 rows")], page.times("4"));
    let steps = page.steps(vec![ripple(&page)], vec![work]);
    let StepKind::Repeat(outer) = &steps[0].kind else { panic!("a repeat") };
    assert_eq!(outer.times, 4);
    assert_eq!(outer.stitch.as_ref().map(|stitch| stitch.name.as_str()), Some("ripple"));
    let StepKind::Repeat(inner) = &outer.steps[0].kind else { panic!("rows") };
    assert_eq!((inner.times, inner.single_row), (6, true));
}

#[test]
fn arguments_are_checked() {
    for (arguments, count) in [
        (&[("depth", "6 rows")][..], 1),
        (&[("depth", "6 rows"), ("ribs", "L5"), ("more", "1")], 1),
        (&[("depth", "6"), ("ribs", "L5")], 1),
        (&[("depth", "L5"), ("ribs", "6 rows")], 2),
        (&[], 2),
    ] {
        let page = Page::new();
        let (programs, findings) =
            page.plan_piece(vec![ripple(&page)], vec![page.work("ripple", arguments, Extent::Once)]);
        assert_eq!(rules(&findings), vec!["wrong-details"; count], "{arguments:?}");
        assert!(only_gaps(&programs));
    }
    let page = Page::new();
    let twice = [("depth", "6 rows"), ("ribs", "L5"), ("ribs", "L6")];
    let (_, findings) = page.plan_piece(vec![ripple(&page)], vec![page.work("ripple", &twice, Extent::Once)]);
    assert_eq!(rules(&findings), ["said-twice"]);
}

#[test]
fn an_unused_definition_is_looked_at_too() {
    let page = Page::new();
    let stitch = page.stitch("wave", BedWord::Both, BedWord::Both, vec![page.work("wav", &[], Extent::Once)]);
    let (_, findings) = page.plan(vec![stitch]);
    assert_eq!(rules(&findings), ["unknown-name"]);
    assert!(said(&findings[0]).contains("Perhaps `wave`"), "{:?}", findings[0]);
    // What hangs on a parameter is not guessed at.
    let page = Page::new();
    let body = vec![page.block(Kind::Repeat(page.expression("depth / 2")), vec![page.knit(BedWord::Both)])];
    let (_, findings) = page.plan(vec![page.stitch_with("wave", &[("depth", ParameterKind::Number)], body)]);
    assert_eq!(rules(&findings), Vec::<&str>::new());
    // But a wrong kind is wrong whatever the value.
    let page = Page::new();
    let body = vec![page.block(Kind::Repeat(page.expression("depth + 2")), vec![page.knit(BedWord::Both)])];
    let (_, findings) = page.plan(vec![page.stitch_with("wave", &[("depth", ParameterKind::Rows)], body)]);
    assert_eq!(rules(&findings), ["unit-mismatch"]);
}

#[test]
fn definitions_that_work_each_other_are_found_with_the_way_round() {
    let page = Page::new();
    let stitches = [("one", "two"), ("two", "three"), ("three", "one")]
        .map(|(name, next)| page.stitch(name, BedWord::Both, BedWord::Both, vec![page.work(next, &[], Extent::Once)]));
    let (_, findings) = page.plan(stitches.into());
    assert_eq!(rules(&findings), ["endless-definition"]);
    assert!(said(&findings[0]).contains("`one`, then `two`, then `three`, then `one` again"), "{:?}", findings[0]);
}

/// Each definition works the one before twice: 2^40 rows, in the memory of 40 definitions.
#[test]
fn definitions_are_shared() {
    let page = Page::new();
    let mut stitches = vec![page.stitch("s0", BedWord::Both, BedWord::Both, vec![page.knit(BedWord::Both)])];
    for at in 0..40 {
        let before = format!("s{at}");
        let body = vec![page.work(&before, &[], Extent::Once), page.work(&before, &[], Extent::Once)];
        stitches.push(page.stitch(&format!("s{}", at + 1), BedWord::Both, BedWord::Both, body));
    }
    let steps = page.steps(stitches, vec![page.work("s40", &[], page.times("2"))]);
    let StepKind::Repeat(outer) = &steps[0].kind else { panic!("a repeat") };
    let StepKind::Repeat(first) = &outer.steps[0].kind else { panic!("a repeat") };
    let StepKind::Repeat(second) = &outer.steps[1].kind else { panic!("a repeat") };
    assert!(Arc::ptr_eq(&first.steps, &second.steps));
}

#[test]
fn definitions_are_not_nested_without_end() {
    for upwards in [true, false] {
        let page = Page::new();
        let mut stitches = vec![page.stitch("s0", BedWord::Both, BedWord::Both, vec![page.knit(BedWord::Both)])];
        for at in 0..3000 {
            let body = vec![page.work(&format!("s{at}"), &[], Extent::Once)];
            stitches.push(page.stitch(&format!("s{}", at + 1), BedWord::Both, BedWord::Both, body));
        }
        if !upwards {
            stitches.reverse();
        }
        let (_, findings) = page.plan(stitches);
        assert!(rules(&findings).iter().all(|rule| *rule == "too-deep"));
        assert!(!findings.is_empty());
    }
}

fn of_type(from: BedWord, to: BedWord, body: impl Fn(&Page) -> Vec<Statement>) -> (Vec<&'static str>, String) {
    let page = Page::new();
    let (_, findings) = page.plan(vec![page.stitch("wave", from, to, body(&page))]);
    (rules(&findings), findings.iter().map(said).collect())
}

#[test]
fn a_definition_keeps_its_word() {
    use BedWord::{Back, Both, Front};
    let whole = |page: &Page| vec![page.knit(Both), page.transfer(Back, None, Front)];
    assert_eq!(of_type(Both, Front, whole).0, Vec::<&str>::new());
    let (rules, text) = of_type(Both, Both, whole);
    assert_eq!(rules, ["wrong-bed"]);
    assert!(text.contains("`to front`") && text.contains("the back bed has no stitches"), "{text}");
    assert_eq!(of_type(Front, Front, |page| vec![page.knit(Both)]).0, ["wrong-bed"]);
    assert_eq!(of_type(Both, Front, |page| vec![page.knit(Both)]).0, ["wrong-bed"]);
    // Some needles only: nothing is certain then.
    let some = |page: &Page| vec![page.transfer(Back, Some("L5"), Front), page.knit(Both)];
    assert_eq!(of_type(Both, Front, some).0, Vec::<&str>::new());
    // A bed may begin to knit when the row says so.
    let begins = |page: &Page| {
        vec![page.line(Kind::Row(vec![
            page.act(Some(Both), ActionWord::Knit, None, false),
            page.part(RowPartKind::NewLoops),
        ]))]
    };
    assert_eq!(of_type(Front, Both, begins).0, Vec::<&str>::new());
}

#[test]
fn a_row_after_everything_went_away() {
    use BedWord::{Back, Both, Front};
    let after = |page: &Page| vec![page.transfer(Back, None, Front), page.knit(Back)];
    let (rules, text) = of_type(Both, Front, after);
    assert_eq!(rules, ["wrong-bed"]);
    assert!(text.contains("the back bed has no stitches here"), "{text}");
}

#[test]
fn what_changes_beds_is_worked_once() {
    let page = Page::new();
    let wave =
        page.stitch("wave", BedWord::Both, BedWord::Front, vec![page.transfer(BedWord::Back, None, BedWord::Front)]);
    let (_, findings) = page.plan_piece(vec![wave], vec![page.work("wave", &[], page.times("2"))]);
    assert_eq!(rules(&findings), ["open-repeat"]);
}

//! Numbers with what they measure.

use super::super::values::quantity::{Amount, Exact, Measure, Refused, decimal, printed};
use super::{Page, number, rules, said};
use crate::syntax::tree::{Kind, Unit};
use proptest::prelude::*;

fn amount(text: &str, unit: Option<Unit>) -> Amount {
    Amount::read(number(text), unit).expect("within the limits")
}

/// The international yard of 1959 makes the inch exactly 25.4 mm; NIST SP 811 lists the factor (from memory).
#[test]
fn an_inch_is_exactly_2_54_cm() {
    let inch = amount("1", Some(Unit::Inches)).exact.expect("known");
    assert_eq!(inch, amount("2.54", Some(Unit::Centimetres)).exact.expect("known"));
    let yard = amount("36", Some(Unit::Inches)).exact.expect("known");
    assert_eq!(yard, amount("0.9144", Some(Unit::Metres)).exact.expect("known"));
}

#[test]
fn what_may_be_mixed() {
    use Measure::{Length, Mass, Needles, Number, Rows, Stitches};
    let all = [Number, Needles, Stitches, Rows, Length, Mass];
    for a in all {
        for b in all {
            let one = |measure| Amount { exact: Some(Exact::from(6)), measure, shown: None };
            let (left, right) = (one(a), one(b));
            assert_eq!(left.add(&right, false).is_ok(), a == b, "{a:?} + {b:?}");
            assert_eq!(left.add(&right, true).is_ok(), a == b, "{a:?} - {b:?}");
            let product = left.times(&right).ok().map(|amount| amount.measure);
            let expected = if b == Number {
                Some(a)
            } else if a == Number {
                Some(b)
            } else {
                None
            };
            assert_eq!(product, expected, "{a:?} * {b:?}");
            let quotient = left.over(&right).ok().map(|amount| amount.measure);
            let expected = if b == Number {
                Some(a)
            } else if a == b {
                Some(Number)
            } else {
                None
            };
            assert_eq!(quotient, expected, "{a:?} / {b:?}");
        }
    }
}

#[test]
fn a_plain_nothing_goes_with_everything_and_divides_nothing() {
    let (zero, length) = (amount("0", None), amount("30", Some(Unit::Centimetres)));
    assert_eq!(zero.add(&length, false), Ok(length));
    assert_eq!(length.add(&zero, true), Ok(length));
    assert_eq!(length.over(&zero), Err(Refused::ByZero));
}

#[test]
fn limits_hold() {
    assert!(Amount::read(number("999999999999"), None).is_some());
    assert!(Amount::read(number("1000000000000"), None).is_none());
    assert!(Amount::read(number("0.000001"), None).is_some());
    assert!(Amount::read(number("0.0000001"), None).is_none());
    let mut value = amount("999999999999", Some(Unit::Metres));
    let large = amount("999999999999", None);
    let steps = std::iter::from_fn(|| {
        value = value.times(&large).ok()?;
        Some(())
    });
    assert!(steps.take(100).count() < 100, "a product must not grow without end");
}

#[test]
fn printing() {
    assert_eq!(printed(&amount("120", Some(Unit::Centimetres))), "120 cm");
    assert_eq!(printed(&amount("4.50", Some(Unit::Inches))), "4.5 in");
    assert_eq!(decimal(Exact::new(-1, 3), 2), "-0.33");
    assert_eq!(decimal(Exact::new(2, 3), 1), "0.7");
    assert_eq!(decimal(Exact::new(1, 100), 1), "0");
    assert_eq!(decimal(Exact::new(105, 100), 2), "1.05");
}

proptest! {
    #[test]
    fn adding_and_taking_away_is_exact(a in 0i64..1_000_000_000, b in 0i64..1_000_000_000, decimals in 0u8..7) {
        use crate::syntax::tree::Number;
        let read = |units| Amount::read(Number { units, decimals }, Some(Unit::Inches)).expect("small");
        let (a, b) = (read(a), read(b));
        let sum = a.add(&b, false).expect("one kind");
        prop_assert_eq!(sum.add(&b, true), Ok(a));
        prop_assert_eq!(Ok(sum), b.add(&a, false));
    }
}

fn finding_of(value: &str) -> String {
    let page = Page::new();
    let (_, findings) = page.plan(vec![page.set("value-here", value)]);
    findings.iter().map(|finding| format!("{}: {}", finding.rule.name, said(finding))).collect::<Vec<_>>().join("\n")
}

#[test]
fn mixing_is_said_with_both_kinds() {
    let text = finding_of("40 rows + 30 cm");
    assert!(text.starts_with("unit-mismatch: a length cannot be added to rows"), "{text}");
    assert!(text.contains("`work NAME for LENGTH`"), "{text}");
    assert!(finding_of("5 + 3 rows").contains("Write the unit"));
    assert!(finding_of("3 rows and 4 rows").starts_with("unit-mismatch"));
    assert!(finding_of("L5 + 3").starts_with("unit-mismatch"));
    let needles = finding_of("L24 + L21");
    assert!(needles.starts_with("unit-mismatch") && needles.contains("Write `or` for needles"), "{needles}");
    assert!(finding_of("5 / 0").starts_with("divided-by-zero"));
    assert!(finding_of("1000000000000 rows").starts_with("too-large"));
    assert_eq!(finding_of("2 * 3 rows + 40 cm / 10 mm * 1 row"), "");
}

#[test]
fn times_binds_stronger_than_plus() {
    let page = Page::new();
    let body = vec![page.line(Kind::Expect(vec![super::super::super::syntax::tree::Promise {
        kind: crate::syntax::tree::PromiseKind::Counter(page.expression("2 + 3 * 4 - 6 / 2")),
        span: page.span("counter"),
    }]))];
    let steps = page.steps(vec![], body);
    let super::StepKind::Expect(promise, _) = &steps[0].kind else { panic!("a promise") };
    assert_eq!(*promise, super::super::program::Promise::Counter(11));
}

#[test]
fn sizes_choose_their_value() {
    let page = Page::new();
    let before = vec![page.sizes(&["short", "long"]), page.set("many", "4 (6)"), page.machine("mooring", "90")];
    let body = vec![page.line(Kind::Rows(
        page.expression("many"),
        vec![page.act(Some(crate::syntax::tree::BedWord::Front), crate::syntax::tree::ActionWord::Knit, None, false)],
    ))];
    let (programs, findings) = page.plan(before.into_iter().chain([page.piece(body)]).collect());
    assert_eq!(rules(&findings), Vec::<&str>::new());
    let times: Vec<(Option<&str>, u64)> = programs
        .iter()
        .map(|program| match &program.pieces[0].steps[0].kind {
            super::StepKind::Repeat(repeat) => (program.size.as_deref(), repeat.times),
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(times, [(Some("short"), 4), (Some("long"), 6)]);
}

#[test]
fn findings_name_the_sizes_only_where_they_differ() {
    let page = Page::new();
    let before = vec![
        page.sizes(&["short", "long"]),
        page.set("wrong-count", "1 (2, 3) cm"),
        page.set("wrong-always", "1 cm + 1 row"),
        page.set("wrong-once", "1 / 0 (1)"),
    ];
    let (programs, findings) = page.plan(before);
    assert_eq!(programs.len(), 2);
    let sizes: Vec<(&str, Vec<String>)> =
        findings.iter().map(|finding| (finding.rule.name, finding.sizes.clone())).collect();
    assert_eq!(
        sizes,
        [("wrong-count-of-sizes", vec![]), ("unit-mismatch", vec![]), ("divided-by-zero", vec!["short".to_owned()])]
    );
    assert!(said(&findings[0]).contains("3 values"), "{:?}", findings[0]);
    assert!(said(&findings[0]).contains("2 sizes"), "{:?}", findings[0]);
}

#[test]
fn values_that_stand_for_themselves_are_found() {
    let page = Page::new();
    let (_, findings) = page.plan(vec![page.set("one", "two + 1"), page.set("two", "one - 1")]);
    assert_eq!(rules(&findings), ["endless-definition"]);
}

#[test]
fn a_long_chain_of_values_ends() {
    let page = Page::new();
    let name = |at: usize| format!("v{at}");
    let mut lets: Vec<_> = (0..5000).map(|at| page.set(&name(at), &name(at + 1))).collect();
    lets.push(page.set(&name(5000), "1"));
    let (_, findings) = page.plan(lets);
    assert!(rules(&findings).contains(&"too-deep"));
}

//! Every kind of line gives the right tree.

use super::{plain, read};
use crate::syntax::words::SAMPLES;

/// Every form of every statement, and its kind in the tree without spans and wrappers. The right-hand side was printed
/// by the reader once and then compared by eye with the descriptions in the tree.
const LINES: &[(&str, &str)] = &[
    (r#"pattern "Breakwater scarf""#, r#"Pattern("Breakwater scarf")"#),
    (r#"use "machines/club.wale""#, r#"Use("machines/club.wale")"#),
    ("machine club", r#"Machine("club")"#),
    ("yarn slate", r#"Yarn("slate")"#),
    ("gauge half-cardigan", r#"Gauge("half-cardigan")"#),
    ("sizes short, long", r#"Sizes(["short", "long"])"#),
    ("let length = 120 (160) cm", r#"Let("length", Quantity([120, 160], unit: Some(Centimetres)))"#),
    (
        "let gap = length - 4 cm + 2 * 3 rows / 2",
        r#"Let("gap", Name("length"), rest: [(Minus, Quantity([4], unit: Some(Centimetres))), (Plus, Quantity([2])), (Times, Quantity([3], unit: Some(Rows))), (Over, Quantity([2]))])"#,
    ),
    ("stitch half-cardigan on both", r#"Stitch { name: "half-cardigan", parameters: [], from: Both, to: Both }"#),
    (
        "stitch ripple (depth rows, ribs selection) from both to front",
        r#"Stitch { name: "ripple", parameters: [Parameter { name: "depth", kind: Rows }, Parameter { name: "ribs", kind: Selection }], from: Both, to: Front }"#,
    ),
    ("chart anchor", r#"Chart("anchor")"#),
    ("fabric basket", r#"Fabric("basket")"#),
    (r#"piece "Sleeve""#, r#"Piece { title: "Sleeve", make: None, machine: None }"#),
    (
        r#"piece "Sleeve", make 2 on club"#,
        r#"Piece { title: "Sleeve", make: Some(Quantity([2])), machine: Some("club") }"#,
    ),
    (r#"piece "Sleeve" on club"#, r#"Piece { title: "Sleeve", make: None, machine: Some("club") }"#),
    (r#"section "Body""#, r#"Section("Body")"#),
    ("needles 66 each side", "MachineLine(Needles(Quantity([66])))"),
    ("pitch 5.2 mm", "MachineLine(Pitch(Quantity([52e-1], unit: Some(Millimetres))))"),
    (
        "racking front bed, 3 left to 6 right",
        "MachineLine(Racking { bed: Front, left: Quantity([3]), right: Quantity([6]) })",
    ),
    ("half step with the racking handle", "MachineLine(HalfStep(true))"),
    ("half step with a lever", "MachineLine(HalfStep(false))"),
    ("half step to the right", "MachineLine(HalfStepWay(Right))"),
    ("half step to the left", "MachineLine(HalfStepWay(Left))"),
    ("selectors both beds", "MachineLine(Selectors(Some(Both)))"),
    ("selectors front bed", "MachineLine(Selectors(Some(Front)))"),
    ("selectors none", "MachineLine(Selectors(None))"),
    ("hold both beds", "MachineLine(Hold(Some(Both)))"),
    ("hold none", "MachineLine(Hold(None))"),
    ("transfer carriage", "MachineLine(TransferCarriage([]))"),
    ("transfer carriage takes every stitch", "MachineLine(TransferTakes([EveryStitch]))"),
    (
        "transfer carriage takes lone stitches, every second needle, picked needles",
        "MachineLine(TransferTakes([LoneStitches, EverySecond, PickedNeedles]))",
    ),
    ("transfer at size 6 to 9.5", "MachineLine(TransferSizes(Quantity([6]), Quantity([95e-1])))"),
    (r#"transfer place "beside it""#, r#"MachineLine(TransferPlace("beside it"))"#),
    (
        "transfer carriage to back from left, to front",
        "MachineLine(TransferCarriage([CarriageWay { to: Back, from: Some(Left) }, CarriageWay { to: Front, from: None }]))",
    ),
    ("most tucks 4", "MachineLine(MostTucks(Quantity([4])))"),
    ("most adjacent tucks 2", "MachineLine(MostAdjacentTucks(Quantity([2])))"),
    ("longest float 25 mm", "MachineLine(LongestFloat(Quantity([25], unit: Some(Millimetres))))"),
    ("longest float 5 needles", "MachineLine(LongestFloat(Quantity([5], unit: Some(Needles))))"),
    ("racking slack 2", "MachineLine(RackingSlack(Quantity([2])))"),
    ("racking step 1", "MachineLine(RackingStep(Quantity([1])))"),
    ("longest wait 8 rows", "MachineLine(LongestWait(Quantity([8], unit: Some(Rows))))"),
    ("widest cross 3 stitches", "MachineLine(WidestCross(Quantity([3], unit: Some(Stitches))))"),
    ("stitch sizes 0 to 10", "MachineLine(StitchSizes(Quantity([0]), Quantity([10])))"),
    ("emptied needles stay in work", "MachineLine(EmptiedStay(true))"),
    ("emptied needles go out of work", "MachineLine(EmptiedStay(false))"),
    ("count 2/15 Nm", "YarnLine(Count { first: 2, second: Some(15), system: Metric })"),
    ("count 60 tex", "YarnLine(Count { first: 60, second: None, system: Tex })"),
    ("count 8.5 Ne", "YarnLine(Count { first: 85e-1, second: None, system: Cotton })"),
    (r#"colour "grey blue""#, r#"YarnLine(Colour("grey blue"))"#),
    (r#"fibre "wool""#, r#"YarnLine(Fibre("wool"))"#),
    ("ball 50 g", "YarnLine(Ball(Quantity([50], unit: Some(Grams))))"),
    ("strands 2", "YarnLine(Strands(Quantity([2])))"),
    ("plain rows at size 5", "YarnLine(PlainRows(Quantity([5])))"),
    (
        "26 stitches and 44 rows in 10 cm",
        "GaugeLine { stitches: [26], unit: Some(Stitches), rows: [44], unit: Some(Rows), over: [10], unit: Some(Centimetres), state: None }",
    ),
    (
        "26 (28) stitches and 44 rows in 10 cm, washed",
        r#"GaugeLine { stitches: [26, 28], unit: Some(Stitches), rows: [44], unit: Some(Rows), over: [10], unit: Some(Centimetres), state: Some("washed") }"#,
    ),
    (r#""|..|""#, r#"ChartLine("|..|")"#),
    ("X X O O .", r#"FabricLine("X X O O .")"#),
    (
        "in work front L30-R30, back L30-R29",
        "Needles(InWork, [Target { bed: Front, needles: Some(Needles { first: NeedleWord { side: Left, numbers: [30] }, last: Some(NeedleWord { side: Right, numbers: [30] }) }) }, Target { bed: Back, needles: Some(Needles { first: NeedleWord { side: Left, numbers: [30] }, last: Some(NeedleWord { side: Right, numbers: [29] }) }) }])",
    ),
    (
        "in work both L30 (36)-R29 (35)",
        "Needles(InWork, [Target { bed: Both, needles: Some(Needles { first: NeedleWord { side: Left, numbers: [30, 36] }, last: Some(NeedleWord { side: Right, numbers: [29, 35] }) }) }])",
    ),
    ("out of work back", "Needles(OutOfWork, [Target { bed: Back, needles: None }])"),
    (
        "hold front leftmost 5, back rightmost half",
        r#"Needles(Hold, [Target { bed: Front, needles: Some(Leftmost(Number([5]))) }, Target { bed: Back, needles: Some(Rightmost(Name("half"))) }])"#,
    ),
    ("release both", "Needles(Release, [Target { bed: Both, needles: None }])"),
    ("gaiting between", "Gaiting(Between)"),
    ("gaiting opposite", "Gaiting(Opposite)"),
    ("rack 1 left", "RackBy(Quantity([1]), Left)"),
    ("rack to centre", "RackTo(Centre)"),
    ("rack to 2 right", "RackTo(At(Quantity([2]), Right))"),
    ("thread slate", r#"Thread("slate")"#),
    ("stitch size 5", "StitchSize([(Both, Quantity([5]))])"),
    ("stitch size front 5, back 4.5", "StitchSize([(Front, Quantity([5])), (Back, Quantity([45e-1]))])"),
    ("carriage left", "Carriage(Left)"),
    ("reset counter", "ResetCounter"),
    ("row both knit", "Row([Act { bed: Some(Both), action: Knit, on: None, elsewhere: false }])"),
    (
        "row to right front knit on ribs, tuck elsewhere, back knit, loosened 3",
        r#"Row([Toward(Right), Act { bed: Some(Front), action: Knit, on: Some(Name("ribs")), elsewhere: false }, Act { bed: None, action: Tuck, on: None, elsewhere: true }, Act { bed: Some(Back), action: Knit, on: None, elsewhere: false }, Loosened(Quantity([3]), None)])"#,
    ),
    (
        "row to left, front knit, back slip, tightened 2 front, size 7 back, new loops",
        "Row([Toward(Left), Act { bed: Some(Front), action: Knit, on: None, elsewhere: false }, Act { bed: Some(Back), action: Slip, on: None, elsewhere: false }, Tightened(Quantity([2]), Some(Front)), Size(Quantity([7]), Some(Back)), NewLoops])",
    ),
    ("row to left", "Row([Toward(Left)])"),
    ("rows 10 both knit", "Rows(Quantity([10]), [Act { bed: Some(Both), action: Knit, on: None, elsewhere: false }])"),
    (
        "rows 20 to right front knit, to left back knit",
        "Rows(Quantity([20]), [Toward(Right), Act { bed: Some(Front), action: Knit, on: None, elsewhere: false }, Toward(Left), Act { bed: Some(Back), action: Knit, on: None, elsewhere: false }])",
    ),
    (
        "rows n front knit on every 2 over L10-R10 and empty",
        r#"Rows(Name("n"), [Act { bed: Some(Front), action: Knit, on: Some(Every { step: Number([2]), over: Some(Needles { first: NeedleWord { side: Left, numbers: [10] }, last: Some(NeedleWord { side: Right, numbers: [10] }) }) }, rest: [(And, Empty)]), elsewhere: false }])"#,
    ),
    ("tubular 4 rows", "Tubular(Quantity([4], unit: Some(Rows)), Front)"),
    ("tubular n rows, back first", r#"Tubular(Name("n"), Back)"#),
    ("free pass", "FreePass"),
    ("cast on zigzag", "CastOn(Zigzag, [])"),
    (
        "cast on wound front L10-R10",
        "CastOn(Wound, [Target { bed: Front, needles: Some(Needles { first: NeedleWord { side: Left, numbers: [10] }, last: Some(NeedleWord { side: Right, numbers: [10] }) }) }])",
    ),
    (
        "new loops front L31, back R31",
        "Needles(NewLoops, [Target { bed: Front, needles: Some(Needles { first: NeedleWord { side: Left, numbers: [31] }, last: None }) }, Target { bed: Back, needles: Some(Needles { first: NeedleWord { side: Right, numbers: [31] }, last: None }) }])",
    ),
    (
        "transfer back to front",
        "Transfer { from: Target { bed: Back, needles: None }, to: Front, manner: Manner { joining: false, emptied_stay: None, by_hand: None } }",
    ),
    (
        "transfer front every 3 to back, joining, emptied stay in work, by hand",
        "Transfer { from: Target { bed: Front, needles: Some(Every { step: Number([3]), over: None }) }, to: Back, manner: Manner { joining: true, emptied_stay: Some(true), by_hand: Some(true) } }",
    ),
    (
        "transfer front ribs to back, emptied go out of work, by carriage",
        r#"Transfer { from: Target { bed: Front, needles: Some(Name("ribs")) }, to: Back, manner: Manner { joining: false, emptied_stay: Some(false), by_hand: Some(false) } }"#,
    ),
    (
        "move front L5 1 left",
        "Move { from: Target { bed: Front, needles: Some(Needles { first: NeedleWord { side: Left, numbers: [5] }, last: None }) }, by: Quantity([1]), toward: Left, manner: Manner { joining: false, emptied_stay: None, by_hand: None } }",
    ),
    (
        "move front ribs 2 right, joining",
        r#"Move { from: Target { bed: Front, needles: Some(Name("ribs")) }, by: Quantity([2]), toward: Right, manner: Manner { joining: true, emptied_stay: None, by_hand: None } }"#,
    ),
    (
        "move front L5 to back L6, by hand",
        "MoveTo { from: Target { bed: Front, needles: Some(Needles { first: NeedleWord { side: Left, numbers: [5] }, last: None }) }, to: Target { bed: Back, needles: Some(Needles { first: NeedleWord { side: Left, numbers: [6] }, last: None }) }, manner: Manner { joining: false, emptied_stay: None, by_hand: Some(true) } }",
    ),
    (
        "cross front L2-L1 over R1-R2",
        "Cross { bed: Front, over: Needles { first: NeedleWord { side: Left, numbers: [2] }, last: Some(NeedleWord { side: Left, numbers: [1] }) }, under: Needles { first: NeedleWord { side: Right, numbers: [1] }, last: Some(NeedleWord { side: Right, numbers: [2] }) } }",
    ),
    (
        "increase front 1 at each edge",
        "Increase(EdgeChange { bed: Front, by: Quantity([1]), edge: Each, inset: None })",
    ),
    (
        "increase back n at left, inset 3",
        r#"Increase(EdgeChange { bed: Back, by: Name("n"), edge: Left, inset: Some(Quantity([3])) })"#,
    ),
    ("decrease front 1 at right", "Decrease(EdgeChange { bed: Front, by: Quantity([1]), edge: Right, inset: None })"),
    (
        "decrease front 1 at left, 10 times evenly",
        "Slope(EdgeChange { bed: Front, by: Quantity([1]), edge: Left, inset: None }, Quantity([10]))",
    ),
    (
        "decrease front 1 at left, inset 2, 10 times evenly",
        "Slope(EdgeChange { bed: Front, by: Quantity([1]), edge: Left, inset: Some(Quantity([2])) }, Quantity([10]))",
    ),
    (
        "drop front R5",
        "Needles(Drop, [Target { bed: Front, needles: Some(Needles { first: NeedleWord { side: Right, numbers: [5] }, last: None }) }])",
    ),
    ("pick up front all", "PickUp([Target { bed: Front, needles: Some(All) }], Fabric)"),
    (
        "pick up front L5-R5 from waste yarn",
        "PickUp([Target { bed: Front, needles: Some(Needles { first: NeedleWord { side: Left, numbers: [5] }, last: Some(NeedleWord { side: Right, numbers: [5] }) }) }], Waste)",
    ),
    ("pick up front from waste yarn", "PickUp([Target { bed: Front, needles: None }], Waste)"),
    (
        r#"pick up both from "left shoulder""#,
        r#"PickUp([Target { bed: Both, needles: None }], Named("left shoulder"))"#,
    ),
    ("bind off front", "Needles(BindOff, [Target { bed: Front, needles: None }])"),
    (
        "onto waste yarn front, back",
        "OntoWaste([Target { bed: Front, needles: None }, Target { bed: Back, needles: None }], None)",
    ),
    (
        r#"onto waste yarn front as "left shoulder""#,
        r#"OntoWaste([Target { bed: Front, needles: None }], Some("left shoulder"))"#,
    ),
    ("onto waste yarn front as", r#"OntoWaste([Target { bed: Front, needles: Some(Name("as")) }], None)"#),
    ("cut yarn", "CutYarn"),
    ("repeat 4 times", "Repeat(Quantity([4]))"),
    ("repeat n times", r#"Repeat(Name("n"))"#),
    ("work half-cardigan", r#"Work { name: "half-cardigan", arguments: [], extent: Once }"#),
    ("work half-cardigan for length", r#"Work { name: "half-cardigan", arguments: [], extent: For(Name("length")) }"#),
    (
        r#"work ripple (depth 6 rows, ribs "|.") 4 times"#,
        r#"Work { name: "ripple", arguments: [Argument { name: "depth", value: Quantity([6], unit: Some(Rows)) }, Argument { name: "ribs", value: Tile { marks: "|.", over: None } }], extent: Times(Quantity([4])) }"#,
    ),
    (
        "work rib for 30 cm",
        r#"Work { name: "rib", arguments: [], extent: For(Quantity([30], unit: Some(Centimetres))) }"#,
    ),
    ("follow anchor 2 times", r#"Follow("anchor", Times(Quantity([2])))"#),
    ("follow anchor", r#"Follow("anchor", Once)"#),
    ("shape over 60 rows", "Shape(Quantity([60], unit: Some(Rows)))"),
    (
        r#"arrange front "|..|", back ".||.""#,
        r#"Arrange([Target { bed: Front, needles: Some(Tile { marks: "|..|", over: None }) }, Target { bed: Back, needles: Some(Tile { marks: ".||.", over: None }) }])"#,
    ),
    (r#"note "hang the weights""#, r#"Say(Note, "hang the weights")"#),
    (r#"mark "armhole""#, r#"Say(Mark, "armhole")"#),
    (r#"remind every 30 rows "move the weights""#, r#"Remind(Quantity([30], unit: Some(Rows)), "move the weights")"#),
    (r#"remind every n rows "move the weights""#, r#"Remind(Name("n"), "move the weights")"#),
    (
        "expect 60 stitches front, 0 back, carriage left, counter 48, gaiting opposite, racking centre",
        "Expect([Stitches(Quantity([60], unit: Some(Stitches)), Front), Stitches(Quantity([0]), Back), Carriage(Left), Counter(Quantity([48])), Gaiting(Opposite), Racking(Centre)])",
    ),
    (
        "expect racking 1 left, n stitches both",
        r#"Expect([Racking(At(Quantity([1]), Left)), Stitches(Name("n"), Both)])"#,
    ),
    (
        "expect tube open at left, tube closed, tube front",
        r#"Expect([Tube(Some(Left)), Tube(None), Stitches(Name("tube"), Front)])"#,
    ),
    (r#"allow long-float because "it is cut open later""#, r#"Allow("long-float", "it is cut open later")"#),
    (
        r#"row front knit on all but L5-R5 or "|.|" over needles"#,
        r#"Row([Act { bed: Some(Front), action: Knit, on: Some(AllBut(Needles { first: NeedleWord { side: Left, numbers: [5] }, last: Some(NeedleWord { side: Right, numbers: [5] }) }), rest: [(Or, Tile { marks: "|.|", over: Some(Name("needles")) })]), elsewhere: false }])"#,
    ),
    (
        r#"row front knit on "|." over 20 each side and loaded"#,
        r#"Row([Act { bed: Some(Front), action: Knit, on: Some(Tile { marks: "|.", over: Some(EachSide(Number([20]))) }, rest: [(And, Loaded)]), elsewhere: false }])"#,
    ),
    (
        "row front knit on half each side",
        r#"Row([Act { bed: Some(Front), action: Knit, on: Some(EachSide(Name("half"))), elsewhere: false }])"#,
    ),
    (
        "row front knit on every n over half each side, back knit on leftmost 2 or rightmost 3",
        r#"Row([Act { bed: Some(Front), action: Knit, on: Some(Every { step: Name("n"), over: Some(EachSide(Name("half"))) }), elsewhere: false }, Act { bed: Some(Back), action: Knit, on: Some(Leftmost(Number([2])), rest: [(Or, Rightmost(Number([3])))]), elsewhere: false }])"#,
    ),
    ("let ребро-2 = L5", r#"Let("ребро-2", Needles { first: NeedleWord { side: Left, numbers: [5] }, last: None })"#),
    ("expect n stitches front", r#"Expect([Stitches(Name("n"), Front)])"#),
];

#[test]
fn every_statement_gives_its_tree() {
    for (line, expected) in LINES {
        let (tree, findings) = read(&format!("  {line} # comment"));
        assert!(findings.iter().all(|finding| finding.rule.name == "missing-block"), "{line}: {findings:#?}");
        let kinds: Vec<String> = tree.statements.iter().map(|line| plain(&format!("{:?}", line.kind))).collect();
        assert_eq!(kinds, [*expected], "{line}");
        let span = tree.statements[0].span;
        assert_eq!((span.start, span.end), (2, 2 + line.len() as u32), "{line}");
    }
}

#[test]
fn every_first_word_of_the_language_is_in_the_table() {
    for (word, _) in SAMPLES.iter() {
        let there = LINES.iter().any(|(line, _)| line.split(' ').next() == Some(*word));
        assert!(there, "no line begins with {word}");
    }
}

#[test]
fn blanks_may_be_wide_and_tabs() {
    for (line, expected) in LINES.iter().filter(|(line, _)| !line.contains('"')) {
        let wide = line.replace(' ', " \t  ");
        let (tree, _) = read(&wide);
        let kinds: Vec<String> = tree.statements.iter().map(|line| plain(&format!("{:?}", line.kind))).collect();
        let expected = if line.starts_with('X') { wide_fabric(expected) } else { (*expected).to_owned() };
        assert_eq!(kinds, [expected], "{wide}");
    }
}

/// A fabric line keeps its blanks.
fn wide_fabric(expected: &str) -> String {
    expected.replace(' ', " \\t  ")
}

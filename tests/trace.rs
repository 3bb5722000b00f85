//! The operation trace: its form against its schema, and its numbers added up again from the JSON alone.

use crate::common;
use crate::readd::readd;
use proptest::prelude::*;
use serde_json::Value;
use std::collections::BTreeSet;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use wale::beds::{
    Action, Bed, BedWork, Both, CastOn, EdgeChange, Gaiting, Machine, Needle, NeedleSet, Operation, Pick, Row, RowSize,
    Side, Takes, Tile, Tool, TransferWay, Waste, Work, Yarn,
};
use wale::plan::program::{
    Piece, Program, Promise, Repeat, Rounding, Speech, Step, StepId, StepKind, StitchUse, YarnInfo,
};
use wale::source::{Sources, Span};
use wale::syntax::tree::SpeechWord;
use wale::write::trace;

/// What is checked against JSON Schema draft 2020-12 by the `jsonschema` crate, a general-purpose library.
fn keeps_to_the_schema(trace: &Value) -> Result<(), String> {
    let validator = jsonschema::validator_for(&common::schema("trace")).map_err(|error| error.to_string())?;
    match validator.iter_errors(trace).next() {
        None => Ok(()),
        Some(error) => Err(format!("{error} at {}", error.instance_path())),
    }
}

fn set(first: i32, last: i32) -> NeedleSet {
    let at = |place: i32| Needle((place + 128) as u8);
    NeedleSet::span(at(first), at(last))
}

fn these(first: i32, last: i32) -> Option<Pick> {
    Some(Pick::These(set(first, last)))
}

fn front(first: i32, last: i32) -> Both<Option<Pick>> {
    Both { front: these(first, last), back: None }
}

fn back(first: i32, last: i32) -> Both<Option<Pick>> {
    Both { front: None, back: these(first, last) }
}

fn both(first: i32, last: i32) -> Both<Option<Pick>> {
    Both { front: these(first, last), back: these(first, last) }
}

fn row(front: BedWork, back: BedWork) -> Operation {
    Operation::Row(Row {
        work: Work::Same(Both { front, back }),
        sizes: Both::default(),
        toward: None,
        new_loops: false,
    })
}

fn knit() -> Operation {
    row(BedWork::whole(Action::Knit), BedWork::whole(Action::Knit))
}

/// Another number each time.
fn next_id() -> StepId {
    static LAST: AtomicU64 = AtomicU64::new(0);
    StepId(LAST.fetch_add(1, Ordering::Relaxed))
}

fn step(kind: StepKind) -> Step {
    Step { id: next_id(), kind, span: Span { start: 4, end: 8, ..Span::default() } }
}

fn program(machine: Machine, steps: Vec<Step>) -> Program {
    let yarn =
        |name: &str| YarnInfo { name: name.to_owned(), count: Some("2/15 Nm".to_owned()), ..YarnInfo::default() };
    Program {
        title: Some("Breakwater \u{1b}[31m scarf".to_owned()),
        size: None,
        yarns: vec![yarn("slate"), yarn("foam")],
        pieces: vec![Piece {
            title: "Scarf".to_owned(),
            make: 2,
            machine: Arc::new(machine),
            span: Span::default(),
            end: Span::default(),
            steps: steps.into(),
            waste: Vec::new(),
        }],
    }
}

fn small() -> Machine {
    Machine { pitch: Some(4_500), ..Machine::new("club", 10) }
}

fn sources() -> Sources {
    let mut sources = Sources::default();
    sources.add("breakwater.wale", "één\nrow both knit\n");
    sources
}

fn text_of(programs: &[&Program]) -> String {
    let mut out = Vec::new();
    trace::write(&mut out, programs, &sources(), None).expect("writing to memory");
    String::from_utf8(out).expect("JSON is UTF-8")
}

fn traced(steps: Vec<Step>) -> (String, Value) {
    let text = text_of(&[&program(small(), steps)]);
    let read = serde_json::from_str(&text).expect("a trace is JSON");
    (text, read)
}

fn done(operations: Vec<Operation>) -> (String, Value) {
    traced(operations.into_iter().map(|operation| step(StepKind::Do(operation))).collect())
}

fn operations(trace: &Value) -> &[Value] {
    trace["sizes"][0]["pieces"][0]["operations"].as_array().expect("a list of operations")
}

/// Every kind of operation, one at least of each.
fn every_operation() -> Vec<Operation> {
    let edge = |bed, by, left, right, inset| EdgeChange { bed, by, left, right, inset };
    vec![
        Operation::Gaiting(Gaiting::Between),
        Operation::Carriage(Side::Right),
        Operation::InWork(both(-6, 5)),
        Operation::Thread(Yarn(0)),
        Operation::StitchSize(Both { front: Some(350), back: Some(300) }),
        Operation::CastOn(CastOn::Zigzag, Both { front: Some(Pick::InWork), back: Some(Pick::InWork) }),
        knit(),
        row(
            BedWork { picked: vec![(Action::Tuck, Pick::Every(2))], elsewhere: Action::Knit },
            BedWork::whole(Action::Slip),
        ),
        Operation::Row(Row {
            work: Work::ByDirection {
                to_left: Both { front: BedWork::whole(Action::Knit), back: BedWork::whole(Action::Slip) },
                to_right: Both { front: BedWork::whole(Action::Slip), back: BedWork::whole(Action::Knit) },
            },
            sizes: Both { front: Some(RowSize::By(100)), back: Some(RowSize::To(425)) },
            toward: None,
            new_loops: false,
        }),
        Operation::Hold(back(-6, -5)),
        knit(),
        Operation::Release(back(-6, -5)),
        Operation::FreePass,
        Operation::ResetCounter,
        Operation::RackBy(-1),
        Operation::RackTo(1),
        Operation::Gaiting(Gaiting::Opposite),
        Operation::Transfer {
            from: Bed::Back,
            pick: these(-3, 2),
            joining: true,
            emptied_stay: Some(false),
            tool: Some(Tool::Carriage),
        },
        Operation::RackTo(0),
        Operation::Transfer { from: Bed::Back, pick: None, joining: true, emptied_stay: None, tool: Some(Tool::Hand) },
        Operation::OutOfWork(Both { front: None, back: Some(Pick::InWork) }),
        Operation::Move {
            from: Bed::Front,
            pick: Pick::These(set(5, 5)),
            to: Bed::Front,
            by: -1,
            joining: true,
            emptied_stay: None,
        },
        knit(),
        Operation::Cross { bed: Bed::Front, over: set(-4, -3), under: set(-2, -2) },
        Operation::Increase(edge(Bed::Front, 1, true, true, 2)),
        Operation::Increase(edge(Bed::Front, 2, true, false, 0)),
        knit(),
        Operation::Decrease(edge(Bed::Front, 1, true, true, 3)),
        Operation::Decrease(edge(Bed::Front, 1, true, true, 0)),
        Operation::NewLoops(back(0, 2)),
        Operation::CastOn(CastOn::Wound, back(3, 3)),
        Operation::Drop(back(0, 0)),
        Operation::PickUp { targets: back(0, 0), from_waste: None },
        Operation::OntoWaste(back(0, 3), Waste::named("cuff")),
        Operation::PickUp { targets: back(1, 2), from_waste: Some(Waste::named("cuff")) },
        Operation::OutOfWork(back(1, 1)),
        Operation::CutYarn,
        Operation::Thread(Yarn(1)),
        knit(),
        Operation::BindOff(Both { front: Some(Pick::Loaded), back: Some(Pick::Loaded) }),
    ]
}

#[test]
fn every_kind_of_operation_keeps_to_the_schema_and_adds_up() {
    let (text, trace) = done(every_operation());
    keeps_to_the_schema(&trace).unwrap_or_else(|said| panic!("{said}\n{text}"));
    readd(&trace).unwrap_or_else(|said| panic!("{said}"));
    let words: BTreeSet<&str> = operations(&trace).iter().filter_map(|entry| entry["what"].as_str()).collect();
    // The schema has every word there is; what is said and promised is tried by itself.
    let schema = common::schema("trace");
    let known = schema["$defs"]["Entry"]["oneOf"].as_array().into_iter().flatten();
    let known = known.filter_map(|entry| entry["properties"]["what"]["const"].as_str());
    let said: Vec<&str> = SpeechWord::ALL.iter().map(|word| word.word()).collect();
    let is_done = |word: &&str| !said.contains(word) && !["remind", "rounding", "expect"].contains(word);
    let all: BTreeSet<&str> = known.filter(is_done).collect();
    assert!(all.contains("row") && all.contains("bind off"));
    assert_eq!(words, all);
    assert!(operations(&trace).iter().all(|entry| entry["not_done"].is_null()), "{text}");
    let ledger = &trace["sizes"][0]["pieces"][0]["totals"]["ledger"];
    for column in ["made", "knitted_through", "bound_off", "on_waste", "dropped", "lost"] {
        assert!(ledger[column].as_u64() > Some(0), "{column}: {ledger}");
    }
}

/// Numbers counted by hand: 12 needles on each bed.
#[test]
fn a_row_says_what_each_needle_does() {
    let (text, trace) = done(every_operation());
    let tucked = &operations(&trace)[7];
    assert_eq!(tucked["front"]["tuck"], serde_json::json!(["L6", "L4", "L2", "R1", "R3", "R5"]));
    assert_eq!(tucked["front"]["knit"], serde_json::json!(["L5", "L3", "L1", "R2", "R4", "R6"]));
    assert_eq!(tucked["back"], serde_json::json!({"slip": ["L6-R6"]}));
    assert_eq!(tucked["carriage"], serde_json::json!({"from": "right", "to": "left"}));
    assert_eq!(tucked["after"]["stitches"], serde_json::json!({"front": 12, "back": 12}));
    // 24 cast on, 24 drawn through them, then 6 drawn through the front ones and 6 tucked.
    let ledger = serde_json::json!({"made": 60, "on_needles": 30, "knitted_through": 30, "bound_off": 0, "dropped": 0,
        "on_waste": 0, "lost": 0});
    assert_eq!(tucked["after"]["ledger"], ledger);
    assert_eq!(tucked["source"], serde_json::json!({"file": "breakwater.wale", "line": 1, "column": 3}));
    assert!(text.contains("\\u001b[31m") && !text.contains('\u{1b}'));
}

#[test]
fn the_head_says_what_the_profile_says_of_half_steps_and_transfers() {
    let head = |machine: Machine| {
        let text = text_of(&[&program(machine, Vec::new())]);
        let trace: Value = serde_json::from_str(&text).expect("a trace is JSON");
        keeps_to_the_schema(&trace).unwrap_or_else(|said| panic!("{said}\n{text}"));
        trace["sizes"][0]["pieces"][0]["machine"].clone()
    };
    let plain = head(Machine::new("club", 20));
    assert_eq!(plain["half_step_to"], "right");
    for absent in ["transfer_carriage", "transfer_carriage_takes", "transfer_place"] {
        assert!(plain.get(absent).is_none(), "{absent}");
    }
    let mut machine = Machine::new("club", 20);
    machine.half_step_to = Side::Left;
    machine.transfer_carriage =
        vec![TransferWay { to: Bed::Back, from: Some(Side::Right) }, TransferWay { to: Bed::Front, from: None }];
    machine.transfer_takes = vec![Takes::EveryStitch, Takes::EverySecond, Takes::LoneStitches, Takes::PickedNeedles];
    machine.transfer_place = Some("a quarter step right".to_owned());
    let full = head(machine);
    assert_eq!(full["half_step_to"], "left");
    assert_eq!(full["transfer_carriage"], serde_json::json!([{"to": "back", "from": "right"}, {"to": "front"}]));
    let takes = serde_json::json!(["every stitch", "every second needle", "lone stitches", "picked needles"]);
    assert_eq!(full["transfer_carriage_takes"], takes);
    assert_eq!(full["transfer_place"], "a quarter step right");
}

#[test]
fn one_operation_stands_on_one_line() {
    let (text, trace) = done(every_operation());
    let lines = text.lines().filter(|line| line.trim_start().starts_with("{\"number\": "));
    let entries: Vec<Value> =
        lines.map(|line| serde_json::from_str(line.trim().trim_end_matches(',')).expect("one entry")).collect();
    assert_eq!(entries, operations(&trace));
    assert!(text.ends_with("}\n"));
}

#[test]
fn what_is_long_says_so_before_it_is_written() {
    let repeat = |times: u64, steps: Vec<Step>| {
        step(StepKind::Repeat(Repeat { times, steps: steps.into(), stitch: None, single_row: false }))
    };
    let begun = [Operation::InWork(both(-5, 5)), Operation::CastOn(CastOn::Zigzag, both(-5, 5))];
    let begun = || begun.iter().cloned().map(|operation| step(StepKind::Do(operation)));
    let knitted = || step(StepKind::Do(knit()));
    // A few rows: as many lines as are written.
    let inner = || vec![knitted(), repeat(3, vec![knitted()])];
    let few: Vec<Step> =
        begun().chain([repeat(5, inner()), step(StepKind::Section("Hem".into(), inner().into()))]).collect();
    let written = program(small(), few.clone());
    let (text, _) = traced(few);
    let lines = text.lines().filter(|line| line.trim_start().starts_with("{\"number\": ")).count();
    assert_eq!((lines, trace::length(&[&written], None)), (26, 26));
    assert_eq!(trace::warning(&[&written], None), None);
    // Very many, which are not played to be counted, and past all counting.
    let many = |times| program(small(), begun().chain([repeat(times, vec![repeat(1 << 20, inner())])]).collect());
    let said = trace::warning(&[&many(1 << 10)], Some("Scarf")).expect("it is long");
    assert!(said.starts_with("this trace has 4,294,967,298 lines, one for each operation, "), "{said}");
    assert_eq!(trace::warning(&[&many(1 << 10)], Some("Hat")), None);
    assert_eq!(trace::length(&[&many(u64::MAX)], None), u64::MAX);
}

#[test]
fn what_is_said_and_promised_is_there_with_its_place() {
    let promises = [
        Promise::Stitches { count: 0, front: true, back: true },
        Promise::Carriage(Side::Left),
        Promise::Counter(0),
        Promise::Gaiting(Gaiting::Between),
        Promise::Racking(0),
    ];
    let rounding = Rounding { wish: "1 cm".into(), exact: "4.4".into(), rows: 4, difference: "0.1 cm less".into() };
    let mut inside = vec![
        step(StepKind::Say(Speech::Words(SpeechWord::Note, "mind the edge".into()))),
        step(StepKind::Say(Speech::Words(SpeechWord::Mark, "underarm".into()))),
        step(StepKind::Say(Speech::Remind { every: 30, text: "move the weights".into() })),
        step(StepKind::Say(Speech::Rounded(rounding))),
    ];
    inside.extend(promises.map(|promise| step(StepKind::Expect(promise, Span::default()))));
    let stitch = StitchUse { name: "ribs".into(), defined: Span::default(), from: (true, false), to: (true, false) };
    let repeat = |times, steps: Vec<Step>, stitch| {
        step(StepKind::Repeat(Repeat { times, steps: steps.into(), stitch, single_row: false }))
    };
    let worked = repeat(3, vec![step(StepKind::Do(Operation::FreePass))], Some(stitch));
    inside.push(repeat(1, vec![worked], None));
    let allowed = StepKind::Allow { rule: "long-float".into(), because: "a fringe".into(), steps: inside.into() };
    let (text, trace) = traced(vec![step(StepKind::Section("Body".into(), vec![step(allowed)].into()))]);
    keeps_to_the_schema(&trace).unwrap_or_else(|said| panic!("{said}\n{text}"));
    readd(&trace).unwrap_or_else(|said| panic!("{said}"));
    let entries = operations(&trace);
    let words: Vec<&str> = entries.iter().filter_map(|entry| entry["what"].as_str()).collect();
    assert_eq!(words[..4], ["note", "mark", "remind", "rounding"]);
    assert_eq!(words[4..], [&["expect"; 5][..], &["free pass"; 3]].concat());
    assert!(entries.iter().all(|entry| entry["sections"] == serde_json::json!(["Body"])));
    let last = entries.last().expect("there are entries");
    assert_eq!((&last["stitch"], &last["pass"]), (&"ribs".into(), &serde_json::json!({"number": 3, "of": 3})));
    assert_eq!(entries[0]["stitch"], Value::Null);
    assert_eq!(entries[4]["promise"], serde_json::json!({"about": "stitches", "beds": ["front", "back"], "count": 0}));
}

#[test]
fn what_could_not_be_done_says_why() {
    let tile = Pick::Tile(Tile { marks: vec![true, false, false] });
    let (text, trace) = done(vec![
        Operation::RackBy(6),
        Operation::Transfer { from: Bed::Front, pick: None, joining: false, emptied_stay: None, tool: None },
        Operation::InWork(front(0, 3)),
        row(BedWork { picked: vec![(Action::Knit, tile)], elsewhere: Action::Slip }, BedWork::whole(Action::Slip)),
        Operation::Cross { bed: Bed::Front, over: set(3, 3), under: set(4, 4) },
        Operation::Carriage(Side::Right),
        knit(),
        Operation::Carriage(Side::Right),
    ]);
    keeps_to_the_schema(&trace).unwrap_or_else(|said| panic!("{said}\n{text}"));
    readd(&trace).unwrap_or_else(|said| panic!("{said}"));
    let refused: Vec<bool> = operations(&trace).iter().map(|entry| entry["not_done"].is_string()).collect();
    assert_eq!(refused, [true, true, false, true, true, false, false, true], "{text}");
}

/// The adding up would be no check if it agreed with everything.
#[test]
fn a_wrong_trace_does_not_add_up() {
    let (_, trace) = done(every_operation());
    let find = |word: &str| operations(&trace).iter().position(|entry| entry["what"] == word).expect("it is there");
    let spoilt = |word: &str, path: &str, with: Value| {
        let mut wrong = trace.clone();
        let entry = &mut wrong["sizes"][0]["pieces"][0]["operations"][find(word)];
        let place = entry.pointer_mut(path).unwrap_or_else(|| panic!("{word} has no {path}"));
        assert_ne!(*place, with, "{word} {path} is not spoilt");
        *place = with;
        readd(&wrong)
    };
    let spans = |first: &str| serde_json::json!([first]);
    for (word, path, with) in [
        ("in work", "/front/changed", spans("L6-R5")),
        ("cast on", "/back/made", spans("L6-R5")),
        ("row", "/front/knit", spans("L6-R5")),
        ("row", "/carriage/to", "left".into()),
        ("transfer", "/donors", spans("L3-R2")),
        ("transfer", "/by/toward", "left".into()),
        ("move", "/joined", spans("R4")),
        ("cross", "/over/receivers", spans("L3")),
        ("decrease", "/edges/0/put_out_of_work", spans("L1")),
        ("bind off", "/front/taken", spans("R1")),
        ("pick up", "/from", "waste yarn".into()),
        ("drop", "/after/ledger/dropped", 0.into()),
        ("hold", "/after/stitches/back", 11.into()),
        ("rack", "/after/racking/side", "right".into()),
        ("reset counter", "/after/counter", 1.into()),
    ] {
        assert!(spoilt(word, path, with).is_err(), "{word} {path}");
    }
    let mut wrong = trace.clone();
    wrong["sizes"][0]["pieces"][0]["totals"]["front"]["in_work"] = spans("L1");
    assert!(readd(&wrong).is_err());
    wrong["sizes"][0]["pieces"][0]["operations"][0]["unheard_of"] = 1.into();
    assert!(keeps_to_the_schema(&wrong).is_err());
}

#[test]
fn a_failing_output_ends_the_play() {
    struct Narrow(usize);
    impl std::io::Write for Narrow {
        fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
            self.0 = self.0.checked_sub(bytes.len()).ok_or(std::io::ErrorKind::StorageFull)?;
            Ok(bytes.len())
        }
        fn flush(&mut self) -> std::io::Result<()> {
            Ok(())
        }
    }
    let repeat = Repeat {
        times: u64::MAX,
        steps: vec![
            step(StepKind::Do(Operation::FreePass)),
            step(StepKind::Say(Speech::Words(SpeechWord::Note, "on".into()))),
        ]
        .into(),
        stitch: None,
        single_row: false,
    };
    let endless = program(small(), vec![step(StepKind::Repeat(repeat))]);
    let failed = trace::write(Narrow(100_000), &[&endless], &sources(), None).expect_err("it does not fit");
    assert_eq!(failed.kind(), std::io::ErrorKind::StorageFull);
}

fn any_pick() -> impl Strategy<Value = Pick> {
    prop_oneof![
        3 => (-11..11i32, 0..8i32).prop_map(|(first, width)| Pick::These(set(first, first + width))),
        1 => Just(Pick::InWork),
        1 => Just(Pick::Loaded),
        1 => Just(Pick::Empty),
        1 => (1..4u32).prop_map(Pick::Leftmost),
        1 => (1..4u32).prop_map(Pick::Every),
        1 => prop::collection::vec(any::<bool>(), 1..4).prop_map(|marks| Pick::Tile(Tile { marks })),
    ]
}

fn any_waste() -> impl Strategy<Value = Waste> {
    prop_oneof![Just(Waste::PLAIN), Just(Waste::named("cuff"))]
}

fn any_targets() -> impl Strategy<Value = Both<Option<Pick>>> {
    let one = || prop::option::weighted(0.7, any_pick());
    (one(), one()).prop_map(|(front, back)| Both { front, back })
}

fn any_operation() -> impl Strategy<Value = Operation> {
    let bed = || prop_oneof![Just(Bed::Front), Just(Bed::Back)];
    let action = || prop_oneof![4 => Just(Action::Knit), 1 => Just(Action::Tuck), 1 => Just(Action::Slip)];
    let work = move || {
        (prop::collection::vec((action(), any_pick()), 0..2), action())
            .prop_map(|(picked, elsewhere)| BedWork { picked, elsewhere })
    };
    let edge =
        move || {
            (bed(), 1..3u32, any::<bool>(), any::<bool>(), 0..4u32)
                .prop_map(|(bed, by, left, right, inset)| EdgeChange { bed, by, left, right, inset })
        };
    let stay = || prop::option::of(any::<bool>());
    prop_oneof![
        2 => any_targets().prop_map(Operation::InWork),
        1 => any_targets().prop_map(Operation::OutOfWork),
        1 => any_targets().prop_map(Operation::Hold),
        1 => any_targets().prop_map(Operation::Release),
        1 => any::<bool>().prop_map(|is| Operation::Gaiting(if is { Gaiting::Opposite } else { Gaiting::Between })),
        1 => (-3..=3i32).prop_map(Operation::RackBy),
        1 => (-6..=6i32).prop_map(Operation::RackTo),
        1 => Just(Operation::Thread(Yarn(1))),
        1 => Just(Operation::ResetCounter),
        1 => Just(Operation::Carriage(Side::Right)),
        1 => Just(Operation::FreePass),
        4 => (work(), work()).prop_map(|(front, back)| row(front, back)),
        2 => any_targets().prop_map(|targets| Operation::CastOn(CastOn::Zigzag, targets)),
        1 => any_targets().prop_map(|targets| Operation::CastOn(CastOn::Chain, targets)),
        1 => any_targets().prop_map(Operation::NewLoops),
        2 => (bed(), prop::option::of(any_pick()), stay()).prop_map(|(from, pick, emptied_stay)| Operation::Transfer {
            from, pick, joining: true, emptied_stay, tool: None
        }),
        2 => (bed(), any_pick(), bed(), -3..=3i32, stay()).prop_map(|(from, pick, to, by, emptied_stay)| {
            Operation::Move { from, pick, to, by, joining: true, emptied_stay }
        }),
        1 => (bed(), -9..6i32, 1..3i32, 1..3i32, any::<bool>()).prop_map(|(bed, at, one, two, over_left)| {
            let (left, right) = (set(at, at + one - 1), set(at + one, at + one + two - 1));
            let (over, under) = if over_left { (left, right) } else { (right, left) };
            Operation::Cross { bed, over, under }
        }),
        2 => edge().prop_map(Operation::Increase),
        2 => edge().prop_map(Operation::Decrease),
        1 => any_targets().prop_map(Operation::Drop),
        1 => (any_targets(), proptest::option::of(any_waste())).prop_map(|(targets, from_waste)| Operation::PickUp { targets, from_waste }),
        1 => any_targets().prop_map(Operation::BindOff),
        1 => (any_targets(), any_waste()).prop_map(|(targets, waste)| Operation::OntoWaste(targets, waste)),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is done, sensible or not, is told so that it can be added up.
    #[test]
    fn any_operations_add_up(
        operations in prop::collection::vec(any_operation(), 1..25),
        racks_front in any::<bool>(),
    ) {
        let mut machine = small();
        machine.racking_bed = if racks_front { Bed::Front } else { Bed::Back };
        let begin = [Operation::InWork(both(-5, 4)), Operation::CastOn(CastOn::Wound, both(-5, 4))];
        let steps = begin.into_iter().chain(operations).map(|operation| step(StepKind::Do(operation))).collect();
        let text = text_of(&[&program(machine, steps)]);
        let trace: Value = serde_json::from_str(&text).expect("a trace is JSON");
        prop_assert_eq!(readd(&trace), Ok(()));
        prop_assert_eq!(keeps_to_the_schema(&trace), Ok(()));
    }
}

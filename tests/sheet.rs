//! The row sheet, from programs built by hand, against what is played row by row.
//!
//! The sheets are kept whole under `tests/snapshots`, to be read aloud when they change. The counts and counters in
//! them are checked against a play that leaves nothing out. There is no outside source for the wording: the cautions
//! and the manner of grouping plain rows are common practice, no source.

use proptest::prelude::*;
use std::rc::Rc;
use wale::beds::{
    Action, Bed, BedWork, Both, CastOn, EdgeChange, Gaiting, Machine, Needle, NeedleSet, Operation, Outcome, Pick, Row,
    RowSize, Side, Targets, Tile, Tool, TransferWay, Work, Yarn,
};
use wale::plan::program::{Piece, Program, Promise, Repeat, Rounding, Step, StepKind, StitchUse, YarnInfo};
use wale::play::{Flow, Manner, Moment, Watcher, play};
use wale::source::Span;
use wale::write::sheet;

// ---- programs by hand -------------------------------------------------------------------------------------------

fn step(kind: StepKind) -> Step {
    Step { kind, span: Span::default() }
}

fn act(operation: Operation) -> Step {
    step(StepKind::Do(operation))
}

fn left(number: u32) -> Needle {
    Needle::new(Side::Left, number).expect("a needle")
}

fn right(number: u32) -> Needle {
    Needle::new(Side::Right, number).expect("a needle")
}

fn these(first: Needle, last: Needle) -> Option<Pick> {
    Some(Pick::These(NeedleSet::span(first, last)))
}

fn front(pick: Option<Pick>) -> Targets {
    Both { front: pick, back: None }
}

fn back(pick: Option<Pick>) -> Targets {
    Both { front: None, back: pick }
}

fn plain(front: Action, back: Action) -> Row {
    worked(BedWork::whole(front), BedWork::whole(back))
}

fn worked(front: BedWork, back: BedWork) -> Row {
    Row { work: Work::Same(Both { front, back }), sizes: Both::same(None), toward: None, new_loops: false }
}

fn row(front: Action, back: Action) -> Step {
    act(Operation::Row(plain(front, back)))
}

fn knit() -> Step {
    row(Action::Knit, Action::Knit)
}

fn repeat(times: u64, steps: Vec<Step>) -> Step {
    step(StepKind::Repeat(Repeat { times, steps: Rc::from(steps), stitch: None, single_row: false }))
}

fn rows(times: u64, row: Step) -> Step {
    step(StepKind::Repeat(Repeat { times, steps: Rc::from(vec![row]), stitch: None, single_row: true }))
}

fn stitch(name: &str, times: u64, steps: Vec<Step>) -> Step {
    let stitch = StitchUse { name: name.to_owned(), defined: Span::default(), from: (true, true), to: (true, true) };
    step(StepKind::Repeat(Repeat { times, steps: Rc::from(steps), stitch: Some(stitch), single_row: false }))
}

fn section(title: &str, steps: Vec<Step>) -> Step {
    step(StepKind::Section(title.to_owned(), Rc::from(steps)))
}

/// Front on the way to one side, back on the way to the other.
fn tubular(count: u64, first_to: Side) -> Step {
    let only = |bed: Bed| {
        let on = |which: Bed| BedWork::whole(if which == bed { Action::Knit } else { Action::Slip });
        Both { front: on(Bed::Front), back: on(Bed::Back) }
    };
    let (to_left, to_right) = match first_to {
        Side::Left => (only(Bed::Front), only(Bed::Back)),
        Side::Right => (only(Bed::Back), only(Bed::Front)),
    };
    let row =
        Row { work: Work::ByDirection { to_left, to_right }, sizes: Both::same(None), toward: None, new_loops: false };
    rows(count, act(Operation::Row(row)))
}

fn sizes(front: i32, back: i32) -> Step {
    act(Operation::StitchSize(Both { front: Some(front), back: Some(back) }))
}

fn remind(every: u64, text: &str) -> Step {
    step(StepKind::Remind { every, text: text.to_owned() })
}

fn expect(promise: Promise) -> Step {
    step(StepKind::Expect(promise, Span::default()))
}

/// Both beds in work over that many needles on each side, cast on zigzag.
fn begin(each_side: u32) -> Vec<Step> {
    vec![
        act(Operation::InWork(Both {
            front: these(left(each_side), right(each_side)),
            back: these(left(each_side), right(each_side - 1)),
        })),
        act(Operation::Thread(Yarn(0))),
        sizes(300, 300),
        act(Operation::CastOn(CastOn::Zigzag, Both { front: Some(Pick::InWork), back: Some(Pick::InWork) })),
    ]
}

fn piece(steps: Vec<Step>) -> Piece {
    Piece {
        title: "Scarf".to_owned(),
        make: 1,
        machine: Rc::new(Machine::new("club", 90)),
        span: Span::default(),
        end: Span::default(),
        steps: Rc::from(steps),
    }
}

fn program(piece: Piece) -> Program {
    let slate = YarnInfo {
        name: "slate".to_owned(),
        count: Some("2/15 Nm".to_owned()),
        colour: Some("blue grey".to_owned()),
        fibre: Some("merino wool".to_owned()),
    };
    let waste = YarnInfo { name: "waste".to_owned(), ..YarnInfo::default() };
    Program { title: Some("Breakwater scarf".to_owned()), size: None, yarns: vec![slate, waste], pieces: vec![piece] }
}

fn sheet_of(program: &Program) -> String {
    let mut out = Vec::new();
    sheet::write(&mut out, &[program], None).expect("memory");
    let text = String::from_utf8(out).expect("text");
    for line in text.lines() {
        assert!(line.chars().count() <= 78, "too wide: {line}");
        assert_eq!(line, line.trim_end(), "blanks at the end of a line");
    }
    assert!(!text.contains("\n\n\n"), "two blank lines");
    text
}

/// The rows of the sheet, without its head and its end.
fn work_of(steps: Vec<Step>) -> String {
    let piece = piece(steps);
    let program = program(piece);
    let text = sheet_of(&program);
    agrees(&program.pieces[0], &text);
    let rest = text.split_once("The work\n").expect("the work").1;
    rest.split_once("\n---").expect("a rule after the work").0.trim_matches('\n').to_owned()
}

// ---- the sheet against a play of every row ------------------------------------------------------------------------

#[derive(Default)]
struct EveryRow {
    /// For each number of rows done, what the counter showed and where the carriage stood until the next row.
    after: Vec<Vec<(u64, Side)>>,
}

impl Watcher for EveryRow {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        let rows = usize::try_from(moment.state.row).expect("few rows");
        self.after.resize_with(rows + 1, Vec::new);
        let seen = (moment.state.counter, moment.state.carriage);
        if !self.after[rows].contains(&seen) {
            self.after[rows].push(seen);
        }
        Flow::Continue(())
    }
}

/// A text with its wrapped lines put together again.
fn joined(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The first number in a text.
fn number(text: &str) -> u64 {
    let digits: String =
        text.chars().skip_while(|letter| !letter.is_ascii_digit()).take_while(char::is_ascii_digit).collect();
    digits.parse().expect("a number")
}

/// The last number in a text.
fn last_number(text: &str) -> u64 {
    let text: String = text.chars().rev().collect();
    let digits: String =
        text.chars().skip_while(|letter| !letter.is_ascii_digit()).take_while(char::is_ascii_digit).collect();
    digits.chars().rev().collect::<String>().parse().expect("a number")
}

/// Checks every row number, counter and side of a sheet against a play that leaves nothing out.
fn agrees(piece: &Piece, text: &str) {
    let mut every = EveryRow::default();
    let (end, _) = play(piece, Manner::EVERY, &mut every);
    let text = text.split_once("The work\n").expect("the work").1;
    let (text, ending) = text.split_once("The end of the piece").expect("the end");
    let closing = format!("Carriage on the {}, counter {}.", end.carriage, end.counter);
    assert!(ending.contains(&closing), "{closing}\n{ending}");
    // Paragraph by paragraph, with the lines that were wrapped put together again.
    let joined = joined(text);
    let mut last = 0;
    let mut counters = 0;
    let mut places: Vec<usize> =
        [", counter ", "; counter "].iter().flat_map(|said| joined.match_indices(said)).map(|(at, _)| at).collect();
    places.sort_unstable();
    for at in places {
        let counter = number(&joined[at..]);
        let sentence = &joined[..at];
        let (place, side) = if joined[at..].starts_with(';') {
            // A line of counts belongs to the row written last.
            (last, sentence.rsplit(' ').next().expect("a side"))
        } else {
            let start = sentence.rfind("Carriage ").expect("the carriage");
            let head = &sentence[..start];
            let heading = ["Row ", "Rows ", "up to row ", "more: row ", "more: rows "]
                .into_iter()
                .filter_map(|word| head.rfind(word).map(|at| at + word.len()))
                .max()
                .expect("a heading");
            let mut heading = head[heading..].split(". ").next().expect("a sentence").to_owned();
            if let Some((rows, _)) = heading.split_once(',') {
                heading = rows.to_owned();
            }
            (last_number(&heading), sentence.rsplit(' ').next().expect("a side"))
        };
        last = place;
        let side = if side == "left" { Side::Left } else { Side::Right };
        let seen = &every.after[usize::try_from(place).expect("few rows")];
        assert!(seen.contains(&(counter, side)), "row {place}: {counter} {side}, not {seen:?}: {sentence}\n{text}");
        counters += 1;
    }
    assert_eq!(last, end.row, "the last row of the sheet\n{text}");
    assert!(counters > 0 || end.row == 0, "no counters\n{text}");
}

fn scarf() -> Program {
    let mut steps = vec![act(Operation::Gaiting(Gaiting::Between))];
    steps.extend(begin(30));
    steps.push(tubular(4, Side::Left));
    steps.push(sizes(500, 500));
    steps.push(step(StepKind::Rounded(Rounding {
        wish: "120 cm".to_owned(),
        exact: "528".to_owned(),
        rows: 528,
        difference: String::new(),
    })));
    steps.push(stitch("half-cardigan", 264, vec![row(Action::Knit, Action::Knit), row(Action::Knit, Action::Tuck)]));
    let mut loose = plain(Action::Knit, Action::Knit);
    loose.sizes = Both::same(Some(RowSize::By(300)));
    steps.push(act(Operation::Row(loose)));
    steps.push(act(Operation::Gaiting(Gaiting::Opposite)));
    steps.push(act(Operation::Transfer { from: Bed::Back, pick: None, joining: true, emptied_stay: None, tool: None }));
    steps.push(expect(Promise::Stitches { count: 60, front: true, back: false }));
    steps.push(expect(Promise::Stitches { count: 0, front: false, back: true }));
    steps.push(act(Operation::OutOfWork(back(Some(Pick::InWork)))));
    steps.push(act(Operation::BindOff(front(Some(Pick::Loaded)))));
    let mut scarf = piece(steps);
    let machine = Rc::make_mut(&mut scarf.machine);
    machine.transfer_carriage = vec![TransferWay { to: Bed::Front, from: Some(Side::Right) }];
    program(scarf)
}

#[test]
fn the_scarf_reads_well() {
    let scarf = scarf();
    let text = sheet_of(&scarf);
    agrees(&scarf.pieces[0], &text);
    insta::assert_snapshot!("scarf", text);
}

#[test]
fn a_repeat_of_three_rows_says_that_the_carriage_comes_from_the_other_side() {
    let mut steps = begin(4);
    steps.push(repeat(5, vec![knit(), row(Action::Knit, Action::Tuck), row(Action::Tuck, Action::Knit)]));
    steps.push(knit());
    insta::assert_snapshot!("three_rows", work_of(steps));
}

#[test]
fn a_repeat_of_a_billion_passes_is_short_and_instant() {
    let mut steps = begin(4);
    steps.push(repeat(1_000_000_000, vec![row(Action::Knit, Action::Tuck), knit()]));
    steps.push(knit());
    let text = sheet_of(&program(piece(steps)));
    let work = text.split_once("The work\n").expect("the work").1;
    assert!(work.lines().count() < 60, "{text}");
    insta::assert_snapshot!("a_billion", work.trim_matches('\n'));
}

#[test]
fn repeats_in_repeats_keep_their_numbers() {
    let mut steps = begin(4);
    let inner = repeat(3, vec![knit(), row(Action::Knit, Action::Tuck)]);
    let rack = |to: i32| act(Operation::RackTo(to));
    steps.push(repeat(
        10,
        vec![inner, rows(2, knit()), rack(1), repeat(2, vec![knit(), row(Action::Tuck, Action::Knit)]), rack(0)],
    ));
    insta::assert_snapshot!("nested", work_of(steps));
}

#[test]
fn racking_before_every_row_is_said_at_every_row() {
    let mut steps = begin(4);
    steps.push(repeat(
        6,
        vec![act(Operation::RackBy(-1)), knit(), act(Operation::RackBy(1)), row(Action::Knit, Action::Tuck)],
    ));
    steps.push(act(Operation::FreePass));
    steps.push(rows(3, knit()));
    insta::assert_snapshot!("racked", work_of(steps));
}

#[test]
fn held_needles_are_named_when_they_are_put_to_hold_and_back() {
    let mut steps = begin(6);
    steps.push(rows(4, knit()));
    steps.push(section(
        "Shoulder",
        vec![
            act(Operation::Hold(front(these(left(6), left(3))))),
            rows(2, row(Action::Knit, Action::Slip)),
            act(Operation::Hold(front(Some(Pick::InWork)))),
            row(Action::Slip, Action::Knit),
            act(Operation::Release(Both { front: Some(Pick::AllBut(Box::new(Pick::Empty))), back: None })),
        ],
    ));
    steps.push(act(Operation::ResetCounter));
    steps.push(rows(2, knit()));
    insta::assert_snapshot!("held", work_of(steps));
}

#[test]
fn reminders_are_told_in_the_rows_they_are_due_and_one_row_ahead() {
    let mut steps = begin(4);
    steps.push(section(
        "Body",
        vec![
            remind(30, "move the weights up"),
            rows(29, knit()),
            row(Action::Knit, Action::Tuck),
            repeat(120, vec![knit(), row(Action::Knit, Action::Tuck)]),
            rows(65, knit()),
        ],
    ));
    steps.push(rows(40, knit()));
    insta::assert_snapshot!("reminders", work_of(steps));
}

#[test]
fn hand_work_says_which_needles_and_what_is_there_then() {
    let tile = |marks: &str| Pick::Tile(Tile { marks: marks.chars().map(|mark| mark == '|').collect() });
    let mut steps = vec![
        act(Operation::Carriage(Side::Right)),
        act(Operation::Thread(Yarn(0))),
        act(Operation::CastOn(CastOn::Wound, front(these(left(8), right(8))))),
        rows(2, row(Action::Knit, Action::Slip)),
    ];
    let change = |by, inset, left, right| EdgeChange { bed: Bed::Front, by, left, right, inset };
    steps.push(repeat(
        2,
        vec![act(Operation::Decrease(change(1, 3, true, true))), rows(4, row(Action::Knit, Action::Slip))],
    ));
    steps.push(act(Operation::Increase(change(2, 0, true, false))));
    let picked = BedWork { picked: vec![(Action::Tuck, tile("|..."))], elsewhere: Action::Knit };
    steps.push(act(Operation::Row(worked(
        BedWork { picked: vec![(Action::Knit, Pick::Leftmost(3))], elsewhere: Action::Slip },
        BedWork::whole(Action::Slip),
    ))));
    steps.push(act(Operation::Cross {
        bed: Bed::Front,
        over: NeedleSet::span(left(2), left(1)),
        under: NeedleSet::span(right(1), right(2)),
    }));
    steps.push(act(Operation::Move {
        from: Bed::Front,
        pick: Pick::Leftmost(1),
        to: Bed::Front,
        by: 1,
        joining: true,
        emptied_stay: Some(false),
    }));
    steps.push(act(Operation::Decrease(change(1, 0, false, true))));
    steps.push(act(Operation::Row(worked(picked, BedWork::whole(Action::Slip)))));
    steps.push(act(Operation::Drop(front(these(right(3), right(3))))));
    steps.push(act(Operation::Thread(Yarn(1))));
    steps.push(act(Operation::OntoWaste(front(Some(Pick::Loaded)))));
    insta::assert_snapshot!("hand_work", work_of(steps));
}

#[test]
fn a_transfer_by_hand_to_a_racked_bed_names_both_needles() {
    let mut steps = begin(4);
    steps.push(knit());
    steps.push(act(Operation::Gaiting(Gaiting::Opposite)));
    steps.push(act(Operation::RackTo(1)));
    steps.push(act(Operation::Transfer {
        from: Bed::Back,
        pick: these(left(4), left(3)),
        joining: true,
        emptied_stay: Some(false),
        tool: Some(Tool::Hand),
    }));
    let work = joined(&work_of(steps));
    assert!(
        work.contains("Transfer back L4 and L3 to the facing needles of the front bed, which are L3 and L2."),
        "{work}"
    );
    assert!(work.contains("Use the hand tool."), "{work}");
    assert!(work.contains("Put the emptied needles out of work: back L4 and L3."), "{work}");
}

#[test]
fn each_size_has_a_sheet_of_its_own_and_a_piece_can_be_chosen() {
    let of = |size: &str, times: u64| {
        let mut steps = begin(4);
        steps.push(stitch("half-cardigan", times, vec![knit(), row(Action::Knit, Action::Tuck)]));
        let body = piece(steps.clone());
        let pocket = Piece { title: "Pocket".to_owned(), make: 2, ..piece(begin(2)) };
        Program { size: Some(size.to_owned()), pieces: vec![body, pocket], ..program(piece(Vec::new())) }
    };
    let programs = [of("short", 10), of("long", 12)];
    let all: Vec<&Program> = programs.iter().collect();
    let written = |piece: Option<&str>| {
        let mut out = Vec::new();
        sheet::write(&mut out, &all, piece).expect("memory");
        String::from_utf8(out).expect("text")
    };
    let text = written(None);
    let heads: Vec<&str> = text
        .lines()
        .filter(|line| ["Row sheet for", "Size:", "Make "].iter().any(|head| line.starts_with(head)))
        .collect();
    assert_eq!(
        heads,
        [
            "Row sheet for the piece: Scarf",
            "Size: short",
            "Make 1",
            "Row sheet for the piece: Pocket",
            "Size: short",
            "Make 2, each from this sheet",
            "Row sheet for the piece: Scarf",
            "Size: long",
            "Make 1",
            "Row sheet for the piece: Pocket",
            "Size: long",
            "Make 2, each from this sheet",
        ]
    );
    assert!(text.contains("You will knit 21 rows;") && text.contains("You will knit 25 rows;"), "{text}");
    let pocket = written(Some("Pocket"));
    assert_eq!(pocket.matches("Row sheet for the piece: Pocket").count(), 2);
    assert!(!pocket.contains("Scarf\n"), "{pocket}");
}

#[test]
fn what_the_pattern_says_is_shown_and_never_sent() {
    let mut steps = begin(2);
    steps.push(step(StepKind::Note("press \u{1b}[2J lightly".to_owned())));
    steps.push(step(StepKind::Mark("armhole".to_owned())));
    steps.push(step(StepKind::Rounded(Rounding {
        wish: "10 cm".to_owned(),
        exact: "43.6".to_owned(),
        rows: 44,
        difference: "0.1 cm more than asked".to_owned(),
    })));
    steps.push(rows(44, knit()));
    let work = work_of(steps);
    assert!(work.contains("Note: press ␛[2J lightly"), "{work}");
    assert!(work.contains("Mark this place: armhole"), "{work}");
    assert!(work.contains("Length: 10 cm would be 43.6 rows. Work 44 rows: 0.1 cm more than asked."), "{work}");
}

#[test]
fn a_reader_that_leaves_ends_the_writing() {
    struct Full(usize);
    impl std::io::Write for Full {
        fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
            self.0 = self.0.checked_sub(bytes.len()).ok_or(std::io::ErrorKind::BrokenPipe)?;
            Ok(bytes.len())
        }
        fn flush(&mut self) -> std::io::Result<()> {
            Ok(())
        }
    }
    let whole = sheet_of(&scarf()).len();
    for room in [0, 100, whole - 1] {
        assert!(sheet::write(&mut Full(room), &[&scarf()], None).is_err(), "{room}");
    }
    assert!(sheet::write(&mut Full(whole), &[&scarf()], None).is_ok());
}

#[test]
fn a_pattern_that_never_folds_is_written_in_parts_and_stays_right() {
    // The stitch sizes of the passes count upwards in two digits, so that no two passes follow each other twice.
    let mut steps = begin(2);
    for pass in 0..6_000 {
        steps.push(sizes(100 + 10 * (pass % 10), 100 + 10 * (pass / 10 % 10)));
        steps.push(row(Action::Knit, if pass % 3 == 0 { Action::Tuck } else { Action::Knit }));
    }
    let work = work_of(vec![repeat(2, steps[3..].to_vec())].into_iter().fold(steps[..3].to_vec(), |mut all, step| {
        all.push(step);
        all
    }));
    assert!(work.contains("Row 12001"), "the second pass is there");
}

// ---- laws ---------------------------------------------------------------------------------------------------------

/// A step of a random program: rows, settings and repeats of them.
fn any_step() -> impl Strategy<Value = Step> {
    let action = || prop_oneof![Just(Action::Knit), Just(Action::Tuck), Just(Action::Slip)];
    let one_row = (action(), action(), any::<bool>()).prop_map(|(on_front, on_back, loose)| {
        let mut made = plain(on_front, on_back);
        if loose {
            made.sizes.front = Some(RowSize::By(100));
        }
        act(Operation::Row(made))
    });
    let leaf = prop_oneof![
        4 => one_row.clone(),
        2 => (1..9_u64, one_row).prop_map(|(times, row)| rows(times, row)),
        2 => (1..7_u64, any::<bool>())
            .prop_map(|(count, left)| tubular(count, if left { Side::Left } else { Side::Right })),
        1 => (-1..=1_i32).prop_map(|place| act(Operation::RackTo(place))),
        1 => (3..6_i32).prop_map(|size| sizes(size * 100, size * 100)),
        1 => Just(act(Operation::FreePass)),
        1 => Just(act(Operation::ResetCounter)),
        1 => Just(step(StepKind::Note("look at it".to_owned()))),
        1 => (2..6_u64).prop_map(|every| remind(every, "move the weights up")),
        1 => Just(act(Operation::Hold(front(Some(Pick::Leftmost(1)))))),
    ];
    leaf.prop_recursive(3, 24, 5, |inner| {
        (1..20_u64, prop::collection::vec(inner, 1..5)).prop_map(|(times, steps)| repeat(times, steps))
    })
}

/// Reads the rows of a sheet as a knitter would, going back where it says so. Gives the work of every row, in order.
fn followed(work: &str) -> Vec<String> {
    let mut done: Vec<String> = Vec::new();
    let mut begun: Vec<usize> = Vec::new();
    let between = |text: &str, before: &str, after: &str| -> String {
        let rest = text.split_once(before).expect("the words before").1;
        rest.split_once(after).expect("the words after").0.replace(',', "")
    };
    let times = |text: &str| match text {
        "once" => 1,
        "twice" => 2,
        many => usize::try_from(number(many)).expect("few"),
    };
    for paragraph in work.split("\n\n") {
        let text = joined(paragraph);
        if text.starts_with("Repeat begins") {
            begun.push(done.len());
        } else if text.starts_with("Repeat ends. Go back") {
            let start = begun.pop().expect("a repeat");
            let rows = done[start..].to_vec();
            assert_eq!(between(&text, "Go back to row ", "."), (start + 1).to_string());
            let (of, often) = text.split_once(" times in all").map_or_else(
                || (between(&text, "Work ", " twice in all"), 2),
                |(head, _)| {
                    (between(&text, "Work ", " times in all"), times(head.rsplit(' ').next().expect("a number")))
                },
            );
            assert!(of.starts_with("this row") || number(&of) == rows.len() as u64, "{text}");
            (1..often).for_each(|_| done.extend(rows.iter().cloned()));
            assert_eq!(number(&between(&text, "up to ", ". ")), done.len() as u64, "{text}");
        } else if text.starts_with("Repeat ends: do this") {
            begun.pop().expect("a repeat");
        } else if text.starts_with("Work row") {
            let from = between(&text, "Work ", " again");
            let rows = done
                [usize::try_from(number(&from)).expect("few") - 1..usize::try_from(last_number(&from)).expect("few")]
                .to_vec();
            let often = times(&between(&text, " again, ", " more"));
            (0..often).for_each(|_| done.extend(rows.iter().cloned()));
            assert_eq!(last_number(&between(&text, "more: ", ". ")), done.len() as u64, "{text}");
        } else if text.starts_with("Row") {
            let heading = text
                .split_once('.')
                .expect("a heading")
                .0
                .split_once(',')
                .map_or_else(|| text.split_once('.').expect("a heading").0.to_owned(), |(rows, _)| rows.to_owned());
            assert_eq!(number(&heading), done.len() as u64 + 1, "{text}");
            let said: Vec<&str> = if text.contains("Front only and back only in turn") {
                vec!["Front: knit. Back: slip.", "Front: slip. Back: knit."]
            } else if text.contains("Back only and front only in turn") {
                vec!["Front: slip. Back: knit.", "Front: knit. Back: slip."]
            } else {
                let starts = ["Front: ", "Back: ", "No needle", "The yarn goes"];
                let lines = paragraph.lines().map(str::trim);
                lines.filter(|line| starts.iter().any(|start| line.starts_with(start))).collect()
            };
            let rows = usize::try_from(last_number(&heading)).expect("few") - done.len();
            done.extend((0..rows).map(|row| said[row % said.len()].to_owned()));
        }
    }
    assert!(begun.is_empty(), "every repeat ends");
    done
}

/// What the beds did in each row of a play that leaves nothing out, in the words of the sheet.
#[derive(Default)]
struct Deeds(Vec<String>);

impl Watcher for Deeds {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        let mut said = Vec::new();
        match moment.outcome {
            Outcome::Row(done) => {
                for (bed, name) in [(Bed::Front, "Front"), (Bed::Back, "Back")] {
                    let sets = [(done.knit[bed], "knit"), (done.tuck[bed], "tuck"), (done.slip[bed], "slip")];
                    said.extend(
                        sets.iter().filter(|(set, _)| !set.is_empty()).map(|(_, what)| format!("{name}: {what}.")),
                    );
                }
                self.0.push(if said.is_empty() { "No needle is in work.".to_owned() } else { said.join(" ") });
            }
            Outcome::Handled(handled) if handled.by_carriage => self.0.push("The yarn goes".to_owned()),
            _ => {}
        }
        Flow::Continue(())
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    /// Every number, counter and side of the sheet is that of a play of every row, and the last row is the last one.
    #[test]
    fn the_sheet_agrees_with_every_row(steps in prop::collection::vec(any_step(), 1..6)) {
        let mut all = begin(3);
        all.extend(steps);
        // A needle that takes loop upon loop jams: then the piece has no end to compare with.
        let made = piece(all.clone());
        let mut deeds = Deeds::default();
        let stop = play(&made, Manner { until_row: Some(5_000), ..Manner::EVERY }, &mut deeds).1;
        prop_assume!(stop.is_none());
        let work = work_of(all);
        let followed = followed(&work);
        prop_assert_eq!(followed.len(), deeds.0.len(), "{}", work);
        for (row, (written, played)) in followed.iter().zip(&deeds.0).enumerate() {
            prop_assert!(written.starts_with(played), "row {}: {} is written, {} is played\n{}", row + 1, written, played, work);
        }
    }

    /// No state of the beds makes the writer fail.
    #[test]
    fn no_program_makes_it_fail(steps in prop::collection::vec(any_step(), 0..6)) {
        let text = sheet_of(&program(piece(steps)));
        prop_assert!(text.contains("loops made") || text.contains("loop made"));
    }
}

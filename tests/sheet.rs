//! The row sheet, from programs built by hand, against what is played row by row.
//!
//! The sheets are kept whole under `tests/snapshots`, to be read aloud when they change. The counts and counters in
//! them are checked against a play that leaves nothing out. There is no outside source for the wording: the cautions
//! and the manner of grouping plain rows are common practice, no source.

mod build;
mod reader;

use build::*;
use proptest::prelude::*;
use reader::{Deeds, agrees, followed, joined, reminded, to_the_letter};
use std::sync::Arc;
use wale::beds::{
    Action, Bed, BedWork, Both, CastOn, EdgeChange, Gaiting, NeedleSet, Operation, Pick, RowSize, Side, Tile, Tool,
    TransferWay, Waste, Yarn,
};
use wale::plan::program::{Piece, Program, Promise, Rounding, Speech, Step, StepKind};
use wale::play::{Manner, play};
use wale::syntax::tree::SpeechWord;
use wale::write::sheet;

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

fn scarf() -> Program {
    let mut steps = vec![act(Operation::Gaiting(Gaiting::Between))];
    steps.extend(begin(30));
    steps.push(tubular(4, Side::Left));
    steps.push(sizes(500, 500));
    steps.push(step(StepKind::Say(Speech::Rounded(Rounding {
        wish: "120 cm".to_owned(),
        exact: "528".to_owned(),
        rows: 528,
        difference: String::new(),
    }))));
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
    let machine = Arc::make_mut(&mut scarf.machine);
    machine.transfer_carriage = vec![TransferWay { to: Bed::Front, from: Some(Side::Left) }];
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
    steps.push(act(Operation::OntoWaste(front(Some(Pick::Loaded)), Waste::PLAIN)));
    insta::assert_snapshot!("hand_work", work_of(steps));
}

/// A knitter who is told to move stitches that are not there looks for them in vain.
#[test]
fn that_an_edge_without_stitches_is_left_alone_is_said() {
    let change = EdgeChange { bed: Bed::Back, by: 1, left: true, right: false, inset: 0 };
    for operation in [Operation::Decrease(change), Operation::Increase(change)] {
        let work = work_of(vec![
            act(Operation::InWork(Both::from_fn(|_| these(left(8), right(8))))),
            act(Operation::Thread(Yarn(0))),
            act(Operation::CastOn(CastOn::Wound, front(these(left(8), right(8))))),
            act(operation.clone()),
        ]);
        assert!(work.contains("Not done: there are no such stitches or needles."), "{operation:?}\n{work}");
    }
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
    steps.push(step(StepKind::Say(Speech::Words(SpeechWord::Note, "press \u{1b}[2J lightly".to_owned()))));
    steps.push(step(StepKind::Say(Speech::Words(SpeechWord::Mark, "armhole".to_owned()))));
    steps.push(step(StepKind::Say(Speech::Rounded(Rounding {
        wish: "10 cm".to_owned(),
        exact: "43.6".to_owned(),
        rows: 44,
        difference: "0.1 cm more than asked".to_owned(),
    }))));
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

/// The drawing of the set-out.
fn drawn(text: &str) -> &str {
    let start = text.find("The needles at the start").expect("a set-out");
    text[start..].split("\n---").next().expect("the drawing")
}

#[test]
fn the_set_out_shows_what_faces_what() {
    let tile = |marks: &str| Pick::Tile(Tile { marks: marks.chars().map(|mark| mark == '|').collect() });
    let over = |number: u32, marks: &str| {
        let span = Pick::These(NeedleSet::span(left(number), right(number)));
        vec![
            act(Operation::InWork(Both { front: Some(span.clone()), back: Some(span) })),
            act(Operation::OutOfWork(Both {
                front: Some(tile(marks)),
                back: Some(Pick::AllBut(Box::new(tile(marks)))),
            })),
        ]
    };
    let begin = || {
        let both = Both { front: Some(Pick::InWork), back: Some(Pick::InWork) };
        vec![act(Operation::Thread(Yarn(0))), act(Operation::CastOn(CastOn::Zigzag, both))]
    };
    let rib = [over(6, "..||"), vec![act(Operation::RackTo(1))], begin()].concat();
    let opposite = [over(6, ".|"), vec![act(Operation::Gaiting(Gaiting::Opposite))], begin()].concat();
    let wide = [over(40, ".|||"), begin()].concat();
    let shown: Vec<String> =
        [rib, opposite, wide].into_iter().map(|steps| drawn(&sheet_of(&program(piece(steps)))).to_owned()).collect();
    insta::assert_snapshot!("set_out", shown.join("\n"));
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
        1 => Just(()).prop_map(|()| act(Operation::FreePass)),
        1 => Just(()).prop_map(|()| act(Operation::ResetCounter)),
        1 => Just(()).prop_map(|()| step(StepKind::Say(Speech::Words(SpeechWord::Note, "look at it".to_owned())))),
        1 => (2..6_u64).prop_map(|every| remind(every, "move the weights up")),
        1 => Just(()).prop_map(|()| act(Operation::Hold(front(Some(Pick::Leftmost(1)))))),
    ];
    leaf.prop_recursive(3, 24, 5, |inner| {
        (1..20_u64, prop::collection::vec(inner, 1..5)).prop_map(|(times, steps)| repeat(times, steps))
    })
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

    /// A reminder that holds to the end of the piece is told in every row it is due in, and in no other.
    #[test]
    fn reminders_are_told_in_their_rows(every in 1..40_u64, steps in prop::collection::vec(any_step(), 1..6)) {
        let mut all = begin(3);
        all.push(remind(every, "turn the lamp"));
        all.extend(steps);
        let made = piece(all.clone());
        let (end, stop) = play(&made, Manner { until_row: Some(5_000), ..Manner::EVERY }, &mut Deeds::default());
        prop_assume!(stop.is_none());
        let work = work_of(all);
        let due: Vec<u64> = (1..=end.row).filter(|row| *row > 1 && (row - 1).is_multiple_of(every)).collect();
        prop_assert_eq!(reminded(&work, "turn the lamp"), due, "{}", work);
    }

    /// No state of the beds makes the writer fail.
    #[test]
    fn no_program_makes_it_fail(steps in prop::collection::vec(any_step(), 0..6)) {
        let text = sheet_of(&program(piece(steps)));
        prop_assert!(text.contains("loops made") || text.contains("loop made"));
    }
}

/// The work of a pattern's only sheet, followed to the letter.
fn letter_by_letter(work: &str) -> Vec<String> {
    let text = format!(
        "machine club {{ needles 20 each side }}\nyarn slate {{}}\nyarn foam {{}}\npiece \"P\" {{\n    in work front L5-R5, back \
         L5-R4\n    thread slate\n    cast on zigzag\n    rows 3 both knit\n{work}\n    onto waste yarn both\n}}\n"
    );
    let checked = wale::check("a.wale", &text, &wale::source::NoLibrary);
    let sheet = sheet_of(&checked.programs[0]);
    to_the_letter(sheet.split_once("The work\n").expect("the work").1)
}

/// What is done before the first row of a repeat is done each time, and the sheet says so: it names what to go back to.
#[test]
fn a_repeat_that_begins_with_a_change_is_gone_back_to_before_it() {
    let stripes = "thread foam\nrows 2 both knit\nthread slate\nrows 2 both knit\n";
    let racked = "rack 1 left\nrows 2 both knit\nrack 1 right\nrows 2 both knit\n";
    let noted = format!("note \"the beds move\"\n{racked}");
    for body in [
        stripes,
        racked,
        &noted,
        &format!("repeat 3 times {{\n{racked}}}\nrow both knit\n"),
        "rows 2 both knit\nrack 1 left\nrow both knit\nrack 1 right\n",
    ] {
        let (repeated, written_out) = (format!("repeat 4 times {{\n{body}}}"), body.repeat(4));
        let one = letter_by_letter(&repeated);
        assert_eq!(one, letter_by_letter(&written_out), "{body}");
        assert!(one.iter().filter(|what| *what != "a row").count() > 8, "{body}");
    }
}

use super::{write, write_on};
use crate::beds::{
    Action, Bed, BedWork, Both, CastOn, Gaiting, Machine, Needle, NeedleSet, Operation, Pick, Row, Side, Targets, Work,
    Yarn,
};
use crate::plan::program::{Piece, Program, Repeat, Step, StepId, StepKind, StitchUse, YarnInfo};
use crate::source::{Sources, Span};
use crate::tell::{Colour, Screen};
use std::sync::Arc;

/// A line of the pattern and what it does; one that ends in `{` holds the lines up to the next `}`.
struct Pattern {
    text: String,
    steps: Vec<Step>,
    /// Steps made so far.
    made: u64,
}

impl Pattern {
    fn new() -> Self {
        Self { text: "piece \"Scarf\" {\n".to_owned(), steps: Vec::new(), made: 0 }
    }

    fn span(&mut self, line: &str) -> Span {
        let start = self.text.len() as u32;
        self.text.push_str(line);
        self.text.push('\n');
        Span { start, end: start + line.len() as u32, ..Span::default() }
    }

    fn new_step(&mut self, kind: StepKind, span: Span) -> Step {
        self.made += 1;
        Step { id: StepId(self.made), kind, span }
    }

    fn step(&mut self, kind: StepKind, span: Span) {
        let step = self.new_step(kind, span);
        self.steps.push(step);
    }

    fn inner(&mut self, line: &str, operation: Operation) -> Step {
        let span = self.span(line);
        self.new_step(StepKind::Do(operation), span)
    }

    fn does(mut self, line: &str, operation: Operation) -> Self {
        let span = self.span(line);
        self.step(StepKind::Do(operation), span);
        self
    }

    fn repeats(mut self, line: &str, times: u64, inside: Vec<(&str, Operation)>) -> Self {
        let span = self.span(line);
        let steps: Vec<Step> = inside.into_iter().map(|(line, operation)| self.inner(line, operation)).collect();
        let named = line.strip_prefix("work ").and_then(|rest| rest.split(' ').next());
        let stitch =
            named.map(|name| StitchUse { name: name.to_owned(), defined: span, from: (true, true), to: (true, true) });
        let repeat = Repeat { times, steps: steps.into(), stitch, single_row: false };
        self.step(StepKind::Repeat(repeat), span);
        self
    }

    fn in_section(mut self, title: &str) -> Self {
        let steps = std::mem::take(&mut self.steps).into();
        self.step(StepKind::Section(title.to_owned(), steps), Span::default());
        self
    }

    fn piece(&self, title: &str) -> Piece {
        Piece {
            title: title.to_owned(),
            make: 1,
            machine: Arc::new(Machine::new("club", 90)),
            span: Span::default(),
            end: Span::default(),
            steps: self.steps.clone().into(),
            waste: Vec::new(),
        }
    }

    fn program(&self, size: Option<&str>, titles: &[&str]) -> Program {
        let slate = YarnInfo { name: "slate".to_owned(), count: Some("2/15 Nm".to_owned()), ..YarnInfo::default() };
        Program {
            title: None,
            size: size.map(str::to_owned),
            yarns: vec![slate],
            pieces: titles.iter().map(|title| self.piece(title)).collect(),
        }
    }

    fn sources(&self) -> Sources {
        let mut sources = Sources::default();
        sources.add("breakwater.wale", self.text.clone());
        sources
    }

    fn at(&self, row: u64) -> Result<String, String> {
        write(&[&self.program(None, &["Scarf"])], &self.sources(), None, row)
    }
}

fn set(first: i32, last: i32) -> NeedleSet {
    NeedleSet::span(Needle((first + 128) as u8), Needle((last + 128) as u8))
}

fn targets(front: NeedleSet, back: NeedleSet) -> Targets {
    let some = |set: NeedleSet| (!set.is_empty()).then_some(Pick::These(set));
    Both { front: some(front), back: some(back) }
}

fn row(front: Action, back: Action) -> Operation {
    let work = Both { front: BedWork::whole(front), back: BedWork::whole(back) };
    Operation::Row(Row { work: Work::Same(work), sizes: Both::default(), toward: None, new_loops: false })
}

/// Six needles in front, five behind, a zigzag, then half cardigan.
fn half_cardigan(times: u64) -> Pattern {
    Pattern::new()
        .does("in work front L3-R3, back L3-R2", Operation::InWork(targets(set(-3, 2), set(-3, 1))))
        .does("thread slate", Operation::Thread(Yarn(0)))
        .does("stitch size 4.5", Operation::StitchSize(Both::same(Some(450))))
        .does(
            "cast on zigzag",
            Operation::CastOn(CastOn::Zigzag, Both { front: Some(Pick::InWork), back: Some(Pick::InWork) }),
        )
        .repeats(
            &format!("work half-cardigan {times} times"),
            times,
            vec![
                ("row front knit, back knit", row(Action::Knit, Action::Knit)),
                ("row front knit, back tuck", row(Action::Knit, Action::Tuck)),
            ],
        )
        .does("rack 1 left", Operation::RackBy(-1))
        .does("row both knit", row(Action::Knit, Action::Knit))
        .does("gaiting opposite", Operation::Gaiting(Gaiting::Opposite))
        .in_section("Body")
}

#[test]
fn everything_is_told_of_a_row() {
    let told = half_cardigan(4).at(5).expect("there is a row 5");
    let expected = "\
Scarf, Body: after row 5

  row of the piece  5
  row counter       shows 5
  carriage          at the right
  yarn              slate, 2/15 Nm
  stitch size       4.5 on both beds
  gaiting           between
  racking           the centre
  front bed         6 stitches; 6 needles in work: L3-R3
  back bed          5 stitches; 5 needles in work: L3-R2

Loops that wait
  back L3-R2: 1 stitch of row 4 and 1 tuck of row 5; the oldest has waited 1 row

The beds
              L3  L1  R2
  back    . . 2 2 2 2 2 . .
  front  . . 1 1 1 1 1 1 . .
             L3  L1    R3

  Marks: . out of work, a digit counts the loops on a needle. A name begins over or under its own
  needle.

In the pattern
  this row     line 8: row front knit, back tuck
               pass 2 of 4 of the stitch half-cardigan
  next row     line 7: row front knit, back knit

How to get back to it
";
    let (before, steps) = told.split_at(told.find("  1. Keep").expect("there is a way back"));
    assert_eq!(before, expected);
    let steps = steps.replace("\n     ", " ");
    for words in [
        "2. Set the gaiting to between and rack to the centre.",
        "3. Put front L3-R3 and back L3-R2 into work, and all other needles out of work.",
        "4. See that front L3-R3 and back L3-R2 carry the fabric: 11 needles with a stitch and 16 loops in all.",
        "6. Thread slate, 2/15 Nm.",
        "7. Set the stitch size: 4.5 on both beds.",
        "8. Stand the carriage at the right and set the row counter to 5.",
        "9. Go on with line 7: row front knit, back knit.",
        "machine's own manual",
    ] {
        assert!(steps.contains(words), "{words}\n{steps}");
    }
}

#[test]
fn what_comes_between_two_rows_is_told() {
    let pattern = half_cardigan(4);
    let told = pattern.at(9).expect("there is a row 9");
    assert!(told.contains("  after it     line 9: rack 1 left\n  next row     line 10: row both knit\n"), "{told}");
    assert!(told.contains("Go on with line 9: rack 1 left."), "{told}");
    let told = pattern.at(10).expect("there is a row 10");
    assert!(told.contains("racking           1 step left of the centre"), "{told}");
    // The back bed stands one place to the left: its first needle half a pitch left of the front one's.
    assert!(told.contains("\n  back   . . 1 1 1 1 1 . . .\n  front   . . 1 1 1 1 1 1 . .\n"), "{told}");
    assert!(
        told.contains("after it     line 11: gaiting opposite\n  next row     none: this is the last row"),
        "{told}"
    );
    assert_eq!(
        pattern.at(11),
        Err("there is no row 11. The piece \"Scarf\" has 10 rows: ask for one from 1 to 10.".into())
    );
}

/// The rows of a long repeat are those of a short one, but for their numbers.
#[test]
fn a_row_of_a_billion_is_told_at_once() {
    let (long, short) = (half_cardigan(1_000_000_000), half_cardigan(7));
    let begun = std::time::Instant::now();
    let told = long.at(1_000_000_000).expect("there is such a row");
    let last = long.at(2_000_000_002).expect("there is such a row");
    assert!(long.at(u64::MAX).is_err_and(|said| said.contains("has 2000000002 rows")));
    assert!(long.at(0).is_ok_and(|told| told.starts_with("Scarf, Body: before row 1\n")));
    // Played out, this would be thousands of millions of rows.
    assert!(begun.elapsed().as_secs() < 20, "it took {:?}", begun.elapsed());
    assert!(told.contains("pass 500000000 of 1000000000 of the stitch half-cardigan"), "{told}");
    let renumbered = |text: &str, rows: &[(&str, &str)]| {
        rows.iter().fold(text.to_owned(), |text, (from, to)| text.replace(from, to))
    };
    let eighth = short.at(8).expect("there is a row 8");
    let rows = [
        ("1000000000", "8"),
        ("999999999", "7"),
        ("500000000 of 8", "4 of 7"),
        ("cardigan 8 times", "cardigan 7 times"),
    ];
    assert_eq!(renumbered(&told, &rows), eighth);
    assert_eq!(renumbered(&last, &[("2000000002", "16")]), short.at(16).expect("there is a row 16"));
}

#[test]
fn held_and_caught_loops_are_named_with_their_age() {
    let pattern = Pattern::new()
        .does("in work front L40-R40", Operation::InWork(targets(set(-40, 39), NeedleSet::EMPTY)))
        .does("carriage right", Operation::Carriage(Side::Right))
        .does("thread slate", Operation::Thread(Yarn(0)))
        .does("cast on wound front", Operation::CastOn(CastOn::Wound, targets(set(-40, 39), NeedleSet::EMPTY)))
        .does("row front knit", row(Action::Knit, Action::Slip))
        .does("hold front L40-L39", Operation::Hold(targets(set(-40, -39), NeedleSet::EMPTY)))
        .does("bind off front R40", Operation::BindOff(targets(set(39, 39), NeedleSet::EMPTY)))
        .does(
            "move front R1 1 right, joining",
            Operation::Move {
                from: Bed::Front,
                pick: Pick::These(set(0, 0)),
                to: Bed::Front,
                by: 1,
                joining: true,
                emptied_stay: Some(false),
            },
        )
        .does("row front slip", row(Action::Slip, Action::Slip))
        .does("in work front R1", Operation::InWork(targets(set(0, 0), NeedleSet::EMPTY)))
        .does(
            "row front tuck on R1, slip elsewhere",
            Operation::Row(Row {
                work: Work::Same(Both {
                    front: BedWork { picked: vec![(Action::Tuck, Pick::These(set(0, 0)))], elsewhere: Action::Slip },
                    back: BedWork::whole(Action::Slip),
                }),
                sizes: Both::default(),
                toward: None,
                new_loops: true,
            }),
        );
    let told = pattern.at(3).expect("there is a row 3");
    for words in [
        "front bed         78 stitches; 78 needles in work: L38-R40; 2 needles held: L40-L39",
        "  front L40-L39: 1 stitch of row 1; the oldest has waited 2 rows\n",
        "  front R1: 1 caught loop of row 3 on a needle that was empty, no stitch until it is knitted\n",
        "  front R2: 2 stitches of row 1; the oldest has waited 2 rows\n",
        "carriage          at the left",
        "stitch size       not set on both beds",
        "Put front L38-R40 into work and front L40-L39 to hold, and all other needles out of work.",
        "and that front R40 are empty",
    ] {
        assert!(told.contains(words), "{words}\n{told}");
    }
    // 84 needles of two places each go into three parts; every part has its names, but for those without room: R1 stands
    // beside L1, and R30 is the last needle of its part.
    assert_eq!(told.matches("\n  back  ").count(), 3, "{told}");
    assert!(told.contains("h h 1 1"), "{told}");
    assert!(told.contains("1 1 o 2 1"), "{told}");
    for name in ["L40", "L30", "L20", "L10", "L1", "R10", "R20", "R40"] {
        assert!(
            told.lines().any(|line| line.starts_with("     ") && line.split_whitespace().any(|word| word == name)),
            "{name}\n{told}"
        );
    }
}

#[test]
fn which_piece_is_meant_must_be_clear() {
    let pattern = half_cardigan(2);
    let (short, long) = (pattern.program(Some("short"), &["Back", "Sleeve"]), pattern.program(Some("long"), &["Back"]));
    let sources = pattern.sources();
    let told = |programs: &[&Program], piece| write(programs, &sources, piece, 1);
    assert_eq!(
        told(&[&short, &long], None),
        Err("the row of one piece can be shown. The pattern has the sizes short and long: name one with --size. The \
             pattern has the pieces \"Back\" and \"Sleeve\": name one with --piece."
            .to_owned())
    );
    assert!(told(&[&short, &long], Some("Sleeve")).is_ok_and(|text| text.starts_with("Sleeve, size short, Body")));
    assert!(told(&[&long], None).is_ok());
    let twice = pattern.program(None, &["Cuff", "Cuff"]);
    assert!(told(&[&twice], None).is_err_and(|said| said.contains("2 pieces")));
    assert!(told(&[], None).is_err_and(|said| said.contains("no piece")));
}

#[test]
fn row_0_is_right_before_the_first_row() {
    let expected = "\
Scarf, Body: before row 1

  row of the piece  0
  row counter       shows 0
  carriage          at the left
  yarn              slate, 2/15 Nm
  stitch size       4.5 on both beds
  gaiting           between
  racking           the centre
  front bed         0 stitches; 6 needles in work: L3-R3
  back bed          0 stitches; 5 needles in work: L3-R2
";
    let told = half_cardigan(4).at(0).expect("it stands somehow");
    assert!(told.starts_with(expected), "{told}");
    let pattern = "
In the pattern
  before it    line 2: in work front L3-R3, back L3-R2
  before it    line 3: thread slate
  before it    line 4: stitch size 4.5
  next row     line 5: cast on zigzag

How to set the machine so
  1. Keep hands clear";
    assert!(told.contains(pattern), "{told}");
    assert!(told.contains("into work, and all other needles out of work.\n") && told.contains(" No needle carries"));
    assert!(told.ends_with("Go on with line 5: cast on zigzag.\n"), "{told}");
    // A repeat before it that is counted and not played, and a piece that begins with a row at once.
    let racked = Pattern::new()
        .repeats(
            "repeat 9000001 times {",
            9_000_001,
            vec![
                ("rack 1 left", Operation::RackBy(-1)),
                ("rack 2 right", Operation::RackBy(2)),
                ("rack 1 left", Operation::RackBy(-1)),
            ],
        )
        .does("rack 1 left", Operation::RackBy(-1))
        .does("row both knit", row(Action::Knit, Action::Knit));
    assert!(racked.at(0).is_ok_and(|told| told.contains("racking           1 step left of the centre\n")));
    let at_once = Pattern::new().does("row both knit", row(Action::Knit, Action::Knit));
    let told = at_once.at(0).expect("it stands somehow");
    assert!(told.contains("In the pattern\n  next row     line 2: row both knit\n"), "{told}");
    let none = Pattern::new().does("rack 1 left", Operation::RackBy(-1));
    let said = "there is no first row to stand before. The piece \"Scarf\" has no rows.";
    assert_eq!(none.at(0), Err(said.to_owned()));
}

#[test]
fn a_screen_is_kept_to() {
    let pattern = half_cardigan(4);
    let wide = Pattern::new()
        .does("in work front L60-R60, back L60-R59", Operation::InWork(targets(set(-60, 59), set(-60, 58))))
        .does("row both knit", row(Action::Knit, Action::Knit));
    for (pattern, row) in [(&pattern, 0), (&pattern, 5), (&wide, 1)] {
        let program = pattern.program(Some("a-size-with-a-long-name"), &["A scarf with a title that is long"]);
        for columns in [40, 57, 80, 100] {
            let screen = Screen::new(Colour::Plain, Some(columns));
            let told = write_on(&[&program], &pattern.sources(), None, row, screen).expect("there is such a row");
            let widest = told.lines().map(|line| line.chars().count()).max().unwrap_or(0);
            assert!(widest <= columns, "{widest} in {columns}:\n{told}");
            let words = |text: &str| text.matches(['L', 'R']).count();
            assert!(words(&told) >= words(&write(&[&program], &pattern.sources(), None, row).expect("the same")));
        }
    }
}

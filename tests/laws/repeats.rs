//! Counting a repeat is the same as playing it, and both are the same as writing it out.

use super::programs::{only_piece, pattern, seen};
use proptest::prelude::*;
use std::collections::BTreeSet;
use wale::beds::State;
use wale::finding::Finding;
use wale::plan::program::Piece;
use wale::play::{Flow, Manner, Moment, Stop, Watcher, play};
use wale::source::Span;

/// Patterns longer than this, written out, would take the time of many short ones.
const LONGEST: u64 = 2_000;

struct Nobody;
impl Watcher for Nobody {}

/// Looks at the ledger after every operation.
#[derive(Default)]
struct Bookkeeper {
    wrong: Option<String>,
}

impl Watcher for Bookkeeper {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        let state = moment.state;
        if state.ledger.difference() != 0 || state.ledger.on_needles != state.loops.count() {
            self.wrong.get_or_insert_with(|| format!("{:?}: {:?}", moment.operation, state.ledger));
        }
        Flow::Continue(())
    }
}

/// Keeps the beds as they stand when a row has just been made.
#[derive(Default)]
struct RowByRow(Vec<State>);

impl Watcher for RowByRow {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        if moment.state.row as usize > self.0.len() {
            self.0.push(moment.state.clone());
        }
        Flow::Continue(())
    }
}

fn ends(piece: &Piece, manner: Manner) -> (State, Option<Stop>) {
    play(piece, manner, &mut Nobody)
}

/// A rule, the place, and the earlier lines that it points at.
type Said = (&'static str, Span, Vec<(Span, String)>);

/// The rules that speak and where, with the earlier lines that they point at; how often a place is worked does not
/// matter.
fn said(piece: &Piece, manner: Manner) -> BTreeSet<Said> {
    let said = |finding: &Finding| {
        let also = finding.also.iter().map(|label| (label.span, label.text.clone())).collect();
        (finding.rule.name, finding.at.span, also)
    };
    wale::rules::check_piece_in(piece, manner).iter().map(said).collect()
}

/// The rules that speak about a piece that begins with six stitches on the front bed, in the order of the text.
fn broken(definitions: &str, statements: &str) -> Vec<&'static str> {
    let text = format!(
        "machine small {{\n needles 6 each side\n}}\nyarn slate {{}}\n{definitions}\npiece \"Swatch\" {{\n\
         in work both L3-R3\nthread slate\ncast on wound front\n{statements}\n}}\n"
    );
    let counted: Vec<_> =
        wale::check("swatch.wale", &text, &wale::source::NoLibrary).findings.iter().map(|it| it.rule.name).collect();
    let piece = only_piece(&text);
    assert_eq!(said(&piece, Manner::CHECK), said(&piece, Manner::EVERY), "{text}");
    assert_eq!(seen(&ends(&piece, Manner::CHECK).0), seen(&ends(&piece, Manner::EVERY).0), "{text}");
    counted
}

#[test]
fn what_lies_on_waste_yarn_runs_out() {
    let pick_up = |times| {
        broken(
            "",
            &format!(
                "onto waste yarn front\nrepeat {times} times {{\npick up front L1 from waste yarn\nbind off front L1\n}}"
            ),
        )
    };
    assert_eq!(pick_up(6), [""; 0]);
    assert_eq!(pick_up(7), ["too-few-to-pick-up"], "there is nothing to pick up, and so nothing to bind off");
    assert_eq!(pick_up(100), ["too-few-to-pick-up"]);
}

#[test]
fn a_promise_about_the_counter_is_kept_in_every_pass_or_not_at_all() {
    let promise = |times, reset: &str| {
        broken("", &format!("repeat {times} times {{\n{reset}rows 2 front knit\nexpect counter 2\n}}\nbind off front"))
    };
    assert_eq!(promise(1, ""), [""; 0]);
    assert_eq!(promise(2, ""), ["count-mismatch"]);
    assert_eq!(promise(50, ""), ["count-mismatch"]);
    assert_eq!(promise(50, "reset counter\n"), [""; 0]);
}

#[test]
fn each_place_that_works_a_stitch_is_told_what_is_wrong_with_it() {
    // Between the two uses the beds are set as they were, so the second is played from the same state.
    let wide = "stitch wide on front {\nstitch size 6\nrows 2 front knit\n}";
    let once = "stitch size 4\nrows 2 front knit\nwork wide 3 times\n";
    assert_eq!(broken(wide, &format!("{once}bind off front")), ["size-left-changed"]);
    assert_eq!(broken(wide, &format!("{once}{once}bind off front")), ["size-left-changed"; 2]);
}

#[test]
fn the_first_row_makes_a_difference() {
    // What is cast on by hand may be transferred at once; after a row that was not loosened it is tight.
    let transfers = |times| {
        broken(
            "",
            &format!(
                "gaiting opposite\nrepeat {times} times {{\ntransfer front to back\nrows 2 back knit\n\
                 transfer back L3-R2 to front\ntransfer back R3 to front\n}}\nbind off front"
            ),
        )
    };
    // Each line moves another number of stitches, and so is told by itself.
    assert_eq!(transfers(1), ["tight-transfer"; 2]);
    assert_eq!(transfers(2), ["tight-transfer"; 3]);
}

#[test]
fn what_is_said_once_for_a_setting_is_said_again_when_it_is_set_anew() {
    // The second use begins with the same beds as the first; but the first came after a finding that spoke for it.
    let motif = "stitch motif on both {\nrepeat 2 times {\ntransfer front to back\n}\n}";
    let uses = "transfer front to back\nwork motif\ngaiting between\nwork motif\nbind off front";
    assert_eq!(broken(motif, uses), ["not-opposite"; 2]);
}

#[test]
fn what_is_cast_on_anew_in_a_later_pass_is_judged_anew() {
    // Each strip loses a stitch, and the one that comes after it is not to blame for it.
    let strip = "row front knit\nout of work front L3\nexpect 5 stitches front\nexpect 4 stitches front\nbind off front\n\
                 in work front L3\ncast on wound front";
    for times in [1, 2, 3, 40] {
        let told = broken(
            "",
            &format!("repeat {times} times {{\n{strip}\n}}\nrow front tuck\nout of work front\nbind off front"),
        );
        assert_eq!(told[0], "lost-stitch", "{times}");
    }
    // The same repeat once within a fabric that went wrong, and once within the next.
    let motif = "stitch motif on front {\nrepeat 2 times {\nexpect 6 stitches front\nrows 2 front knit\n}\n}";
    let uses = "row front knit\nout of work front L3\nwork motif\nbind off front\ncast on wound front\nwork motif\nbind off front";
    assert_eq!(broken(motif, uses), ["count-mismatch", "lost-stitch"]);
}

#[test]
fn every_kind_of_repeat_comes_back_to_where_it_was() {
    // Bodies, and after how many operations at most the rest is known: each comes back after a few passes, and a loop
    // that rests is as old as it will ever be after 32 rows.
    let bodies = [
        ("row front knit", 10),
        ("row front tuck on L1, knit elsewhere\nrow front knit", 12),
        ("row front slip on L1, knit elsewhere", 100),
        ("hold front L3-L2\nrows 3 front knit\nrelease front\nrow front knit", 60),
        ("gaiting opposite\nrow front knit, loosened 1\ntransfer front L2-L1 to back\ntransfer back to front", 40),
        (
            "gaiting opposite\nin work back L3-R3\nrow front knit\ntransfer front L2-L1 to back\nrack 1 right\nrack to centre\n\
          transfer back to front\nout of work back",
            60,
        ),
        ("rows 2 both knit, new loops\nrow both knit\nrack 1 right\nrow both knit\nrack 1 left", 60),
        ("move front R3 1 left, joining\nrow front knit, new loops\nrow front knit", 40),
        ("cross front L2-L1 over R1-R2\nrows 4 front knit", 60),
        ("thread slate\nrow front knit\nfree pass\nrow front knit", 60),
    ];
    for (body, most) in bodies {
        let text = format!(
            "machine small {{\n needles 6 each side\n racking back bed, 2 left to 2 right\n}}\nyarn slate {{}}\npiece \"Swatch\" {{\nin work both L3-R3\n\
             thread slate\ncast on wound front\nrepeat 1000000000 times {{\n{body}\n}}\nbind off both\n}}\n"
        );
        let manner = Manner { most_operations: most + 5, ..Manner::CHECK };
        assert_eq!(ends(&only_piece(&text), manner).1, None, "{body}");
    }
}

proptest! {
    #![proptest_config(super::cases(100))]

    #[test]
    fn a_counted_repeat_is_the_same_as_a_played_one(pattern in pattern()) {
        prop_assume!(pattern.length() <= LONGEST);
        let text = pattern.text();
        let piece = only_piece(&text);
        let mut books = Bookkeeper::default();
        let (state, stop) = play(&piece, Manner::EVERY, &mut books);
        prop_assert_eq!(books.wrong, None);
        let everything = said(&piece, Manner::EVERY);
        for (name, manner) in [("TELL", Manner::TELL), ("CHECK", Manner::CHECK)] {
            let (counted, counted_stop) = ends(&piece, manner);
            prop_assert_eq!(counted_stop, stop, "{}\n{}", name, text);
            prop_assert_eq!(counted.ledger.difference(), 0, "{}\n{}", name, text);
            prop_assert_eq!(seen(&counted), seen(&state), "{}\n{}", name, text);
            let words = |set: &BTreeSet<Said>| -> Vec<String> {
                let also = |lines: &[(Span, String)]| -> Vec<String> {
                    lines.iter().map(|(span, said)| format!("{said}: `{}`", &text[span.range()])).collect()
                };
                set.iter()
                    .map(|(rule, span, lines)| format!("{rule} at `{}`, {:?}", &text[span.range()], also(lines)))
                    .collect()
            };
            prop_assert_eq!(words(&said(&piece, manner)), words(&everything), "{}\n{}", name, text);
        }
    }

    #[test]
    fn a_repeat_is_the_same_as_writing_it_out(pattern in pattern()) {
        prop_assume!(pattern.length() <= LONGEST);
        let (state, stop) = ends(&only_piece(&pattern.text()), Manner::CHECK);
        let (written, written_stop) = ends(&only_piece(&pattern.unrolled()), Manner::EVERY);
        prop_assert_eq!(stop, written_stop);
        if stop.is_none() {
            prop_assert_eq!(seen(&state), seen(&written), "{}", pattern.text());
        }
    }

    #[test]
    fn stopping_at_a_row_finds_it_as_playing_does(pattern in pattern(), at in 0.0..1.0) {
        prop_assume!(pattern.length() <= LONGEST);
        let piece = only_piece(&pattern.text());
        let mut rows = RowByRow::default();
        play(&piece, Manner::EVERY, &mut rows);
        prop_assume!(!rows.0.is_empty());
        let index = (at * rows.0.len() as f64) as usize;
        let row = index as u64 + 1;
        for manner in [Manner::EVERY, Manner::TELL, Manner::CHECK] {
            let (state, _) = ends(&piece, Manner { until_row: Some(row), ..manner });
            prop_assert_eq!(seen(&state), seen(&rows.0[index]), "row {}\n{}", row, pattern.text());
        }
    }
}

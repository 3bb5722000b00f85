//! Counting a repeat is the same as playing it, and both are the same as writing it out.

use super::programs::{only_piece, pattern, seen};
use proptest::prelude::*;
use std::collections::BTreeSet;
use wale::beds::State;
use wale::plan::program::Piece;
use wale::play::{Flow, Manner, Moment, Stop, Watcher, play};
use wale::source::Span;

/// Patterns longer than this, written out, are left to the soak of the counting itself.
const LONGEST: u64 = 20_000;

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

/// The rules that speak and where; how often a place is worked does not matter.
fn said(piece: &Piece, manner: Manner) -> BTreeSet<(&'static str, Span)> {
    wale::rules::check_piece_in(piece, manner).iter().map(|finding| (finding.rule, finding.at.span)).collect()
}

proptest! {
    #![proptest_config(super::cases(400))]

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
            let words = |set: &BTreeSet<(&'static str, Span)>| -> Vec<String> {
                set.iter().map(|(rule, span)| format!("{rule} at `{}`", &text[span.range()])).collect()
            };
            prop_assert_eq!(words(&said(&piece, manner)), words(&everything), "{}\n{}", name, text);
        }
    }

    #[test]
    fn a_repeat_is_the_same_as_writing_it_out(pattern in pattern()) {
        prop_assume!(pattern.length() <= 2_000);
        let (state, stop) = ends(&only_piece(&pattern.text()), Manner::CHECK);
        let (written, written_stop) = ends(&only_piece(&pattern.unrolled()), Manner::EVERY);
        prop_assert_eq!(stop, written_stop);
        if stop.is_none() {
            prop_assert_eq!(seen(&state), seen(&written), "{}", pattern.text());
        }
    }

    #[test]
    fn stopping_at_a_row_finds_it_as_playing_does(pattern in pattern(), at in 0.0..1.0) {
        prop_assume!(pattern.length() <= 2_000);
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

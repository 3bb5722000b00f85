//! The record of what was knitted says of every row what the play did, whether passes were counted or not.

use super::programs::{only_piece, pattern};
use proptest::prelude::*;
use wale::beds::{Both, Operation, Outcome, Setting};
use wale::knitted::{Asked, Entry, Passes, follow};
use wale::plan::program::{Piece, StepId};
use wale::play::{Flow, Manner, Moment, Watcher, play};
use wale::source::NoLibrary;

/// Patterns longer than this, written out, would take the time of many short ones.
const LONGEST: u64 = 2_000;

/// One operation: the step, what came of it, and the stitches on the needles afterwards.
type Did = (StepId, Outcome, Both<u64>);

/// What came of an operation, but for whether a reset found the row counter at 0 already: no work depends on that, and passes
/// are counted over it.
fn came(operation: &Operation, outcome: &Outcome) -> Outcome {
    match operation {
        Operation::ResetCounter => Outcome::Setting(Setting::Made { changed: true }),
        _ => outcome.clone(),
    }
}

#[derive(Default)]
struct Played(Vec<Did>);

impl Watcher for Played {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        let stitches = Both::from_fn(|bed| moment.state.stitch_count(bed));
        self.0.push((moment.step, came(moment.operation, moment.outcome), stitches));
        Flow::Continue(())
    }
}

/// Writes a record out: what was counted comes as often as it was counted.
fn written_out(entries: &[Entry], rows: &mut Vec<u64>, all: &mut Vec<Did>) {
    for entry in entries {
        match entry {
            Entry::Did(deed, after) => {
                rows.push(after.row);
                all.push((deed.step, came(&deed.operation, &deed.outcome), after.stitches()));
            }
            Entry::Block(block) => written_out(&block.entries, rows, all),
            Entry::Repeated(repeated) => {
                let mut passes: Vec<std::ops::Range<usize>> = Vec::new();
                for of in &repeated.passes {
                    let from = all.len();
                    match of {
                        Passes::Played(pass) => written_out(&pass.entries, rows, all),
                        Passes::Counted { period, times, from, to, after } => {
                            let period = usize::try_from(*period).expect("passes that were played");
                            let start = passes[passes.len() - period].start;
                            let again: Vec<Did> = all[start..].to_vec();
                            let rows_again: Vec<u64> = rows[start..].to_vec();
                            let each = to.row - from.row;
                            for time in 1..=*times {
                                all.extend(again.iter().cloned());
                                rows.extend(rows_again.iter().map(|row| row + time * each));
                            }
                            assert_eq!(after.row, to.row + each * times);
                        }
                    }
                    passes.push(from..all.len());
                }
            }
            Entry::AsBefore(..) => panic!("nothing is taken from memory where that is not asked for"),
            Entry::Said(_) | Entry::Promised(..) => {}
        }
    }
}

fn agrees(piece: &Piece, parts: usize) {
    let mut played = Played::default();
    let (end, stop) = play(piece, Manner::EVERY, &mut played);
    let (mut rows, mut all, mut seen, mut last) = (Vec::new(), Vec::new(), 0, false);
    let ended = follow(piece, Asked::TELL, &mut |part| {
        seen += 1;
        last = part.last;
        written_out(&part.entries, &mut rows, &mut all);
        Flow::Continue(())
    });
    assert!(last && seen >= parts, "{seen} parts");
    assert_eq!((ended.end.row, &ended.end.ledger, ended.stop), (end.row, &end.ledger, stop));
    assert_eq!(all.len(), played.0.len());
    for (at, (one, other)) in all.iter().zip(&played.0).enumerate() {
        assert_eq!(one, other, "operation {at}");
    }
    assert!(rows.windows(2).all(|two| two[0] <= two[1] && two[1] <= two[0] + 1), "rows are counted one by one");
    let widest = played.0.iter().map(|(.., stitches)| stitches.front + stitches.back).max().unwrap_or(0);
    assert_eq!(ended.widest.front + ended.widest.back, widest);
}

proptest! {
    #![proptest_config(super::cases(100))]

    #[test]
    fn a_record_written_out_is_every_operation_played(pattern in pattern()) {
        prop_assume!(pattern.length() <= LONGEST);
        let piece = only_piece(&pattern.text());
        agrees(&piece, 1);
    }
}

/// A record that no memory should hold is handed on in parts, with a section and two repeats open over the seams.
#[test]
fn a_record_in_parts_is_the_same() {
    let work: String = (0..5_000).map(|row| format!("        rows 2 both knit, size {}\n", 1 + row % 9)).collect();
    let text = format!(
        "machine club {{ needles 20 each side }}\nyarn slate {{}}\npiece \"P\" {{\n    in work front L5-R5, back L5-R4\n    \
         thread slate\n    cast on zigzag\n    section \"Body\" {{\n    repeat 3 times {{\n    repeat 1 times {{\n{work}    \
         increase back 1 at right\n    }}\n    row both knit\n    }}\n    }}\n    onto waste yarn both\n}}\n"
    );
    let checked = wale::check("a.wale", &text, &NoLibrary);
    let program = checked.programs.into_iter().next().expect("it can be read");
    agrees(&program.pieces[0], 2);
}

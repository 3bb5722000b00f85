//! What a rule keeps in mind of what was done before, where the beds do not show it any more.

use crate::beds::{Operation, Outcome};
use crate::plan::program::Promise;
use crate::play::Moment;

/// What a rule keeps in mind: a value of the rule's file, which stands beside the rule in the table of rules. From there it
/// is told of each operation, and with it the rule's `look` is asked at each, before it is told. All minds count when
/// passes of a repeat are compared, so none may count rows: the repeat would never close.
pub(crate) trait Mindful: Clone + Default + PartialEq {
    /// Takes down what was done. It is told of every row, so what is cheap and says no comes first.
    fn after(&mut self, moment: &Moment<'_>);

    /// Takes down that a promise was reached.
    fn promised(&mut self, _: &Promise) {}
}

/// Whether these are the first loops on the beds, or loops that a row of the carriage made: then the yarn between the beds
/// runs as they stand.
pub(crate) fn casts_on_anew(moment: &Moment<'_>) -> bool {
    let Outcome::Handled(handled) = moment.outcome else { return false };
    let casts_on = matches!(moment.operation, Operation::CastOn(..) | Operation::NewLoops(_));
    casts_on && (handled.by_carriage || handled.made.len() == moment.state.ledger.on_needles)
}

#[cfg(test)]
fn piece(lines: &str) -> String {
    format!("yarn slate {{}}\npiece \"P\" {{\nin work front L3-R3, back L3-R2\nthread slate\n{lines}\n}}\n")
}

/// What is in mind when a pattern has been played to its end.
#[cfg(test)]
pub(crate) fn at_the_end_of<M: Mindful>(lines: &str) -> M {
    use crate::play::{Flow, Manner, Watcher, play};

    struct Told<M>(M);

    impl<M: Mindful> Watcher for Told<M> {
        fn did(&mut self, moment: &Moment<'_>) -> Flow {
            self.0.after(moment);
            Flow::Continue(())
        }
    }

    let text = piece(lines);
    let checked = crate::check("a.wale", &text, &crate::source::NoLibrary);
    let mut told = Told(M::default());
    for piece in checked.programs.iter().flat_map(|program| &program.pieces) {
        play(piece, Manner::EVERY, &mut told);
    }
    told.0
}

#[cfg(test)]
mod tests {
    use crate::play::Manner;
    use crate::rules::check_piece_in;

    /// The rules that speak when repeats are counted; the same as when they are played.
    fn found(lines: &str) -> Vec<&'static str> {
        let text = super::piece(lines);
        let checked = crate::check("a.wale", &text, &crate::source::NoLibrary);
        let pieces = || checked.programs.iter().flat_map(|program| &program.pieces);
        let played = Manner { skip: false, from_memory: false, ..Manner::CHECK };
        let [counted, played] = [Manner::CHECK, played].map(|manner| {
            pieces()
                .flat_map(|piece| check_piece_in(piece, manner))
                .map(|finding| finding.rule.name)
                .collect::<Vec<_>>()
        });
        assert_eq!(counted, played, "{text}");
        counted
    }

    /// The beds are as they were after each pass, but what was done with them is not.
    #[test]
    fn passes_differ_where_what_is_kept_in_mind_does() {
        let tubular = |times: u32| {
            found(&format!(
                "cast on zigzag\nrepeat {times} times {{\nrow front knit\nrow back knit\n}}\nrow front knit\nrow both knit\nbind off both"
            ))
        };
        assert_eq!(tubular(3), ["tubular-floats"]);
        assert_eq!(tubular(30), [""; 0], "so many rows are no hem");
    }

    /// The inner repeat is taken as done in the second pass of the outer one, and ends with stitches just carried.
    #[test]
    fn a_repeat_taken_as_done_leaves_in_mind_what_it_did() {
        let loose = "knit, loosened 1";
        let over = format!("row back {loose}\ntransfer back to front\nrow front {loose}\ntransfer front to back");
        let passes = format!("repeat 3 times {{\nrows 2 back {loose}\nrepeat 2 times {{\n{over}\n}}\n}}");
        let begun = "out of work front R3\ncast on wound back\ngaiting opposite";
        let end = |row| format!("{begun}\n{passes}\n{row}transfer back to front\nrow front knit\nbind off front");
        assert_eq!(found(&end("")), ["there-and-back"]);
        assert_eq!(found(&end("row back knit, loosened 1\n")), [""; 0]);
    }
}

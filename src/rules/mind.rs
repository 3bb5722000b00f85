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

    let text = format!("yarn slate {{}}\npiece \"P\" {{\nin work front L3-R3, back L3-R2\nthread slate\n{lines}\n}}\n");
    let checked = crate::check("a.wale", &text, &crate::source::NoLibrary);
    let mut told = Told(M::default());
    for piece in checked.programs.iter().flat_map(|program| &program.pieces) {
        play(piece, Manner::EVERY, &mut told);
    }
    told.0
}

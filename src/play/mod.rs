//! Plays a program on the model of the beds, operation by operation, and tells a [`Watcher`] what happens.
//!
//! A repeat is not always played to its end. Once the beds are in a state from which they have gone on before, the
//! rest of the passes is known: it is counted, not played. That is why a repeat of a billion passes costs as much as
//! one of four, and why checking takes no more memory for more rows.

mod budget;
mod repeat;
mod waste;

use crate::beds::{Machine, Operation, Outcome, State};
pub use crate::plan::program::Speech;
use crate::plan::program::{Piece, Promise, Repeat, Step, StepId, StepKind, Steps, Unknown};
use crate::source::Span;
pub use budget::Budget;
use std::ops::ControlFlow;
pub(crate) use waste::hand_over;

/// One operation that was done, with everything a watcher may want to know about it.
#[derive(Debug, Clone, Copy)]
pub struct Moment<'a> {
    /// The machine.
    pub machine: &'a Machine,
    /// All steps of the piece.
    pub steps: &'a Steps,
    /// The step it is.
    pub step: StepId,
    /// What was done.
    pub operation: &'a Operation,
    /// What came of it.
    pub outcome: &'a Outcome,
    /// The beds afterwards.
    pub state: &'a State,
    /// The statement it comes from.
    pub span: Span,
    /// In which pass of the innermost repeat, from 1, and of how many.
    pub pass: Option<(u64, u64)>,
}

/// A block that begins or ends.
#[derive(Debug, Clone, Copy)]
pub enum Block<'a> {
    /// A section, by its title.
    Section(&'a str),
    /// Steps in which a rule is silenced: the rule, the reason, and the statement.
    Allow(&'a str, &'a str, Span),
    /// A repeat or the use of a stitch.
    Repeat(&'a Repeat, Span),
}

/// Passes that were counted and not played.
#[derive(Debug, Clone, Copy)]
pub struct Skipped<'a> {
    /// The repeat.
    pub repeat: &'a Repeat,
    /// How many of the last passes played make up what comes again and again.
    pub period: u64,
    /// How many times more that comes.
    pub times: u64,
    /// The beds at the start of that period.
    pub from: &'a State,
    /// The beds at its end.
    pub to: &'a State,
}

/// Why the play of a piece ended before the piece did.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stop {
    /// A needle carries so many loops that no machine would go on.
    Jammed,
    /// More operations than the player may do.
    TooLong,
    /// A line that changes the beds could not be understood.
    NotUnderstood,
    /// The row asked for has been reached.
    RowReached,
    /// The watcher has had enough (its reader has gone away).
    Enough,
}

/// How a play ended.
#[derive(Debug)]
pub struct End {
    /// The beds.
    pub state: State,
    /// Why it ended before the piece did, if it did.
    pub stop: Option<Stop>,
    /// How many operations were done.
    pub operations: u64,
}

/// Whether to go on.
pub type Flow = ControlFlow<Stop>;

/// Follows a piece as it is played. Every method does nothing unless a watcher wants it.
///
/// `Mind` is what the watcher goes by besides the beds. It must not tell passes apart that go on alike: who counts rows in
/// it hinders every repeat from being counted.
pub trait Watcher<Mind = ()> {
    /// An operation was done.
    fn did(&mut self, _moment: &Moment<'_>) -> Flow {
        Flow::Continue(())
    }
    /// Something is said in the pattern.
    fn said(&mut self, _speech: &Speech, _state: &State) {}
    /// A line about rows could not be understood: from here on their number and kind are not known.
    fn rows_unknown(&mut self) {}
    /// A promise is reached.
    fn promised(&mut self, _promise: &Promise, _span: Span, _state: &State, _pass: Option<(u64, u64)>) {}
    /// A block begins; the beds are as given.
    fn begins(&mut self, _block: &Block<'_>, _state: &State) {}
    /// A block ends.
    fn ends(&mut self, _block: &Block<'_>, _state: &State) {}
    /// A pass of a repeat begins; not called for a repeat of one row.
    fn pass_begins(&mut self, _repeat: &Repeat, _pass: u64, _state: &State) {}
    /// The first pass of a repeat was played; not called for a repeat of one row.
    fn first_pass_done(&mut self, _repeat: &Repeat, _span: Span, _before: &State, _after: &State) {}
    /// What the watcher goes by besides the beds: passes are counted, and a repeat is taken as done, only where both
    /// were the same before.
    fn mind(&self) -> Option<&Mind> {
        None
    }
    /// A repeat is taken as done, at the end of which the watcher went by that.
    fn minds(&mut self, _mind: &Mind) {}
    /// The repeat that ended last is remembered under that number, so that it need not be played again from the same
    /// state.
    fn remembered(&mut self, _number: u64) {}
    /// A repeat is taken as done that is remembered under that number. The beds are then as given but for the counting
    /// of rows.
    fn done_again(&mut self, _number: u64, _after: &State) {}
    /// Passes were counted and not played.
    fn skipped(&mut self, _skipped: &Skipped<'_>, _after: &State) {}
}

/// How to play.
#[derive(Debug, Clone, Copy)]
pub struct Manner {
    /// Whether passes that are known may be counted instead of played.
    pub skip: bool,
    /// Whether a repeat that was played before from the same state may be taken as done, without telling the watcher.
    pub from_memory: bool,
    /// The row after which to stop. It and the row before it are played and never counted.
    pub until_row: Option<u64>,
    /// The most operations to do.
    pub most_operations: u64,
}

impl Manner {
    /// To find everything that can be found, at the least cost.
    pub const CHECK: Self =
        Self { skip: true, from_memory: true, until_row: None, most_operations: Self::MOST_OPERATIONS };
    /// To tell what to do, with repeats said as repeats.
    pub const TELL: Self =
        Self { skip: true, from_memory: false, until_row: None, most_operations: Self::MOST_OPERATIONS };
    /// To show every single operation.
    pub const EVERY: Self = Self { skip: false, from_memory: false, until_row: None, most_operations: u64::MAX };

    /// Enough for any pattern a person could knit, all its pieces and sizes together: at two rows a minute, day and night,
    /// half a year of it. What comes again is counted and not done.
    pub const MOST_OPERATIONS: u64 = 500_000;
}

/// Plays a piece and gives the beds at the end and, if the play ended early, why. See [`play_counted`].
pub fn play<M, W>(piece: &Piece, manner: Manner, watcher: &mut W) -> (State, Option<Stop>)
where
    M: Clone + PartialEq,
    W: Watcher<M>,
{
    let End { state, stop, .. } = play_counted(piece, manner, watcher);
    (state, stop)
}

/// Plays a piece from an empty machine, beside which the stitches of earlier pieces wait that it picks up.
pub fn play_counted<M, W>(piece: &Piece, manner: Manner, watcher: &mut W) -> End
where
    M: Clone + PartialEq,
    W: Watcher<M>,
{
    #[cfg(test)]
    crate::counted::note(crate::counted::Work::Played);
    let mut player = Player {
        machine: &piece.machine,
        all: &piece.steps,
        manner,
        watcher,
        state: waste::beginning(piece),
        pass: None,
        operations: 0,
        met: repeat::Met::default(),
        memory: repeat::Memory::default(),
    };
    let flow = player.steps(&piece.steps);
    End { state: player.state, stop: flow.break_value(), operations: player.operations }
}

struct Player<'a, M, W> {
    machine: &'a Machine,
    all: &'a Steps,
    manner: Manner,
    watcher: &'a mut W,
    state: State,
    pass: Option<(u64, u64)>,
    operations: u64,
    met: repeat::Met,
    memory: repeat::Memory<M>,
}

impl<M: Clone + PartialEq, W: Watcher<M>> Player<'_, M, W> {
    fn steps(&mut self, steps: &Steps) -> Flow {
        steps.iter().try_for_each(|step| self.step(step))
    }

    fn step(&mut self, step: &Step) -> Flow {
        match &step.kind {
            StepKind::Do(operation) => self.operation(operation, step),
            StepKind::Repeat(repeat) => self.repeat(repeat, step.span),
            StepKind::Section(title, steps) => self.block(&Block::Section(title), steps),
            StepKind::Allow { rule, because, steps } => {
                self.memory.enter(steps);
                let flow = self.block(&Block::Allow(rule, because, step.span), steps);
                self.memory.leave();
                flow
            }
            StepKind::Say(speech) => self.say(speech),
            StepKind::Gap(Unknown::Beds) => Flow::Break(Stop::NotUnderstood),
            StepKind::Gap(Unknown::Rows) => {
                self.watcher.rows_unknown();
                Flow::Continue(())
            }
            StepKind::Expect(promise, span) => {
                self.met.promise(promise);
                self.watcher.promised(promise, *span, &self.state, self.pass);
                Flow::Continue(())
            }
        }
    }

    fn block(&mut self, block: &Block<'_>, steps: &Steps) -> Flow {
        self.watcher.begins(block, &self.state);
        self.steps(steps)?;
        self.watcher.ends(block, &self.state);
        Flow::Continue(())
    }

    fn say(&mut self, speech: &Speech) -> Flow {
        self.watcher.said(speech, &self.state);
        Flow::Continue(())
    }

    fn operation(&mut self, operation: &Operation, step: &Step) -> Flow {
        self.operations += 1;
        if self.operations > self.manner.most_operations {
            return Flow::Break(Stop::TooLong);
        }
        let rows = self.state.row;
        let outcome = self.state.apply(self.machine, operation);
        self.met.outcome(operation, &outcome);
        let moment = Moment {
            machine: self.machine,
            steps: self.all,
            step: step.id,
            operation,
            outcome: &outcome,
            state: &self.state,
            span: step.span,
            pass: self.pass,
        };
        self.watcher.did(&moment)?;
        if matches!(&outcome, Outcome::Row(done) if done.jammed) {
            return Flow::Break(Stop::Jammed);
        }
        if self.state.row > rows && self.manner.until_row.is_some_and(|until| self.state.row >= until) {
            return Flow::Break(Stop::RowReached);
        }
        Flow::Continue(())
    }
}

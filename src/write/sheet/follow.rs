//! Follows a piece as it is played and puts down what the sheet says of it.

use super::change::{self, Around};
use super::fold::{Frame, List};
use super::item::{Item, Kind, Mark};
use super::layout;
use super::needs::Needs;
use super::paper::Paper;
use super::remind::Reminder;
use super::row::RowText;
use crate::beds::{Both, Operation, Outcome, State};
use crate::plan::program::{Piece, Program, Promise, Repeat, Rounding};
use crate::play::{Block, Flow, Moment, Skipped, Speech, Stop, Watcher};
use crate::source::Span;
use crate::words;
use std::io;
use std::ops::ControlFlow;

/// Items held back at most, so that a pattern that never comes to the same twice does not fill the memory.
const MOST_HELD: usize = 20_000;
/// How many operations pass between two looks at how much is held.
const LOOK_EVERY: u32 = 4_096;

pub(super) struct Follower<'p, 'w> {
    paper: &'p mut Paper<'w>,
    program: &'p Program,
    piece: &'p Piece,
    /// What the head says, as far as the piece has been played.
    needs: Needs,
    /// Whether the head has been written.
    headed: bool,
    root: List,
    frames: Vec<Frame>,
    /// For each section and silenced block that is open, the reminders in force before it.
    scopes: Vec<usize>,
    /// Counts to be told before the next row.
    counts: Option<(Both<u64>, Mark)>,
    /// What was so before the operation.
    mark: Mark,
    racking: i32,
    threaded: bool,
    operations: u32,
    failed: Option<io::Error>,
}

impl<'p, 'w> Follower<'p, 'w> {
    pub(super) fn new(paper: &'p mut Paper<'w>, program: &'p Program, piece: &'p Piece) -> Self {
        Self {
            paper,
            program,
            piece,
            needs: Needs::default(),
            headed: false,
            root: List::default(),
            frames: Vec::new(),
            scopes: Vec::new(),
            counts: None,
            mark: Mark::of(&State::default()),
            racking: 0,
            threaded: false,
            operations: 0,
            failed: None,
        }
    }

    /// Writes down what is left, when the play has ended so.
    ///
    /// # Errors
    /// Those of the paper, also earlier ones.
    pub(super) fn finish(mut self, end: &State, stop: Option<Stop>) -> io::Result<()> {
        self.tell_counts();
        // A check takes repeats as done, and so comes further with as many operations.
        if stop != Some(Stop::TooLong) {
            let needs = std::mem::take(&mut self.needs).ended(end);
            self.head(&needs);
        }
        self.spill();
        self.failed.map_or(Ok(()), Err)
    }

    fn list(&mut self) -> &mut List {
        self.frames.last_mut().map_or(&mut self.root, |frame| &mut frame.list)
    }

    fn push(&mut self, item: Item) {
        self.list().items.push(item);
    }

    fn tell_counts(&mut self) {
        if let Some((counts, mark)) = self.counts.take() {
            self.push(Item::Counts(counts, mark));
        }
    }

    fn row(&mut self, text: RowText, after: Mark) {
        self.tell_counts();
        let before = self.mark;
        let turns_from = self.frames.last().map_or(4, Frame::turns_from);
        self.list().row(text, before, after, turns_from);
    }

    /// Writes the head, if that has not been done.
    fn head(&mut self, needs: &Needs) {
        if !std::mem::replace(&mut self.headed, true) && self.failed.is_none() {
            self.failed = super::top(self.paper, self.program, self.piece, needs).err();
        }
    }

    /// Writes everything put down so far, from the innermost repeat outwards so that every reminder finds its rows.
    fn spill(&mut self) {
        if !self.headed {
            let needs = Needs::of(self.piece);
            self.head(&needs);
        }
        for depth in (0..self.frames.len()).rev() {
            let items = self.frames[depth].spill();
            match depth.checked_sub(1).and_then(|outer| self.frames.get_mut(outer)) {
                Some(outer) => outer.list.extend(items),
                None => self.root.extend(items),
            }
        }
        let items = self.root.spill();
        if self.failed.is_none() {
            self.failed = layout::write(self.paper, &items).err();
        }
    }

    fn spill_when_full(&mut self) -> Flow {
        self.operations += 1;
        if self.operations.is_multiple_of(LOOK_EVERY) {
            let held = self.root.items.len() + self.frames.iter().map(Frame::size).sum::<usize>();
            if held > MOST_HELD {
                self.spill();
            }
        }
        if self.failed.is_some() { ControlFlow::Break(Stop::Enough) } else { ControlFlow::Continue(()) }
    }
}

impl Watcher for Follower<'_, '_> {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        if !self.headed {
            self.needs.gather(moment);
        }
        let after = Mark::of(moment.state);
        match (moment.operation, moment.outcome) {
            (Operation::Row(row), Outcome::Row(done)) => self.row(RowText::of_row(row, done, moment.state), after),
            (Operation::CastOn(how, _), Outcome::Handled(handled)) if handled.by_carriage => {
                self.row(RowText::of_cast_on(*how, handled), after);
                self.counts = Some((change::stitch_counts(moment.state), after));
            }
            (_, Outcome::FreePass) => {
                self.tell_counts();
                let before = self.mark;
                self.push(Item::FreePass { before, after });
            }
            _ => {
                let around = Around { yarns: &self.program.yarns, racking: self.racking, threaded: self.threaded };
                let (lines, counted) = change::told(moment, &around);
                for line in lines {
                    self.push(Item::Say(Kind::Change, line, after));
                }
                if counted {
                    self.counts = Some((change::stitch_counts(moment.state), after));
                }
            }
        }
        self.mark = after;
        self.racking = moment.state.racking;
        self.threaded = moment.state.yarn.is_some();
        self.spill_when_full()
    }

    fn said(&mut self, speech: &Speech, state: &State) {
        self.tell_counts();
        let mark = Mark::of(state);
        if let Speech::Remind { every, text } = speech {
            let reminder = Reminder { text: text.clone(), every: (*every).max(1), said_at: state.row };
            self.list().reminders.push(reminder);
        }
        self.push(Item::Say(Kind::Note, speech_in_words(speech), mark));
    }

    fn promised(&mut self, promise: &Promise, _span: Span, state: &State, _pass: Option<(u64, u64)>) {
        self.tell_counts();
        let promise = promise_in_words(promise);
        match self.list().items.last_mut() {
            Some(Item::Say(Kind::Check, text, _)) => {
                text.pop();
                text.push_str(&format!(", {promise}."));
            }
            _ => self.push(Item::Say(Kind::Check, format!("Check: {promise}."), Mark::of(state))),
        }
    }

    fn begins(&mut self, block: &Block<'_>, _state: &State) {
        self.tell_counts();
        match block {
            Block::Section(title) => {
                self.push(Item::Section((*title).to_owned()));
                let kept = self.list().reminders.len();
                self.scopes.push(kept);
            }
            Block::Allow(..) => {
                let kept = self.list().reminders.len();
                self.scopes.push(kept);
            }
            Block::Repeat(repeat, _) => {
                let name = repeat.stitch.as_ref().map(|stitch| stitch.name.clone());
                self.frames.push(Frame::new(name, repeat.single_row));
            }
        }
    }

    fn ends(&mut self, block: &Block<'_>, state: &State) {
        let after = Mark::of(state);
        if let Block::Section(title) = block {
            // The line for the end of the section tells the counts.
            self.counts = None;
            self.push(Item::SectionEnd((*title).to_owned(), change::stitch_counts(state), after));
        }
        self.tell_counts();
        match block {
            Block::Section(_) | Block::Allow(..) => {
                let kept = self.scopes.pop().unwrap_or(0);
                self.list().end_reminders(kept);
            }
            Block::Repeat(..) => {
                if let Some(frame) = self.frames.pop() {
                    let items = frame.close(after);
                    self.list().extend(items);
                }
            }
        }
    }

    fn pass_begins(&mut self, _repeat: &Repeat, _pass: u64, state: &State) {
        self.tell_counts();
        let mark = Mark::of(state);
        if let Some(frame) = self.frames.last_mut() {
            frame.pass_ends(mark);
            frame.pass_begins(mark);
        }
    }

    fn skipped(&mut self, skipped: &Skipped<'_>, after: &State) {
        self.tell_counts();
        self.mark = Mark::of(after);
        if let Some(frame) = self.frames.last_mut() {
            frame.skipped(skipped, Mark::of(after));
        }
    }
}

/// What is said to the knitter, in one line.
pub(super) fn speech_in_words(speech: &Speech) -> String {
    match speech {
        Speech::Words(word, text) => format!("{}: {text}", word.heading()),
        Speech::Remind { every, text } => format!("From here on, {}: {text}", words::every(*every)),
        Speech::Rounded(rounding) => rounded(rounding),
    }
}

/// How a length became rows.
fn rounded(rounding: &Rounding) -> String {
    let rows = words::total_of(rounding.rows, "row", "rows");
    if rounding.difference.is_empty() {
        return format!("Length: {} is {rows} exactly.", rounding.wish);
    }
    format!("Length: {} would be {} rows. Work {rows}: {}.", rounding.wish, rounding.exact, rounding.difference)
}

pub(super) fn promise_in_words(promise: &Promise) -> String {
    match promise {
        Promise::Stitches { count, front, back } => {
            let beds = match (front, back) {
                (true, true) => "both beds together",
                _ => words::beds(&Both { front: *front, back: *back }),
            };
            format!("{} on {beds}", words::total_of(*count, "stitch", "stitches"))
        }
        Promise::Carriage(side) => format!("carriage on the {side}"),
        Promise::Counter(counter) => format!("counter {counter}"),
        Promise::Gaiting(gaiting) => format!("gaiting {gaiting}"),
        Promise::Racking(place) => format!("racking at {}", words::racking(*place)),
    }
}

//! What made the last row, where it stands, and what was done since.

use crate::beds::{Outcome, State};
use crate::clean;
use crate::plan::program::Repeat;
use crate::play::{Block, Flow, Moment, Watcher};
use crate::source::Span;

/// A row that was reached.
#[derive(Debug)]
pub(super) struct Reached {
    /// The beds after it.
    pub(super) state: State,
    /// The statement that made it.
    pub(super) made: Span,
    /// The sections it stands in, the outermost first.
    pub(super) sections: Vec<String>,
    /// The passes of the repeats it stands in, in words, the innermost first. A repeat of one pass says nothing.
    pub(super) passes: Vec<String>,
}

/// Follows a piece to a row and on to what comes after it.
#[derive(Debug, Default)]
pub(super) struct Follower {
    wanted: u64,
    /// The row that is wanted, once it has been reached.
    pub(super) reached: Option<Reached>,
    row: u64,
    /// The statement that made the last row.
    pub(super) last_row: Option<Span>,
    /// The statements between the last row and the one before it, each once.
    pub(super) before_the_last_row: Vec<Span>,
    /// The statements since the last row, each once.
    pub(super) since_the_last_row: Vec<Span>,
    sections: Vec<String>,
    repeats: Vec<Passing>,
}

/// An open repeat.
#[derive(Debug)]
struct Passing {
    /// The stitch that is worked; none for other repeats.
    stitch: Option<String>,
    is_rows: bool,
    pass: u64,
    of: u64,
}

impl Follower {
    /// Statements kept between two rows: enough to see what comes, and the pattern has the rest.
    const MOST: usize = 12;

    /// Follows to that row of the piece.
    pub(super) fn to(row: u64) -> Self {
        Self { wanted: row, ..Self::default() }
    }

    fn passes(&self) -> Vec<String> {
        let repeats = self.repeats.iter().rev().filter(|repeat| repeat.of > 1);
        repeats
            .map(|Passing { stitch, is_rows, pass, of }| match stitch {
                Some(name) => format!("pass {pass} of {of} of the stitch {}", clean::line(name)),
                None if *is_rows => format!("row {pass} of {of} of that line"),
                None => format!("pass {pass} of {of} of the repeat"),
            })
            .collect()
    }

    fn now_in_pass(&mut self, pass: u64) {
        if let Some(innermost) = self.repeats.last_mut() {
            innermost.pass = pass;
        }
    }
}

impl Watcher for Follower {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        if let Some((pass, _)) = moment.pass {
            self.now_in_pass(pass);
        }
        if moment.state.row > self.row {
            self.row = moment.state.row;
            self.last_row = Some(moment.span);
            self.before_the_last_row = std::mem::take(&mut self.since_the_last_row);
            let jammed = matches!(moment.outcome, Outcome::Row(done) if done.jammed);
            if self.row >= self.wanted && self.reached.is_none() && !jammed {
                self.reached = Some(Reached {
                    state: moment.state.clone(),
                    made: moment.span,
                    sections: self.sections.clone(),
                    passes: self.passes(),
                });
            }
        } else if self.since_the_last_row.len() < Self::MOST && !self.since_the_last_row.contains(&moment.span) {
            self.since_the_last_row.push(moment.span);
        }
        Flow::Continue(())
    }

    fn begins(&mut self, block: &Block<'_>, _: &State) {
        match block {
            Block::Section(title) => self.sections.push((*title).to_owned()),
            Block::Repeat(repeat, _) => self.repeats.push(Passing {
                stitch: repeat.stitch.as_ref().map(|stitch| stitch.name.clone()),
                is_rows: repeat.single_row,
                pass: 1,
                of: repeat.times,
            }),
            Block::Allow(..) => {}
        }
    }

    fn ends(&mut self, block: &Block<'_>, _: &State) {
        match block {
            Block::Section(_) => {
                self.sections.pop();
            }
            Block::Repeat(..) => {
                self.repeats.pop();
            }
            Block::Allow(..) => {}
        }
    }

    fn pass_begins(&mut self, _: &Repeat, pass: u64, _: &State) {
        self.now_in_pass(pass);
    }

    // What stood between the rows of the passes that were counted stands between those that were played.
    fn skipped(&mut self, _: &crate::play::Skipped<'_>, after: &State) {
        self.row = after.row;
    }
}

//! Finds a row in the record of what was knitted: what made it, where it stands, and what was done around it.

use crate::beds::Outcome;
use crate::clean;
use crate::knitted::{Deed, Entry, Heading, Passes, Repeated, Stood};
use crate::source::Span;

/// A row that was reached.
#[derive(Debug)]
pub(super) struct Reached {
    /// The statement that made it.
    pub(super) made: Span,
    /// The sections it stands in, the outermost first.
    pub(super) sections: Vec<String>,
    /// The passes of the repeats it stands in, in words, the innermost first. A repeat of one pass says nothing.
    pub(super) passes: Vec<String>,
}

/// Reads a record up to a row and on to what comes after it.
#[derive(Debug, Default)]
pub(super) struct Finder {
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
}

/// What stands around an entry.
#[derive(Clone, Copy)]
enum Around<'r> {
    Nothing,
    Section(&'r str, &'r Around<'r>),
    Pass(&'r Repeated, u64, &'r Around<'r>),
}

impl Finder {
    /// Statements kept between two rows: enough to see what comes, and the pattern has the rest.
    const MOST: usize = 12;

    /// Finds that row of the piece.
    pub(super) fn of(row: u64) -> Self {
        Self { wanted: row, ..Self::default() }
    }

    /// Reads a part of the record.
    pub(super) fn add(&mut self, entries: &[Entry]) {
        self.entries(entries, Around::Nothing);
    }

    fn entries(&mut self, entries: &[Entry], around: Around<'_>) {
        for entry in entries {
            match entry {
                Entry::Did(deed, after) => self.did(deed, after, around),
                Entry::Block(block) => match &block.heading {
                    Heading::Section(title) => self.entries(&block.entries, Around::Section(title, &around)),
                    Heading::Allow => self.entries(&block.entries, around),
                },
                Entry::Repeated(repeated) => {
                    for passes in &repeated.passes {
                        match passes {
                            Passes::Played(pass) => {
                                self.entries(&pass.entries, Around::Pass(repeated, pass.number, &around));
                            }
                            // What stood between the rows of these stands between those that were played.
                            Passes::Counted { after, .. } => self.row = after.row,
                        }
                    }
                }
                Entry::AsBefore(..) | Entry::Said(_) | Entry::Promised(..) => {}
            }
        }
    }

    fn did(&mut self, deed: &Deed, after: &Stood, around: Around<'_>) {
        if after.row > self.row {
            self.row = after.row;
            self.last_row = Some(deed.span);
            self.before_the_last_row = std::mem::take(&mut self.since_the_last_row);
            let jammed = matches!(&deed.outcome, Outcome::Row(done) if done.jammed);
            if self.row >= self.wanted && self.reached.is_none() && !jammed {
                self.reached = Some(reached(deed.span, around));
            }
        } else if self.since_the_last_row.len() < Self::MOST && !self.since_the_last_row.contains(&deed.span) {
            self.since_the_last_row.push(deed.span);
        }
    }
}

fn reached(made: Span, around: Around<'_>) -> Reached {
    let (mut sections, mut passes) = (Vec::new(), Vec::new());
    let mut innermost = &around;
    loop {
        innermost = match innermost {
            Around::Nothing => break,
            Around::Section(title, outer) => {
                sections.push((*title).to_owned());
                outer
            }
            Around::Pass(repeated, number, outer) => {
                passes.extend(pass(repeated, *number));
                outer
            }
        };
    }
    sections.reverse();
    Reached { made, sections, passes }
}

/// `pass 3 of 20 of the repeat`; none of one.
fn pass(repeated: &Repeated, number: u64) -> Option<String> {
    let of = repeated.times;
    let words = match &repeated.stitch {
        Some(name) => format!("pass {number} of {of} of the stitch {}", clean::line(name)),
        None if repeated.single_row => format!("row {number} of {of} of that line"),
        None => format!("pass {number} of {of} of the repeat"),
    };
    (of > 1).then_some(words)
}

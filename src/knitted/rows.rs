//! Which rows each line makes.

use super::{Asked, Entry, Passes, Stood, follow};
use crate::beds::Both;
use crate::plan::program::Piece;
use crate::play::Flow;
use crate::source::Span;
use std::collections::BTreeMap;

/// The rows that a line makes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rows {
    /// The first of them.
    pub first: u64,
    /// The last.
    pub last: u64,
    /// Stitches of each bed after the line has been done for the first time.
    pub stitches: Both<u64>,
}

/// Which rows each statement of a piece makes, when it is played without memory; statements that make none are left out. What is known of a piece that
/// cannot be played to its end goes as far as it was played.
#[must_use]
pub fn rows(piece: &Piece, asked: Asked<'_>) -> BTreeMap<Span, Rows> {
    let mut counting = Counting { now: Stood::default(), rows: BTreeMap::new() };
    follow(piece, asked, &mut |part| {
        counting.entries(&part.entries);
        Flow::Continue(())
    });
    counting.rows
}

struct Counting {
    now: Stood,
    rows: BTreeMap<Span, Rows>,
}

impl Counting {
    fn entries(&mut self, entries: &[Entry]) {
        for entry in entries {
            match entry {
                Entry::Did(deed, after) => {
                    let before = std::mem::replace(&mut self.now, after.clone()).row;
                    if after.row > before {
                        self.made(deed.span, before + 1, false);
                    }
                }
                Entry::Block(block) => self.entries(&block.entries),
                Entry::Repeated(repeated) => {
                    repeated.passes.iter().for_each(|passes| self.passes(passes));
                    if repeated.ends && self.now.row > repeated.before.row {
                        self.made(repeated.span, repeated.before.row + 1, true);
                    }
                }
                Entry::AsBefore(..) | Entry::Said(_) | Entry::Promised(..) => {}
            }
        }
    }

    fn passes(&mut self, passes: &Passes) {
        match passes {
            Passes::Played(pass) => self.entries(&pass.entries),
            Passes::Counted { times, from, to, after, .. } => {
                let further = times.saturating_mul(to.row.saturating_sub(from.row));
                for rows in self.rows.values_mut().filter(|rows| rows.last > from.row) {
                    rows.last = rows.last.saturating_add(further);
                }
                self.now = after.clone();
            }
        }
    }

    /// That line made the rows from `first` up to now; `again` says that it had made some of them before.
    fn made(&mut self, span: Span, first: u64, again: bool) {
        let (last, stitches) = (self.now.row, self.now.stitches());
        let rows = self.rows.entry(span).or_insert(Rows { first, last, stitches });
        // A line that makes several rows running is not done before the last of them.
        if again && rows.first == first {
            rows.stitches = stitches;
        }
        rows.first = rows.first.min(first);
        rows.last = rows.last.max(last);
    }
}

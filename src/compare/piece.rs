//! What changed in one piece, in one size.

use super::align::{Difference, Found, Part, differences};
use super::form::{About, AtRow, Change, Counted, How, InRepeat, Total};
use super::played::{Played, stitches};
use super::room::Room;
use super::rows;
use super::side::{Placed, Side, bare, equal_work, written};
use super::work::{NodeKind, Run, words_of};
use crate::source::Span;
use crate::words;

/// Sentences that are shown of something with many of them.
const MOST_LINES: usize = 6;
/// Lines that are named where only what they do has changed.
const MOST_OTHERWISE: usize = 8;

/// What changed in a piece.
#[derive(Debug, Default)]
pub(super) struct PieceChanges {
    pub(super) knitting: Vec<Placed>,
    pub(super) words: Vec<Placed>,
    pub(super) totals: Vec<Total>,
    /// Whether there was no room for some of what is worked otherwise.
    pub(super) left_out: bool,
}

/// What changed from one piece to another, in the size of that name.
pub(super) fn changes(old: &Side<'_>, new: &Side<'_>, size: Option<&str>, room: &Room) -> PieceChanges {
    let both = Both { old, new, size, room };
    let same = both.same();
    let mut changes = PieceChanges::default();
    if !same {
        changes.knitting = both.knitting();
    }
    changes.words = super::spoken::changes(old, new, size, same);
    changes.totals = both.totals();
    changes.left_out = room.has_left_out();
    changes
}

struct Both<'s, 'a> {
    old: &'s Side<'a>,
    new: &'s Side<'a>,
    size: Option<&'s str>,
    room: &'s Room,
}

impl<'a> Both<'_, 'a> {
    /// Whether the same is worked.
    fn same(&self) -> bool {
        if self.old.unread() != self.new.unread() {
            return false;
        }
        match (self.old.played.all, self.new.played.all) {
            (Some(old), Some(new)) => old == new,
            // What is written in the same way for the same machine ends in the same place, wherever that is.
            _ => {
                let machines = (&self.old.piece.machine, &self.new.piece.machine);
                self.old.work.body.sequence == self.new.work.body.sequence && machines.0 == machines.1
            }
        }
    }

    fn knitting(&self) -> Vec<Placed> {
        let (old, new) = (&self.old.work, &self.new.work);
        let alike = |one: usize, other: usize| match (self.old.met(one), self.new.met(other)) {
            (Some(one), Some(other)) => one.does_like(other),
            _ => false,
        };
        let found = differences(&old.body, &new.body, (&old.leaves, &new.leaves), &alike, self.room);
        let placed: Vec<Placed> = found.iter().map(|found| self.change(found)).collect();
        match placed.is_empty() {
            true if self.room.is_out() => vec![self.of_piece("it is worked otherwise; where was not looked at")],
            true => self.otherwise(),
            false => placed,
        }
    }

    /// Where nothing is written otherwise, but something does other work: because the machine is another, or because of
    /// how a selection comes out in later rows.
    fn otherwise(&self) -> Vec<Placed> {
        let mut placed = Vec::new();
        for (one, other) in equal_work(&self.old.work, &self.new.work) {
            let (Some(before), Some(after)) = (self.old.met(one), self.new.met(other)) else { continue };
            if before.all == after.all || placed.len() >= MOST_OTHERWISE {
                continue;
            }
            let called = self.new.work.leaves[other].called;
            let what = "the line is the same, and other work comes of it".to_owned();
            placed.push(self.of_leaves(bare(called.about, How::Changed, what), Some((one, 0)), Some((other, 0))));
        }
        if placed.is_empty() {
            let ended = self.old.played.all.is_some() && self.new.played.all.is_some();
            let what = if ended {
                "some rows of a repeat come out otherwise the later times"
            } else {
                "it cannot be played to its end, so nobody can tell whether the same comes of what is written otherwise"
            };
            placed.push(self.of_piece(what));
        }
        placed
    }

    /// Something that changed in the piece, nobody knows where.
    fn of_piece(&self, what: &str) -> Placed {
        let change = bare(About::Piece, How::Changed, what);
        let spans = (Some(self.old.piece.span), Some(self.new.piece.span));
        self.place(change, spans, (Vec::new(), Vec::new()))
    }

    fn place(
        &self,
        mut change: Change,
        spans: (Option<Span>, Option<Span>),
        text: (Vec<String>, Vec<String>),
    ) -> Placed {
        change.piece = Some(self.new.piece.title.clone());
        change.old = spans.0.map(|span| written(self.old.sources, span, text.0));
        change.new = spans.1.map(|span| written(self.new.sources, span, text.1));
        Placed { change, spans }
    }

    /// A change of operations, each with rows to be added to its own.
    fn of_leaves(&self, mut change: Change, old: Option<(usize, u64)>, new: Option<(usize, u64)>) -> Placed {
        let lines =
            |side: &Side<'_>, leaf: Option<(usize, u64)>| leaf.map_or_else(Vec::new, |(leaf, _)| side.lines(leaf));
        let text = (lines(self.old, old), lines(self.new, new));
        let span = |side: &Side<'_>, leaf: Option<(usize, u64)>| leaf.map(|(leaf, _)| side.work.leaves[leaf].span);
        let spans = (span(self.old, old), span(self.new, new));
        self.at(&mut change, old, new);
        self.place(change, spans, text)
    }

    /// Says in which row it is.
    fn at(&self, change: &mut Change, old: Option<(usize, u64)>, new: Option<(usize, u64)>) {
        let row = |side: &Side<'_>, leaf: Option<(usize, u64)>| {
            leaf.and_then(|(leaf, later)| side.met(leaf).map(|met| met.row.saturating_add(later)))
        };
        let is_row =
            |side: &Side<'_>, leaf: Option<(usize, u64)>| leaf.map(|(leaf, _)| side.work.leaves[leaf].rows > 0);
        let after = !is_row(self.new, new).or(is_row(self.old, old)).unwrap_or(false);
        let (old_row, new_row) = (row(self.old, old), row(self.new, new));
        if old_row.is_some() || new_row.is_some() {
            change.rows.push(AtRow { size: self.size.map(str::to_owned), after, old: old_row, new: new_row });
        }
        let section =
            |side: &Side<'_>, leaf: Option<(usize, u64)>| side.met(leaf?.0)?.section.as_deref().map(str::to_owned);
        change.section = section(self.new, new).or_else(|| section(self.old, old));
    }

    fn change(&self, found: &Found<'_>) -> Placed {
        let mut placed = match &found.difference {
            Difference::Gone(part) => self.alone(self.old, part, How::Removed),
            Difference::New(part) => self.alone(self.new, part, How::Added),
            Difference::Other { old, new } => {
                let (before, after) = (&self.old.work.leaves[old.0], &self.new.work.leaves[new.0]);
                let what = match (self.old.met(old.0), self.new.met(new.0)) {
                    (Some(one), Some(other))
                        if before.rows > 0 && before.kind == after.kind && one.told.sets.is_some() =>
                    {
                        rows::sentence(&one.told, &other.told)
                    }
                    _ => match (before.kind.is_some(), after.kind.is_some()) {
                        (true, false) => "this line is not understood now".to_owned(),
                        (false, true) => "this line is understood now".to_owned(),
                        _ => after.called.other.to_owned(),
                    },
                };
                let unread = before.kind.is_none() || after.kind.is_none();
                let change = bare(if unread { About::UnreadLine } else { after.called.about }, How::Changed, what);
                let mut placed = self.of_leaves(change, Some((old.0, old.1)), Some((new.0, new.1)));
                if new.2 > 1 {
                    placed.change.repeats.push(InRepeat { stitch: None, times: vec![new.2] });
                }
                placed
            }
            Difference::Times { old, new, counts } => self.times(old, new, *counts),
            Difference::Moved { old, new } => self.moved(old, new),
        };
        let outer = found.within.iter().map(|(_, run)| InRepeat { stitch: run.stitch.clone(), times: vec![run.times] });
        placed.change.repeats = outer.chain(std::mem::take(&mut placed.change.repeats)).collect();
        placed
    }

    /// Something that only one side has.
    fn alone(&self, side: &Side<'a>, part: &Part<'_>, how: How) -> Placed {
        let first = self.first_of(side, part);
        let leaf = first.map(|leaf| &side.work.leaves[leaf]);
        let (about, one) = match (&part.node.kind, leaf) {
            (NodeKind::Leaf(_), Some(leaf)) => (leaf.called.about, leaf.called.one.to_owned()),
            (NodeKind::Run(run), leaf) => {
                let about = leaf.filter(|_| run.single().is_some()).map_or(About::Repeat, |leaf| leaf.called.about);
                (about, repeat_words(run, part.node.rows))
            }
            (NodeKind::Leaf(_), None) => (About::Row, "a row".to_owned()),
        };
        let what = if how == How::Added { format!("new: {one}") } else { format!("gone: {one}") };
        let mut lines: Vec<String> = Vec::new();
        let mut left = 0;
        gather(part, &mut |leaf| {
            if lines.len() < MOST_LINES { lines.extend(side.lines(leaf)) } else { left += 1 }
        });
        if left > 0 {
            lines.push(format!("And {} more.", words::total_of(left, "line", "lines")));
        }
        let span = match (&part.node.kind, leaf) {
            (NodeKind::Run(run), _) => Some(run.span),
            (_, leaf) => leaf.map(|leaf| leaf.span),
        };
        let mut change = bare(about, how, what);
        let leaf = first.map(|leaf| (leaf, part.later));
        if how == How::Added {
            self.at(&mut change, None, leaf);
            self.place(change, (None, span), (Vec::new(), lines))
        } else {
            self.at(&mut change, leaf, None);
            self.place(change, (span, None), (lines, Vec::new()))
        }
    }

    /// Something that stands at another place.
    fn moved(&self, old: &Part<'_>, new: &Part<'_>) -> Placed {
        let (before, mut after) = (self.alone(self.old, old, How::Removed), self.alone(self.new, new, How::Added));
        let what = after.change.what.trim_start_matches("new: ").to_owned();
        after.change.how = How::Moved;
        after.change.what = format!("moved: {what}");
        after.change.old = before.change.old;
        after.spans.0 = before.spans.0;
        if let (Some(row), Some(was)) = (after.change.rows.first_mut(), before.change.rows.first()) {
            row.old = was.old;
        }
        after
    }

    fn first_of(&self, side: &Side<'_>, part: &Part<'_>) -> Option<usize> {
        side.first(part)
    }

    /// Whether a knitter would call it a repeat.
    fn is_called_repeat(&self, part: &Part<'_>) -> bool {
        let NodeKind::Run(run) = &part.node.kind else { return false };
        let words = words_of(self.new.sources, run.span);
        run.stitch.is_some() || ["repeat ", "follow "].iter().any(|word| words.starts_with(word))
    }

    fn times(&self, old: &Part<'_>, new: &Part<'_>, (before, after): (u64, u64)) -> Placed {
        let in_rows = (old.node.rows, new.node.rows);
        let said_in_rows = !self.is_called_repeat(new);
        let what = match &new.node.kind {
            NodeKind::Run(Run { stitch: Some(stitch), .. }) => {
                format!("`{stitch}` is worked {} instead of {}", words::times(after), words::times(before))
            }
            kind => {
                let run = |kind: &NodeKind| match kind {
                    NodeKind::Run(run) => Some(run.single().is_some()),
                    NodeKind::Leaf(_) => None,
                };
                let single = run(kind).or_else(|| run(&old.node.kind)).unwrap_or(true);
                let rows = old.node.rows == before && new.node.rows == after;
                match (single, rows) {
                    (true, true) => {
                        format!("{} instead of {}", words::total_of(after, "row", "rows"), words::total(before))
                    }
                    (true, false) => format!("done {} instead of {}", words::times(after), words::times(before)),
                    _ if in_rows.0 != in_rows.1 && !self.is_called_repeat(new) => {
                        format!("{} instead of {}", words::total_of(in_rows.1, "row", "rows"), words::total(in_rows.0))
                    }
                    _ => format!("this repeat is worked {} instead of {}", words::times(after), words::times(before)),
                }
            }
        };
        let rows = if said_in_rows || in_rows == (before, after) || in_rows.0 == in_rows.1 {
            String::new()
        } else {
            format!(", which is {} instead of {}", words::total_of(in_rows.1, "row", "rows"), words::total(in_rows.0))
        };
        let mut change = bare(About::Repeat, How::Changed, what + &rows);
        let leaf = |side: &Side<'_>, part: &Part<'_>| side.first(part).map(|leaf| (leaf, part.later));
        let (one, other) = (leaf(self.old, old), leaf(self.new, new));
        self.at(&mut change, one, other);
        let span = |side: &Side<'_>, part: &Part<'_>, leaf: Option<(usize, u64)>| match &part.node.kind {
            NodeKind::Run(run) => Some(run.span),
            NodeKind::Leaf(_) => leaf.map(|(leaf, _)| side.work.leaves[leaf].span),
        };
        let spans = (span(self.old, old, one), span(self.new, new, other));
        let quoted = |side: &Side<'_>, span: Option<Span>| {
            span.map_or_else(Vec::new, |span| vec![format!("`{}`", words_of(side.sources, span))])
        };
        let text = (quoted(self.old, spans.0), quoted(self.new, spans.1));
        self.place(change, spans, text)
    }

    fn totals(&self) -> Vec<Total> {
        let counts = |played: &Played| {
            [
                (Counted::Rows, played.end.row),
                (Counted::Widest, played.widest.front + played.widest.back),
                (Counted::LastRow, played.last_row),
                (Counted::Left, stitches(&played.end)),
            ]
        };
        let (old, new) = (counts(&self.old.played), counts(&self.new.played));
        old.iter()
            .zip(&new)
            .filter(|((_, old), (_, new))| old != new)
            .map(|(&(what, old), &(_, new))| Total {
                piece: self.new.piece.title.clone(),
                size: self.size.map(str::to_owned),
                what,
                old,
                new,
            })
            .collect()
    }
}

/// `half-cardigan, worked 264 times (528 rows)`, `20 rows`, `a repeat of 6 times (12 rows)`.
fn repeat_words(run: &Run, rows: u64) -> String {
    let in_all = words::total_of(rows, "row", "rows");
    match (&run.stitch, run.single()) {
        (None, Some(_)) if rows == run.times => in_all,
        (Some(stitch), _) => format!("`{stitch}`, worked {} ({in_all})", words::times(run.times)),
        (None, _) => format!("a repeat, worked {} ({in_all})", words::times(run.times)),
    }
}

/// Goes through the operations of a part, each once.
fn gather(part: &Part<'_>, each: &mut impl FnMut(usize)) {
    let mut open = vec![part.node];
    let mut seen = std::collections::HashSet::new();
    while let Some(node) = open.pop() {
        match &node.kind {
            NodeKind::Leaf(leaf) => each(*leaf),
            NodeKind::Run(run) => {
                if seen.insert(std::sync::Arc::as_ptr(&run.body)) {
                    open.extend(run.body.nodes.iter().rev());
                }
            }
        }
    }
}

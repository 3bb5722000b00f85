//! One of two pieces that are laid side by side, and a change with its places: what both halves of the comparison of two
//! pieces, the work and what is said beside it, are made of.

use super::align::{Part, steps};
use super::form::{About, Change, How, Written};
use super::played::{Met, Played};
use super::work::{NodeKind, Token, Work, words_of};
use crate::plan::program::Piece;
use crate::source::{Sources, Span};
use crate::words;

/// One side: a piece, as written and as played.
pub(super) struct Side<'a> {
    pub(super) sources: &'a Sources,
    pub(super) piece: &'a Piece,
    pub(super) work: Work,
    pub(super) played: Played,
}

/// A change with the places that it comes from, by which it is known again in another size.
#[derive(Debug, Clone)]
pub(super) struct Placed {
    pub(super) change: Change,
    pub(super) spans: (Option<Span>, Option<Span>),
}

impl Side<'_> {
    pub(super) fn met(&self, leaf: usize) -> Option<&Met> {
        self.played.met.get(leaf).and_then(Option::as_ref)
    }

    /// An operation in the words of the sheet, or as it is written where the sheet has none.
    pub(super) fn lines(&self, leaf: usize) -> Vec<String> {
        let quoted = || vec![format!("`{}`", words_of(self.sources, self.work.leaves[leaf].span))];
        let Some(met) = self.met(leaf) else { return quoted() };
        let said = &met.told.said;
        let mut lines: Vec<String> = Vec::new();
        lines.extend(said.size.as_ref().map(|size| format!("For this row only, {size}.")));
        lines.extend(said.lines.iter().cloned());
        if lines.is_empty() { quoted() } else { lines }
    }

    /// An operation in one line.
    pub(super) fn in_one_line(&self, leaf: usize) -> String {
        let is_row = self.work.leaves[leaf].rows > 0;
        let title = self.met(leaf).and_then(|met| met.told.said.title).map(words::capital);
        let head = title.unwrap_or_else(|| if is_row { "Row".to_owned() } else { String::new() });
        let lines = self.lines(leaf).join(" ");
        if head.is_empty() { lines } else { format!("{head}. {lines}") }
    }

    /// The first operation of a part.
    pub(super) fn first(&self, part: &Part<'_>) -> Option<usize> {
        let mut node = part.node;
        loop {
            match &node.kind {
                NodeKind::Leaf(leaf) => return Some(*leaf),
                NodeKind::Run(run) => node = run.body.nodes.first()?,
            }
        }
    }

    /// The lines that no play could follow, in order.
    pub(super) fn unread(&self) -> Vec<u128> {
        self.work.leaves.iter().filter(|leaf| leaf.kind.is_none()).map(|leaf| leaf.key).collect()
    }
}

/// A change of that sort without any place.
pub(super) fn bare(about: About, how: How, what: impl Into<String>) -> Change {
    Change {
        about,
        how,
        what: what.into(),
        piece: None,
        section: None,
        repeats: Vec::new(),
        old: None,
        new: None,
        rows: Vec::new(),
        sizes: Vec::new(),
        other_numbers_in: Vec::new(),
    }
}

/// Something at its place in a text.
pub(super) fn written(sources: &Sources, span: Span, text: Vec<String>) -> Written {
    Written { file: sources.get(span.file).name().to_owned(), line: sources.position(span).line, text }
}

/// The operations that are written in both, in order.
pub(super) fn equal_work(old: &Work, new: &Work) -> Vec<(usize, usize)> {
    let work = |work: &Work| {
        let number = |token: &Token| if let Token::Work(number) = token { Some(*number) } else { None };
        work.tokens.iter().filter_map(number).collect::<Vec<_>>()
    };
    let (one, other) = (work(old), work(new));
    let keys = |work: &Work, numbers: &[usize]| numbers.iter().map(|&leaf| work.leaves[leaf].key).collect::<Vec<_>>();
    let steps = steps(&keys(old, &one), &keys(new, &other));
    let equal = steps.into_iter().filter(|(equal, ..)| *equal);
    equal.flat_map(|(_, there, here)| there.zip(here)).map(|(at, new_at)| (one[at], other[new_at])).collect()
}

//! What a text consists of, in order: statements with their blanks in order, braces, comments, and what cannot be read.

use super::super::DEEPEST_BLOCK;
use super::super::cut::{Part, cut};
use super::super::grammar::Rule;
use super::super::special;
use super::words;
use crate::source::{FileId, Span};

/// Which sort of thing an item is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sort {
    Statement,
    /// What cannot be read, byte for byte but for the blanks around it.
    Unread,
    Open,
    Close,
    Comment,
}

/// One thing of a text.
#[derive(Debug, Clone, Copy)]
pub(super) struct Item {
    pub(super) sort: Sort,
    /// How many lines end between the item before and this one.
    pub(super) line_ends: u32,
    start: u32,
    end: u32,
}

/// The items of one text.
#[derive(Debug, Default)]
pub(super) struct Items {
    /// All words, one item behind the other.
    words: String,
    pub(super) list: Vec<Item>,
    /// Whether braces that do not fit, or markers of two versions, leave it open what belongs where.
    pub(super) is_in_the_way: bool,
    /// How many statements there are.
    pub(super) statements: usize,
    /// How many parts cannot be read, and the place of the first.
    pub(super) unread: usize,
    pub(super) first_unread: Option<Span>,
}

impl Items {
    /// The items of a text.
    pub(super) fn of(file: FileId, text: &str) -> Self {
        let mut items = Self { words: String::with_capacity(text.len()), ..Self::default() };
        let (mut depth, mut line_ends) = (0_usize, 0);
        cut(file, text, |part| {
            line_ends += count_line_ends(part.gap);
            let sort = match part.token.rule {
                Rule::EOI => return,
                Rule::open => Sort::Open,
                Rule::close => Sort::Close,
                Rule::comment => Sort::Comment,
                Rule::bad | Rule::marker => Sort::Unread,
                _ => Sort::Statement,
            };
            match sort {
                Sort::Open => depth += 1,
                Sort::Close if depth == 0 => items.is_in_the_way = true,
                Sort::Close => depth -= 1,
                Sort::Unread => {
                    items.unread += 1;
                    let start = part.token.start;
                    items.first_unread.get_or_insert(part.piece.span(start, start + part.words().len() as u32));
                }
                Sort::Statement => items.statements += 1,
                Sort::Comment => {}
            }
            items.is_in_the_way |= depth > DEEPEST_BLOCK || is_marker(&part);
            let start = items.words.len() as u32;
            match sort {
                Sort::Statement => words::write(&mut items.words, part),
                _ => items.words.push_str(part.words()),
            }
            let end = items.words.len() as u32;
            items.list.push(Item { sort, line_ends: std::mem::take(&mut line_ends), start, end });
        });
        items.is_in_the_way |= depth > 0;
        items.pull_up();
        items
    }

    /// The words of an item.
    pub(super) fn words(&self, item: Item) -> &str {
        self.words.get(item.start as usize..item.end as usize).unwrap_or_default()
    }

    /// A brace that stands below its statement comes to it, before the comments that stand between them.
    fn pull_up(&mut self) {
        let mut owner = None;
        for at in 0..self.list.len() {
            match (self.list[at].sort, owner) {
                (Sort::Statement, _) => owner = Some(at),
                (Sort::Comment, _) => {}
                (Sort::Open, Some(of)) if at > of + 1 => {
                    self.list[of + 1..=at].rotate_right(1);
                    owner = None;
                }
                (Sort::Open | Sort::Close | Sort::Unread, _) => owner = None,
            }
        }
    }
}

/// Whether a part is a marker of two versions, and not just a line that looks like one.
fn is_marker(part: &Part<'_, '_>) -> bool {
    let marks = part.token.rule == Rule::marker && part.leads && part.indent == 0;
    marks && special::is_marker(part.piece.words(part.token))
}

/// How many lines end in some blanks: with a line feed, a carriage return, or both in that order.
fn count_line_ends(gap: &str) -> u32 {
    let mut before = 0;
    let mut count = 0;
    for byte in gap.bytes() {
        count += u32::from(byte == b'\r' || byte == b'\n' && before != b'\r');
        before = byte;
    }
    count
}

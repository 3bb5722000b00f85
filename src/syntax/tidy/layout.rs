//! The items of a text become lines.

use super::super::cut::BYTE_ORDER_MARK;
use super::super::special;
use super::items::{Item, Items, Sort};

/// How many blanks a block is indented.
const INDENT: usize = 4;
/// The most characters of a line that holds a whole block.
const WIDEST_BLOCK: usize = 80;

/// The tidy text with `\n` at the end of every line; none if it would be longer than `longest` bytes.
pub(super) fn write(items: &Items, longest: usize) -> Option<String> {
    let mut page = Page { items, text: String::new(), depth: 0, before: None, is_block_start: true };
    let mut at = 0;
    while at < items.list.len() {
        at = page.item(at);
        // One more byte for the last line end.
        if page.text.len() >= longest {
            return None;
        }
    }
    if !page.text.is_empty() {
        page.text.push('\n');
    }
    Some(page.text)
}

struct Page<'i> {
    items: &'i Items,
    text: String,
    depth: usize,
    /// What was written last.
    before: Option<Sort>,
    /// Whether nothing was written yet in the block, or in the text.
    is_block_start: bool,
}

impl Page<'_> {
    /// Writes the item at an index, and what stays on its line. Gives the index of the next one.
    fn item(&mut self, at: usize) -> usize {
        let Some(&item) = self.items.list.get(at) else { return at + 1 };
        match item.sort {
            Sort::Comment => {
                let trails = item.line_ends == 0 && !matches!(self.before, None | Some(Sort::Comment));
                if trails {
                    self.text.push_str("  ");
                } else {
                    self.begin_line(item);
                }
                self.text.push_str(self.items.words(item));
                self.is_block_start &= trails;
            }
            Sort::Close => {
                self.depth = self.depth.saturating_sub(1);
                self.is_block_start = true;
                self.begin_line(item);
                self.text.push('}');
                self.is_block_start = false;
            }
            Sort::Open => {
                self.begin_line(item);
                return self.open(at, at);
            }
            Sort::Statement | Sort::Unread => {
                self.begin_line(item);
                self.text.push_str(self.items.words(item));
                self.is_block_start = false;
                let next = self.items.list.get(at + 1);
                // What cannot be read is not touched, so no brace is brought to it either.
                if next.is_some_and(|next| {
                    next.sort == Sort::Open && (item.sort == Sort::Statement || next.line_ends == 0)
                }) {
                    self.text.push(' ');
                    return self.open(at, at + 1);
                }
            }
        }
        self.before = Some(item.sort);
        at + 1
    }

    /// Begins a line for an item, behind an empty one if there was one and it is not at an end of a block.
    fn begin_line(&mut self, item: Item) {
        if !self.text.is_empty() {
            self.text.push('\n');
            if item.line_ends > 1 && !self.is_block_start {
                self.text.push('\n');
            }
        }
        let depth = self.depth + usize::from(self.depth == 0 && item.sort == Sort::Unread && self.needs_indent(item));
        self.text.extend(std::iter::repeat_n(' ', depth * INDENT));
    }

    /// Whether words that cannot be read would be taken for something else at the start of a line: a marker of two
    /// versions, or at the start of the text the mark that is passed over there.
    fn needs_indent(&self, item: Item) -> bool {
        let words = self.items.words(item);
        let marks = words.bytes().take_while(|byte| b"<=>|".contains(byte)).count();
        marks >= 7 && special::is_marker(words) || self.text.is_empty() && words.starts_with(BYTE_ORDER_MARK)
    }

    /// Writes the brace at `open` that belongs to the item at `owner`, and the whole block if it stays on the line.
    fn open(&mut self, owner: usize, open: usize) -> usize {
        let list = &self.items.list;
        let stays = |at: usize, sort| list.get(at).is_some_and(|item| item.sort == sort && item.line_ends == 0);
        self.text.push('{');
        self.is_block_start = false;
        self.before = Some(Sort::Close);
        if owner == open || stays(open, Sort::Open) {
            if stays(open + 1, Sort::Close) {
                self.text.push('}');
                return open + 2;
            }
            if stays(open + 1, Sort::Statement) && stays(open + 2, Sort::Close) {
                let inside = list.get(open + 1).map_or("", |&item| self.items.words(item));
                let line = self.text.rsplit('\n').next().unwrap_or_default();
                if line.chars().count() + inside.chars().count() + "  }".len() <= WIDEST_BLOCK {
                    self.text.push(' ');
                    self.text.push_str(inside);
                    self.text.push_str(" }");
                    return open + 3;
                }
            }
        }
        self.depth += 1;
        self.is_block_start = true;
        self.before = Some(Sort::Open);
        open + 1
    }
}

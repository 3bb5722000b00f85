//! One statement with the blanks where they belong.

use super::super::cut::Part;
use super::super::grammar::Rule;

/// Adds a statement to `text`.
pub(super) fn write(text: &mut String, part: Part<'_, '_>) {
    let whole = part.token;
    let mut line = Line { text, due: false };
    if whole.rule == Rule::fabric_line {
        // A picture of the fabric: its blanks are the knitter's own.
        line.put(part.words(), true, true);
        return;
    }
    let between = |start, end| part.piece.text.get(start as usize..end as usize).unwrap_or_default();
    let mut reached = whole.start;
    for (at, &token) in part.inner.iter().enumerate() {
        if part.inner.get(at + 1).is_some_and(|next| next.start < token.end) {
            // It only holds others, which come behind it.
            continue;
        }
        line.put_all(between(reached, token.start));
        let words = part.piece.words(token);
        match token.rule {
            Rule::words => line.put(words, true, true),
            Rule::comma => line.put(words, false, true),
            Rule::bracket => line.put(words, true, false),
            Rule::unbracket => line.put(words, false, true),
            Rule::stroke => line.put(words, false, false),
            Rule::quantity | Rule::needles => line.put_numbers(words),
            _ => line.put_all(words),
        }
        reached = token.end;
    }
    line.put_all(between(reached, whole.end));
}

struct Line<'t> {
    text: &'t mut String,
    /// Whether a blank belongs between what is written and what comes.
    due: bool,
}

impl Line<'_> {
    /// Adds some words, which may ask for a blank before and behind them. Both neighbours must want the blank.
    fn put(&mut self, words: &str, before: bool, behind: bool) {
        if self.due && before {
            self.text.push(' ');
        }
        self.text.push_str(words);
        self.due = behind;
    }

    /// Adds words that stand between blanks.
    fn put_all(&mut self, words: &str) {
        words.split([' ', '\t']).filter(|word| !word.is_empty()).for_each(|word| self.put(word, true, true));
    }

    /// Adds a quantity or needles: `120 (160) cm`, `L12 (14, 16)-R12 (14, 16)`.
    fn put_numbers(&mut self, words: &str) {
        let mut rest = words;
        while let Some(first) = rest.chars().next() {
            let is_number = |c: char| c.is_ascii_digit() || c == '.';
            let end = match first {
                '(' | ')' | ',' | '-' | ' ' | '\t' => 1,
                first if is_number(first) => rest.find(|c| !is_number(c)).unwrap_or(rest.len()),
                _ => rest.find(|c: char| !c.is_alphabetic()).unwrap_or(rest.len()).max(first.len_utf8()),
            };
            let (word, behind) = rest.split_at(end);
            match word {
                " " | "\t" => {}
                "(" | "L" | "R" => self.put(word, true, false),
                ")" | "," => self.put(word, false, true),
                "-" => self.put(word, false, false),
                _ => self.put(word, true, true),
            }
            rest = behind;
        }
    }
}

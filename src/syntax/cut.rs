//! A text as the grammar cuts it: statements, braces, comments, and what cannot be read, one after the other. Whoever
//! reads a text, for its meaning or for its looks, reads it through here.

use super::grammar::{Grammar, Rule};
use super::piece::{Piece, Token};
use crate::source::FileId;
use pest::Parser as _;

/// How many bytes are parsed at a time, cut at the end of a line: no statement goes over a line, and a short list of
/// pairs stays in the processor's cache.
const BYTES_AT_A_TIME: usize = 12 << 10;

/// A mark at the very start that says "this is Unicode". Some editors put it there, and it means nothing.
pub(super) const BYTE_ORDER_MARK: char = '\u{feff}';

/// One part of a text.
#[derive(Debug, Clone, Copy)]
pub(super) struct Part<'t, 'p> {
    /// The lines that it stands in.
    pub(super) piece: Piece<'t>,
    /// A statement, a brace, a comment, a marker, a bad line, or the end of the piece.
    pub(super) token: Token,
    /// The tokens inside it, each before those that it holds.
    pub(super) inner: &'p [Token],
    /// What stands between it and the part before it on these lines: blanks and line ends.
    pub(super) gap: &'t str,
    /// Whether only blanks stand before it on its line.
    pub(super) leads: bool,
    /// The byte of its line at which it starts, if it leads it.
    pub(super) indent: usize,
}

impl<'t> Part<'t, '_> {
    /// Its words, without the blanks that what cannot be read may end in.
    pub(super) fn words(&self) -> &'t str {
        self.piece.words(self.token).trim_end_matches([' ', '\t'])
    }
}

/// Hands over every part of a text, in order.
pub(super) fn cut<'t>(file: FileId, text: &'t str, mut take: impl FnMut(Part<'t, '_>)) {
    let mut start = if text.starts_with(BYTE_ORDER_MARK) { BYTE_ORDER_MARK.len_utf8() } else { 0 };
    let mut tokens = Vec::new();
    while start < text.len() {
        let mut end = (start + BYTES_AT_A_TIME).min(text.len());
        end = text.as_bytes()[end..].iter().position(|&byte| byte == b'\n').map_or(text.len(), |at| end + at + 1);
        parts(Piece { file, text: &text[start..end], base: start as u32 }, &mut tokens, &mut take);
        start = end;
    }
}

fn parts<'t>(piece: Piece<'t>, tokens: &mut Vec<Token>, take: &mut impl FnMut(Part<'t, '_>)) {
    tokens.clear();
    match Grammar::parse(Rule::text, piece.text) {
        // The first pair is the whole text.
        Ok(pairs) => tokens.extend(pairs.flatten().skip(1).map(|pair| {
            let span = pair.as_span();
            Token { rule: pair.as_rule(), start: span.start() as u32, end: span.end() as u32 }
        })),
        // The grammar has a rule for whatever fits no other, so this is no way a text can go; still, if it did,
        // the lines would be explained and not lost.
        Err(_) => {
            let mut start = 0;
            for line in piece.text.split_inclusive('\n') {
                let end = start + line.len() as u32;
                tokens.push(Token { rule: Rule::bad, start, end });
                start = end;
            }
        }
    }
    let (mut at, mut line_start, mut looked_to, mut indent) = (0, 0, 0, 0);
    while let Some(&token) = tokens.get(at) {
        let behind = tokens[at + 1..].iter().take_while(|inner| inner.start < token.end).count();
        let inner = &tokens[at + 1..at + 1 + behind];
        at += 1 + behind;
        let gap = piece.text.get(looked_to as usize..token.start as usize).unwrap_or_default();
        let mut leads = looked_to == 0;
        if let Some(newline) = gap.rfind(['\n', '\r']) {
            line_start = looked_to + newline as u32 + 1;
            leads = true;
        }
        looked_to = token.end;
        if leads {
            indent = (token.start - line_start) as usize;
        }
        take(Part { piece, token, inner, gap, leads, indent });
    }
}

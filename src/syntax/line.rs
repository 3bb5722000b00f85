//! The pairs of one statement as a flat list that is read from left to right, and the findings of a text.

use super::MOST_FINDINGS;
use super::grammar::Rule;
use super::piece::{Piece, Token};
use super::tree::{Name, Text};
use crate::finding::{Finding, Fix};
use crate::source::Span;
use crate::syntax::rules;
use unicode_normalization::UnicodeNormalization as _;

/// The findings of a text, of which only so many are kept.
#[derive(Debug, Default)]
pub(super) struct Findings {
    list: Vec<Finding>,
    beyond: usize,
    first_beyond: Option<Span>,
}

impl Findings {
    /// Adds one, unless there are too many already.
    pub(super) fn push(&mut self, finding: Finding) {
        if self.full() {
            self.one_more(finding.at.span);
        } else {
            self.list.push(finding);
        }
    }

    /// How many there are, those that are not listed too.
    pub(super) fn count(&self) -> usize {
        self.list.len() + self.beyond
    }

    /// Whether one more would only be counted.
    pub(super) fn full(&self) -> bool {
        self.list.len() >= MOST_FINDINGS
    }

    /// Counts one that is not listed.
    pub(super) fn one_more(&mut self, span: Span) {
        self.beyond += 1;
        self.first_beyond.get_or_insert(span);
    }

    /// All of them in the order of the text, and a last one that says how many more there are.
    pub(super) fn finish(mut self) -> Vec<Finding> {
        self.list.sort_by_key(|finding| finding.at.span.start);
        if let Some(span) = self.first_beyond {
            let more = self.beyond;
            self.list.push(
                rules::TOO_MANY_FINDINGS
                    .finds(span, format!("{more} more places cannot be read"))
                    .marked("the first that is not listed")
                    .because(format!("Only the first {MOST_FINDINGS} are listed."))
                    .mend("Mend the first ones and check again; is this a pattern in wale at all?"),
            );
        }
        self.list
    }
}

/// The tokens of one statement, read from left to right.
pub(super) struct Line<'t, 'f> {
    /// The text they stand in.
    pub(super) piece: Piece<'t>,
    /// The whole statement.
    pub(super) whole: Token,
    tokens: &'f [Token],
    at: usize,
    last_end: u32,
    /// What is to be said on the way.
    pub(super) findings: &'f mut Findings,
}

impl<'t, 'f> Line<'t, 'f> {
    /// A reader at the first token inside the statement `whole`.
    pub(super) fn new(piece: Piece<'t>, whole: Token, tokens: &'f [Token], findings: &'f mut Findings) -> Self {
        Self { piece, whole, tokens, at: 0, last_end: whole.start, findings }
    }

    /// The rule of the next token.
    pub(super) fn peek(&self) -> Option<Rule> {
        self.tokens.get(self.at).map(|token| token.rule)
    }

    /// Where the next token starts; the end of the last one if there is none.
    pub(super) fn next_start(&self) -> u32 {
        self.tokens.get(self.at).map_or(self.last_end, |token| token.start)
    }

    /// Takes the next token.
    pub(super) fn next(&mut self) -> Option<Token> {
        let token = *self.tokens.get(self.at)?;
        self.at += 1;
        // These three only hold others, which come behind them in the list.
        if !matches!(token.rule, Rule::promise | Rule::argument | Rule::slope) {
            self.last_end = token.end;
        }
        Some(token)
    }

    /// Takes the next token if it is of that rule.
    pub(super) fn take(&mut self, rule: Rule) -> Option<Token> {
        if self.peek() == Some(rule) { self.next() } else { None }
    }

    /// Passes over the next token if it is of that rule; says whether it was.
    pub(super) fn pass(&mut self, rule: Rule) -> bool {
        self.take(rule).is_some()
    }

    /// The span from a byte of the piece to the end of what was taken last.
    pub(super) fn span_from(&self, start: u32) -> Span {
        self.piece.span(start, self.last_end.max(start))
    }

    /// A token's words.
    pub(super) fn words(&self, token: Token) -> &'t str {
        self.piece.words(token)
    }

    /// A name.
    pub(super) fn name(&mut self) -> Option<Name> {
        let token = self.take(Rule::name)?;
        Some(self.name_of(token))
    }

    /// A name that was taken already, in Unicode's normal form C. One that looks like a needle is reported.
    pub(super) fn name_of(&mut self, token: Token) -> Name {
        let text = self.words(token);
        let span = self.piece.span(token.start, token.end);
        if super::words::is_small_needle(text) {
            self.findings.push(small_needle(span, text));
        }
        if let Some(finding) = super::alphabet::in_name(self.piece, token) {
            self.findings.push(finding);
        }
        // The same letter can be written as one character or as a letter and a mark; for a reader it is one name.
        let text = if text.is_ascii() { text.into() } else { text.nfc().collect::<String>().into() };
        Name { text, span }
    }

    /// Words in quotation marks. A control character in them is reported.
    pub(super) fn text(&mut self) -> Option<Text> {
        let token = self.take(Rule::words)?;
        Some(self.text_of(token))
    }

    /// Words in quotation marks that were taken already.
    pub(super) fn text_of(&mut self, token: Token) -> Text {
        let words = self.words(token);
        let inner = words.strip_prefix('"').and_then(|rest| rest.strip_suffix('"')).unwrap_or(words);
        if inner.bytes().any(|byte| (byte < b' ' && byte != b'\t') || byte == 0x7f) {
            let finding = super::special::control_character(self.piece, token.start, words);
            self.findings.push(finding);
        }
        Text { text: inner.into(), span: self.piece.span(token.start, token.end) }
    }
}

/// A needle in small letters, `l30`, where a name stands.
fn small_needle(span: Span, text: &str) -> Finding {
    let large = text.to_uppercase();
    rules::CAPITAL_WORD
        .finds(span, format!("`{text}` is a needle written in small letters"))
        .marked(format!("write `{large}`"))
        .because(
            "Needles are named with a capital L or R and counted from the centre, so that `l1` is not read as `11`.",
        )
        .mend(format!("Write `{large}`; if it is meant as a name, choose one that does not look like a needle."))
        // Not to be made without asking: it may be the name of something, and then every use of it would change.
        .fix(Fix::new(format!("write `{large}`"), span, large))
}

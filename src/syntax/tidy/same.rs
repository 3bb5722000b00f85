//! Whether two texts say the same, word for word and comment for comment, and are found to have the same mistakes.

use super::super::cut::cut;
use super::super::grammar::Rule;
use super::super::read;
use crate::catalogue;
use crate::source::{FileId, Span};

/// What a text says, without its blanks.
#[derive(Debug, Default, PartialEq, Eq)]
struct Said {
    /// All words, of a statement and then again of each token in it.
    words: String,
    /// What they are, and where in `words` they end.
    tokens: Vec<(Rule, usize)>,
    /// The comments, each with a line end.
    comments: String,
}

impl Said {
    fn of(file: FileId, text: &str) -> Self {
        let mut said = Self::default();
        cut(file, text, |part| match part.token.rule {
            Rule::EOI => {}
            Rule::comment => {
                said.comments.push_str(part.words());
                said.comments.push('\n');
            }
            // A marker that is none is a line that cannot be read.
            Rule::bad | Rule::marker => said.add(Rule::bad, part.words()),
            rule => {
                said.add(rule, part.words());
                part.inner.iter().for_each(|&token| said.add(token.rule, part.piece.words(token)));
            }
        });
        said
    }

    fn add(&mut self, rule: Rule, words: &str) {
        match rule {
            // Their blanks count.
            Rule::words | Rule::bad | Rule::fabric_line => self.words.push_str(words),
            _ => self.words.extend(words.chars().filter(|character| !matches!(character, ' ' | '\t'))),
        }
        self.tokens.push((rule, self.words.len()));
    }
}

/// The findings of a text without their places: the rule, the sentence and the words that it is about, without blanks.
fn found(file: FileId, text: &str) -> Vec<(&'static catalogue::Rule, String)> {
    let words = |span: Span| text.get(span.range()).unwrap_or_default();
    let plain = |text: String| text.replace([' ', '\t'], "");
    let found = read(file, text).1;
    found
        .into_iter()
        .map(|finding| (finding.rule, plain(format!("{}\n{}", finding.what, words(finding.at.span)))))
        .collect()
}

/// Whether two texts differ in nothing but blanks and line ends, and in where a brace stands among comments.
pub(super) fn is_same(file: FileId, one: &str, other: &str) -> bool {
    Said::of(file, one) == Said::of(file, other) && found(file, one) == found(file, other)
}

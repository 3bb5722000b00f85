//! One look for every pattern: the same blanks, the same indentation, one statement a line. No word, number, sign or
//! comment is ever changed, only what stands between them.
//!
//! `words` writes one statement, `items` lists what a text consists of, `layout` writes the list down, and `same`
//! makes sure that nothing else was changed.

mod items;
mod layout;
mod same;
#[cfg(test)]
mod tests;
mod words;

use super::read;
use crate::catalogue::Rule;
use crate::finding::Finding;
use crate::source::{FileId, Sources, Span};
use crate::syntax::rules;
use items::Items;
use std::borrow::Cow;

/// A text in its tidy form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tidied<'t> {
    /// The tidy text; the one that was given where that was tidy already, or where there are findings.
    pub text: Cow<'t, str>,
    /// Why the text was left as it was: braces that do not fit, two versions side by side, more that cannot be read
    /// than can. Nearly always empty. What else is wrong with a text does not keep it from being tidied, and is not said
    /// here.
    pub findings: Vec<Finding>,
    /// How many parts of lines cannot be read. They were indented, and else left as they are.
    pub unread: usize,
}

impl Tidied<'_> {
    /// Whether the text was left as it was because nobody can tell which of its lines belong together.
    #[must_use]
    pub fn is_muddled(&self) -> bool {
        !self.findings.is_empty() && self.findings.iter().all(|finding| *finding.rule != rules::NOT_TIDIED)
    }
}

/// What is found by reading a text and keeps it from being tidied: nobody can tell which block a line belongs to.
const IN_THE_WAY: &[&Rule] = &[
    &rules::UNCLOSED_BRACE,
    &rules::STRAY_BRACE,
    &rules::MISSING_BLOCK,
    &rules::MERGE_MARKER,
    &rules::TOO_DEEP,
    &rules::TOO_MANY_FINDINGS,
];

/// Gives a text its tidy form.
///
/// - A statement has a line of its own, indented by four blanks for each block around it. `{` ends the line that opens
///   the block; `}` has a line of its own. A block that was written on one line with one plain statement in it stays
///   there if it is no wider than 80 characters; so does an empty one.
/// - One blank stands between words, none before a comma. A comment behind a statement stands two blanks behind it, any
///   other has its own line at the indentation of its neighbours.
/// - Of several empty lines one stays, and none at the start and the end of a block or of the text. The text ends with
///   one line end. Blanks at the end of a line go away, and so does a byte order mark.
/// - Where every line ends with a carriage return and a line feed, the tidy lines do so too; otherwise with a line feed.
/// - Words in quotation marks, comments, charts, fabrics and what cannot be read keep their inside.
///
/// Tidying a tidy text changes nothing. Takes time in proportion to the length of the text and of what comes out, which
/// is not longer than [`Sources::LONGEST_TEXT`]. `text` must not be longer than that either; `file` is for the places of
/// the findings.
#[must_use]
pub fn tidy(file: FileId, text: &str) -> Tidied<'_> {
    let items = Items::of(file, text);
    let unread = items.unread;
    let left = |findings| Tidied { text: Cow::Borrowed(text), findings, unread };
    let in_the_way = || {
        let mut findings = read(file, text).1;
        findings.retain(|finding| IN_THE_WAY.contains(&finding.rule));
        findings
    };
    if items.is_in_the_way {
        return left(in_the_way());
    }
    if let Some(first) = items.first_unread.filter(|_| unread > items.statements) {
        return left(vec![no_pattern(first, unread, items.statements)]);
    }
    let Some(mut tidied) = layout::write(&items, Sources::LONGEST_TEXT) else {
        return left(vec![too_long(file)]);
    };
    if ends_in_two(text) {
        tidied = tidied.replace('\n', "\r\n");
    }
    match proved(file, text, tidied) {
        Some(text) => Tidied { text, findings: Vec::new(), unread },
        None => {
            // Where a brace is missing, the indentation tells which lines belong together, and it would be lost.
            let findings = in_the_way();
            left(if findings.is_empty() { vec![changed(file)] } else { findings })
        }
    }
}

/// A tidy text, if it says the same as the one it was made from.
fn proved(file: FileId, text: &str, tidied: String) -> Option<Cow<'_, str>> {
    if tidied == text {
        return Some(Cow::Borrowed(text));
    }
    same::is_same(file, text, &tidied).then_some(Cow::Owned(tidied))
}

/// Whether every line ends with a carriage return and a line feed. Somebody, or their version control, wants it so.
fn ends_in_two(text: &str) -> bool {
    let (mut ends, mut both) = (0_usize, 0_usize);
    let mut before = 0;
    for byte in text.bytes() {
        ends += usize::from(byte == b'\n' || byte == b'\r');
        both += usize::from(byte == b'\n' && before == b'\r');
        before = byte;
    }
    both > 0 && ends == 2 * both
}

fn at_start(file: FileId, what: &str) -> Finding {
    rules::NOT_TIDIED.finds(Span { file, start: 0, end: 0 }, what).marked("it is as it was")
}

/// A program or a letter would lose its indentation.
fn no_pattern(first: Span, unread: usize, statements: usize) -> Finding {
    let can = match statements {
        0 => "none that can".to_owned(),
        more => format!("only {more} that can"),
    };
    rules::NOT_TIDIED.finds(first, "most of this text cannot be read")
        .marked("this is the first line that cannot")
        .because(format!(
            "{} and {can}. Perhaps it is no pattern, and another sort of text may need its blanks.",
            match unread {
                1 => "There is one line that cannot be read,".to_owned(),
                more => format!("There are {more} lines that cannot be read,"),
            }
        ))
        .mend("Check that it is the right file. If it is, mend its lines first: `wale check` says what is wrong with them.")
}

fn too_long(file: FileId) -> Finding {
    let most = Sources::LONGEST_TEXT >> 20;
    at_start(file, "this text would become too long to be read")
        .because(format!("With its blocks indented it would be longer than {most} MiB, the most that is read."))
        .mend("Divide it into several files, or put fewer blocks into one another.")
}

fn changed(file: FileId) -> Finding {
    at_start(file, "this text could not be tidied without changing what it says")
        .because(
            "The tidy text was read again, and it did not say the same, word for word. That is a fault of wale and \
             none of yours.",
        )
        .mend("Go on with the text as it is, and please tell the makers of wale, with the text if you can.")
}

//! Findings as a knitter reads them at the screen: the sentence, the line of the pattern with the place marked, where in
//! the knitting it happens, why, a picture of the beds, and what to do.

use super::excerpt::{Excerpt, LINES_AFTER_START, LINES_BEFORE_END};
use super::wrap::wrapped;
use super::{Colour, clean, severity_word, short};
use crate::finding::{Finding, Place, Severity};
use crate::source::Sources;
use codespan_reporting::diagnostic::{self, Diagnostic};
use codespan_reporting::term::{self, termcolor};
use std::io::{self, Write};

/// More second places than this are counted, not drawn.
const MOST_PLACES: usize = 6;
/// Columns between tab stops.
const TAB_WIDTH: usize = 4;

/// Writes all findings, each followed by an empty line.
///
/// # Errors
/// What `out` gives.
pub fn write(out: &mut impl Write, sources: &Sources, findings: &[Finding], colour: Colour) -> io::Result<()> {
    findings.iter().try_for_each(|finding| out.write_all(text(sources, finding, colour).as_bytes()))
}

/// One finding as lines of text with an empty one at the end. The spans must be of `sources`.
#[must_use]
pub fn text(sources: &Sources, finding: &Finding, colour: Colour) -> String {
    let spans: Vec<_> =
        std::iter::once(&finding.at).chain(finding.also.iter().take(MOST_PLACES)).map(|label| label.span).collect();
    let (excerpt, ranges) = Excerpt::new(sources, &spans);
    let head = severity_word(finding.severity).len() + finding.rule.len() + "[]: ".len();
    let mut diagnostic = Diagnostic::new(match finding.severity {
        Severity::Error => diagnostic::Severity::Error,
        Severity::Warning => diagnostic::Severity::Warning,
    })
    .with_code(finding.rule)
    .with_message(wrapped(&finding.what, head, 4))
    .with_notes(notes(finding));
    for (number, range) in ranges.into_iter().enumerate() {
        let (style, label) = match number.checked_sub(1) {
            None => (diagnostic::LabelStyle::Primary, &finding.at),
            Some(second) => (diagnostic::LabelStyle::Secondary, &finding.also[second]),
        };
        let label = diagnostic::Label::new(style, label.span.file, range).with_message(clean::line(&label.text));
        diagnostic = diagnostic.with_label(label);
    }
    drawn(&excerpt, &diagnostic, colour).unwrap_or_else(|| short::line(sources, finding) + "\n\n")
}

/// The finding drawn with its excerpt; none when the renderer refuses.
fn drawn(excerpt: &Excerpt<'_>, diagnostic: &Diagnostic<crate::source::FileId>, colour: Colour) -> Option<String> {
    let config = term::Config {
        tab_width: TAB_WIDTH,
        start_context_lines: LINES_AFTER_START,
        end_context_lines: LINES_BEFORE_END,
        ..term::Config::default()
    };
    match colour {
        Colour::Plain => {
            let text = term::emit_into_string(&config, excerpt, diagnostic).ok()?;
            // The frame leaves blanks at the end of empty lines; they are noise in a file or a comparison.
            Some(text.lines().map(|line| line.trim_end().to_owned() + "\n").collect())
        }
        Colour::Coloured => {
            let mut out = termcolor::Ansi::new(Vec::new());
            term::emit_to_write_style(&mut out, &config, excerpt, diagnostic).ok()?;
            String::from_utf8(out.into_inner()).ok()
        }
    }
}

/// The notes under the excerpt, each wrapped.
fn notes(finding: &Finding) -> Vec<String> {
    // Two columns of the frame stand before a note, more with line numbers of many digits.
    let note = |title: &str, words: &str| wrapped(&format!("{title}{words}"), 6, 2);
    let mut notes = Vec::new();
    if finding.also.len() > MOST_PLACES {
        notes.push(format!("and {} more places", finding.also.len() - MOST_PLACES));
    }
    if let Some(place) = &finding.place {
        notes.push(note("where: ", &place_words(place)));
    }
    if !finding.why.is_empty() {
        notes.push(note("why: ", &finding.why));
    }
    if let Some(picture) = &finding.picture {
        notes.push(clean::block(picture.trim_matches('\n')).into_owned());
    }
    if !finding.mend.is_empty() {
        notes.push(note("what to do: ", &finding.mend));
    }
    match finding.sizes.as_slice() {
        [] => {}
        [size] => notes.push(note("only in size ", size)),
        [first @ .., last] => notes.push(note("only in sizes ", &format!("{} and {last}", first.join(", ")))),
    }
    notes
}

/// A place in words: `in piece "Scarf", row 12, pass 2 of 4`.
fn place_words(place: &Place) -> String {
    let row = match place.row {
        0 => "before row 1".to_owned(),
        row => format!("row {row}"),
    };
    let pass = place.pass.map_or_else(String::new, |(number, of)| format!(", pass {number} of {of}"));
    format!("in piece \"{}\", {row}{pass}", place.piece)
}

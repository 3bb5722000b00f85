//! Fixes for what is found while a piece is played.
//!
//! A fix is *safe* if it never changes what a good reading of the pattern means. Where a finding can be mended in two
//! ways, or where the number in the fix is the knitter's to choose, the fix is offered and not safe; where its place
//! cannot be known, or where it would only silence the finding, there is none:
//!
//! - a promise that does not hold: to write the number that is there hides the mistake that the promise was made for;
//! - a line that does nothing: it says that the beds are not as its writer thought, and that is not mended by taking
//!   the line out;
//! - a hold left on: it must end before the last rows, and which those are only the knitter knows.
//!
//! The rules see no text. They say *what* goes *where*, with the words of this file; indentation and line ends are put to
//! it when the text is at hand ([`fit_fixes`]).

use crate::finding::{Edit, Finding, Fix, Goes, Way};
use crate::source::{Sources, Span};

/// A line of its own before the one at `span`.
pub(super) fn line_before(span: Span, line: &str) -> Fix {
    // A long list of needles is read in the edit.
    const LONGEST: usize = 60;
    let title = if line.len() > LONGEST {
        "write a line before it".to_owned()
    } else {
        format!("write `{line}` on a line before it")
    };
    Fix::placed(title, span, line, Goes::OnALineBefore)
}

/// Words behind those at `span`.
pub(super) fn behind(span: Span, words: &str) -> Fix {
    Fix::placed(format!("write `{words}` behind that line"), span, words, Goes::Behind)
}

/// Puts the fixes of findings into the form that their places in the text ask for. One that has no place there goes.
pub fn fit_fixes(sources: &Sources, findings: &mut [Finding]) {
    for finding in findings {
        finding.fix = finding.fix.take().and_then(|fix| fitted(sources, fix));
        finding.ways =
            std::mem::take(&mut finding.ways).into_iter().filter_map(|way| fitted_way(sources, way)).collect();
    }
}

fn fitted(sources: &Sources, fix: Fix) -> Option<Fix> {
    let edits = fix.edits.into_iter().map(|edit| fitted_edit(sources, edit)).collect::<Option<_>>()?;
    Some(Fix { edits, ..fix })
}

fn fitted_way(sources: &Sources, way: Way) -> Option<Way> {
    let Way { span, text, when, goes } = way;
    let edit = fitted_edit(sources, Edit { goes, ..Edit::new(span, text) })?;
    Some(Way::new(edit.span, edit.text, when))
}

fn fitted_edit(sources: &Sources, edit: Edit) -> Option<Edit> {
    let text = sources.get(edit.span.file).text();
    match edit.goes {
        Goes::InPlace => Some(edit),
        Goes::OnALineBefore => inserted_line(text, Span { end: edit.span.start, ..edit.span }, &edit.text),
        Goes::Behind => {
            // Other lines than these make rows or moves too, such as `tubular`, and take no such words.
            let first = text.get(edit.span.range())?.split_whitespace().next()?;
            let end = Span { start: edit.span.end, ..edit.span };
            ["row", "rows", "transfer", "move"].contains(&first).then_some(Edit::new(end, edit.text))
        }
    }
}

/// A line put in before the one that begins at `place`, indented as that one is and with its line end.
fn inserted_line(text: &str, place: Span, line: &str) -> Option<Edit> {
    let (before, behind) = (text.get(..place.start as usize)?, text.get(place.start as usize..)?);
    if behind.is_empty() {
        // The brace that should stand here is missing.
        return None;
    }
    let start = before.rfind(['\n', '\r']).map_or(0, |at| at + 1);
    let lead = &before[start..];
    let leads = lead.chars().all(|character| matches!(character, ' ' | '\t'));
    let end = line_end(behind).or_else(|| line_end(before)).unwrap_or("\n");
    if !behind.starts_with('}') {
        let lead: String = lead.chars().take_while(|character| matches!(character, ' ' | '\t')).collect();
        return Some(Edit::new(place, format!("{line}{end}{lead}")));
    }
    if !leads {
        return None;
    }
    // Before a brace: as the lines inside the block are indented.
    let above = before[..start].lines().rev().find(|line| !line.trim().is_empty()).unwrap_or_default();
    let inner = &above[..above.len() - above.trim_start_matches([' ', '\t']).len()];
    let inner = if inner.len() >= lead.len() { inner.to_owned() } else { format!("{lead}    ") };
    let at = place.start - lead.len() as u32;
    Some(Edit::new(Span { start: at, end: at, ..place }, format!("{inner}{line}{end}")))
}

/// How the first line of a text ends.
fn line_end(text: &str) -> Option<&'static str> {
    let at = text.find(['\n', '\r'])?;
    let rest = &text[at..];
    Some(if rest.starts_with("\r\n") {
        "\r\n"
    } else if rest.starts_with('\r') {
        "\r"
    } else {
        "\n"
    })
}

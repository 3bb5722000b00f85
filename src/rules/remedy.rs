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
//! The rules see no text. They say *what* goes *where* ([`offered`]); indentation and line ends are put to it when the
//! text is at hand ([`fitted`]).

use super::cause::Seen;
use super::memory::Memory;
use super::words::written;
use crate::beds::{Both, Outcome};
use crate::finding::{Edit, Finding, Fix};
use crate::source::{Sources, Span};

/// What a fix of this room begins with that is to be written behind the words of its span.
const BEHIND: &str = ", ";

/// The fix for a finding, still to be [`fitted`].
pub(super) fn offered(finding: &Finding, seen: Seen<'_>, memory: &Memory) -> Option<Fix> {
    let span = finding.at.span;
    match (finding.rule.name, seen) {
        // Safe: a transfer across cannot be made at gaiting `between`, so there is nothing else that the line can mean.
        // Not inside a repeat or a stitch, where the line would come again after the gaiting was set back, and not
        // where a row on both beds follows that counts on `between`: the checker takes the word back then.
        ("not-opposite", Seen::Done(moment)) => {
            Some(line_before(span, "gaiting opposite").safe_if(moment.pass.is_none()))
        }
        // Not safe: perhaps only one needle of each pair was meant to work, or the needles out of work.
        ("facing-needles", Seen::Done(_)) => Some(line_before(span, "gaiting between")),
        // Not safe: perhaps the wrong bed or the wrong needle is named.
        ("doubled-stitch", Seen::Done(moment)) => {
            matches!(moment.outcome, Outcome::Carried(_)).then(|| behind(span, ", joining"))
        }
        // Not safe: perhaps the stitches were meant to go the other way.
        ("lost-stitch", Seen::Done(moment)) => {
            let Outcome::Carried(carried) = moment.outcome else { return None };
            let line = || format!("in work {}", written(&Both::only(carried.to, carried.idle)));
            (!carried.idle.is_empty()).then(|| line_before(span, &line()))
        }
        // Not safe: the loops may be meant (an eyelet, a new edge stitch), or a cast-on forgotten.
        ("unplanned-loop", Seen::Done(moment)) => {
            let Outcome::Row(row) = moment.outcome else { return None };
            moment.pass.is_none().then(|| line_before(span, &format!("out of work {}", written(&row.caught))))
        }
        // Not safe: how much looser is for the yarn and the machine to say, and the row looks otherwise afterwards.
        ("tight-transfer", Seen::Done(moment)) => {
            let Outcome::Carried(carried) = moment.outcome else { return None };
            let bed = carried.ordinary_row?;
            let row = memory.last_row(bed).filter(|row| row.alone)?;
            Some(behind(row.span, &format!(", loosened 2 {bed}")))
        }
        // Safe once the needles are empty: it moves no stitch, and leaves the machine as every piece expects it.
        ("no-way-back", Seen::End(done)) => {
            Some(line_before(span, "rack to centre").safe_if(done.state.ledger.on_needles == 0))
        }
        _ => None,
    }
}

/// A line of its own before the one at `span`.
fn line_before(span: Span, line: &str) -> Fix {
    let place = Span { end: span.start, ..span };
    // A long list of needles is read in the edit.
    const LONGEST: usize = 60;
    let title = if line.len() > LONGEST {
        "write a line before it".to_owned()
    } else {
        format!("write `{line}` on a line before it")
    };
    Fix::new(title, place, format!("{line}\n"))
}

/// Words behind those at `span`; they begin as [`BEHIND`].
fn behind(span: Span, words: &str) -> Fix {
    Fix::new(format!("write `{words}` behind that line"), span, words)
}

/// Puts the fixes of findings into the form that their places in the text ask for. One that has no place there goes.
pub fn fit_fixes(sources: &Sources, findings: &mut [Finding]) {
    for finding in findings {
        finding.fix = finding.fix.take().and_then(|fix| fitted(sources, fix));
    }
}

fn fitted(sources: &Sources, fix: Fix) -> Option<Fix> {
    let edits = fix.edits.into_iter().map(|edit| fitted_edit(sources, edit)).collect::<Option<_>>()?;
    Some(Fix { edits, ..fix })
}

fn fitted_edit(sources: &Sources, edit: Edit) -> Option<Edit> {
    let text = sources.get(edit.span.file).text();
    if let Some(line) = edit.text.strip_suffix('\n') {
        return inserted_line(text, edit.span, line);
    }
    if edit.text.starts_with(BEHIND) {
        // Other lines than these make rows or moves too, such as `tubular`, and take no such words.
        let first = text.get(edit.span.range())?.split_whitespace().next()?;
        let end = Span { start: edit.span.end, ..edit.span };
        return ["row", "rows", "transfer", "move"].contains(&first).then_some(Edit { span: end, text: edit.text });
    }
    Some(edit)
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
        return Some(Edit { span: place, text: format!("{line}{end}{lead}") });
    }
    if !leads {
        return None;
    }
    // Before a brace: as the lines inside the block are indented.
    let above = before[..start].lines().rev().find(|line| !line.trim().is_empty()).unwrap_or_default();
    let inner = &above[..above.len() - above.trim_start_matches([' ', '\t']).len()];
    let inner = if inner.len() >= lead.len() { inner.to_owned() } else { format!("{lead}    ") };
    let at = place.start - lead.len() as u32;
    Some(Edit { span: Span { start: at, end: at, ..place }, text: format!("{inner}{line}{end}") })
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

//! What must be true of everything that is found in any text at all.
#![allow(dead_code, missing_docs, unreachable_pub)]

use std::cmp::Reverse;
use wale::catalogue::Severity;
use wale::finding::Finding;
use wale::source::{Library, NoLibrary, Sources, Span};
use wale::tell::{Colour, terminal};

/// Reads a text, and looks whether everything in the tree and all that is said stands in the text.
pub fn read(text: &str) -> Result<(), String> {
    let mut sources = Sources::default();
    let file = sources.add("pattern.wale", text);
    let (tree, findings) = wale::syntax::read(file, text);
    for statement in &tree.statements {
        text.get(statement.span.range()).ok_or("a statement stands outside the text")?;
    }
    findings.iter().try_for_each(|finding| sound(finding, &sources))
}

/// Checks a text, and writes its sheet if nothing in it forbids that. The number of rows is bounded by chance only.
pub fn check_and_write(text: &str, library: &dyn Library) -> Result<(), String> {
    let checked = check_with("pattern.wale", text, library)?;
    let clean = checked.findings.iter().all(|finding| finding.rule.severity == Severity::Warning);
    if clean && checked.programs.iter().any(|program| !program.pieces.is_empty()) {
        let programs: Vec<_> = checked.programs.iter().collect();
        let mut sheet = Vec::new();
        wale::write::sheet::write(&mut sheet, &programs, None).map_err(|error| format!("the sheet: {error}"))?;
        let sheet = String::from_utf8(sheet).map_err(|_| "the sheet is not UTF-8".to_owned())?;
        hidden(&sheet)?;
    }
    Ok(())
}

/// Checks a text and everything that must hold of what is said of it, or says what does not hold.
pub fn check(text: &str) -> Result<wale::Checked, String> {
    check_with("pattern.wale", text, &NoLibrary)
}

/// The same with files to `use`.
pub fn check_with(name: &str, text: &str, library: &dyn Library) -> Result<wale::Checked, String> {
    let checked = wale::check(name, text, library);
    let key = |finding: &Finding| (finding.at.span, Reverse(finding.rule.severity), finding.rule.name);
    if !checked.findings.is_sorted_by_key(key) {
        return Err("the findings are not in the order of the text".to_owned());
    }
    for finding in &checked.findings {
        sound(finding, &checked.sources)?;
    }
    for piece in checked.programs.iter().flat_map(|program| &program.pieces) {
        place(piece.span, &checked.sources)?;
        place(piece.end, &checked.sources)?;
    }
    let mut screen = Vec::new();
    terminal::write(&mut screen, &checked.sources, &checked.findings, Colour::Plain)
        .map_err(|error| format!("telling fails: {error}"))?;
    let screen = String::from_utf8(screen).map_err(|_| "what is told is not UTF-8".to_owned())?;
    hidden(&screen)?;
    Ok(checked)
}

/// Whether a text for a terminal has nothing in it that a terminal would obey. The two joiners (U+200C, U+200D) it does
/// not: titles and notes in some scripts are written with them.
pub fn hidden(screen: &str) -> Result<(), String> {
    let obeyed = |c: &char| {
        c.is_control() && *c != '\n'
            || matches!(c, '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}')
    };
    match screen.chars().find(obeyed) {
        Some(c) => Err(format!("{c:?} goes raw to the terminal: {screen:?}")),
        None => Ok(()),
    }
}

/// A finding stands at real places, has a rule with an entry in the table, and says something.
fn sound(finding: &Finding, sources: &Sources) -> Result<(), String> {
    if wale::rules::find(finding.rule.name).is_none() {
        return Err(format!("`{}` is not in the table of rules", finding.rule.name));
    }
    if finding.what.trim().is_empty() || finding.what.contains('\n') {
        return Err(format!("`{}` does not say what it finds in one line: {:?}", finding.rule.name, finding.what));
    }
    place(finding.at.span, sources).map_err(|error| format!("{}: {error}", finding.rule.name))?;
    finding.also.iter().try_for_each(|label| place(label.span, sources))
}

fn place(span: Span, sources: &Sources) -> Result<(), String> {
    let text = sources.iter().nth(span.file.0 as usize).ok_or("a span is of no file")?.text();
    match text.get(span.range()) {
        Some(_) => Ok(()),
        None => Err(format!("{span:?} is not a part of a text of {} bytes", text.len())),
    }
}

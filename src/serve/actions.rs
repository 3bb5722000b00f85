//! What can be mended from the editor: the fixes of findings, and all at once that leave no choice.

use super::desk::Desk;
use super::diagnose::{self, Places};
use super::failure::Failure;
use super::format;
use super::reading::Reading;
use super::rename::change;
use super::text::Lines;
use super::texts::Overlay;
use crate::finding::{Finding, Fix, Way};
use crate::mend;
use gen_lsp_types::{CodeAction, CodeActionKind, Range, TextEdit, WorkspaceEdit};
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

/// What can be done about a place of a text, of the kinds that are asked for; of all kinds where none are named.
///
/// # Errors
/// When the answer is not wanted any more.
pub(super) fn actions(
    desk: &Desk<'_>,
    name: &str,
    range: Range,
    only: Option<&[CodeActionKind]>,
) -> Result<Vec<CodeAction>, Failure> {
    let asked = |kind: &CodeActionKind| {
        let kind: String = kind.clone().into();
        only.is_none_or(|only| {
            only.iter().any(|only| {
                let only: String = only.clone().into();
                kind == only || kind.strip_prefix(&only).is_some_and(|rest| rest.starts_with('.')) || only.is_empty()
            })
        })
    };
    let readings = checked(desk, name)?;
    let mut actions: Vec<CodeAction> = Vec::new();
    if asked(&CodeActionKind::QuickFix) {
        for reading in &readings {
            for action in fixes(desk, reading, name, range) {
                if !actions.iter().any(|known| known.edit == action.edit) {
                    actions.push(action);
                }
            }
        }
    }
    if asked(&CodeActionKind::SourceFixAll) {
        actions.extend(all(desk, &readings, name)?);
    }
    Ok(actions)
}

/// The readings in which a text plays a part, its own first, and what is found in them. Its own is checked now if it has not
/// been.
fn checked(desk: &Desk<'_>, name: &str) -> Result<Vec<Arc<Reading>>, Failure> {
    let mut readings = desk.readings_with(name);
    if let Some(own) = readings.first().filter(|reading| reading.root == name) {
        own.findings(desk.wanted).ok_or_else(Failure::cancelled)?;
    }
    readings.retain(|reading| reading.found().is_some());
    Ok(readings)
}

/// The fixes of the findings that touch a range.
fn fixes(desk: &Desk<'_>, reading: &Reading, name: &str, range: Range) -> Vec<CodeAction> {
    let mut places = Places::new(reading.sources(), desk.texts, desk.encoding);
    let mut actions = Vec::new();
    for finding in reading.found().unwrap_or_default() {
        // What only the knitter can fill in is told and not made.
        let ways: Vec<Fix> = finding.ways.iter().filter(|way| way.is_whole()).map(Way::fix).collect();
        if finding.fix.is_none() && ways.is_empty() {
            continue;
        }
        let here =
            reading.sources().get(finding.at.span.file).name() == name && touches(places.range(finding.at.span), range);
        if !here {
            continue;
        }
        let diagnostic = diagnose::diagnostic(finding, &mut places);
        actions.extend(finding.fix.iter().chain(&ways).map(|fix| CodeAction {
            title: title(fix),
            kind: Some(CodeActionKind::QuickFix),
            diagnostics: Some(vec![diagnostic.clone()]),
            is_preferred: fix.safe.then_some(true),
            edit: Some(edit(desk, reading, fix)),
            ..CodeAction::default()
        }));
    }
    actions
}

/// Whether a finding touches a range; the cursor at its first or last letter does.
fn touches(place: Range, range: Range) -> bool {
    place.start <= range.end && range.start <= place.end
}

/// The title of a fix with a capital at its start, as the entries of a menu have it.
fn title(fix: &Fix) -> String {
    let title = crate::clean::line(&fix.title);
    let mut letters = title.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn edit(desk: &Desk<'_>, reading: &Reading, fix: &Fix) -> WorkspaceEdit {
    let mut by_file: BTreeMap<String, Vec<TextEdit>> = BTreeMap::new();
    for edit in &fix.edits {
        let source = reading.sources().get(edit.span.file);
        let lines = Lines::new(source.text(), desk.encoding);
        by_file.entry(source.name().to_owned()).or_default().push(lines.edit(edit));
    }
    change(desk, by_file.into_iter().collect())
}

/// Everything in a text that leaves no choice, mended at once.
fn all(desk: &Desk<'_>, readings: &[Arc<Reading>], name: &str) -> Result<Option<CodeAction>, Failure> {
    let own = readings.iter().find(|reading| reading.root == name);
    let found = own.and_then(|reading| reading.found()).unwrap_or_default();
    let any = found.iter().any(Finding::is_safely_mended);
    let Some(open) = desk.texts.get(name).filter(|_| any) else { return Ok(None) };
    let mended = mend::mend(&open.text, |text| {
        if *text == *open.text {
            return Cow::Borrowed(found);
        }
        let overlay = Overlay::new(desk.texts, name, desk.libraries);
        // What is given up has no findings, so that mending ends.
        let checked = crate::check_while(name, text, &overlay, desk.wanted).unwrap_or_default();
        Cow::Owned(checked.findings)
    });
    if !(desk.wanted)() {
        return Err(Failure::cancelled());
    }
    let edits = format::line_edits(&open.text, &mended.text, desk.encoding);
    Ok((!edits.is_empty()).then(|| CodeAction {
        title: "Mend everything that leaves no choice".to_owned(),
        kind: Some(CodeActionKind::SourceFixAll),
        edit: Some(change(desk, vec![(name.to_owned(), edits)])),
        ..CodeAction::default()
    }))
}

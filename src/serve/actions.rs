//! What can be mended from the editor: the fixes of findings, and all at once that leave no choice.

use super::desk::{Desk, Overlay};
use super::diagnose::{self, Places};
use super::failure::Failure;
use super::format;
use super::rename::change;
use super::text::Lines;
use super::workspace::Looked;
use crate::finding::{Finding, Fix};
use crate::mend;
use gen_lsp_types::{CodeAction, CodeActionKind, Range, TextEdit, WorkspaceEdit};
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
    let results = results(desk, name)?;
    let mut actions: Vec<CodeAction> = Vec::new();
    if asked(&CodeActionKind::QuickFix) {
        for looked in &results {
            for action in fixes(desk, looked, name, range) {
                if !actions.iter().any(|known| known.edit == action.edit) {
                    actions.push(action);
                }
            }
        }
    }
    if asked(&CodeActionKind::SourceFixAll) {
        actions.extend(all(desk, &results, name)?);
    }
    Ok(actions)
}

/// The results in which a text plays a part. Its own is made now if there is none that holds.
fn results(desk: &Desk<'_>, name: &str) -> Result<Vec<Arc<Looked>>, Failure> {
    let mut results: Vec<Arc<Looked>> =
        desk.results.iter().filter(|looked| looked.sources.iter().any(|file| file.name() == name)).cloned().collect();
    if !results.iter().any(|looked| looked.root == name) {
        let job = super::workspace::Job::of(name, desk.texts, desk.encoding);
        let looked = job.run(desk.libraries, desk.wanted).ok_or_else(Failure::cancelled)?;
        results.insert(0, Arc::new(looked));
    }
    Ok(results)
}

/// The fixes of the findings that touch a range.
fn fixes(desk: &Desk<'_>, looked: &Looked, name: &str, range: Range) -> Vec<CodeAction> {
    let mut places = Places::new(&looked.sources, desk.texts, desk.encoding);
    let mut actions = Vec::new();
    for finding in &looked.findings {
        let Some(fix) = &finding.fix else { continue };
        let here =
            looked.sources.get(finding.at.span.file).name() == name && touches(places.range(finding.at.span), range);
        if !here || !holds(desk, looked, fix) {
            continue;
        }
        let diagnostic = diagnose::diagnostic(finding, &mut places);
        actions.push(CodeAction {
            title: title(fix),
            kind: Some(CodeActionKind::QuickFix),
            diagnostics: Some(vec![diagnostic]),
            is_preferred: fix.safe.then_some(true),
            edit: Some(edit(desk, looked, fix)),
            ..CodeAction::default()
        });
    }
    actions
}

/// Whether a fix is made for the files as they are: one that is not open may have changed without a word.
fn holds(desk: &Desk<'_>, looked: &Looked, fix: &Fix) -> bool {
    fix.edits.iter().all(|edit| {
        let file = looked.sources.get(edit.span.file);
        desk.texts.get(file.name()).is_some()
            || desk.reading(&looked.root).is_some_and(|reading| reading.text(file.name()) == Some(file.text()))
    })
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

fn edit(desk: &Desk<'_>, looked: &Looked, fix: &Fix) -> WorkspaceEdit {
    let mut by_file: BTreeMap<String, Vec<TextEdit>> = BTreeMap::new();
    for edit in &fix.edits {
        let source = looked.sources.get(edit.span.file);
        let lines = Lines::new(source.text(), desk.encoding);
        by_file.entry(source.name().to_owned()).or_default().push(lines.edit(edit));
    }
    change(desk, by_file.into_iter().collect())
}

/// Everything in a text that leaves no choice, mended at once.
fn all(desk: &Desk<'_>, results: &[Arc<Looked>], name: &str) -> Result<Option<CodeAction>, Failure> {
    let own = results.iter().find(|looked| looked.root == name);
    let any = own.is_some_and(|looked| looked.findings.iter().any(Finding::is_safely_mended));
    let Some(open) = desk.texts.get(name).filter(|_| any) else { return Ok(None) };
    let mended = mend::mend(&open.text, |text| {
        let overlay = Overlay::new(desk.texts, name, desk.libraries);
        // What is given up has no findings, so that mending ends.
        crate::check_while(name, text, &overlay, desk.wanted).unwrap_or_default()
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

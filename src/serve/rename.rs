//! Where a name was given, where else it stands, and giving it another one.

use super::desk::Desk;
use super::diagnose::Places;
use super::failure::Failure;
use super::reading::Reading;
use crate::clean;
use crate::names::{Meaning, Names, Sort, Thing};
use crate::plan;
use crate::source::{FileId, Span};
use crate::syntax;
use crate::syntax::tree::{Kind, Name};
use gen_lsp_types::{
    DocumentHighlight, DocumentHighlightKind, Location, OptionalVersionedTextDocumentIdentifier,
    PrepareRenamePlaceholder, Range, TextDocumentEdit, TextDocumentIdentifier, TextEdit, WorkspaceEdit,
};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A thing as all readings know it: the file and the byte where its name was given.
type Identity = (String, u32);

/// What is meant at a place.
struct Meant {
    reading: Arc<Reading>,
    thing: usize,
    /// Where the name stands that was pointed at.
    span: Span,
}

fn identity(reading: &Reading, thing: &Thing) -> Identity {
    (reading.sources().get(thing.declared.file).name().to_owned(), thing.declared.start)
}

/// What the name at a byte of a text means, in the first reading in which it means something.
fn meant(desk: &Desk<'_>, name: &str, at: usize) -> Option<Meant> {
    desk.readings_with(name).into_iter().find_map(|reading| {
        let (file, _) = reading.file(name)?;
        let used = reading.names().at(file, at)?;
        let (thing, span) = (used.thing?, used.span);
        Some(Meant { reading, thing, span })
    })
}

/// All readings in which something plays a part.
fn readings(desk: &Desk<'_>) -> Vec<Arc<Reading>> {
    desk.texts.names().filter_map(|root| desk.reading(root)).collect()
}

/// The things that keep one name together with these: a stitch or a chart that is worked for a length, and its gauge.
fn with_partners(readings: &[Arc<Reading>], first: Identity) -> BTreeSet<Identity> {
    let mut group = BTreeSet::from([first]);
    loop {
        let before = group.len();
        for reading in readings {
            let names = reading.names();
            for (one, other) in &names.pairs {
                let (one, other) = (&names.things[*one], &names.things[*other]);
                let (one, other) = (identity(reading, one), identity(reading, other));
                if group.contains(&one) || group.contains(&other) {
                    group.extend([one, other]);
                }
            }
        }
        if group.len() == before {
            return group;
        }
    }
}

/// Every place where the name of one of these stands, by file, and whether it is given there.
fn places(readings: &[Arc<Reading>], group: &BTreeSet<Identity>) -> BTreeMap<String, BTreeMap<(u32, u32), bool>> {
    let mut places: BTreeMap<String, BTreeMap<(u32, u32), bool>> = BTreeMap::new();
    for reading in readings {
        let names = reading.names();
        for used in &names.uses {
            let Some(thing) = used.thing.and_then(|thing| names.things.get(thing)) else { continue };
            if group.contains(&identity(reading, thing)) {
                let file = reading.sources().get(used.span.file).name().to_owned();
                let declares = identity(reading, thing).1 == used.span.start && used.declares;
                *places.entry(file).or_default().entry((used.span.start, used.span.end)).or_default() |= declares;
            }
        }
    }
    places
}

/// Where the name at a place was given.
pub(super) fn definition(desk: &Desk<'_>, name: &str, at: usize) -> Option<Location> {
    let Meant { reading, thing, .. } = meant(desk, name, at)?;
    let declared = reading.names().things.get(thing)?.declared;
    Some(Places::new(reading.sources(), desk.texts, desk.encoding).location(declared))
}

/// The file that a `use` line at a place names.
pub(super) fn used_file(desk: &Desk<'_>, name: &str, at: usize) -> Option<Location> {
    let reading = desk.reading(name)?;
    let (_, tree) = reading.file(name)?;
    let path = tree.statements.iter().find_map(|statement| match &statement.kind {
        Kind::Use(path) if (path.span.start as usize..=path.span.end as usize).contains(&at) => Some(path),
        _ => None,
    })?;
    let file = (desk.libraries)(name).name(name, &path.text)?;
    // Only what was read is there.
    reading.file(&file)?;
    Some(Location { uri: desk.texts.address(&file).into(), range: Range::default() })
}

/// All places where the name stands.
pub(super) fn references(desk: &Desk<'_>, name: &str, at: usize, with_declaration: bool) -> Vec<Location> {
    let Some(meant) = meant(desk, name, at) else { return Vec::new() };
    let readings = readings(desk);
    let Some(thing) = meant.reading.names().things.get(meant.thing) else { return Vec::new() };
    let group = BTreeSet::from([identity(&meant.reading, thing)]);
    let mut found = Vec::new();
    for (file, spans) in places(&readings, &group) {
        let Some((reading, id)) = holds(&readings, &file) else { continue };
        let mut places = Places::new(reading.sources(), desk.texts, desk.encoding);
        for ((start, end), declares) in spans {
            if with_declaration || !declares {
                found.push(places.location(Span { file: id, start, end }));
            }
        }
    }
    found
}

/// All places in one text where the name stands.
pub(super) fn highlights(desk: &Desk<'_>, name: &str, at: usize) -> Vec<DocumentHighlight> {
    let Some(Meant { reading, thing, .. }) = meant(desk, name, at) else { return Vec::new() };
    let Some((file, _)) = reading.file(name) else { return Vec::new() };
    let mut places = Places::new(reading.sources(), desk.texts, desk.encoding);
    let here = reading.names().uses.iter().filter(|used| used.span.file == file && used.thing == Some(thing));
    let highlight = |used: &crate::names::Use| DocumentHighlight {
        range: places.range(used.span),
        kind: Some(if used.declares { DocumentHighlightKind::Write } else { DocumentHighlightKind::Read }),
    };
    here.map(highlight).collect()
}

fn holds<'r>(readings: &'r [Arc<Reading>], file: &str) -> Option<(&'r Reading, FileId)> {
    readings.iter().find_map(|reading| Some((&**reading, reading.file(file)?.0)))
}

/// The name at a place, if it can be another one.
pub(super) fn prepare(desk: &Desk<'_>, name: &str, at: usize) -> Result<PrepareRenamePlaceholder, Failure> {
    let meant = meant(desk, name, at).ok_or_else(nothing_here)?;
    let mut places = Places::new(meant.reading.sources(), desk.texts, desk.encoding);
    // The place is counted in the text that was asked about.
    let range = places.range(meant.span);
    Ok(PrepareRenamePlaceholder { range, placeholder: meant.reading.sources().words(meant.span).to_owned() })
}

fn nothing_here() -> Failure {
    Failure::request(
        "there is no name here that could be changed. Names of stitches, yarns, machines, gauges, values, charts, sizes and \
         of what a stitch asks for can be; the words of the language and of its rules cannot."
            .to_owned(),
    )
}

/// The edits that give the name at a place another one, everywhere in the texts that are known.
pub(super) fn rename(desk: &Desk<'_>, name: &str, at: usize, new: &str) -> Result<Option<WorkspaceEdit>, Failure> {
    let meant = meant(desk, name, at).ok_or_else(nothing_here)?;
    let thing = meant.reading.names().things.get(meant.thing).ok_or_else(nothing_here)?.clone();
    valid(new, thing.sort)?;
    if *thing.name == *new {
        return Ok(None);
    }
    let readings = readings(desk);
    agree(&readings)?;
    let group = with_partners(&readings, identity(&meant.reading, &thing));
    for reading in &readings {
        free(reading, &group, new)?;
    }
    let places = places(&readings, &group);
    means_the_same(desk, &readings, &places, &thing, new)?;
    let mut edits = Vec::new();
    for (file, spans) in &places {
        let Some((reading, id)) = holds(&readings, file) else { continue };
        let mut places = Places::new(reading.sources(), desk.texts, desk.encoding);
        let range = |&(start, end): &(u32, u32)| places.range(Span { file: id, start, end });
        let changes: Vec<TextEdit> =
            spans.keys().map(range).map(|range| TextEdit { range, new_text: new.to_owned() }).collect();
        edits.push((file.clone(), changes));
    }
    Ok(Some(change(desk, edits)))
}

/// Edits of several texts, by their names, as one change; with the versions that they are made for, where the editor takes
/// that.
pub(super) fn change(desk: &Desk<'_>, edits: Vec<(String, Vec<TextEdit>)>) -> WorkspaceEdit {
    let texts = desk.texts;
    if !desk.versioned {
        let by_address = edits.into_iter().map(|(file, edits)| (texts.address(&file).into(), edits));
        return WorkspaceEdit { changes: Some(by_address.collect()), ..WorkspaceEdit::default() };
    }
    let versioned = |(file, edits): (String, Vec<TextEdit>)| TextDocumentEdit {
        text_document: OptionalVersionedTextDocumentIdentifier {
            version: texts.get(&file).map(|open| open.version),
            text_document_identifier: TextDocumentIdentifier { uri: texts.address(&file).into() },
        },
        edits: edits.into_iter().map(Into::into).collect(),
    };
    let changes = edits.into_iter().map(versioned).map(Into::into).collect();
    WorkspaceEdit { document_changes: Some(changes), ..WorkspaceEdit::default() }
}

/// Whether words can be a name.
fn valid(new: &str, sort: Sort) -> Result<(), Failure> {
    let shown: String = clean::line(new).chars().take(60).collect();
    let refused =
        |why: &str| Err(Failure::request(format!("`{shown}` cannot be the name of a {}: {why}", sort.word())));
    let (tree, findings) = syntax::read(FileId::default(), &format!("let {new} = 1"));
    let name: Option<&Name> = match tree.statements.as_slice() {
        [statement] => match &statement.kind {
            Kind::Let(name, _) if *name.text == *new => Some(name),
            _ => None,
        },
        _ => None,
    };
    match name {
        Some(name) if plan::is_reserved(name) => refused(
            "it is a word of the language, and a line with it could be read in two ways. Add a word to it with a dash.",
        ),
        Some(_) if findings.is_empty() => Ok(()),
        _ => refused(
            "a name is written in small letters, begins with one, and has `-` between its words, as in `half-cardigan`; it \
             does not look like a needle.",
        ),
    }
}

/// Whether nothing else has that name already.
fn free(reading: &Reading, group: &BTreeSet<Identity>, new: &str) -> Result<(), Failure> {
    let names = reading.names();
    for thing in names.things.iter().filter(|thing| group.contains(&identity(reading, thing))) {
        let rival = names.taken(thing.sort, thing.of, new);
        if let Some(rival) = rival.and_then(|rival| names.things.get(rival)) {
            let place = reading.sources().position(rival.declared);
            let file = reading.sources().get(rival.declared.file).name();
            return Err(Failure::request(format!(
                "there is a {} called `{new}` already, in line {} of `{}`. Choose a name that nothing has.",
                rival.sort.word(),
                place.line,
                clean::line(file),
            )));
        }
    }
    Ok(())
}

/// Whether all readings hold the same text of each file that they share. Places that were counted in one text mean nothing
/// in another.
fn agree(readings: &[Arc<Reading>]) -> Result<(), Failure> {
    let mut known: BTreeMap<&str, &str> = BTreeMap::new();
    for file in readings.iter().flat_map(|reading| reading.sources().iter()) {
        if *known.entry(file.name()).or_insert(file.text()) != file.text() {
            return Err(being_changed(file.name()));
        }
    }
    Ok(())
}

fn being_changed(file: &str) -> Failure {
    Failure::request(format!(
        "`{}` was changed while it was read, so that the places in it are not sure. Nothing was renamed. Try again when \
         the file is saved.",
        clean::line(file),
    ))
}

/// Makes the change on the side and looks whether every name still means what it meant.
fn means_the_same(
    desk: &Desk<'_>,
    readings: &[Arc<Reading>],
    places: &BTreeMap<String, BTreeMap<(u32, u32), bool>>,
    thing: &Thing,
    new: &str,
) -> Result<(), Failure> {
    for reading in readings {
        let renamed = |(file, _): &(FileId, syntax::tree::Tree)| {
            let source = reading.sources().get(*file);
            let mut text = source.text().to_owned();
            for (start, end) in places.get(source.name()).into_iter().flatten().map(|(span, _)| span).rev() {
                let range = *start as usize..*end as usize;
                // The places come from another reading of the same file.
                if text.get(range.clone()) != Some(&*thing.name) {
                    return Err(being_changed(source.name()));
                }
                text.replace_range(range, new);
            }
            Ok((*file, syntax::read(*file, &text).0))
        };
        let trees = reading.trees().iter().map(renamed).collect::<Result<Vec<_>, Failure>>()?;
        if meaning(&Names::of(&trees)) != meaning(reading.names()) {
            return Err(Failure::request(format!(
                "with the name `{new}` for the {} `{}` some line would mean something else: where it stands, or where \
                 `{new}` stands, the two would be taken for each other. Choose another name.",
                thing.sort.word(),
                thing.name,
            )));
        }
        if !(desk.wanted)() {
            return Err(Failure::cancelled());
        }
    }
    Ok(())
}

fn meaning(names: &Names) -> Meaning {
    names.meaning()
}

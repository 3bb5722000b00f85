//! What may stand where somebody is writing: words of the language, names of the right sort, needles, rules and files.

use super::desk::Desk;
use super::hover::{Inside, short};
use super::outline::shown;
use super::reading::Reading;
use super::text::Lines;
use super::words;
use crate::beds::{Machine, Needle};
use crate::catalogue::Rule;
use crate::names::{Sort, Thing};
use crate::rules;
use crate::source::FileId;
use crate::syntax::forms::{Home, beginning_with, form, gives_a_name};
use crate::syntax::tree::{Kind, Statement, Tree};
use crate::syntax::{self, Next};
use gen_lsp_types::{CompletionItem, CompletionItemKind, Documentation, MarkupContent, MarkupKind, Range, TextEdit};
use std::sync::Arc;

/// The place where somebody is writing.
struct Place<'p> {
    reading: &'p Reading,
    file: FileId,
    tree: &'p Tree,
    at: usize,
    /// The line up to the word that is being written.
    before: &'p str,
    /// What is written of that word.
    begun: &'p str,
    /// The whole word, which is replaced.
    range: Range,
}

/// What may stand at a place of a text.
pub(super) fn items(desk: &Desk<'_>, name: &str, at: usize) -> Vec<CompletionItem> {
    // A file of stitches alone may take its machine and values from a pattern that uses it.
    let readings: Vec<Arc<Reading>> = desk.readings_with(name);
    let Some(reading) = readings.first() else { return Vec::new() };
    let Some((file, tree)) = reading.file(name) else { return Vec::new() };
    let lines = Lines::new(reading.sources().get(file).text(), desk.encoding);
    let (start, line) = lines.line(lines.line_of(at));
    let column = (at - start.min(at)).min(line.len());
    match Inside::of(line, column) {
        Inside::Comment => return Vec::new(),
        Inside::Words => return used_files(desk, name, line, column, start, &lines),
        Inside::Plain => {}
    }
    let word = super::hover::word_at(line, column);
    let place = Place {
        reading,
        file,
        tree,
        at,
        before: after_braces(line.get(..word.start).unwrap_or_default()),
        begun: line.get(word.start..column).unwrap_or_default(),
        range: lines.range(start + word.start..start + word.end),
    };
    let next = syntax::next(place.before);
    let mut items = place.words(&next);
    if next.name {
        items.extend(place.names(&readings));
    }
    if next.needles {
        items.extend(place.needles(&readings));
    }
    items
}

/// What stands behind the last brace: there a line of its own begins.
fn after_braces(before: &str) -> &str {
    let mut quoted = false;
    let mut from = 0;
    for (at, byte) in before.bytes().enumerate() {
        match byte {
            b'"' => quoted = !quoted,
            b'{' | b'}' if !quoted => from = at + 1,
            _ => {}
        }
    }
    before.get(from..).unwrap_or_default()
}

/// The files that can stand behind `use`.
fn used_files(
    desk: &Desk<'_>,
    name: &str,
    line: &str,
    column: usize,
    start: usize,
    lines: &Lines<'_>,
) -> Vec<CompletionItem> {
    let Some((before, _)) = line.get(..column).and_then(|before| before.rsplit_once('"')) else { return Vec::new() };
    if before.trim() != "use" {
        return Vec::new();
    }
    let from = before.len() + 1;
    let to = line.get(from..).and_then(|rest| rest.find('"')).map_or(line.trim_end().len().max(column), |at| from + at);
    let range = lines.range(start + from..start + to);
    let item = |path: String| item(&path, CompletionItemKind::File, "file", None, range);
    (desk.libraries)(name).beside(name).into_iter().map(item).collect()
}

fn item(label: &str, kind: CompletionItemKind, detail: &str, about: Option<String>, range: Range) -> CompletionItem {
    CompletionItem {
        label: label.to_owned(),
        kind: Some(kind),
        detail: Some(detail.to_owned()),
        documentation: about
            .map(|value| Documentation::MarkupContent(MarkupContent { kind: MarkupKind::Markdown, value })),
        text_edit: Some(TextEdit { range, new_text: label.to_owned() }.into()),
        ..CompletionItem::default()
    }
}

impl Place<'_> {
    /// The words of the language that may stand here; at the start of a line those of lines that belong here.
    fn words(&self, next: &Next) -> Vec<CompletionItem> {
        let first = self.before.trim().is_empty();
        let here = self.home();
        let mut items = Vec::new();
        for (word, about) in &next.words {
            if first && !begins_a_line_of(word, here) {
                continue;
            }
            let explained = words::explained(word, if first { word } else { "" });
            items.push(item(word, CompletionItemKind::Keyword, about, explained, self.range));
        }
        items
    }

    /// The block that the place is in.
    fn home(&self) -> Home {
        self.around().iter().rev().find_map(|statement| form(&statement.kind).block).unwrap_or(Home::Top)
    }

    /// The names that may stand here.
    fn names(&self, readings: &[Arc<Reading>]) -> Vec<CompletionItem> {
        let before = self.before.trim();
        let first = before.split(' ').next().unwrap_or_default();
        let alone = before == first;
        let in_brackets = before.rfind('(') > before.rfind(')') && before.contains('(');
        let sorts: &[Sort] = match first {
            "allow" => {
                let detail = |rule: &Rule| rule.summary;
                let item = |rule: &&Rule| {
                    item(rule.name, CompletionItemKind::EnumMember, detail(rule), Some(words::rule(rule)), self.range)
                };
                let rules = rules::ALL.iter().copied().filter(|rule| !rules::is_found_in_reading(rule));
                return rules.map(|rule| item(&rule)).collect();
            }
            "work" if alone => &[Sort::Stitch],
            "work" if in_brackets && before.ends_with(['(', ',']) => return self.parameters(before, readings),
            "follow" if alone => &[Sort::Chart],
            "thread" => &[Sort::Yarn],
            "piece" if before.ends_with(" on") => &[Sort::Machine],
            "gauge" if alone => &[Sort::Stitch, Sort::Chart],
            "let" if !alone => &[Sort::Value],
            // `stitch size` gives no name.
            "stitch" if !alone && !in_brackets => &[Sort::Value],
            _ if gives_a_name(first) => return Vec::new(),
            _ => &[Sort::Value],
        };
        let mut items: Vec<CompletionItem> = Vec::new();
        let mut add = |thing: &Thing, detail: &str| {
            if !items.iter().any(|known| known.label == *thing.name) {
                items.push(item(&thing.name, shown(thing.sort).1, detail, None, self.range));
            }
        };
        if sorts == [Sort::Value] {
            for thing in self.locals() {
                add(
                    thing,
                    if thing.sort == Sort::Chart {
                        "the line of the chart that is followed"
                    } else {
                        "asked for by the stitch"
                    },
                );
            }
        }
        for reading in readings {
            for sort in sorts {
                for thing in reading.names().all(*sort) {
                    let place = reading.sources().position(thing.declared);
                    let file = short(reading.sources().get(thing.declared.file).name());
                    add(thing, &format!("{}, line {} of {file}", sort.word(), place.line));
                }
            }
        }
        items
    }

    /// What a stitch asks for that is worked here.
    fn parameters(&self, before: &str, readings: &[Arc<Reading>]) -> Vec<CompletionItem> {
        let stitch = before.split(['(', ' ']).filter(|word| !word.is_empty()).nth(1).unwrap_or_default();
        let of = |reading: &Arc<Reading>| {
            let names = reading.names();
            let stitch = names.get(Sort::Stitch, stitch)?;
            let parameters = names.parameters(stitch);
            Some(
                parameters
                    .map(|thing| item(&thing.name, shown(thing.sort).1, "asked for by the stitch", None, self.range))
                    .collect(),
            )
        };
        readings.iter().find_map(of).unwrap_or_default()
    }

    /// The parameters of the stitch and the charts that are followed around the place.
    fn locals(&self) -> Vec<&Thing> {
        let names = self.reading.names();
        let mut found = Vec::new();
        for statement in self.around() {
            match &statement.kind {
                Kind::Stitch { name, .. } => {
                    found.extend(
                        names.get(Sort::Stitch, &name.text).into_iter().flat_map(|stitch| names.parameters(stitch)),
                    );
                }
                Kind::Follow(name, _) => {
                    found.extend(names.get(Sort::Chart, &name.text).and_then(|chart| names.things.get(chart)));
                }
                _ => {}
            }
        }
        found.reverse();
        found
    }

    /// The statements in whose blocks the place is, the outermost first.
    fn around(&self) -> Vec<&Statement> {
        let mut around = Vec::new();
        let mut statements = &self.tree.statements;
        while let Some((statement, body)) = statements.iter().find_map(|statement| {
            let body = statement.body.as_ref()?;
            let end = body.close.map_or(usize::MAX, |close| close.start as usize);
            (body.open.end as usize <= self.at && self.at <= end).then_some((statement, body))
        }) {
            around.push(statement);
            statements = &body.statements;
        }
        around
    }

    /// Needles: those with stitches or without, the whole bed, and behind an `L` or an `R` each one of the machine.
    fn needles(&self, readings: &[Arc<Reading>]) -> Vec<CompletionItem> {
        let Some(machine) = self.machine(readings) else { return Vec::new() };
        let bed = machine.bed();
        let (Some(first), Some(last)) = (bed.first(), bed.last()) else { return Vec::new() };
        let each = format!("{first} to {last} are the needles of the machine `{}`", machine.name);
        let needle = |label: &str| item(label, CompletionItemKind::Value, &each, None, self.range);
        let head = self.begun.rfind('-').map_or("", |at| self.begun.get(..=at).unwrap_or_default());
        let tail = self.begun.get(head.len()..).unwrap_or_default();
        if tail.starts_with(['L', 'R']) || !head.is_empty() {
            let labels = bed.iter().map(|needle: Needle| format!("{head}{needle}"));
            return labels.filter(|label| label.starts_with(self.begun)).map(|label| needle(&label)).collect();
        }
        let half = |needle: Needle| needle.counted().1.div_ceil(2);
        let numbered = [format!("{first}-{last}"), format!("L{0}-R{0}", half(last))];
        let standing = syntax::SELECTIONS.map(|word| {
            let about = words::explained(word, "");
            item(word, CompletionItemKind::Keyword, "the needles that do so when the line is worked", about, self.range)
        });
        numbered.iter().map(|label| needle(label)).chain(standing).collect()
    }

    /// The machine of the piece that the place is in, or the first one there is.
    fn machine(&self, readings: &[Arc<Reading>]) -> Option<Arc<Machine>> {
        let name = self.reading.sources().get(self.file).name();
        let here = |reading: &Reading| {
            let (file, _) = reading.file(name)?;
            let pieces: Vec<_> = reading.programs().iter().flat_map(|program| &program.pieces).collect();
            let at = self.at as u32;
            let around = |span: crate::source::Span, end: crate::source::Span| {
                span.file == file && span.start <= at && at <= end.end
            };
            let piece = pieces.iter().find(|piece| around(piece.span, piece.end)).or_else(|| pieces.first())?;
            Some(Arc::clone(&piece.machine))
        };
        readings.iter().find_map(|reading| here(reading))
    }
}

/// Whether a line that begins with that word and is shown to a knitter belongs into a block of that kind.
fn begins_a_line_of(word: &str, here: Home) -> bool {
    beginning_with(word).any(|form| form.home == Some(here) && !form.samples.is_empty())
}

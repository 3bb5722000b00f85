//! The parts of a text: what has a name or a title, and what can be folded.

use super::desk::Desk;
use super::text::Lines;
use crate::names::{Sort, declared};
use crate::source::Span;
use crate::syntax::forms::form;
use crate::syntax::tree::{Kind, Name, Statement, Tree};
use gen_lsp_types::{
    BaseSymbolInformation, CompletionItemKind, DocumentSymbol, FoldingRange, FoldingRangeKind, Location, SymbolKind,
    WorkspaceSymbol,
};

/// Symbols that are given to one question about all texts.
const MOST_SYMBOLS: usize = 2000;

/// How editors show a sort of thing: in an outline, and where it is offered.
pub(super) const fn shown(sort: Sort) -> (SymbolKind, CompletionItemKind) {
    match sort {
        Sort::Machine => (SymbolKind::Struct, CompletionItemKind::Struct),
        Sort::Yarn => (SymbolKind::Object, CompletionItemKind::Color),
        Sort::Gauge => (SymbolKind::Number, CompletionItemKind::Unit),
        Sort::Value => (SymbolKind::Constant, CompletionItemKind::Constant),
        Sort::Stitch => (SymbolKind::Function, CompletionItemKind::Function),
        Sort::Chart | Sort::Fabric => (SymbolKind::Array, CompletionItemKind::Value),
        Sort::Size => (SymbolKind::EnumMember, CompletionItemKind::Constant),
        Sort::Parameter => (SymbolKind::Variable, CompletionItemKind::Variable),
    }
}

/// The name or title, what it is, and where it stands.
type Heading<'t> = (&'t str, &'static str, SymbolKind, Span);

fn named(sort: Sort, name: &Name) -> Heading<'_> {
    (&name.text, sort.word(), shown(sort).0, name.span)
}

/// What a statement is called in an outline.
fn heading(statement: &Statement) -> Option<Heading<'_>> {
    let (title, kind) = match &statement.kind {
        Kind::Pattern(title) => (title, SymbolKind::File),
        Kind::Piece { title, .. } => (title, SymbolKind::Class),
        Kind::Section(title) => (title, SymbolKind::Namespace),
        Kind::Say(word, title) if word.is_place() => (title, SymbolKind::Key),
        kind => return declared(kind).map(|(sort, name)| named(sort, name)),
    };
    Some((&title.text, form(&statement.kind).first, kind, title.span))
}

/// The outline of a text.
pub(super) fn symbols(tree: &Tree, lines: &Lines<'_>) -> Vec<DocumentSymbol> {
    of_statements(&tree.statements, lines)
}

fn of_statements(statements: &[Statement], lines: &Lines<'_>) -> Vec<DocumentSymbol> {
    let mut found = Vec::new();
    for statement in statements {
        let inner = of_statements(statement.inner(), lines);
        let leaf = |sort, name| symbol(named(sort, name), name.span, Vec::new(), lines);
        if let Kind::Sizes(sizes) = &statement.kind {
            found.extend(sizes.iter().map(|name| leaf(Sort::Size, name)));
        } else if let Some(heading) = heading(statement) {
            let mut children = inner;
            if let Kind::Stitch { parameters, .. } = &statement.kind {
                children.splice(0..0, parameters.iter().map(|known| leaf(Sort::Parameter, &known.name)));
            }
            found.push(symbol(heading, statement.whole(), children, lines));
        } else {
            // Marks in a repeat belong to the section around it.
            found.extend(inner);
        }
    }
    found
}

#[expect(deprecated, reason = "the field stands in the type and is left empty")]
fn symbol(
    (name, what, kind, place): Heading<'_>,
    whole: Span,
    children: Vec<DocumentSymbol>,
    lines: &Lines<'_>,
) -> DocumentSymbol {
    // A name must not be empty.
    let name = if name.trim().is_empty() { format!("({what})") } else { crate::clean::line(name).into_owned() };
    DocumentSymbol {
        name,
        detail: Some(what.to_owned()),
        kind,
        tags: None,
        deprecated: None,
        range: lines.range(whole.range()),
        selection_range: lines.range(place.range()),
        children: (!children.is_empty()).then_some(children),
    }
}

/// What all open texts and the files that they use have that is called something like this.
pub(super) fn everywhere(desk: &Desk<'_>, query: &str) -> Vec<WorkspaceSymbol> {
    let query = query.to_lowercase();
    let mut found = Vec::new();
    let mut seen = std::collections::BTreeSet::new();
    for root in desk.texts.names() {
        let Some(reading) = desk.reading(root) else { continue };
        for (file, tree) in reading.trees() {
            let source = reading.sources().get(*file);
            if !seen.insert(source.name().to_owned()) {
                continue;
            }
            let lines = Lines::new(source.text(), desk.encoding);
            let uri: gen_lsp_types::Uri = desk.texts.address(source.name()).into();
            let mut open: Vec<(DocumentSymbol, Option<String>)> =
                symbols(tree, &lines).into_iter().rev().map(|symbol| (symbol, None)).collect();
            while let Some((symbol, within)) = open.pop() {
                if found.len() >= MOST_SYMBOLS {
                    return found;
                }
                let inner = symbol.children.into_iter().flatten().rev();
                open.extend(inner.map(|child| (child, Some(symbol.name.clone()))));
                if symbol.name.to_lowercase().contains(&query) {
                    found.push(WorkspaceSymbol {
                        location: Location { uri: uri.clone(), range: symbol.selection_range }.into(),
                        data: None,
                        base_symbol_information: BaseSymbolInformation {
                            name: symbol.name,
                            kind: symbol.kind,
                            tags: None,
                            container_name: within,
                        },
                    });
                }
            }
        }
    }
    found
}

/// What can be folded: blocks, comments of several lines, and `use` lines behind each other.
pub(super) fn folds(tree: &Tree, lines: &Lines<'_>) -> Vec<FoldingRange> {
    let mut folds = Vec::new();
    let mut fold = |first: usize, last: usize, kind: Option<FoldingRangeKind>| {
        if first < last {
            folds.push(FoldingRange {
                start_line: first as u32,
                start_character: None,
                end_line: last as u32,
                end_character: None,
                kind,
                collapsed_text: None,
            });
        }
    };
    for statement in tree.each() {
        let Some(body) = &statement.body else { continue };
        let last = body.close.map_or_else(|| statement.whole().end, |close| close.start);
        // The line of the closing brace stays to be seen.
        let last = lines.line_of(last as usize).saturating_sub(usize::from(body.close.is_some()));
        fold(lines.line_of(body.open.start as usize), last, None);
    }
    let is_comment = |index: usize| lines.line(index).1.trim_start().starts_with('#');
    runs(lines.count(), is_comment, |first, last| fold(first, last, Some(FoldingRangeKind::Comment)));
    let uses: std::collections::BTreeSet<usize> = tree
        .statements
        .iter()
        .filter(|statement| matches!(statement.kind, Kind::Use(_)))
        .map(|statement| lines.line_of(statement.span.start as usize))
        .collect();
    runs(
        lines.count(),
        |index| uses.contains(&index),
        |first, last| fold(first, last, Some(FoldingRangeKind::Imports)),
    );
    folds.sort_by_key(|fold| (fold.start_line, fold.end_line));
    folds
}

/// The runs of lines of which something is true, from the first line to the last.
fn runs(count: usize, is: impl Fn(usize) -> bool, mut run: impl FnMut(usize, usize)) {
    let mut first = None;
    for index in 0..=count {
        if index < count && is(index) {
            first.get_or_insert(index);
        } else if let Some(first) = first.take() {
            run(first, index - 1);
        }
    }
}

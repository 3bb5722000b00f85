//! The parts of a text: what has a name or a title, and what can be folded.

use super::desk::Desk;
use super::text::Lines;
use crate::names::whole;
use crate::source::Span;
use crate::syntax::tree::{Kind, Statement, Tree};
use gen_lsp_types::{
    BaseSymbolInformation, DocumentSymbol, FoldingRange, FoldingRangeKind, Location, SymbolKind, WorkspaceSymbol,
};

/// Symbols that are given to one question about all texts.
const MOST_SYMBOLS: usize = 2000;

/// What a statement is called in an outline: the name, what it is, where the name stands.
fn heading(statement: &Statement) -> Option<(String, &'static str, SymbolKind, Span)> {
    let named = |name: &crate::syntax::tree::Name, what, kind| Some((name.text.to_string(), what, kind, name.span));
    let titled = |text: &crate::syntax::tree::Text, what, kind| Some((text.text.to_string(), what, kind, text.span));
    match &statement.kind {
        Kind::Pattern(title) => titled(title, "pattern", SymbolKind::File),
        Kind::Machine(name) => named(name, "machine", SymbolKind::Struct),
        Kind::Yarn(name) => named(name, "yarn", SymbolKind::Object),
        Kind::Gauge(name) => named(name, "gauge", SymbolKind::Number),
        Kind::Let(name, _) => named(name, "value", SymbolKind::Constant),
        Kind::Stitch { name, .. } => named(name, "stitch", SymbolKind::Function),
        Kind::Chart(name) => named(name, "chart", SymbolKind::Array),
        Kind::Fabric(name) => named(name, "fabric", SymbolKind::Array),
        Kind::Piece { title, .. } => titled(title, "piece", SymbolKind::Class),
        Kind::Section(title) => titled(title, "section", SymbolKind::Namespace),
        Kind::Say(word, title) if word.is_place() => titled(title, word.word(), SymbolKind::Key),
        _ => None,
    }
}

/// The outline of a text.
pub(super) fn symbols(tree: &Tree, lines: &Lines<'_>) -> Vec<DocumentSymbol> {
    of_statements(&tree.statements, lines)
}

fn of_statements(statements: &[Statement], lines: &Lines<'_>) -> Vec<DocumentSymbol> {
    let mut found = Vec::new();
    for statement in statements {
        let inner = statement.body.as_ref().map(|body| of_statements(&body.statements, lines)).unwrap_or_default();
        if let Kind::Sizes(sizes) = &statement.kind {
            let size = |name: &crate::syntax::tree::Name| {
                symbol((name.text.to_string(), "size", SymbolKind::EnumMember, name.span), name.span, Vec::new(), lines)
            };
            found.extend(sizes.iter().map(size));
        } else if let Some(heading) = heading(statement) {
            let mut children = inner;
            if let Kind::Stitch { parameters, .. } = &statement.kind {
                let parameter = |name: &crate::syntax::tree::Name| {
                    symbol(
                        (name.text.to_string(), "parameter", SymbolKind::Variable, name.span),
                        name.span,
                        Vec::new(),
                        lines,
                    )
                };
                children.splice(0..0, parameters.iter().map(|known| parameter(&known.name)));
            }
            found.push(symbol(heading, whole(statement), children, lines));
        } else {
            // Marks in a repeat belong to the section around it.
            found.extend(inner);
        }
    }
    found
}

#[expect(deprecated, reason = "the field stands in the type and is left empty")]
fn symbol(
    (name, what, kind, place): (String, &str, SymbolKind, Span),
    whole: Span,
    children: Vec<DocumentSymbol>,
    lines: &Lines<'_>,
) -> DocumentSymbol {
    // A name must not be empty.
    let name = if name.trim().is_empty() { format!("({what})") } else { crate::clean::line(&name).into_owned() };
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
    let mut open: Vec<&Statement> = tree.statements.iter().collect();
    while let Some(statement) = open.pop() {
        let Some(body) = &statement.body else { continue };
        open.extend(&body.statements);
        let last = body.close.map_or_else(|| whole(statement).end, |close| close.start);
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

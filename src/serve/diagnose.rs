//! Findings as the protocol's diagnostics.

use super::text::{Encoding, Lines};
use super::texts::Texts;
use crate::catalogue::{Rule, Severity};
use crate::clean;
use crate::finding::{Finding, Fix, Label};
use crate::plan::rules::{CIRCULAR_USE, UNUSED_NAME};
use crate::rules::NEEDLESS_ALLOW;
use crate::source::{FileId, Sources, Span};
use crate::syntax::rules::NEEDLESS_BLOCK;
use gen_lsp_types::{
    Code, Diagnostic, DiagnosticRelatedInformation, DiagnosticSeverity, DiagnosticTag, Location, Message,
};
use serde_json::{Value, json};
use std::collections::{BTreeMap, HashMap};

/// What a diagnostic says it comes from.
pub(super) const SOURCE: &str = "wale";

/// Rules about what could be taken out and nothing would be missing.
const UNNECESSARY: &[&Rule] = &[&UNUSED_NAME, NEEDLESS_ALLOW, &NEEDLESS_BLOCK, &CIRCULAR_USE];

/// The lines of every file, made when they are first needed.
pub(super) struct Places<'s> {
    sources: &'s Sources,
    texts: &'s Texts,
    encoding: Encoding,
    lines: HashMap<FileId, Lines<'s>>,
}

impl<'s> Places<'s> {
    pub(super) fn new(sources: &'s Sources, texts: &'s Texts, encoding: Encoding) -> Self {
        Self { sources, texts, encoding, lines: HashMap::new() }
    }

    pub(super) fn lines(&mut self, file: FileId) -> &Lines<'s> {
        let (sources, encoding) = (self.sources, self.encoding);
        self.lines.entry(file).or_insert_with(|| Lines::new(sources.get(file).text(), encoding))
    }

    pub(super) fn range(&mut self, span: Span) -> gen_lsp_types::Range {
        self.lines(span.file).range(span.range())
    }

    pub(super) fn location(&mut self, span: Span) -> Location {
        let uri = self.texts.address(self.sources.get(span.file).name()).into();
        Location { uri, range: self.range(span) }
    }

    /// A fix as data, for programs: what it is called, whether it leaves no choice, and its edits.
    fn fix(&mut self, fix: &Fix) -> Value {
        let edits: Vec<Value> = fix
            .edits
            .iter()
            .map(|edit| {
                let place = self.location(edit.span);
                json!({ "uri": place.uri, "range": place.range, "newText": edit.text })
            })
            .collect();
        json!({ "title": fix.title, "safe": fix.safe, "edits": edits })
    }
}

/// The diagnostics of a checked text, by the names of the files that they are about.
pub(super) fn diagnostics(
    sources: &Sources,
    findings: &[Finding],
    texts: &Texts,
    encoding: Encoding,
) -> BTreeMap<String, Vec<Diagnostic>> {
    let mut places = Places::new(sources, texts, encoding);
    let mut by_file: BTreeMap<String, Vec<Diagnostic>> = BTreeMap::new();
    for finding in findings {
        let name = sources.get(finding.at.span.file).name().to_owned();
        by_file.entry(name).or_default().push(diagnostic(finding, &mut places));
    }
    by_file
}

pub(super) fn diagnostic(finding: &Finding, places: &mut Places<'_>) -> Diagnostic {
    let related = |label: &Label| DiagnosticRelatedInformation {
        location: places.location(label.span),
        message: if label.text.is_empty() { "it belongs to this".to_owned() } else { shown(&label.text) },
    };
    let related: Vec<_> = finding.also.iter().map(related).collect();
    let data = finding.fix.as_ref().map(|fix| json!({ "fix": places.fix(fix) }));
    Diagnostic {
        range: places.range(finding.at.span),
        severity: Some(match finding.rule.severity {
            Severity::Error => DiagnosticSeverity::Error,
            Severity::Warning => DiagnosticSeverity::Warning,
        }),
        code: Some(Code::String(finding.rule.name.to_owned())),
        code_description: None,
        source: Some(SOURCE.to_owned()),
        message: Message::String(message(finding)),
        tags: UNNECESSARY.contains(&finding.rule).then(|| vec![DiagnosticTag::Unnecessary]),
        related_information: (!related.is_empty()).then_some(related),
        data,
    }
}

/// What, where in the knitting, why, and what to do; a paragraph each.
fn message(finding: &Finding) -> String {
    let mut message = finding.what.clone();
    if let Some(place) = &finding.place {
        message.push_str(&format!("\nIn piece \"{}\", row {}", place.piece, place.row));
        if let Some((pass, of)) = place.pass {
            message.push_str(&format!(", pass {pass} of {of}"));
        }
        if let Some((pass, of)) = place.outer {
            message.push_str(&format!(", in pass {pass} of {of}"));
        }
        message.push('.');
    }
    match finding.sizes.as_slice() {
        [] => {}
        [one] => message.push_str(&format!("\nIn size {one}.")),
        sizes => message.push_str(&format!("\nIn the sizes {}.", sizes.join(", "))),
    }
    for part in [&finding.why, &finding.mend] {
        if !part.is_empty() {
            message.push('\n');
            message.push_str(part);
        }
    }
    shown(&message)
}

fn shown(text: &str) -> String {
    clean::block(text).into_owned()
}

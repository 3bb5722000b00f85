//! Findings in the Static Analysis Results Interchange Format (SARIF), version 2.1.0, an OASIS standard that code forges
//! read to mark findings in a change. The names of its properties are from memory and from a library's types; the text of
//! the standard was not at hand, so only what these types accept is claimed.

use super::json::write_value;
use crate::catalogue::Rule;
use crate::clean;
use crate::finding::{Edit, Finding, Fix, Label};
use crate::source::{Sources, Span};
use serde::Serialize;
use std::io;

/// The version of the format.
const VERSION: &str = "2.1.0";

#[derive(Serialize)]
struct Log {
    version: &'static str,
    runs: [Run; 1],
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Run {
    tool: Tool,
    /// Columns count characters, as everywhere in wale.
    column_kind: &'static str,
    results: Vec<Found>,
}

#[derive(Serialize)]
struct Tool {
    driver: Driver,
}

#[derive(Serialize)]
struct Driver {
    name: &'static str,
    version: &'static str,
    rules: Vec<Described>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Described {
    id: &'static str,
    short_description: Message,
    full_description: Message,
    default_configuration: Configuration,
}

#[derive(Serialize)]
struct Configuration {
    level: &'static str,
}

#[derive(Serialize)]
struct Message {
    text: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Found {
    rule_id: &'static str,
    level: &'static str,
    message: Message,
    locations: [Location; 1],
    #[serde(skip_serializing_if = "Vec::is_empty")]
    related_locations: Vec<Location>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    fixes: Vec<Change>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Location {
    physical_location: Physical,
    #[serde(skip_serializing_if = "Option::is_none")]
    message: Option<Message>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Physical {
    artifact_location: Artifact,
    region: Region,
}

#[derive(Serialize)]
struct Artifact {
    uri: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Region {
    start_line: u32,
    start_column: u32,
    end_line: u32,
    end_column: u32,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Change {
    description: Message,
    artifact_changes: Vec<ArtifactChange>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct ArtifactChange {
    artifact_location: Artifact,
    replacements: Vec<Replacement>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Replacement {
    deleted_region: Region,
    inserted_content: Message,
}

/// Writes the findings of some patterns, each with its texts, as one log. The rules that speak in it are described.
///
/// # Errors
/// What `out` gives.
pub fn write(out: &mut impl io::Write, patterns: &[(&Sources, &[Finding])]) -> io::Result<()> {
    let results = patterns
        .iter()
        .flat_map(|(sources, findings)| findings.iter().map(|finding| found(sources, finding)))
        .collect::<Vec<_>>();
    let speaks = |rule: &&&Rule| results.iter().any(|found| found.rule_id == rule.name);
    let rules = crate::rules::ALL.iter().filter(speaks).map(|rule| described(rule)).collect();
    let driver = Driver { name: "wale", version: env!("CARGO_PKG_VERSION"), rules };
    let run = Run { tool: Tool { driver }, column_kind: "unicodeCodePoints", results };
    write_value(out, &Log { version: VERSION, runs: [run] })
}

fn described(rule: &Rule) -> Described {
    Described {
        id: rule.name,
        short_description: message(rule.summary),
        full_description: message(format!("{} Where the numbers come from: {}.", rule.why, rule.source)),
        default_configuration: Configuration { level: super::severity_word(rule.severity) },
    }
}

fn found(sources: &Sources, finding: &Finding) -> Found {
    Found {
        rule_id: finding.rule.name,
        level: super::severity_word(finding.rule.severity),
        message: message(super::sentence(finding)),
        locations: [Location { physical_location: physical(sources, finding.at.span), message: None }],
        related_locations: finding.also.iter().map(|label| related(sources, label)).collect(),
        fixes: finding.fix.iter().map(|fix| change(sources, fix)).collect(),
    }
}

fn related(sources: &Sources, label: &Label) -> Location {
    let words = (!label.text.is_empty()).then(|| message(label.text.as_str()));
    Location { physical_location: physical(sources, label.span), message: words }
}

fn change(sources: &Sources, fix: &Fix) -> Change {
    let replacement = |edit: &Edit| ArtifactChange {
        artifact_location: artifact(sources, edit.span),
        replacements: vec![Replacement {
            deleted_region: region(sources, edit.span),
            inserted_content: message(edit.text.as_str()),
        }],
    };
    Change { description: message(fix.title.as_str()), artifact_changes: fix.edits.iter().map(replacement).collect() }
}

fn message(text: impl Into<String>) -> Message {
    Message { text: text.into() }
}

fn physical(sources: &Sources, span: Span) -> Physical {
    Physical { artifact_location: artifact(sources, span), region: region(sources, span) }
}

fn artifact(sources: &Sources, span: Span) -> Artifact {
    Artifact { uri: clean::reference(sources.get(span.file).name()) }
}

fn region(sources: &Sources, span: Span) -> Region {
    let file = sources.get(span.file);
    let (start, end) = (file.position(span.start), file.position(span.end));
    Region { start_line: start.line, start_column: start.column, end_line: end.line, end_column: end.column }
}

//! Findings as JSON, for programs. The types here are the format: they change only together with
//! [`Report::VERSION`], whatever happens to the types inside the compiler.

use crate::catalogue::Severity;
use crate::clean;
use crate::finding::{Edit, Finding, Label, Picture, Way};
use crate::source::{FileId, Sources, Span};
use std::io::{self, Write};

/// All findings of one run.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct Report {
    /// The version of this format; it is raised when a reader of the version before would misread it.
    pub findings_version: u32,
    /// Every file that was read, those named by `use` included.
    pub files: Vec<String>,
    /// The findings, pattern by pattern.
    pub findings: Vec<ReportedFinding>,
    /// How many of them are errors.
    pub errors: usize,
    /// How many of them are warnings.
    pub warnings: usize,
}

/// One finding.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ReportedFinding {
    /// The name of the rule, as `wale explain` takes it.
    pub rule: String,
    /// `error` or `warning`.
    pub severity: Severity,
    /// What is wrong, in one line.
    pub what: String,
    /// Why, in whole sentences; may be empty.
    pub why: String,
    /// What to do, in whole sentences; may be empty.
    pub mend: String,
    /// The beds around the needle, drawn in text.
    pub picture: Option<String>,
    /// Where in the knitting.
    pub place: Option<ReportedPlace>,
    /// The sizes it holds for; empty when it holds for all.
    pub sizes: Vec<String>,
    /// Where in the text.
    pub at: ReportedLabel,
    /// Other places in the text that belong to it.
    pub also: Vec<ReportedLabel>,
    /// A change of the text that mends it; none where the knitter must decide.
    pub fix: Option<ReportedFix>,
    /// Ways to write what may have been meant, of which the knitter chooses one; `mend` tells them in sentences.
    pub ways: Vec<ReportedWay>,
}

/// One way to write what may have been meant.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ReportedWay {
    /// When it is the right one, in a few words; may be empty.
    pub when: String,
    /// Words in capitals in the text that stand for what only the knitter knows; empty where it can be put in place as it is.
    pub blanks: Vec<String>,
    /// The change of the text.
    pub edit: ReportedEdit,
}

/// A change of the text that mends a finding.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ReportedFix {
    /// What is changed, in a few words.
    pub title: String,
    /// Whether `wale check --mend` makes it; if not, look whether it is what you mean.
    pub safe: bool,
    /// The changes, in the order of the text and none over another. All places are those before any of them is made.
    pub edits: Vec<ReportedEdit>,
}

/// One change of a text.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ReportedEdit {
    /// The name of the file, one of `files`.
    pub file: String,
    /// The first character that goes out.
    pub start: ReportedPoint,
    /// One past the last one; the same as `start` where something is only put in.
    pub end: ReportedPoint,
    /// What comes in their place.
    pub text: String,
}

/// A place in the knitting.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ReportedPlace {
    /// The title of the piece.
    pub piece: String,
    /// The row of the piece from 1; 0 before the first row.
    pub row: u64,
    /// The pass of the innermost repeat; none outside a repeat.
    pub pass: Option<ReportedPass>,
}

/// A pass of a repeat.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ReportedPass {
    /// Which one, from 1.
    pub number: u64,
    /// Out of how many.
    pub of: u64,
}

/// A range of the text with a few words.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ReportedLabel {
    /// The name of the file, one of `files`.
    pub file: String,
    /// The first character.
    pub start: ReportedPoint,
    /// One past the last character.
    pub end: ReportedPoint,
    /// What is said of it; may be empty.
    pub text: String,
}

/// A point in a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct ReportedPoint {
    /// The line, from 1.
    pub line: u32,
    /// The column in characters, from 1.
    pub column: u32,
    /// The byte of the UTF-8 text, from 0.
    pub byte: u32,
}

impl Report {
    /// The version of the format.
    pub const VERSION: u32 = 1;

    /// The report on some patterns, each with its texts and its findings. The spans must be of the sources beside them.
    #[must_use]
    pub fn new(patterns: &[(&Sources, &[Finding])]) -> Self {
        let mut files: Vec<String> = Vec::new();
        for file in patterns.iter().flat_map(|(sources, _)| sources.iter()) {
            if !files.iter().any(|known| known == file.name()) {
                files.push(file.name().to_owned());
            }
        }
        let findings: Vec<ReportedFinding> = patterns
            .iter()
            .flat_map(|(sources, findings)| findings.iter().map(|finding| ReportedFinding::new(sources, finding)))
            .collect();
        let errors = findings.iter().filter(|finding| finding.severity == Severity::Error).count();
        Self { findings_version: Self::VERSION, files, errors, warnings: findings.len() - errors, findings }
    }

    /// Writes the report, indented, with a newline at its end.
    ///
    /// # Errors
    /// What `out` gives.
    pub fn write(&self, out: &mut impl Write) -> io::Result<()> {
        write_value(out, self)
    }
}

/// Writes a value as indented JSON. Hidden characters stand in it as `\u` escapes, so that it can be looked at in a
/// terminal as well.
///
/// # Errors
/// What `out` gives.
pub fn write_value(out: &mut impl Write, value: &impl serde::Serialize) -> io::Result<()> {
    let text = serde_json::to_string_pretty(value)?;
    let mut escaped = String::with_capacity(text.len() + 1);
    for character in text.chars() {
        // Outside strings JSON holds no such character but the newline, so all of them can be escaped alike.
        if character != '\n' && clean::is_hidden(character) {
            for unit in character.encode_utf16(&mut [0; 2]) {
                escaped.push_str(&format!("\\u{unit:04x}"));
            }
        } else {
            escaped.push(character);
        }
    }
    escaped.push('\n');
    out.write_all(escaped.as_bytes())
}

impl ReportedFinding {
    fn new(sources: &Sources, finding: &Finding) -> Self {
        Self {
            rule: finding.rule.name.to_owned(),
            severity: finding.rule.severity,
            what: finding.what.clone(),
            why: finding.why.clone(),
            mend: finding.mend.clone(),
            picture: finding.picture.as_ref().map(Picture::text),
            place: finding.place.as_ref().map(|place| ReportedPlace {
                piece: place.piece.clone(),
                row: place.row,
                pass: place.pass.map(|(number, of)| ReportedPass { number, of }),
            }),
            sizes: finding.sizes.clone(),
            at: ReportedLabel::new(sources, &finding.at),
            also: finding.also.iter().map(|label| ReportedLabel::new(sources, label)).collect(),
            fix: finding.fix.as_ref().map(|fix| ReportedFix {
                title: fix.title.clone(),
                safe: fix.safe,
                edits: fix.edits.iter().map(|edit| ReportedEdit::new(sources, edit)).collect(),
            }),
            ways: finding.ways.iter().map(|way| ReportedWay::new(sources, way)).collect(),
        }
    }
}

impl ReportedWay {
    fn new(sources: &Sources, way: &Way) -> Self {
        Self {
            when: way.when.clone(),
            blanks: way.blanks().map(str::to_owned).collect(),
            edit: ReportedEdit::new(sources, &Edit::new(way.span, way.text.clone())),
        }
    }
}

impl ReportedEdit {
    fn new(sources: &Sources, edit: &Edit) -> Self {
        let Span { file, start, end } = edit.span;
        Self {
            file: sources.get(file).name().to_owned(),
            start: ReportedPoint::new(sources, file, start),
            end: ReportedPoint::new(sources, file, end),
            text: edit.text.clone(),
        }
    }
}

impl ReportedLabel {
    fn new(sources: &Sources, label: &Label) -> Self {
        let Span { file, start, end } = label.span;
        Self {
            file: sources.get(file).name().to_owned(),
            start: ReportedPoint::new(sources, file, start),
            end: ReportedPoint::new(sources, file, end),
            text: label.text.clone(),
        }
    }
}

impl ReportedPoint {
    fn new(sources: &Sources, file: FileId, byte: u32) -> Self {
        let position = sources.get(file).position(byte);
        Self { line: position.line, column: position.column, byte }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 8259, section 7 (from memory): any character may stand in a string as `\u` and its UTF-16 units.
    #[test]
    fn hidden_characters_are_escaped_and_read_back() {
        let mut out = Vec::new();
        let words = "a\u{1b}\u{9b}\u{202e}\u{e0001}\n\u{7f}é\"";
        write_value(&mut out, &words).expect("writing to memory");
        let text = String::from_utf8(out).expect("JSON is UTF-8");
        assert_eq!(text, "\"a\\u001b\\u009b\\u202e\\udb40\\udc01\\n\\u007fé\\\"\"\n");
        assert_eq!(serde_json::from_str::<String>(&text).ok().as_deref(), Some(words));
    }

    #[test]
    fn the_schema_names_every_field_of_a_report() {
        let schema = serde_json::to_value(schemars::schema_for!(Report)).expect("a schema is JSON");
        let written = serde_json::to_value(Report::new(&[])).expect("a report is JSON");
        let fields = written.as_object().expect("a report is an object");
        for name in fields.keys() {
            assert!(schema["properties"][name].is_object(), "{name}");
            assert!(schema["required"].as_array().is_some_and(|all| all.contains(&name.as_str().into())), "{name}");
        }
    }
}

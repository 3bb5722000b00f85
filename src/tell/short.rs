//! One line a finding, for editors and for lists: `scarf.wale:12:5: error: what is wrong [rule-name]`, with the sizes in
//! words where it does not hold for all.

use super::severity_word;
use crate::clean;
use crate::finding::Finding;
use crate::source::Sources;
use std::io::{self, Write};

/// The line of one finding, without a newline. Line and column count from 1, the column in characters.
#[must_use]
pub fn line(sources: &Sources, finding: &Finding) -> String {
    let span = finding.at.span;
    let position = sources.position(span);
    let sizes = match finding.sizes.as_slice() {
        [] => String::new(),
        sizes => format!(" (size {})", clean::line(&sizes.join(", "))),
    };
    format!(
        "{}:{}:{}: {}: {}{sizes} [{}]",
        clean::line(sources.get(span.file).name()),
        position.line,
        position.column,
        severity_word(finding.rule.severity),
        clean::line(&finding.what),
        finding.rule
    )
}

/// Writes the lines of all findings.
///
/// # Errors
/// What `out` gives.
pub fn write(out: &mut impl Write, sources: &Sources, findings: &[Finding]) -> io::Result<()> {
    findings.iter().try_for_each(|finding| writeln!(out, "{}", line(sources, finding)))
}

//! One command line a finding that the runners of several code forges turn into a mark on the line of a change:
//! `::error file=scarf.wale,line=12,col=5,endLine=12,endColumn=9,title=lost-stitch::what is wrong`. The form is from memory.

use super::{sentence, severity_word};
use crate::clean;
use crate::finding::Finding;
use crate::source::Sources;
use std::io::{self, Write};

/// The line of one finding, without a newline. Lines and columns count from 1, columns in characters.
#[must_use]
pub fn line(sources: &Sources, finding: &Finding) -> String {
    let file = sources.get(finding.at.span.file);
    let (start, end) = (file.position(finding.at.span.start), file.position(finding.at.span.end));
    format!(
        "::{} file={},line={},col={},endLine={},endColumn={},title={}::{}",
        severity_word(finding.rule.severity),
        escaped(&clean::line(file.name()), true),
        start.line,
        start.column,
        end.line,
        end.column,
        finding.rule,
        escaped(&clean::block(&sentence(finding)), false)
    )
}

/// Writes the lines of all findings.
///
/// # Errors
/// What `out` gives.
pub fn write(out: &mut impl Write, sources: &Sources, findings: &[Finding]) -> io::Result<()> {
    findings.iter().try_for_each(|finding| writeln!(out, "{}", line(sources, finding)))
}

/// The signs that would end a line or, in a value before the words, the value.
fn escaped(text: &str, in_value: bool) -> String {
    let mut out = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '%' => out.push_str("%25"),
            '\r' => out.push_str("%0D"),
            '\n' => out.push_str("%0A"),
            ':' if in_value => out.push_str("%3A"),
            ',' if in_value => out.push_str("%2C"),
            other => out.push(other),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::find;
    use crate::source::Span;

    #[test]
    fn a_finding_is_one_line_whatever_is_in_it() {
        let mut sources = Sources::default();
        let file = sources.add("hats, 2:1.wale", "row front knit\n");
        let finding = find("edge-tuck")
            .expect("a rule")
            .finds(Span { file, start: 4, end: 9 }, "100% frays")
            .because("One line.\nAnother.");
        assert_eq!(
            line(&sources, &finding),
            "::warning file=hats%2C 2%3A1.wale,line=1,col=5,endLine=1,endColumn=10,title=edge-tuck::100%25 frays. One line.%0AAnother."
        );
    }
}

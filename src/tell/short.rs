//! One line a finding, for editors and for lists: `scarf.wale:12:5: error: what is wrong; what to do [rule-name]`, with the
//! sizes in words where it does not hold for all.

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
        "{}:{}:{}: {}: {}{sizes}{} [{}]",
        clean::line(sources.get(span.file).name()),
        position.line,
        position.column,
        severity_word(finding.rule.severity),
        clean::line(&finding.what),
        what_to_do(&finding.mend),
        finding.rule
    )
}

/// `; bring them into work first`: it goes on from what is wrong, so it begins small and has no full stop at its end.
fn what_to_do(mend: &str) -> String {
    let mend = clean::line(mend.trim());
    let mend = mend.strip_suffix('.').unwrap_or(&mend);
    if mend.is_empty() {
        return String::new();
    }
    let mut letters = mend.chars();
    let first = letters.next().filter(|first| first.is_uppercase());
    // Not a name, such as `L5`.
    match first.filter(|_| letters.clone().next().is_some_and(|second| second.is_lowercase() || second == ' ')) {
        Some(first) => format!("; {}{}", first.to_lowercase(), letters.as_str()),
        None => format!("; {mend}"),
    }
}

/// Writes the lines of all findings.
///
/// # Errors
/// What `out` gives.
pub fn write(out: &mut impl Write, sources: &Sources, findings: &[Finding]) -> io::Result<()> {
    findings.iter().try_for_each(|finding| writeln!(out, "{}", line(sources, finding)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_to_do_goes_on_from_what_is_wrong() {
        assert_eq!(what_to_do(""), "");
        assert_eq!(what_to_do("Write `knit`."), "; write `knit`");
        assert_eq!(
            what_to_do("A row takes one.\nSay `row`. Or leave it out.\n"),
            "; a row takes one. Say `row`. Or leave it out"
        );
        assert_eq!(what_to_do("L5 is free\u{1b}: use it"), "; L5 is free␛: use it");
    }
}

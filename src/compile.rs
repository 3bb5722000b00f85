//! The one place that ties the rooms together: from a text to its programs and everything there is to say about it.

use crate::finding::{Finding, Severity};
use crate::plan::program::Program;
use crate::play::Manner;
use crate::source::{Library, Sources};
use crate::{plan, rules, syntax};

/// What the compiler makes of a pattern.
#[derive(Debug, Clone, Default)]
pub struct Checked {
    /// The text and everything it uses.
    pub sources: Sources,
    /// One program for each size, in the order of the pattern; one in all when it has no sizes.
    pub programs: Vec<Program>,
    /// What there is to mend, in the order of the text.
    pub findings: Vec<Finding>,
}

/// Reads a pattern, works out its programs and plays every piece of every size by all rules.
#[must_use]
pub fn check(name: &str, text: &str, library: &dyn Library) -> Checked {
    check_while(name, text, library, &|| true).unwrap_or_default()
}

/// The same, given up as soon as nobody wants it any more: `wanted` is asked again and again while it goes on. None when
/// it was given up.
#[must_use]
pub fn check_while(name: &str, text: &str, library: &dyn Library, wanted: &dyn Fn() -> bool) -> Option<Checked> {
    let mut sources = Sources::default();
    let main = sources.add(name, text);
    let (trees, mut findings) = plan::gather(&mut sources, main, library, syntax::read);
    if !wanted() {
        return None;
    }
    let (programs, found) = plan::plan(&sources, &trees);
    if !wanted() {
        return None;
    }
    let wrong_bed: Vec<_> =
        found.iter().filter(|finding| finding.rule == "wrong-bed").map(|finding| finding.at.span).collect();
    let check = |piece| rules::check_piece_while(piece, Manner::CHECK, &wrong_bed, wanted);
    findings.extend(found);
    findings.extend(rules::unknown_allows(&plan::allowed_rules(&trees)));
    let played = programs
        .iter()
        .map(|program| (program.size.clone(), program.pieces.iter().flat_map(check).collect()))
        .collect();
    if !wanted() {
        return None;
    }
    let mut played = crate::finding::merge_sizes(played);
    rules::fit_fixes(&sources, &mut played);
    findings.extend(played);
    // What a mistake leaves undone is not used either.
    if findings.iter().any(|finding| finding.severity == Severity::Error) {
        findings.retain(|finding| finding.rule != "unused-name");
    }
    // The main file is read first and has the lowest number, so its findings come first.
    findings.sort_by_key(|finding| (finding.at.span, std::cmp::Reverse(finding.severity), finding.rule));
    Some(Checked { sources, programs, findings })
}

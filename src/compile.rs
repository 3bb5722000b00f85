//! The one place that ties the rooms together: from a text to its programs and everything there is to say about it.

use crate::catalogue::Severity;
use crate::finding::{Finding, said_once};
use crate::plan::program::Program;
use crate::plan::rules::{UNKNOWN_NAME, UNUSED_NAME, WRONG_BED};
use crate::play::Manner;
use crate::source::{Library, Sources};
use crate::syntax::forms::beginning_with;
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
        found.iter().filter(|finding| *finding.rule == WRONG_BED).map(|finding| finding.at.span).collect();
    let unknown = |finding: &Finding| !is_declared_in_vain(&sources, finding, &findings);
    let found = said_once(&[&UNKNOWN_NAME], found.into_iter().filter(unknown).collect());
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
    findings.extend(said_once(rules::HABITS, played));
    // What a mistake leaves undone is not used either.
    if findings.iter().any(|finding| finding.rule.severity == Severity::Error) {
        findings.retain(|finding| *finding.rule != UNUSED_NAME);
    }
    // The main file is read first and has the lowest number, so its findings come first.
    findings.sort_by_key(|finding| (finding.at.span, std::cmp::Reverse(finding.rule.severity), finding.rule));
    Some(Checked { sources, programs, findings })
}

/// Whether a name is unknown only because the line that declares it is among those that could not be read.
fn is_declared_in_vain(sources: &Sources, finding: &Finding, unread: &[Finding]) -> bool {
    if *finding.rule != UNKNOWN_NAME {
        return false;
    }
    let name = sources.words(finding.at.span);
    unread.iter().filter(|finding| finding.rule.severity == Severity::Error).any(|unread| {
        let words = |c: char| !(c.is_alphanumeric() || c == '-');
        let mut words = sources.line(unread.at.span).split(words).filter(|word| !word.is_empty());
        words.next().is_some_and(|first| beginning_with(first).any(|form| form.names)) && words.any(|word| word == name)
    })
}

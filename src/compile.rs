//! The one place that ties the rooms together: from a text to its programs and everything there is to say about it.

use crate::beds::Waste;
use crate::catalogue::Severity;
use crate::finding::{Finding, said_once};
use crate::names::Names;
use crate::plan::program::Program;
use crate::plan::rules::{UNKNOWN_NAME, UNUSED_NAME, WRONG_BED};
use crate::play::{Budget, Manner};
use crate::source::{FileId, Library, Sources, Span};
use crate::syntax::tree::Tree;
use crate::{plan, play, rules, syntax};
use std::collections::HashSet;

/// What the compiler makes of a pattern.
#[derive(Debug, Clone, Default)]
pub struct Checked {
    /// The text and everything it uses.
    pub sources: Sources,
    /// The tree of each file, used files before the file that uses them and the pattern itself last.
    pub trees: Vec<(FileId, Tree)>,
    /// One program for each size, in the order of the pattern; one in all when it has no sizes.
    pub programs: Vec<Program>,
    /// What there is to mend, in the order of the text.
    pub findings: Vec<Finding>,
}

impl Checked {
    /// Whether there is nothing in the pattern's own file but blanks and comments.
    #[must_use]
    pub fn says_nothing(&self) -> bool {
        self.findings.is_empty() && self.trees.last().is_some_and(|(_, tree)| tree.statements.is_empty())
    }
}

impl AsRef<[Finding]> for Checked {
    fn as_ref(&self) -> &[Finding] {
        &self.findings
    }
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
    let read = Read::new(name, text, library);
    if !wanted() {
        return None;
    }
    let planned = read.plan();
    let findings = read.play(&planned, wanted)?;
    Some(Checked { sources: read.sources, trees: read.trees, programs: planned.programs, findings })
}

/// A pattern as it is read, and nothing worked out yet: the first step of a check.
#[derive(Debug)]
pub(crate) struct Read {
    pub(crate) sources: Sources,
    /// As in [`Checked`].
    pub(crate) trees: Vec<(FileId, Tree)>,
    pub(crate) names: Names,
    findings: Vec<Finding>,
}

/// What is worked out of a pattern before it is played: the second step of a check.
#[derive(Debug)]
pub(crate) struct Planned {
    pub(crate) programs: Vec<Program>,
    findings: Vec<Finding>,
}

impl Read {
    pub(crate) fn new(name: &str, text: &str, library: &dyn Library) -> Self {
        let mut sources = Sources::default();
        let main = sources.add(name, text);
        let (trees, findings) = plan::gather(&mut sources, main, library, syntax::read);
        let names = Names::of(&trees);
        Self { sources, trees, names, findings }
    }

    pub(crate) fn plan(&self) -> Planned {
        let (mut programs, findings) = plan::plan_named(&self.sources, &self.trees, &self.names);
        let budget = Budget::default();
        programs.iter_mut().for_each(|program| play::hand_over(program, &budget));
        Planned { programs, findings }
    }

    /// Plays every piece by all rules: the last step of a check, which gives all findings of all steps. None when it was
    /// given up because nobody wants it any more.
    pub(crate) fn play(&self, planned: &Planned, wanted: &dyn Fn() -> bool) -> Option<Vec<Finding>> {
        if !wanted() {
            return None;
        }
        let found = &planned.findings;
        let wrong_bed: Vec<_> =
            found.iter().filter(|finding| *finding.rule == WRONG_BED).map(|finding| finding.at.span).collect();
        // A name may be unknown only because the line that gives it could not be read.
        let unread = |name: &str| self.trees.iter().any(|(_, tree)| tree.names_unread.contains(name));
        let unknown =
            |finding: &&Finding| *finding.rule != UNKNOWN_NAME || !unread(self.sources.words(finding.at.span));
        let mut findings = self.findings.clone();
        findings.extend(said_once(&[&UNKNOWN_NAME], found.iter().filter(unknown).cloned().collect()));
        findings.extend(rules::unknown_allows(&plan::allowed_rules(&self.trees)));
        let budget = Budget::default();
        let played = planned
            .programs
            .iter()
            .map(|program| (program.size.clone(), check_pieces(program, &budget, &wrong_bed, wanted)))
            .collect();
        if !wanted() {
            return None;
        }
        let mut played = crate::finding::merge_sizes(played);
        rules::fit_fixes(&self.sources, &mut played);
        // The beds are those of the lines that could be read. Where one could not, nobody knows how they would stand, so
        // what mends their state is only offered.
        if findings.iter().any(|finding| finding.rule.severity == Severity::Error) {
            played.iter_mut().filter_map(|finding| finding.fix.as_mut()).for_each(|fix| fix.safe = false);
        }
        findings.extend(said_once(rules::HABITS, played));
        // What a mistake leaves undone is not used either.
        if findings.iter().any(|finding| finding.rule.severity == Severity::Error) {
            findings.retain(|finding| *finding.rule != UNUSED_NAME);
        }
        for finding in findings.iter_mut().filter(|finding| finding.at.span.file != FileId::default()) {
            let name = crate::clean::line(self.sources.get(finding.at.span.file).name());
            finding.what += &format!(" (in the used file `{name}`)");
        }
        // The main file is read first and has the lowest number, so its findings come first.
        findings.sort_by_key(|finding| (finding.at.span, std::cmp::Reverse(finding.rule.severity), finding.rule));
        Some(findings)
    }
}

/// Plays the pieces of a program by all rules, in the order of the text. What one with an error leaves on waste yarn is
/// another number once that is mended, so a later piece is not judged by it.
fn check_pieces(program: &Program, budget: &Budget, wrong_bed: &[Span], wanted: &dyn Fn() -> bool) -> Vec<Finding> {
    let mut all: Vec<Finding> = Vec::new();
    let mut astray: HashSet<&Waste> = HashSet::new();
    for piece in &program.pieces {
        let manner = budget.within(Manner::CHECK);
        let looked = if piece.waste.iter().any(|here| astray.contains(&here.waste)) {
            let mut piece = piece.clone();
            piece.waste.iter_mut().filter(|here| astray.contains(&here.waste)).for_each(|here| here.stitches = None);
            rules::check_piece_while(&piece, manner, wrong_bed, wanted)
        } else {
            rules::check_piece_while(piece, manner, wrong_bed, wanted)
        };
        budget.spend(looked.operations);
        let found = looked.findings;
        if found.iter().any(|finding| finding.rule.severity == Severity::Error) {
            astray.extend(piece.waste.iter().map(|here| &here.waste));
        }
        all.extend(found);
    }
    all
}

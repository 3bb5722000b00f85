//! What is found while one size is worked out: each thing once, and no more than anybody can read.

use crate::catalogue::Rule;
use crate::finding::Finding;
use crate::plan::rules;
use std::collections::HashSet;

/// Findings of one size.
const MOST_FINDINGS: usize = 5_000;

/// What depends on values that a definition is only given when it is used. While a definition with parameters is
/// looked at on its own these would be guesses.
const GUESSES: &[&Rule] = &[
    &rules::DIVIDED_BY_ZERO,
    &rules::NO_ROWS,
    &rules::NOT_A_WHOLE_NUMBER,
    &rules::NOT_FIXED,
    &rules::NOT_SIDE_BY_SIDE,
    &rules::OFF_BED,
    &rules::OPEN_REPEAT,
    &rules::OUT_OF_RANGE,
    &rules::RAGGED_REPEAT,
    &rules::TOO_LARGE,
    &rules::UNEVEN_MOVE,
    &rules::WRONG_BED,
];

/// The findings of one size.
#[derive(Debug, Default)]
pub(in crate::plan) struct Report {
    findings: Vec<Finding>,
    seen: HashSet<Finding>,
    /// Whether some parameter stands for nothing yet.
    pub(in crate::plan) guessing: bool,
    /// Whether there is no room for more steps or findings, so that the rest is let be.
    pub(in crate::plan) full: bool,
}

impl Report {
    /// What was found.
    pub(in crate::plan) fn into_findings(self) -> Vec<Finding> {
        self.findings
    }

    /// What was found so far.
    pub(in crate::plan) fn findings(&self) -> &[Finding] {
        &self.findings
    }

    /// Takes down a finding, once. While a definition is looked at without the values of its parameters, a finding
    /// that may hang on them is left out.
    pub(in crate::plan) fn report(&mut self, finding: Finding) {
        if !(self.guessing && GUESSES.contains(&finding.rule)) {
            self.sure(finding);
        }
    }

    /// Takes down a finding that no parameter could change, once.
    pub(in crate::plan) fn sure(&mut self, finding: Finding) {
        if self.findings.len() > MOST_FINDINGS || !self.seen.insert(finding.clone()) {
            return;
        }
        if self.findings.len() == MOST_FINDINGS {
            self.full = true;
            self.findings.push(
                rules::TOO_MANY_FINDINGS
                    .finds(finding.at.span, "there is more to say than anybody can read")
                    .because(format!("These are {MOST_FINDINGS} findings already, and this is not the last."))
                    .mend("Mend the first ones and check again."),
            );
            return;
        }
        self.findings.push(finding);
    }
}

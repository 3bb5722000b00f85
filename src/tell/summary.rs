//! The last line: how much there is to mend.

use crate::catalogue::Severity;
use crate::clean;
use crate::finding::Finding;

/// How many findings there are of each severity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Count {
    /// Errors.
    pub errors: usize,
    /// Warnings.
    pub warnings: usize,
}

impl Count {
    /// Counts findings.
    #[must_use]
    pub fn of(findings: &[Finding]) -> Self {
        let errors = findings.iter().filter(|finding| finding.rule.severity == Severity::Error).count();
        Self { errors, warnings: findings.len() - errors }
    }

    /// Whether there is nothing to mend.
    #[must_use]
    pub const fn is_clean(self) -> bool {
        self.errors == 0 && self.warnings == 0
    }

    /// Both counts in words: `2 errors, 1 warning`.
    fn words(self) -> String {
        let counted = |count: usize, word: &str| match count {
            0 => None,
            1 => Some(format!("1 {word}")),
            _ => Some(format!("{count} {word}s")),
        };
        let both: Vec<String> =
            [counted(self.errors, "error"), counted(self.warnings, "warning")].into_iter().flatten().collect();
        both.join(", ")
    }
}

/// The last line for the patterns that were checked, each with the name of its file; empty when there were none.
#[must_use]
pub fn line(patterns: &[(&str, Count)]) -> String {
    let total = patterns.iter().fold(Count::default(), |sum, (_, count)| Count {
        errors: sum.errors + count.errors,
        warnings: sum.warnings + count.warnings,
    });
    let unclean = patterns.iter().filter(|(_, count)| !count.is_clean()).count();
    match (patterns, unclean) {
        ([], _) => String::new(),
        ([(name, _)], 0) => format!("{}: nothing to mend", clean::line(name)),
        ([(name, _)], _) => format!("{} in {}", total.words(), clean::line(name)),
        (all, 0) => format!("{} files: nothing to mend", all.len()),
        (all, _) => format!("{} in {unclean} of {} files", total.words(), all.len()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_file() {
        let count = |errors, warnings| Count { errors, warnings };
        assert_eq!(line(&[("breakwater.wale", count(0, 0))]), "breakwater.wale: nothing to mend");
        assert_eq!(line(&[("breakwater.wale", count(2, 1))]), "2 errors, 1 warning in breakwater.wale");
        assert_eq!(line(&[("breakwater.wale", count(0, 3))]), "3 warnings in breakwater.wale");
        assert_eq!(line(&[("\u{1b}[2J.wale", count(1, 0))]), "1 error in ␛[2J.wale");
    }

    #[test]
    fn several_files_are_added_up() {
        let count = |errors, warnings| Count { errors, warnings };
        let files = [("a", count(1, 0)), ("b", count(0, 0)), ("c", count(2, 4))];
        assert_eq!(line(&files), "3 errors, 4 warnings in 2 of 3 files");
        assert_eq!(line(&[("a", count(0, 0)), ("b", count(0, 0))]), "2 files: nothing to mend");
        assert_eq!(line(&[]), "");
    }
}

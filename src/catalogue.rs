//! What a rule says of itself. Every finding is a rule's; who looks for it stands in the rooms above.

use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};

/// How much a finding matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// Strain, looks or habit: the piece can be knitted.
    Warning,
    /// Fabric would be lost, needles hurt, or the pattern cannot be understood.
    Error,
}

/// A rule: its name, its texts, and how much it matters. Two rules are the same, and come in order, by their names.
#[derive(Clone, Copy)]
pub struct Rule {
    /// Its name, kebab-case, in the trade's words. It reads well after the word `allow`.
    pub name: &'static str,
    /// Whether it stops a pattern or only warns.
    pub severity: Severity,
    /// What it finds, in one line.
    pub summary: &'static str,
    /// Why that matters, in a knitter's words.
    pub why: &'static str,
    /// Where its numbers come from: the profile, a published source, or common practice.
    pub source: &'static str,
    /// A pattern, or the inside of a piece, that breaks exactly this rule.
    pub bad: &'static str,
    /// The same, mended.
    pub good: &'static str,
}

/// The statics of a room's rules that are text only, each written once, and the table `RULES` of all of them.
macro_rules! catalogue {
    ($($name:ident = $rule:expr;)*) => {
        $(pub(crate) static $name: Rule = $rule;)*
        /// All of these rules.
        pub(crate) static RULES: &[&Rule] = &[$(&$name),*];
    };
}
pub(crate) use catalogue;

impl PartialEq for Rule {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

impl Eq for Rule {}

impl PartialOrd for Rule {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Rule {
    fn cmp(&self, other: &Self) -> Ordering {
        self.name.cmp(other.name)
    }
}

impl Hash for Rule {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.name.hash(state);
    }
}

impl fmt::Display for Rule {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name)
    }
}

impl fmt::Debug for Rule {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self.name, f)
    }
}

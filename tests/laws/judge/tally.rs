//! Counts what was met, and keeps the shortest example of each disagreement.

use super::compare::{Agreed, Differ};
use super::verdict::First;
use std::collections::BTreeMap;
use std::time::Instant;

/// A number that the environment asks for.
pub(crate) fn number(name: &str) -> Option<u64> {
    std::env::var(name).ok()?.parse().ok()
}

/// What was met, and how often.
#[derive(Default)]
pub(crate) struct Tally {
    pub(crate) done: u64,
    pub(crate) accepted: u64,
    clean: u64,
    pub(crate) errors: BTreeMap<String, u64>,
    warnings: BTreeMap<String, u64>,
    /// By what they differ in: how often, and the shortest example.
    differ: BTreeMap<String, (u64, String)>,
}

impl Tally {
    pub(crate) fn take(&mut self, result: Result<Agreed, Differ>) {
        self.done += 1;
        match result {
            Ok(agreed) => {
                self.accepted += u64::from(agreed.error.is_none());
                self.clean += u64::from(agreed.error.is_none() && agreed.warning.is_none());
                let count = |into: &mut BTreeMap<String, u64>, first: First| {
                    for rule in first.into_iter().flat_map(|(_, rules)| rules) {
                        *into.entry(rule.to_owned()).or_default() += 1;
                    }
                };
                count(&mut self.errors, agreed.error);
                count(&mut self.warnings, agreed.warning);
            }
            Err(differ) => {
                let (times, example) = self.differ.entry(differ.what).or_default();
                *times += 1;
                if example.is_empty() || differ.told.len() < example.len() {
                    *example = differ.told;
                }
            }
        }
    }

    /// Prints the numbers, and panics if there was a disagreement.
    pub(crate) fn tell(&self, what: &str, begun: Instant) {
        let share = |part: u64| part as f64 * 100.0 / self.done.max(1) as f64;
        println!("{what}: {} programs in {:.1?}", self.done, begun.elapsed());
        println!("  accepted {:.1} %, without a warning of fact {:.1} %", share(self.accepted), share(self.clean));
        println!("  first errors: {:?}", self.errors);
        println!("  first warnings of fact: {:?}", self.warnings);
        println!("  disagreements: {}", self.differ.values().map(|(times, _)| times).sum::<u64>());
        let examples = self.differ.iter().map(|(what, (times, example))| format!("{what}, {times} times:\n{example}"));
        let told = examples.collect::<Vec<_>>().join("\n");
        assert!(self.differ.is_empty(), "{what}\n{told}");
    }
}

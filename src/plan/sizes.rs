//! Findings of several sizes made into one list.

use crate::finding::Finding;
use std::collections::HashMap;

/// Puts the findings of all sizes together: one that every size has is said once and names no size, another names the
/// sizes it holds for. Sorted by file and place; findings of one place keep the order in which they were made.
pub(super) fn merge(shared: Vec<Finding>, found: Vec<(Option<String>, Vec<Finding>)>) -> Vec<Finding> {
    let count = found.len();
    let mut merged: Vec<(Finding, Vec<String>, usize)> =
        shared.into_iter().map(|finding| (finding, Vec::new(), count)).collect();
    let mut index: HashMap<Finding, usize> = HashMap::new();
    for (size, findings) in found {
        for finding in findings {
            let at = *index.entry(finding).or_insert_with_key(|finding| {
                merged.push((finding.clone(), Vec::new(), 0));
                merged.len() - 1
            });
            if let Some((_, sizes, times)) = merged.get_mut(at) {
                sizes.extend(size.clone());
                *times += 1;
            }
        }
    }
    let mut findings: Vec<Finding> = merged
        .into_iter()
        .map(|(mut finding, sizes, times)| {
            if times < count {
                finding.sizes = sizes;
            }
            finding
        })
        .collect();
    findings.sort_by_key(|finding| finding.at.span);
    findings
}

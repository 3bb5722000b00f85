//! Puts together what holds in several sizes.

use super::form::{About, Change, How, InRepeat};
use super::piece::Placed;
use crate::source::Span;
use std::collections::HashMap;

/// The lines that a change is of, and its sort.
type Place = ((Option<Span>, Option<Span>), About, How, Option<String>);

/// A change and the sizes in which it was met.
struct Entry {
    change: Change,
    /// Sizes in which it is the same, word for word.
    sizes: Vec<Option<String>>,
    /// Sizes in which it has other needles or numbers.
    others: Vec<Option<String>>,
}

/// Puts the changes of all sizes together: one that holds in every size is said once and names no size. One that differs
/// from size to size only in its needles or numbers is said with those of the first. `found` has the name of each size and
/// what was found there.
pub(super) fn merged(found: Vec<(Option<String>, Vec<Placed>)>) -> Vec<Change> {
    let count = found.len();
    let mut entries: Vec<Entry> = Vec::new();
    let mut index: HashMap<Place, Vec<usize>> = HashMap::new();
    for (size, changes) in found {
        for Placed { change, spans } in changes {
            let there = index.entry((spans, change.about, change.how, change.piece.clone())).or_default();
            let same = |at: &&usize| same_words(&entries[**at].change, &change);
            let is_new_here = |at: &&usize| {
                let entry = &entries[**at];
                !entry.sizes.contains(&size) && !entry.others.contains(&size)
            };
            if let Some(&at) = there.iter().find(same) {
                // Twice in one size is a definition that is worked at two places.
                let entry = &mut entries[at];
                add(&mut entry.change, change);
                if !entry.sizes.contains(&size) {
                    entry.sizes.push(size.clone());
                }
            } else if let Some(&at) = there.iter().find(is_new_here) {
                let entry = &mut entries[at];
                add(&mut entry.change, change);
                entry.others.push(size.clone());
            } else {
                there.push(entries.len());
                entries.push(Entry { change, sizes: vec![size.clone()], others: Vec::new() });
            }
        }
    }
    let named = |Entry { mut change, sizes, others }: Entry| {
        if sizes.len() + others.len() < count {
            change.sizes = sizes.into_iter().flatten().collect();
        }
        change.other_numbers_in = others.into_iter().flatten().collect();
        change
    };
    entries.into_iter().map(named).collect()
}

/// Whether they say the same.
fn same_words(one: &Change, other: &Change) -> bool {
    (&one.what, &one.old, &one.new) == (&other.what, &other.old, &other.new)
}

/// Adds where the same change is in another size or at another place. The repeats that are named are those of the first
/// place, with the times of all places in such repeats.
fn add(change: &mut Change, other: Change) {
    for row in other.rows {
        if !change.rows.contains(&row) {
            change.rows.push(row);
        }
    }
    let stitches = |repeats: &[InRepeat]| repeats.iter().map(|repeat| repeat.stitch.clone()).collect::<Vec<_>>();
    if stitches(&change.repeats) != stitches(&other.repeats) {
        return;
    }
    for (repeat, other) in change.repeats.iter_mut().zip(other.repeats) {
        for times in other.times {
            if !repeat.times.contains(&times) {
                repeat.times.push(times);
            }
        }
    }
}

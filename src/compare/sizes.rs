//! Puts together what holds in several sizes.

use super::form::{About, AtRow, Change, How, InRepeat};
use super::sequence::key_of;
use super::side::Placed;
use crate::source::Span;
use std::collections::{HashMap, HashSet};

/// The lines that a change is of, and its sort.
type Place = ((Option<Span>, Option<Span>), About, How, Option<String>);

/// A change and the sizes in which it was met.
struct Entry {
    change: Change,
    /// The rows that it names.
    rows: HashSet<AtRow>,
    /// Sizes in which it is the same, word for word.
    sizes: Vec<Option<String>>,
    /// Sizes in which it has other needles or numbers.
    others: Vec<Option<String>>,
}

/// The changes at one place.
#[derive(Default)]
struct There {
    entries: Vec<usize>,
    /// By what they say.
    by_words: HashMap<u128, usize>,
    /// The size that was looked at last, and how many of the first entries have been met in it.
    met: (usize, usize),
}

/// Puts the changes of all sizes together: one that holds in every size is said once and names no size. One that differs
/// from size to size only in its needles or numbers is said with those of the first. `found` has the name of each size and
/// what was found there.
pub(super) fn merged(found: Vec<(Option<String>, Vec<Placed>)>) -> Vec<Change> {
    let count = found.len();
    let mut entries: Vec<Entry> = Vec::new();
    let mut index: HashMap<Place, There> = HashMap::new();
    for (number, (size, changes)) in found.into_iter().enumerate() {
        for Placed { change, spans } in changes {
            let there = index.entry((spans, change.about, change.how, change.piece.clone())).or_default();
            if there.met.0 != number {
                there.met = (number, 0);
            }
            let is_new_here = |at: usize| !entries[at].sizes.contains(&size) && !entries[at].others.contains(&size);
            // What two changes say is the same when these are.
            let words = key_of(&(&change.what, &change.old, &change.new));
            if let Some(&at) = there.by_words.get(&words) {
                // Twice in one size is a definition that is worked at two places.
                let entry = &mut entries[at];
                add(entry, change);
                if !entry.sizes.contains(&size) {
                    entry.sizes.push(size.clone());
                }
                continue;
            }
            // An entry that was met in this size stays so: nobody looks at it again.
            while there.entries.get(there.met.1).is_some_and(|&at| !is_new_here(at)) {
                there.met.1 += 1;
            }
            if let Some(&at) = there.entries.get(there.met.1) {
                let entry = &mut entries[at];
                add(entry, change);
                entry.others.push(size.clone());
            } else {
                there.by_words.insert(words, entries.len());
                there.entries.push(entries.len());
                let rows = change.rows.iter().cloned().collect();
                entries.push(Entry { change, rows, sizes: vec![size.clone()], others: Vec::new() });
            }
        }
    }
    let named = |Entry { mut change, sizes, others, .. }: Entry| {
        if sizes.len() + others.len() < count {
            change.sizes = sizes.into_iter().flatten().collect();
        }
        change.other_numbers_in = others.into_iter().flatten().collect();
        change
    };
    entries.into_iter().map(named).collect()
}

/// Adds where the same change is in another size or at another place. The repeats that are named are those of the first
/// place, with the times of all places in such repeats.
fn add(entry: &mut Entry, other: Change) {
    let change = &mut entry.change;
    for row in other.rows {
        if entry.rows.insert(row.clone()) {
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

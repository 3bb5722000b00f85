//! Lays two lists of work side by side and says where they differ, in as few steps as can be said.
//!
//! What is equal is found by the `similar` crate on the numbers of the parts; what is left over between is paired by
//! likeness, and repeats that are paired are looked into.

use super::room::Room;
use super::sequence::Sequence;
use super::work::{Body, Leaf, Node, NodeKind, Run};
use similar::DiffTag;
use std::collections::{HashMap, HashSet};
use std::hash::Hash;
use std::ops::Range;
use std::sync::Arc;

/// More pairs than that are not weighed: the parts are then paired in their order.
const MOST_PAIRS: usize = 1 << 18;
/// Repeats are written out when no more operations than that come of it.
const MOST_WRITTEN_OUT: u64 = 512;
/// How often two lists that several places share are looked into.
const MOST_LOOKS: u32 = 16;
/// A part that is told of counts for no more operations than that.
const MOST_TOLD: usize = 1 << 12;
/// Weighing two repeats takes as long as weighing so many pairs of rows.
const REPEATS_WEIGH: usize = 16;
/// Parts at the beginning of two repeats that are looked at to see whether they have something in common.
const MOST_SHARED: usize = 32;
/// What it costs to leave a part alone.
const ALONE: u32 = 10;
/// What no pair costs.
const NEVER: u32 = 2 * ALONE + 1;

/// A part at its place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Part<'w> {
    /// The part.
    pub(super) node: &'w Node,
    /// Rows to be added to those of its operations: it stands in a repeat that was written out.
    pub(super) later: u64,
}

/// A difference.
#[derive(Debug, Clone)]
pub(super) enum Difference<'w> {
    /// A part is gone.
    Gone(Part<'w>),
    /// A part is new.
    New(Part<'w>),
    /// One operation became another: their numbers, rows to be added, and how often each is done there.
    Other { old: (usize, u64, u64), new: (usize, u64, u64) },
    /// Something is done another number of times.
    Times { old: Part<'w>, new: Part<'w>, counts: (u64, u64) },
    /// A part stands at another place.
    Moved { old: Part<'w>, new: Part<'w> },
}

impl<'w> Difference<'w> {
    /// The same from the other side.
    fn turned(self) -> Self {
        match self {
            Self::Gone(part) => Self::New(part),
            Self::New(part) => Self::Gone(part),
            Self::Other { old, new } => Self::Other { old: new, new: old },
            Self::Times { old, new, counts } => Self::Times { old: new, new: old, counts: (counts.1, counts.0) },
            Self::Moved { old, new } => Self::Moved { old: new, new: old },
        }
    }
}

/// A difference, and the repeats it stands in, the outermost first.
#[derive(Debug, Clone)]
pub(super) struct Found<'w> {
    pub(super) difference: Difference<'w>,
    pub(super) within: Vec<(&'w Run, &'w Run)>,
}

impl Found<'_> {
    /// Which list it is in: a moved part stays in its list.
    fn list(&self) -> usize {
        self.within.last().map_or(0, |(run, _)| Arc::as_ptr(&run.body) as usize)
    }
}

/// What is to be known of the operations of both sides.
struct Sides<'s, 'w> {
    old: &'w [Leaf],
    new: &'w [Leaf],
    /// Whether two operations do the same although they are written otherwise.
    alike: &'s dyn Fn(usize, usize) -> bool,
}

/// The differences of two lists, as many as there is room for. Seen from the other side they are the same ones.
pub(super) fn differences<'w>(
    old: &'w Body,
    new: &'w Body,
    leaves: (&'w [Leaf], &'w [Leaf]),
    alike: &dyn Fn(usize, usize) -> bool,
    room: &Room,
) -> Vec<Found<'w>> {
    // Which of two lines that changed places has moved is a matter of where one begins.
    if old.sequence > new.sequence {
        let alike = |one: usize, other: usize| alike(other, one);
        let turned = |found: Found<'w>| Found {
            difference: found.difference.turned(),
            within: found.within.into_iter().map(|(one, other)| (other, one)).collect(),
        };
        return in_order(new, old, &Sides { old: leaves.1, new: leaves.0, alike: &alike }, room)
            .into_iter()
            .map(turned)
            .collect();
    }
    in_order(old, new, &Sides { old: leaves.0, new: leaves.1, alike }, room)
}

fn in_order<'w>(old: &'w Body, new: &'w Body, sides: &Sides<'_, 'w>, room: &Room) -> Vec<Found<'w>> {
    let parts = |body: &'w Body| body.nodes.iter().map(|node| Part { node, later: 0 }).collect::<Vec<_>>();
    let mut aligner = Aligner { sides, room, looks: HashMap::new(), within: Vec::new() };
    moves(aligner.lists(&parts(old), &parts(new)))
}

/// What is gone at one place and new at another of the same list has moved.
fn moves(mut found: Vec<Found<'_>>) -> Vec<Found<'_>> {
    let mut met: HashMap<(Sequence, usize), (Vec<usize>, Vec<usize>)> = HashMap::new();
    for (at, one) in found.iter().enumerate() {
        match one.difference {
            Difference::Gone(part) => met.entry((part.node.sequence, one.list())).or_default().0.push(at),
            Difference::New(part) => met.entry((part.node.sequence, one.list())).or_default().1.push(at),
            _ => {}
        }
    }
    let mut taken = HashSet::new();
    for (gone, added) in met.values() {
        // Of several that are the same nobody can tell which went where.
        if let (&[from], &[to]) = (gone.as_slice(), added.as_slice())
            && let (Difference::Gone(old), Difference::New(new)) = (&found[from].difference, &found[to].difference)
        {
            let (old, new) = (*old, *new);
            taken.insert(to);
            found[from].difference = Difference::Moved { old, new };
        }
    }
    let mut at = 0;
    found.retain(|_| {
        at += 1;
        !taken.contains(&(at - 1))
    });
    found
}

/// A stretch of two lists: whether it is equal, and where it is in each.
pub(super) type Stretch = (bool, Range<usize>, Range<usize>);

/// What is equal in two lists of keys, what is not, and where. Seen from the other side it is the same.
pub(super) fn steps<T: Ord + Hash>(old: &[T], new: &[T]) -> Vec<Stretch> {
    if old > new {
        return steps(new, old).into_iter().map(|(equal, one, other)| (equal, other, one)).collect();
    }
    let steps = similar::capture_diff_slices(similar::Algorithm::Myers, old, new);
    let mut stretches: Vec<Stretch> =
        steps.iter().map(|step| (step.tag() == DiffTag::Equal, step.old_range(), step.new_range())).collect();
    slide(old, &mut stretches, |stretch| &stretch.1, |stretch| &mut stretch.1);
    slide(new, &mut stretches, |stretch| &stretch.2, |stretch| &mut stretch.2);
    stretches
}

/// Where a row is gone among rows that are all the same, any of them may be the one. It is the one where something else is
/// new: then one row became another. `list` is the side on which something is gone, and `range` its range in a stretch.
fn slide<T: PartialEq>(
    list: &[T],
    stretches: &mut [Stretch],
    range: impl Fn(&Stretch) -> &Range<usize>,
    range_mut: impl Fn(&mut Stretch) -> &mut Range<usize>,
) {
    for at in 2..stretches.len() {
        let [gone, equal, added] = &stretches[at - 2..=at] else { continue };
        let (from, to, length) = (range(gone).start, range(gone).end, range(equal).len());
        let slides = !gone.0 && equal.0 && !added.0 && from < to && range(added).is_empty()
            // Something that was paired already stays.
            && (gone.1.is_empty() || gone.2.is_empty())
            && (0..length).all(|step| list[from + step] == list[to + step]);
        if slides {
            let count = to - from;
            *range_mut(&mut stretches[at - 2]) = from..from;
            *range_mut(&mut stretches[at - 1]) = from..from + length;
            *range_mut(&mut stretches[at]) = from + length..from + length + count;
        }
    }
}

struct Aligner<'s, 'w> {
    sides: &'s Sides<'s, 'w>,
    room: &'s Room,
    looks: HashMap<(usize, usize), u32>,
    within: Vec<(&'w Run, &'w Run)>,
}

fn all(parts: &[Part<'_>]) -> Sequence {
    parts.iter().fold(Sequence::EMPTY, |all, part| all.then(part.node.sequence))
}

impl<'w> Aligner<'_, 'w> {
    fn lists(&mut self, old: &[Part<'w>], new: &[Part<'w>]) -> Vec<Found<'w>> {
        let mut found = Vec::new();
        if !self.room.looks(old.len() + new.len()) {
            return found;
        }
        let keys = |parts: &[Part<'_>]| parts.iter().map(|part| part.node.sequence).collect::<Vec<_>>();
        let (mut old_from, mut new_from) = (0, 0);
        for (equal, there, here) in steps(&keys(old), &keys(new)) {
            if equal {
                found.extend(self.region(&old[old_from..there.start], &new[new_from..here.start]));
                (old_from, new_from) = (there.end, here.end);
            }
        }
        found.extend(self.region(&old[old_from..], &new[new_from..]));
        found
    }

    /// Parts between two places that are equal.
    fn region(&mut self, old: &[Part<'w>], new: &[Part<'w>]) -> Vec<Found<'w>> {
        if all(old) == all(new) {
            return Vec::new();
        }
        if old.is_empty() || new.is_empty() {
            let gone = old.iter().map(|part| Difference::Gone(*part));
            let added = new.iter().map(|part| Difference::New(*part));
            return gone.chain(added).map_while(|difference| self.found(difference)).collect();
        }
        let paired = self.paired(old, new);
        if paired.len() > 1
            && !self.room.is_out()
            && let (Some(old_out), Some(new_out)) = (written_out(old), written_out(new))
            && (old_out.len(), new_out.len()) != (old.len(), new.len())
        {
            let looks = self.looks.clone();
            let written_out = self.lists(&old_out, &new_out);
            if written_out.len() < paired.len() && !self.room.is_out() {
                return written_out;
            }
            self.looks = looks;
        }
        paired
    }

    /// A difference at this place, if there is room for it.
    fn found(&self, difference: Difference<'w>) -> Option<Found<'w>> {
        let operations = match &difference {
            Difference::Gone(part) | Difference::New(part) => match &part.node.kind {
                NodeKind::Leaf(_) => 1,
                NodeKind::Run(run) => run.body.size.min(MOST_TOLD),
            },
            _ => 1,
        };
        let tells = self.room.tells(self.within.len(), operations);
        tells.then(|| Found { difference, within: self.within.clone() })
    }

    /// Pairs parts in their order so that the pairs are most alike.
    fn paired(&mut self, old: &[Part<'w>], new: &[Part<'w>]) -> Vec<Found<'w>> {
        let mut found = Vec::new();
        for (one, other) in self.pairs(old, new) {
            match (one.map(|at| old[at]), other.map(|at| new[at])) {
                (Some(old), Some(new)) => found.extend(self.pair(old, new)),
                (Some(old), None) => found.extend(self.found(Difference::Gone(old))),
                (None, Some(new)) => found.extend(self.found(Difference::New(new))),
                (None, None) => {}
            }
            if self.room.is_out() {
                break;
            }
        }
        found
    }

    fn pairs(&self, old: &[Part<'w>], new: &[Part<'w>]) -> Vec<(Option<usize>, Option<usize>)> {
        let (height, width) = (old.len(), new.len());
        let repeats = |parts: &[Part<'_>]| parts.iter().filter(|part| part.node.single().is_none()).count();
        let pairs = height.saturating_mul(width);
        let weight = pairs.saturating_add(REPEATS_WEIGH.saturating_mul(repeats(old)).saturating_mul(repeats(new)));
        if pairs > MOST_PAIRS || !self.room.weighs(weight) {
            let both = height.min(width);
            let cost = |at: usize| self.cost(old[at], new[at]);
            let pair = |at: usize| {
                if cost(at) < NEVER { vec![(Some(at), Some(at))] } else { vec![(Some(at), None), (None, Some(at))] }
            };
            let rest = (both..height).map(|at| (Some(at), None)).chain((both..width).map(|at| (None, Some(at))));
            return (0..both).flat_map(pair).chain(rest).collect();
        }
        // From the ends: what it costs to pair all that comes at and after these two places.
        let mut costs = vec![vec![0_u32; width + 1]; height + 1];
        for i in (0..=height).rev() {
            for j in (0..=width).rev() {
                let alone = |i: usize, j: usize| costs[i][j].saturating_add(ALONE);
                costs[i][j] = match (i < height, j < width) {
                    (false, false) => 0,
                    (true, false) => alone(i + 1, j),
                    (false, true) => alone(i, j + 1),
                    (true, true) => {
                        let paired = costs[i + 1][j + 1].saturating_add(self.cost(old[i], new[j]));
                        paired.min(alone(i + 1, j)).min(alone(i, j + 1))
                    }
                };
            }
        }
        let (mut i, mut j) = (0, 0);
        let mut pairs = Vec::new();
        while i < height || j < width {
            let cost = costs[i][j];
            if i < height && j < width && cost == costs[i + 1][j + 1].saturating_add(self.cost(old[i], new[j])) {
                pairs.push((Some(i), Some(j)));
                (i, j) = (i + 1, j + 1);
            } else if i < height && cost == costs[i + 1][j].saturating_add(ALONE) {
                pairs.push((Some(i), None));
                i += 1;
            } else {
                pairs.push((None, Some(j)));
                j += 1;
            }
        }
        pairs
    }

    /// How unlike two parts are: 0 for the same, [`NEVER`] for two that have nothing to do with each other.
    fn cost(&self, old: Part<'w>, new: Part<'w>) -> u32 {
        if old.node.sequence == new.node.sequence {
            return 0;
        }
        match (old.node.single(), new.node.single()) {
            (Some((one, times)), Some((other, others))) => {
                let (one_leaf, other_leaf) = (&self.sides.old[one], &self.sides.new[other]);
                let counts = u32::from(times != others);
                if one_leaf.key == other_leaf.key || (self.sides.alike)(one, other) {
                    return 2 * counts;
                }
                match (one_leaf.kind, other_leaf.kind) {
                    (one, other) if one == other => 8 + 4 * counts,
                    // A line that cannot be read stands where the one stood that could.
                    (None, _) | (_, None) => 2 * ALONE - 1,
                    _ => NEVER,
                }
            }
            (None, None) => match (&old.node.kind, &new.node.kind) {
                (NodeKind::Run(one), NodeKind::Run(other)) => {
                    if one.body.sequence == other.body.sequence {
                        return 4;
                    }
                    let shares = || {
                        let of = |nodes: &[Node]| {
                            nodes.iter().take(MOST_SHARED).map(|node| node.sequence).collect::<HashSet<_>>()
                        };
                        !of(&one.body.nodes).is_disjoint(&of(&other.body.nodes))
                    };
                    let named = one.stitch.is_some() && one.stitch == other.stitch;
                    if named || shares() {
                        8
                    } else if one.body.nodes.len() == other.body.nodes.len() {
                        12
                    } else {
                        NEVER
                    }
                }
                _ => NEVER,
            },
            _ => NEVER,
        }
    }

    fn pair(&mut self, old: Part<'w>, new: Part<'w>) -> Vec<Found<'w>> {
        if old.node.sequence == new.node.sequence {
            return Vec::new();
        }
        let mut found = Vec::new();
        let counts = match (old.node.single(), new.node.single()) {
            (Some((one, times)), Some((other, others))) => {
                if self.sides.old[one].key != self.sides.new[other].key && !(self.sides.alike)(one, other) {
                    let difference =
                        Difference::Other { old: (one, old.later, times), new: (other, new.later, others) };
                    found.extend(self.found(difference));
                }
                (times, others)
            }
            _ => match (&old.node.kind, &new.node.kind) {
                (NodeKind::Run(one), NodeKind::Run(other)) => {
                    found.extend(self.within(one, other, old.later, new.later));
                    (one.times, other.times)
                }
                _ => (1, 1),
            },
        };
        if counts.0 != counts.1 {
            found.splice(0..0, self.found(Difference::Times { old, new, counts }));
        }
        found
    }

    /// What differs inside two repeats.
    fn within(&mut self, old: &'w Run, new: &'w Run, old_later: u64, new_later: u64) -> Vec<Found<'w>> {
        if old.body.sequence == new.body.sequence {
            return Vec::new();
        }
        let pair = (Arc::as_ptr(&old.body) as usize, Arc::as_ptr(&new.body) as usize);
        let looks = self.looks.entry(pair).or_default();
        *looks += 1;
        if *looks > MOST_LOOKS {
            return Vec::new();
        }
        let parts =
            |run: &'w Run, later: u64| run.body.nodes.iter().map(|node| Part { node, later }).collect::<Vec<_>>();
        self.within.push((old, new));
        let found = self.lists(&parts(old, old_later), &parts(new, new_later));
        self.within.pop();
        found
    }
}

/// The parts with every repeat written out, if no more than [`MOST_WRITTEN_OUT`] come of it.
fn written_out<'w>(parts: &[Part<'w>]) -> Option<Vec<Part<'w>>> {
    let mut out = Vec::new();
    for part in parts {
        write_out(*part, &mut out)?;
    }
    Some(out)
}

fn write_out<'w>(part: Part<'w>, out: &mut Vec<Part<'w>>) -> Option<()> {
    match &part.node.kind {
        NodeKind::Leaf(_) => {
            out.push(part);
            (out.len() as u64 <= MOST_WRITTEN_OUT).then_some(())
        }
        NodeKind::Run(run) => {
            if run.times > MOST_WRITTEN_OUT || run.body.nodes.is_empty() {
                return None;
            }
            for pass in 0..run.times {
                for node in &run.body.nodes {
                    write_out(Part { node, later: part.later + pass * run.body.rows }, out)?;
                }
            }
            Some(())
        }
    }
}

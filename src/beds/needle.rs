//! Needles and sets of needles.
//!
//! A needle is counted from the centre of its bed: `L1` is the first one left of it, `R1` the first one right of it,
//! and there is no zero. Inside, needles are numbered from 0 at the far left; the centre lies between
//! [`NeedleSet::WIDTH`]` / 2 - 1` and the next one whatever the machine's width, so that a set means the same needles
//! on every machine.

use std::fmt;
use std::ops::{BitAnd, BitAndAssign, BitOr, BitOrAssign, Index, IndexMut, Not, Sub, SubAssign};

/// One of the two beds, as the sitter sees them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Bed {
    /// The bed nearer to the sitter.
    Front,
    /// The bed farther away.
    Back,
}

impl Bed {
    /// Both, front first.
    pub const BOTH: [Self; 2] = [Self::Front, Self::Back];

    /// The other bed.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Front => Self::Back,
            Self::Back => Self::Front,
        }
    }
}

impl fmt::Display for Bed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Front => "front",
            Self::Back => "back",
        })
    }
}

/// Left or right of the sitter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    /// The sitter's left.
    Left,
    /// The sitter's right.
    Right,
}

impl Side {
    /// The other side.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    /// The way outward at that edge of a bed, as a number of places to the right.
    #[must_use]
    pub fn outward(self, places: u32) -> i32 {
        let places = i32::try_from(places).unwrap_or(i32::MAX);
        match self {
            Self::Left => -places,
            Self::Right => places,
        }
    }
}

impl fmt::Display for Side {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Left => "left",
            Self::Right => "right",
        })
    }
}

/// One value for each bed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Both<T> {
    /// The front bed's.
    pub front: T,
    /// The back bed's.
    pub back: T,
}

impl<T> Both<T> {
    /// Each bed's value made by a function.
    pub fn from_fn(mut make: impl FnMut(Bed) -> T) -> Self {
        Self { front: make(Bed::Front), back: make(Bed::Back) }
    }

    /// Each bed with its value.
    pub fn iter(&self) -> impl Iterator<Item = (Bed, &T)> {
        [(Bed::Front, &self.front), (Bed::Back, &self.back)].into_iter()
    }
}

impl<T: Copy> Both<T> {
    /// The same value for both beds.
    pub const fn same(value: T) -> Self {
        Self { front: value, back: value }
    }
}

impl Both<NeedleSet> {
    /// Those needles of one bed, and none of the other.
    #[must_use]
    pub fn only(bed: Bed, needles: NeedleSet) -> Self {
        Self::from_fn(|other| if other == bed { needles } else { NeedleSet::EMPTY })
    }

    /// Whether no needle of either bed is in it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.front.is_empty() && self.back.is_empty()
    }

    /// How many needles of both beds are in it.
    #[must_use]
    pub fn len(&self) -> u64 {
        u64::from(self.front.len()) + u64::from(self.back.len())
    }
}

impl<T> Index<Bed> for Both<T> {
    type Output = T;
    fn index(&self, bed: Bed) -> &T {
        match bed {
            Bed::Front => &self.front,
            Bed::Back => &self.back,
        }
    }
}

impl<T> IndexMut<Bed> for Both<T> {
    fn index_mut(&mut self, bed: Bed) -> &mut T {
        match bed {
            Bed::Front => &mut self.front,
            Bed::Back => &mut self.back,
        }
    }
}

/// A needle of one bed, by its number from the far left. Its [`fmt::Display`] is `L12` or `R3`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Needle(pub u8);

impl Needle {
    /// The needle with that number counted from the centre to that side; none when the number is 0 or past
    /// [`NeedleSet::WIDTH`]` / 2`.
    #[must_use]
    pub const fn new(side: Side, number: u32) -> Option<Self> {
        let half = NeedleSet::WIDTH as u32 / 2;
        if number == 0 || number > half {
            return None;
        }
        Some(Self(match side {
            Side::Left => (half - number) as u8,
            Side::Right => (half + number - 1) as u8,
        }))
    }

    /// Which side of the centre it is on, and its number there.
    #[must_use]
    pub const fn counted(self) -> (Side, u32) {
        let half = NeedleSet::WIDTH as u32 / 2;
        let at = self.0 as u32;
        if at < half { (Side::Left, half - at) } else { (Side::Right, at - half + 1) }
    }
}

impl fmt::Display for Needle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (side, number) = self.counted();
        let letter = if side == Side::Left { 'L' } else { 'R' };
        write!(f, "{letter}{number}")
    }
}

const WORDS: usize = 4;

/// A set of needles of one bed, as bits. Every operation costs a few machine words whatever the set holds.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct NeedleSet([u64; WORDS]);

impl NeedleSet {
    /// How many needles a bed can have at most. The widest hand machines have about 250
    /// (the fine pitch; common practice, no source).
    pub const WIDTH: usize = WORDS * 64;
    /// No needles.
    pub const EMPTY: Self = Self([0; WORDS]);

    /// The needles from `first` to `last`, both included; none when they are the wrong way round.
    #[must_use]
    pub fn span(first: Needle, last: Needle) -> Self {
        if first > last {
            return Self::EMPTY;
        }
        Self::from_number(first.0 as usize) - Self::from_number(last.0 as usize + 1)
    }

    /// That many needles left and right of the centre, [`Self::WIDTH`]` / 2` at most.
    #[must_use]
    pub fn each_side(count: u32) -> Self {
        match (Needle::new(Side::Left, count), Needle::new(Side::Right, count)) {
            (Some(first), Some(last)) => Self::span(first, last),
            _ if count == 0 => Self::EMPTY,
            _ => !Self::EMPTY,
        }
    }

    /// All needles with that number or a higher one.
    fn from_number(number: usize) -> Self {
        Self(std::array::from_fn(|word| {
            let low = word * 64;
            if number <= low {
                u64::MAX
            } else if number >= low + 64 {
                0
            } else {
                u64::MAX << (number - low)
            }
        }))
    }

    /// Adds a needle.
    pub fn insert(&mut self, needle: Needle) {
        self.0[needle.0 as usize / 64] |= 1 << (needle.0 % 64);
    }

    /// Takes a needle out.
    pub fn remove(&mut self, needle: Needle) {
        self.0[needle.0 as usize / 64] &= !(1 << (needle.0 % 64));
    }

    /// Whether the needle is in it.
    #[must_use]
    pub const fn contains(&self, needle: Needle) -> bool {
        self.0[needle.0 as usize / 64] >> (needle.0 % 64) & 1 == 1
    }

    /// Whether there is none in it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.iter().fold(0, |all, word| all | word) == 0
    }

    /// How many there are.
    #[must_use]
    pub fn len(&self) -> u32 {
        self.0.iter().map(|word| word.count_ones()).sum()
    }

    /// Whether the two have a needle in common.
    #[must_use]
    pub fn meets(&self, other: &Self) -> bool {
        !(*self & *other).is_empty()
    }

    /// The one farthest left.
    #[must_use]
    pub fn first(&self) -> Option<Needle> {
        let word = self.0.iter().position(|&word| word != 0)?;
        Some(Needle((word * 64) as u8 + self.0[word].trailing_zeros() as u8))
    }

    /// The one farthest right.
    #[must_use]
    pub fn last(&self) -> Option<Needle> {
        let word = self.0.iter().rposition(|&word| word != 0)?;
        Some(Needle((word * 64) as u8 + 63 - self.0[word].leading_zeros() as u8))
    }

    /// The one farthest out on that side.
    #[must_use]
    pub fn outermost(&self, side: Side) -> Option<Needle> {
        match side {
            Side::Left => self.first(),
            Side::Right => self.last(),
        }
    }

    /// That many of them, counted from that edge inward; all where there are no more.
    #[must_use]
    pub fn from_edge(&self, side: Side, count: u32) -> Self {
        match side {
            Side::Left => self.iter().take(count as usize).collect(),
            Side::Right => self.iter().skip(self.len().saturating_sub(count) as usize).collect(),
        }
    }

    /// All of them, from left to right.
    pub fn iter(&self) -> impl Iterator<Item = Needle> + use<> {
        let mut rest = *self;
        std::iter::from_fn(move || {
            let needle = rest.first()?;
            rest.remove(needle);
            Some(needle)
        })
    }

    /// Every needle moved by that many places, to the right when positive. Needles moved past the end are gone.
    #[must_use]
    pub fn shifted(&self, places: i32) -> Self {
        let (words, bits) = (places.unsigned_abs() as usize / 64, places.unsigned_abs() % 64);
        let at = |index: Option<usize>| index.and_then(|index| self.0.get(index)).copied().unwrap_or(0);
        Self(std::array::from_fn(|word| {
            let (near, far) = if places >= 0 {
                (at(word.checked_sub(words)), at(word.checked_sub(words + 1)))
            } else {
                (at(Some(word + words)), at(Some(word + words + 1)))
            };
            match (bits, places >= 0) {
                (0, _) => near,
                (_, true) => near << bits | far >> (64 - bits),
                (_, false) => near >> bits | far << (64 - bits),
            }
        }))
    }

    /// Whether somewhere at least `length` needles stand side by side; never for 0.
    #[must_use]
    pub fn has_run(&self, length: u32) -> bool {
        // `run` holds the needles at which `known` of them in a row end.
        let (mut run, mut known) = (*self, 1);
        while known < length && !run.is_empty() {
            let step = known.min(length - known);
            run &= run.shifted(step as i32);
            known += step;
        }
        length > 0 && !run.is_empty()
    }

    /// Itself again and again, each time `width` places further right, up to the end of the widest bed.
    #[must_use]
    pub fn repeated(&self, width: u32) -> Self {
        let mut all = *self;
        let mut covered = width.max(1);
        while covered < Self::WIDTH as u32 {
            all |= all.shifted(covered as i32);
            covered *= 2;
        }
        all
    }

    /// The needles as runs without a gap, from left to right.
    pub fn runs(&self) -> impl Iterator<Item = (Needle, Needle)> + use<> {
        let mut rest = *self;
        std::iter::from_fn(move || {
            let first = rest.first()?;
            let gap_after = (!rest & Self::from_number(first.0 as usize)).first();
            let last = gap_after.map_or(Needle((Self::WIDTH - 1) as u8), |gap| Needle(gap.0 - 1));
            rest -= Self::span(first, last);
            Some((first, last))
        })
    }
}

/// `L3-R2, R5`, from left to right; `none` for the empty set.
impl fmt::Display for NeedleSet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.is_empty() {
            return f.write_str("none");
        }
        for (index, (first, last)) in self.runs().enumerate() {
            if index > 0 {
                f.write_str(", ")?;
            }
            if first == last {
                write!(f, "{first}")?;
            } else {
                write!(f, "{first}-{last}")?;
            }
        }
        Ok(())
    }
}

impl fmt::Debug for NeedleSet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{{{self}}}")
    }
}

impl FromIterator<Needle> for NeedleSet {
    fn from_iter<I: IntoIterator<Item = Needle>>(needles: I) -> Self {
        let mut set = Self::EMPTY;
        needles.into_iter().for_each(|needle| set.insert(needle));
        set
    }
}

macro_rules! by_words {
    ($trait:ident, $method:ident, $assign_trait:ident, $assign:ident, $combine:expr) => {
        impl $trait for NeedleSet {
            type Output = Self;
            #[inline]
            fn $method(self, other: Self) -> Self {
                Self(std::array::from_fn(|word| $combine(self.0[word], other.0[word])))
            }
        }
        impl $assign_trait for NeedleSet {
            #[inline]
            fn $assign(&mut self, other: Self) {
                *self = self.$method(other);
            }
        }
    };
}
by_words!(BitAnd, bitand, BitAndAssign, bitand_assign, |a: u64, b: u64| a & b);
by_words!(BitOr, bitor, BitOrAssign, bitor_assign, |a: u64, b: u64| a | b);
by_words!(Sub, sub, SubAssign, sub_assign, |a: u64, b: u64| a & !b);

impl Not for NeedleSet {
    type Output = Self;
    #[inline]
    fn not(self) -> Self {
        Self(self.0.map(|word| !word))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn needle(text: &str) -> Needle {
        let side = if text.starts_with('L') { Side::Left } else { Side::Right };
        Needle::new(side, text[1..].parse().expect("a number")).expect("a needle")
    }

    #[test]
    fn there_is_no_needle_zero() {
        assert_eq!(needle("L1").0 + 1, needle("R1").0);
        assert_eq!(Needle::new(Side::Left, 0), None);
        assert_eq!(Needle::new(Side::Right, 129), None);
        assert_eq!(NeedleSet::span(needle("L30"), needle("R30")).len(), 60);
    }

    #[test]
    fn sets_print_as_runs() {
        let set = NeedleSet::span(needle("L3"), needle("R2")) | NeedleSet::from_iter([needle("R5")]);
        assert_eq!(set.to_string(), "L3-R2, R5");
        assert_eq!(format!("{set:?}"), "{L3-R2, R5}");
        assert_eq!(NeedleSet::EMPTY.to_string(), "none");
        assert_eq!((!NeedleSet::EMPTY).to_string(), "L128-R128");
    }

    #[test]
    fn an_edge_is_counted_inward_and_left_outward() {
        let set = NeedleSet::span(needle("L3"), needle("R2"));
        assert_eq!((set.outermost(Side::Left), set.outermost(Side::Right)), (Some(needle("L3")), Some(needle("R2"))));
        assert_eq!(NeedleSet::EMPTY.outermost(Side::Left), None);
        assert_eq!(set.from_edge(Side::Left, 2).to_string(), "L3-L2");
        assert_eq!(set.from_edge(Side::Right, 3).to_string(), "L1-R2");
        assert_eq!(set.from_edge(Side::Right, 9), set);
        assert_eq!((Side::Left.outward(2), Side::Right.outward(2)), (-2, 2));
    }

    #[test]
    fn runs_are_found_by_their_length() {
        let set: NeedleSet = [3, 4, 9, 60, 61, 62, 63, 64, 65, 66, 100].into_iter().map(Needle).collect();
        assert!(set.has_run(1) && set.has_run(6) && set.has_run(7));
        assert!(!set.has_run(8) && !set.has_run(0) && !NeedleSet::EMPTY.has_run(1));
    }

    #[test]
    fn repeating_goes_on_to_the_end_of_the_bed() {
        let set: NeedleSet = [10, 12].into_iter().map(Needle).collect();
        let expected: NeedleSet =
            (0..=255).filter(|at| *at >= 10 && matches!((at - 10) % 5, 0 | 2)).map(Needle).collect();
        assert_eq!(set.repeated(5), expected);
    }

    #[test]
    fn shifting_agrees_with_moving_each_needle() {
        let set: NeedleSet = [0, 1, 63, 64, 127, 128, 200, 255].into_iter().map(Needle).collect();
        for places in [-256, -130, -65, -64, -63, -1, 0, 1, 2, 63, 64, 65, 129, 255, 256] {
            let one_by_one: NeedleSet =
                set.iter().filter_map(|needle| u8::try_from(i32::from(needle.0) + places).ok().map(Needle)).collect();
            assert_eq!(set.shifted(places), one_by_one, "by {places}");
        }
    }

    #[test]
    fn as_many_needles_on_each_side() {
        assert_eq!(NeedleSet::each_side(0), NeedleSet::EMPTY);
        assert_eq!(NeedleSet::each_side(1).len(), 2);
        assert_eq!(NeedleSet::each_side(90).len(), 180);
        assert_eq!(NeedleSet::each_side(NeedleSet::WIDTH as u32).len() as usize, NeedleSet::WIDTH);
    }
}

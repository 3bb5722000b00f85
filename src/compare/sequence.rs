//! What is worked, as a number: two lists of work have the same number when they are the same list, however they are
//! written down.
//!
//! The number of a list is a polynomial over the numbers of its parts, modulo a prime. Numbers of lists can be put one
//! behind the other and taken many times without looking at the parts again, so that a repeat of a billion passes costs
//! thirty multiplications, and `repeat 2 times { a }` has the number of `a a`. This is the fingerprint of R. M. Karp and
//! M. O. Rabin (Efficient randomized pattern-matching algorithms, 1987; from memory). Two lists that differ have the same
//! number with a chance of about one in 10^30.

use std::hash::{DefaultHasher, Hash, Hasher};

/// The prime 2^61 - 1.
const PRIME: u64 = (1 << 61) - 1;
/// Two bases, because one would leave a chance of one in 10^12 for lists of a million parts.
const BASES: [u64; 2] = [0x0e0b_35c5_1a9d_7f23, 0x1519_6b2d_4c83_e0f7];

/// The number of one thing, from everything that tells it from another.
pub(super) fn key_of(thing: &impl Hash) -> u128 {
    let half = |salt: u8| {
        let mut hasher = DefaultHasher::new();
        salt.hash(&mut hasher);
        thing.hash(&mut hasher);
        hasher.finish()
    };
    u128::from(half(0)) << 64 | u128::from(half(1))
}

/// A list of things by its number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) struct Sequence {
    /// For each base the value of the list.
    values: [u64; 2],
    /// For each base its power by the length of the list.
    powers: [u64; 2],
    /// How many things, as far as that can be counted.
    length: u64,
}

impl Sequence {
    /// Nothing.
    pub(super) const EMPTY: Self = Self { values: [0, 0], powers: [1, 1], length: 0 };

    /// One thing, by its key.
    pub(super) fn one(key: u128) -> Self {
        // A thing of value 0 would not be seen.
        let value = |half: u64| half % (PRIME - 1) + 1;
        Self {
            values: [value((key >> 64) as u64), value(key as u64)],
            powers: BASES.map(|base| base % PRIME),
            length: 1,
        }
    }

    /// This list and then the other.
    pub(super) fn then(self, next: Self) -> Self {
        let mut both = Self { length: self.length.saturating_add(next.length), ..Self::EMPTY };
        for lane in 0..2 {
            both.values[lane] = sum(times(self.values[lane], next.powers[lane]), next.values[lane]);
            both.powers[lane] = times(self.powers[lane], next.powers[lane]);
        }
        both
    }

    /// This list so many times.
    pub(super) fn repeated(self, mut count: u64) -> Self {
        let (mut all, mut doubled) = (Self::EMPTY, self);
        while count > 0 {
            if count & 1 == 1 {
                all = all.then(doubled);
            }
            doubled = doubled.then(doubled);
            count >>= 1;
        }
        all
    }
}

fn times(one: u64, other: u64) -> u64 {
    // Below 2^61, so the rest fits.
    (u128::from(one) * u128::from(other) % u128::from(PRIME)) as u64
}

fn sum(one: u64, other: u64) -> u64 {
    (one + other) % PRIME
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn of(list: &[u8]) -> Sequence {
        list.iter().fold(Sequence::EMPTY, |all, part| all.then(Sequence::one(key_of(part))))
    }

    proptest! {
        #[test]
        fn a_list_has_one_number_however_it_is_put_together(list in prop::collection::vec(0..4_u8, 0..40), at in any::<prop::sample::Index>(), count in 0..9_u64) {
            let cut = at.index(list.len() + 1);
            prop_assert_eq!(of(&list), of(&list[..cut]).then(of(&list[cut..])));
            prop_assert_eq!(of(&list.repeat(count as usize)), of(&list).repeated(count));
        }

        #[test]
        fn other_lists_have_other_numbers(one in prop::collection::vec(0..3_u8, 0..12), other in prop::collection::vec(0..3_u8, 0..12)) {
            prop_assert_eq!(one == other, of(&one) == of(&other));
        }
    }

    #[test]
    fn a_billion_passes_are_counted_in_any_grouping() {
        let pass = of(&[1, 2]);
        assert_eq!(pass.repeated(1_000_000_000), pass.repeated(250).repeated(4_000_000));
        assert_eq!(pass.repeated(1_000_000_000), pass.then(pass.repeated(999_999_999)));
        assert_ne!(pass.repeated(1_000_000_000), pass.repeated(999_999_999));
        assert_ne!(pass.repeated(1_000_000_000), of(&[2, 1]).repeated(1_000_000_000));
    }
}

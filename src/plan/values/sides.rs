//! The words of a tree for sides and beds, as the beds have them.

use crate::beds::{Bed, Gaiting, Side};
use crate::syntax::tree::{BedWord, GaitingWord, SideWord};

/// Left or right.
pub(in crate::plan) const fn side(word: SideWord) -> Side {
    match word {
        SideWord::Left => Side::Left,
        SideWord::Right => Side::Right,
    }
}

/// The one bed that is named; none for both.
pub(in crate::plan) const fn single(bed: BedWord) -> Option<Bed> {
    match bed {
        BedWord::Front => Some(Bed::Front),
        BedWord::Back => Some(Bed::Back),
        BedWord::Both => None,
    }
}

/// The beds that are named.
pub(in crate::plan) fn beds(bed: BedWord) -> impl Iterator<Item = Bed> {
    Bed::BOTH.into_iter().filter(move |&one| single(bed).is_none_or(|named| named == one))
}

/// Between or opposite.
pub(in crate::plan) const fn gaiting(word: GaitingWord) -> Gaiting {
    match word {
        GaitingWord::Between => Gaiting::Between,
        GaitingWord::Opposite => Gaiting::Opposite,
    }
}

//! Which needles a pick means, once the state is known.

use super::needle::{Needle, NeedleSet};
use super::operation::{Pick, Tile};

/// A tile that does not go into the working width a whole number of times.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ragged {
    /// The working width, in needles.
    pub width: u32,
    /// The width of the tile, in needles.
    pub tile: u32,
}

/// What a pick is resolved against.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ground {
    /// The needles that can be meant: those in work, or for some operations the held ones.
    pub(super) of: NeedleSet,
    /// The needles that carry a loop.
    pub(super) loaded: NeedleSet,
}

impl Pick {
    /// The needles meant, on that ground.
    ///
    /// # Errors
    /// [`Ragged`] when a tile does not fit the working width.
    pub(super) fn resolve(&self, ground: &Ground) -> Result<NeedleSet, Ragged> {
        Ok(match self {
            Self::These(needles) => *needles,
            Self::InWork => ground.of,
            Self::Loaded => ground.loaded,
            Self::Empty => ground.of - ground.loaded,
            Self::Leftmost(count) => ground.of.iter().take(*count as usize).collect(),
            Self::Rightmost(count) => {
                let before = ground.of.len().saturating_sub(*count);
                ground.of.iter().skip(before as usize).collect()
            }
            Self::Every(step) => every(ground.of, (*step).max(1)),
            Self::Tile(tile) => tile.laid_over(ground.of)?,
            Self::And(pair) => pair.0.resolve(ground)? & pair.1.resolve(ground)?,
            Self::Or(pair) => pair.0.resolve(ground)? | pair.1.resolve(ground)?,
            Self::AllBut(pick) => ground.of - pick.resolve(ground)?,
        })
    }
}

/// The first of those needles and every `step`th of them after it.
fn every(of: NeedleSet, step: u32) -> NeedleSet {
    let (Some(first), Some(last)) = (of.first(), of.last()) else { return NeedleSet::EMPTY };
    if of == NeedleSet::span(first, last) {
        return NeedleSet::span(first, first).repeated(step) & of;
    }
    of.iter().step_by(step as usize).collect()
}

impl Tile {
    /// The needles it takes when it is laid again and again from the first of those needles to the last.
    fn laid_over(&self, of: NeedleSet) -> Result<NeedleSet, Ragged> {
        let (Some(first), Some(last)) = (of.first(), of.last()) else { return Ok(NeedleSet::EMPTY) };
        let width = u32::from(last.0 - first.0) + 1;
        let tile = self.marks.len() as u32;
        if tile == 0 || !width.is_multiple_of(tile) {
            return Err(Ragged { width, tile });
        }
        // The tile fits, so it is no wider than what is left of the bed.
        let once: NeedleSet =
            (first.0..=last.0).zip(&self.marks).filter(|(_, taken)| **taken).map(|(at, _)| Needle(at)).collect();
        Ok(once.repeated(tile) & NeedleSet::span(first, last))
    }
}

//! How the beds stand between two operations, as far as anybody writes of it.

use crate::beds::{Bed, Both, Gaiting, NeedleSet, Side, State, StitchSize, Yarn};
use std::sync::Arc;

/// The needles of both beds. Rows that move no stitch share them.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Needles {
    /// Those in work.
    pub in_work: Both<NeedleSet>,
    /// Those that are held.
    pub held: Both<NeedleSet>,
    /// Those that carry a loop.
    pub loaded: Both<NeedleSet>,
    /// Those that carry a stitch.
    pub stitches: Both<NeedleSet>,
}

impl Needles {
    fn of(state: &State) -> Self {
        Self {
            in_work: state.in_work,
            held: state.held,
            loaded: Both::from_fn(|bed| state.loops.loaded(bed)),
            stitches: Both::from_fn(|bed| state.loops.stitches(bed)),
        }
    }
}

/// How the beds stand; everything but which loops lie on which needle. The words are those of [`State`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stood {
    /// Rows of the piece so far.
    pub row: u64,
    /// What the row counter shows.
    pub counter: u64,
    /// Where the carriage stands.
    pub carriage: Side,
    /// How the beds stand to each other.
    pub gaiting: Gaiting,
    /// Steps of the racking bed to the right of its centre.
    pub racking: i32,
    /// The yarn in the feeder.
    pub yarn: Option<Yarn>,
    /// The stitch size of each bed, once it has been set.
    pub sizes: Both<Option<StitchSize>>,
    /// Loops on all needles.
    pub loops: u64,
    /// The needles.
    pub needles: Arc<Needles>,
}

impl Default for Stood {
    fn default() -> Self {
        Self::of(&State::default(), None)
    }
}

impl Stood {
    /// Of that state. The needles of `before` are shared where they are the same.
    #[must_use]
    pub fn of(state: &State, before: Option<&Self>) -> Self {
        let needles = Needles::of(state);
        let needles = match before {
            Some(before) if *before.needles == needles => Arc::clone(&before.needles),
            _ => Arc::new(needles),
        };
        Self {
            row: state.row,
            counter: state.counter,
            carriage: state.carriage,
            gaiting: state.gaiting,
            racking: state.racking,
            yarn: state.yarn,
            sizes: state.sizes,
            loops: state.ledger.on_needles,
            needles,
        }
    }

    /// How many stitches each bed carries; a needle with two stitches on it counts once.
    #[must_use]
    pub fn stitches(&self) -> Both<u64> {
        Both::from_fn(|bed: Bed| u64::from(self.needles.stitches[bed].len()))
    }
}

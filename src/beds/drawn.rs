//! How large loops were drawn, and what that is told against.

use super::machine::Machine;
use super::yarn::{StitchSize, Yarn};

/// How a loop was made, and how large as far as the lines of a pattern say it. It goes with the loop wherever it is carried,
/// so only the beds can tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Drawn {
    /// By hand, as loosely as the hand likes.
    ByHand,
    /// In a cast-on by the carriage, which is made tightly.
    ByCastOn,
    /// In a row.
    InRow {
        /// The stitch size of that row, where a line says it.
        size: Option<StitchSize>,
        /// How much larger that is than the usual size there, in hundredths; less than 0 where it is smaller, none where no
        /// line tells what is usual.
        larger: Option<StitchSize>,
    },
}

impl Drawn {
    /// How much larger than plain rows stitches are knitted that go to other needles together, in hundredths: at the least
    /// and at the most (common practice, no source).
    pub const LARGER: (StitchSize, StitchSize) = (100, 400);

    /// In a row of that size, told against sizes that may be the usual one: the one that shows it as right for a transfer,
    /// if there is one, since who has set a size above any of them may have meant it so.
    pub(super) fn in_row(size: Option<StitchSize>, usual: impl IntoIterator<Item = StitchSize>) -> Self {
        let (least, most) = Self::LARGER;
        // Of those that show it as right any serves; of the others the one from which it is least far off.
        let far = |larger: &StitchSize| (least - larger).max(larger - most).max(0);
        let larger = size.and_then(|size| usual.into_iter().map(|usual| size.saturating_sub(usual)).min_by_key(far));
        Self::InRow { size, larger }
    }

    /// Whether the carriage made it and no line says that it is larger than usual.
    #[must_use]
    pub fn is_ordinary(self) -> bool {
        match self {
            Self::ByHand => false,
            Self::ByCastOn => true,
            Self::InRow { larger, .. } => larger.is_none_or(|larger| larger <= 0),
        }
    }
}

/// How a loop is for going to other needles together with its neighbours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fit {
    /// Right, or nothing can be known.
    Right,
    /// Too small, or no line says anything of its size.
    Tight,
    /// Too large.
    Large,
}

/// What tells how large stitches should be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Teller {
    /// The line of the yarn that says at which size its plain rows are knitted: this one.
    Yarn(StitchSize),
    /// The profile of the machine.
    Profile,
    /// The pattern: its usual size is this one.
    Pattern(StitchSize),
}

/// The sizes at which stitches should be that go to other needles together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wanted {
    /// The smallest.
    pub least: StitchSize,
    /// The largest.
    pub most: StitchSize,
    /// What tells it.
    pub teller: Teller,
}

impl Drawn {
    /// The sizes at which such a loop of a yarn should be to go to other needles; none where nothing tells them.
    #[must_use]
    pub fn wanted(self, yarn: Yarn, machine: &Machine) -> Option<Wanted> {
        let (by_least, by_most) = Self::LARGER;
        let above = |usual: StitchSize, teller| Wanted {
            least: usual.saturating_add(by_least),
            most: usual.saturating_add(by_most),
            teller,
        };
        // The yarn is told of most closely; the profile holds for the yarns of which nothing is said.
        if let Some(&plain) = machine.plain_sizes.get(&yarn) {
            return Some(above(plain, Teller::Yarn(plain)));
        }
        if let Some((least, most)) = machine.transfer_sizes {
            return Some(Wanted { least, most, teller: Teller::Profile });
        }
        let Self::InRow { size: Some(size), larger: Some(larger) } = self else { return None };
        let usual = size.saturating_sub(larger);
        Some(above(usual, Teller::Pattern(usual)))
    }

    /// How such a loop of a yarn is for going to other needles.
    #[must_use]
    pub fn fit(self, yarn: Yarn, machine: &Machine) -> Fit {
        let judged = |value: StitchSize, least, most| match value {
            small if small < least => Fit::Tight,
            large if large > most => Fit::Large,
            _ => Fit::Right,
        };
        match (self, self.wanted(yarn, machine)) {
            (Self::ByHand, _) => Fit::Right,
            (Self::ByCastOn, _) => Fit::Tight,
            (Self::InRow { size: Some(size), .. }, Some(wanted)) => judged(size, wanted.least, wanted.most),
            // A size is said, and nothing to tell it against: whoever set it once for all rows may have set it so.
            (Self::InRow { size: Some(_), .. }, None) => Fit::Right,
            (Self::InRow { size: None, larger: Some(larger) }, _) => judged(larger, Self::LARGER.0, Self::LARGER.1),
            (Self::InRow { size: None, larger: None }, _) => Fit::Tight,
        }
    }
}

/// The plain rows of a bed: which size is usual there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PlainRows {
    /// The rows at one size since stitches last went from bed to bed: with which yarn, at which size, and how many, counted
    /// up to [`Self::LONG`].
    run: Option<(Yarn, StitchSize, u8)>,
    /// The last yarn and size of which there were so many.
    usual: Option<(Yarn, StitchSize)>,
}

impl PlainRows {
    /// So many rows of a bed at one size, with no transfer between them, are plain fabric and show the usual size (common
    /// practice, no source): a ridge of garter stitch or a check of a basket has fewer.
    pub const LONG: u8 = 8;

    /// A row has been knitted at the size that is set.
    pub(super) fn knitted(&mut self, yarn: Yarn, size: StitchSize) {
        let so_far = match self.run {
            Some((of, at, rows)) if (of, at) == (yarn, size) => rows,
            _ => 0,
        };
        let rows = (so_far + 1).min(Self::LONG);
        self.run = Some((yarn, size, rows));
        if rows == Self::LONG {
            self.usual = Some((yarn, size));
        }
    }

    /// Stitches went from bed to bed.
    pub(super) fn transferred(&mut self) {
        self.run = None;
    }

    /// The usual size of that yarn.
    pub(super) fn usual(&self, yarn: Yarn) -> Option<StitchSize> {
        self.usual.and_then(|(of, size)| (of == yarn).then_some(size))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_is_told_against_the_usual_one_that_shows_it_as_right() {
        let of = |size, usual: &[i32]| Drawn::in_row(Some(size), usual.iter().copied());
        let larger = |size, larger| Drawn::InRow { size: Some(size), larger };
        assert_eq!(of(600, &[]), larger(600, None));
        assert_eq!(of(600, &[500]), larger(600, Some(100)));
        assert_eq!(of(600, &[700, 400]), larger(600, Some(200)));
        assert_eq!(of(900, &[400, 450]), larger(900, Some(450)), "the one from which it is least far off");
        assert_eq!(of(400, &[700, 500]), larger(400, Some(-100)));
        assert_eq!(Drawn::in_row(None, [500]), Drawn::InRow { size: None, larger: None });
    }

    #[test]
    fn so_many_rows_at_one_size_show_what_is_usual() {
        let (wool, silk) = (Yarn(0), Yarn(1));
        let mut rows = PlainRows::default();
        let knit = |rows: &mut PlainRows, times, yarn, size| (0..times).for_each(|_| rows.knitted(yarn, size));
        knit(&mut rows, 7, wool, 400);
        assert_eq!(rows.usual(wool), None);
        knit(&mut rows, 1, wool, 400);
        assert_eq!((rows.usual(wool), rows.usual(silk)), (Some(400), None));
        knit(&mut rows, 7, wool, 600);
        rows.transferred();
        knit(&mut rows, 7, wool, 600);
        assert_eq!(rows.usual(wool), Some(400), "no eight of them follow each other");
        let before = rows;
        knit(&mut rows, 1, wool, 600);
        assert_eq!(rows.usual(wool), Some(600));
        knit(&mut rows, 1000, wool, 600);
        let settled = rows;
        knit(&mut rows, 1, wool, 600);
        assert_eq!(rows, settled, "it does not count on and on");
        assert_ne!(rows, before);
    }
}

//! What must be as the pattern thinks for a finding to mean something: after a mistake about one of these facts, what
//! rests on it would only be the same mistake again in other words.

use crate::beds::Operation;

/// A set of facts.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Facts(u16);

impl Facts {
    /// No fact.
    pub(crate) const NONE: Self = Self(0);
    /// Which needles carry loops. It is asked again as soon as the first mistake is mended, and once the beds have been
    /// emptied: what is cast on then begins anew.
    pub(crate) const LOOPS: Self = Self(1);
    /// How many stitches there are, as promises say it; for as long as [`Self::LOOPS`].
    pub(crate) const COUNT: Self = Self(1 << 1);
    /// That no loops were ever astray in the piece: for what tells nothing of the loops that are there now.
    pub(crate) const ALL_LOOPS: Self = Self(1 << 2);
    /// On which side the carriage stands.
    pub(crate) const SIDE: Self = Self(1 << 3);
    /// The row counter.
    pub(crate) const COUNTER: Self = Self(1 << 4);
    /// That the beds were racked as far as the pattern says.
    pub(crate) const RACKING: Self = Self(1 << 5);
    /// Where the beds stand by a promise.
    pub(crate) const PROMISED_RACKING: Self = Self(1 << 6);
    /// How the beds stand to each other.
    pub(crate) const GAITING: Self = Self(1 << 7);
    /// That the last row or transfer did something; else the yarn and the stitches stay as they were.
    pub(crate) const LAST_ROW: Self = Self(1 << 8);
    /// That the yarn lies across no held needle: it runs to them when they are released.
    pub(crate) const CLEAR_YARN: Self = Self(1 << 9);
    /// How many rows there were and how they were knitted. A row that could not be understood disturbs it.
    pub(crate) const EVERY_ROW: Self = Self(1 << 10);

    /// Those that hold for as long as a fabric hangs on the needles.
    const OF_A_FABRIC: Self = Self::LOOPS.and(Self::COUNT);

    /// These and the others.
    pub(crate) const fn and(self, others: Self) -> Self {
        Self(self.0 | others.0)
    }

    /// Whether one of these is among the others.
    pub(crate) const fn meet(self, others: Self) -> bool {
        self.0 & others.0 != 0
    }

    /// Those of them that hold for as long as a fabric hangs on the needles.
    pub(crate) const fn of_a_fabric(self) -> Self {
        Self(self.0 & Self::OF_A_FABRIC.0)
    }

    /// What of them is disturbed for the rest of the piece.
    pub(crate) const fn of_the_piece(self) -> Self {
        let all = if self.meet(Self::LOOPS) { self.and(Self::ALL_LOOPS) } else { self };
        Self(all.0 & !Self::OF_A_FABRIC.0)
    }
}

/// What a finding has to do with the facts.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Touches {
    /// What is not as the pattern thinks from then on.
    pub(crate) disturbs: Facts,
    /// What it rests on: where that is disturbed already, it probably only says the same mistake again.
    pub(crate) rests_on: Facts,
}

/// How long a finding stands, so that it need not be said again.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Stands {
    /// It is said at each line anew.
    AtItsLine,
    /// To the end of the stitch or section: the same needles take too much, or wait, in each of its rows.
    ToTheEndOfTheBlock,
    /// Until such an operation sets anew what it is about.
    UntilSetAnew(fn(&Operation) -> bool),
}

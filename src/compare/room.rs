//! How much of two patterns is laid side by side in detail. Definitions that use definitions twice, thirty deep, are a
//! page of text and a billion places where something differs: nobody reads these, and no memory holds them.

use std::cell::Cell;

/// What is left of the room of one comparison, for all pieces in all sizes together.
#[derive(Debug)]
pub(super) struct Room {
    differences: Cell<usize>,
    parts: Cell<usize>,
    pairs: Cell<usize>,
    /// Whether something was left out since it was last asked.
    left_out: Cell<bool>,
}

impl Default for Room {
    fn default() -> Self {
        Self {
            differences: Cell::new(Self::MOST_DIFFERENCES),
            parts: Cell::new(Self::MOST_PARTS),
            pairs: Cell::new(Self::MOST_PAIRS),
            left_out: Cell::new(false),
        }
    }
}

fn take(from: &Cell<usize>, count: usize) -> bool {
    let left = from.get().checked_sub(count);
    from.set(left.unwrap_or_default());
    left.is_some()
}

impl Room {
    /// Differences that are told, each counted with the repeats that it stands in.
    const MOST_DIFFERENCES: usize = 1 << 15;
    /// Parts of lists that are laid side by side.
    const MOST_PARTS: usize = 1 << 21;
    /// Pairs of parts that are weighed against each other. What is left after that is paired in its order.
    const MOST_PAIRS: usize = 1 << 24;

    /// Whether one more difference can be told, in so many repeats and with so many operations in it.
    pub(super) fn tells(&self, repeats: usize, operations: usize) -> bool {
        let has_room = take(&self.differences, 1 + repeats) && take(&self.parts, operations);
        self.left_out.set(self.left_out.get() || !has_room);
        has_room
    }

    /// Whether so many more parts can be laid side by side.
    pub(super) fn looks(&self, parts: usize) -> bool {
        let has_room = take(&self.parts, parts);
        self.left_out.set(self.left_out.get() || !has_room);
        has_room
    }

    /// Whether so many more pairs can be weighed; where they cannot, nothing is left out.
    pub(super) fn weighs(&self, pairs: usize) -> bool {
        take(&self.pairs, pairs)
    }

    /// Whether something was left out since this was last asked.
    pub(super) fn has_left_out(&self) -> bool {
        self.left_out.take()
    }

    /// Whether something has been left out and was not asked for yet.
    pub(super) fn is_out(&self) -> bool {
        self.left_out.get()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_out_is_known_once() {
        let room = Room::default();
        assert!(room.tells(2, 1) && room.looks(10) && room.weighs(10) && !room.has_left_out());
        assert!(!room.weighs(Room::MOST_PAIRS) && !room.is_out());
        assert!(!room.tells(Room::MOST_DIFFERENCES, 1) && room.is_out() && room.has_left_out() && !room.has_left_out());
        assert!(!room.tells(0, 0), "after one that was left out comes no other");
        assert!(!room.looks(Room::MOST_PARTS) && room.has_left_out());
    }
}

//! How many operations may be done for one pattern, all its pieces and sizes together.

use super::Manner;
use std::cell::Cell;

/// The operations that are left. Shared by all who play for one answer, so that many sizes or pieces that take long cost no
/// more than one.
#[derive(Debug)]
pub struct Budget {
    left: Cell<u64>,
}

impl Default for Budget {
    fn default() -> Self {
        Self { left: Cell::new(Manner::MOST_OPERATIONS) }
    }
}

impl Budget {
    /// The manner with no more operations than are left.
    #[must_use]
    pub fn within(&self, manner: Manner) -> Manner {
        Manner { most_operations: manner.most_operations.min(self.left.get()), ..manner }
    }

    /// Takes off what was done.
    pub fn spend(&self, operations: u64) {
        self.left.set(self.left.get().saturating_sub(operations));
    }
}

//! What is threaded, and how large the loops are that are made of it.

/// A stitch size in hundredths; larger numbers are larger stitches.
pub type StitchSize = i32;

/// A yarn by its number in the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Yarn(pub u16);

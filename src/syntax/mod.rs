//! From text to a tree with the place of everything.
pub mod tree;

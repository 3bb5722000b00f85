//! From a tree to a program: names, units, sizes, definitions and repeats worked out.
pub mod program;

//! A second opinion: whether a pattern is right, and if not, by which rule and in which line.

mod compare;
mod facts;
mod programs;
mod read;
mod settled;
mod short;
mod soak;
mod tally;
mod verdict;

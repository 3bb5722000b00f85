//! What always holds, whatever the text: laws on programs by chance, on every mutant of the examples, and on patterns that
//! are written in another way. Here are the tests that go on for long.
mod common;
mod compare;
mod fuzz;
mod laws;
mod mutations;
mod properties;
mod tidy;

//! Single patterns: what is found in them, what is said of it, and what is written of them.
mod causes;
mod common;
mod editors;
mod examples;
mod known_mistakes;
mod mend;
mod mistakes;
mod outside;
mod readd;
mod recovery;
mod reference;
mod rules;
mod sheet;
mod trace;

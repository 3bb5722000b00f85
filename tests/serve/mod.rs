//! `wale serve` as an editor meets it: the real process over pipes.
#![allow(missing_docs, unreachable_pub, clippy::unwrap_used, clippy::print_stdout)]

mod client;
mod conversation;
mod editor;
mod features;
mod hostile;
mod law;
mod names;
mod shape;
mod speed;

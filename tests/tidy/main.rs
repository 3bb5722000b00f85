//! `wale tidy`: what must hold of a tidy text whatever it is made from, and the command that writes files.
#![allow(missing_docs, clippy::print_stdout, clippy::unwrap_used)]

mod command;
#[path = "../common/mod.rs"]
mod common;
#[path = "../mutations/fabric.rs"]
#[allow(dead_code, unreachable_pub)]
mod fabric;
mod generated;
mod laws;
#[path = "../mutations/mutate.rs"]
#[allow(dead_code, unreachable_pub)]
mod mutate;
mod pages;
#[path = "../common/random.rs"]
mod random;

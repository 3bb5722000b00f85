//! `wale tidy`: what must hold of a tidy text whatever it is made from, and the command that writes files.
#![allow(missing_docs, clippy::print_stdout, clippy::unwrap_used)]

mod command;
mod generated;
mod laws;
mod pages;

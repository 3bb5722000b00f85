//! Laws that hold for every program, tried on random ones.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]
#![allow(clippy::print_stdout, reason = "what was met is told")]

mod judge;
mod labels;
mod operations;
mod outcomes;
mod path;
mod programs;
mod record;
mod repeats;
mod second_model;
mod slips;
mod stitches;
mod two_models;

use crate::common::random::cases;

//! Laws that hold for every program, tried on random ones.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on shall stop")]
#![allow(clippy::print_stdout, reason = "what was met is told")]

#[path = "../common/random.rs"]
mod random;

mod judge;
mod labels;
mod operations;
mod outcomes;
mod path;
mod programs;
mod repeats;
mod second_model;
mod stitches;
mod two_models;

/// How many random cases a law is tried on: always the same ones. `PROPTEST_CASES` in the environment asks for another
/// number, and then for new ones every time.
fn cases(usual: u32) -> proptest::test_runner::Config {
    use proptest::test_runner::{Config, RngSeed};
    let asked = std::env::var("PROPTEST_CASES").ok().and_then(|text| text.parse().ok());
    let rng_seed = if asked.is_some() { RngSeed::Random } else { RngSeed::Fixed(1) };
    let cases = asked.unwrap_or(usual);
    // Random patterns are often too long to be written out; those are passed over.
    let max_global_rejects = cases.saturating_mul(20);
    Config { cases, max_global_rejects, failure_persistence: None, rng_seed, ..Config::default() }
}

//! `cargo bench`: how fast wale is, each figure beside a yardstick measured in the same run.
#![allow(clippy::print_stdout, missing_docs)]

mod read;
mod rows;
mod start;

fn main() {
    // `cargo test --benches` calls this too, with an argument; there is nothing to test.
    if std::env::args().any(|argument| argument == "--test") {
        return;
    }
    start::bench();
    read::bench();
    rows::bench();
}

/// The shortest of several timings of `run`, in seconds: the one that the rest of the machine disturbed least.
fn seconds(times: u32, mut run: impl FnMut()) -> f64 {
    (0..times)
        .map(|_| {
            let begun = std::time::Instant::now();
            run();
            begun.elapsed().as_secs_f64()
        })
        .fold(f64::INFINITY, f64::min)
}

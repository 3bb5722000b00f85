//! `cargo bench`: how fast wale is, each figure beside a yardstick measured in the same run.
#![allow(clippy::print_stdout, missing_docs)]

mod read;
mod rows;
mod start;

fn main() {
    // Cargo passes options of its own; a plain word names the only bench to run: `cargo bench --bench speed read`.
    let words: Vec<String> = std::env::args().skip(1).collect();
    // `cargo test --benches` calls this too; there is nothing to test.
    if words.iter().any(|word| word == "--test") {
        return;
    }
    let wanted = words.iter().find(|word| !word.starts_with('-'));
    for (name, bench) in [("start", start::bench as fn()), ("read", read::bench), ("rows", rows::bench)] {
        if wanted.is_none_or(|wanted| wanted == name) {
            bench();
        }
    }
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

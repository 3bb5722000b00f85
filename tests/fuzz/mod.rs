//! Texts by chance, by the thousand: nothing panics, everything ends, and what is found stands where it should.
//!
//! The numbers of inputs are fixed and so is the seed, so that every run is the same. With `WALE_FUZZ_SECONDS=600` in
//! the environment each target goes on for that long, from a seed of its own that is printed:
//! `WALE_FUZZ_SECONDS=600 cargo test --release --test always fuzz:: -- --nocapture`. `WALE_FUZZ_SEED` sets the seed.
#![allow(missing_docs, clippy::print_stdout)]

use crate::common::random::{Dice, slipped, words};
use crate::common::{Examples, examples, sound};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::{Duration, Instant};

fn number(name: &str) -> Option<u64> {
    std::env::var(name).ok()?.parse().ok()
}

/// Gives the target one input after the other, and panics with the first that it does not like.
fn fuzz(name: &str, inputs: u64, target: impl Fn(&str) -> Result<(), String>) {
    let samples: Vec<String> = samples();
    let seconds = number("WALE_FUZZ_SECONDS");
    let seed = number("WALE_FUZZ_SEED").unwrap_or(1);
    let begun = Instant::now();
    let (mut done, mut slowest) = (0, (Duration::ZERO, String::new()));
    let goes_on = |done: u64| match seconds {
        Some(seconds) => begun.elapsed() < Duration::from_secs(seconds),
        None => done < inputs,
    };
    while goes_on(done) {
        let mut dice = Dice::new(seed.wrapping_mul(1_000_000_007).wrapping_add(done));
        let text = if dice.below(4) == 0 {
            words(&mut dice, 120)
        } else {
            let (one, other) = (dice.below(samples.len()), dice.below(samples.len()));
            slipped(&mut dice, &samples[one], &samples[other])
        };
        let before = Instant::now();
        let result = catch_unwind(AssertUnwindSafe(|| target(&text)));
        match result {
            Ok(Ok(())) => {}
            Ok(Err(error)) => panic!("{name}, input {done} of seed {seed}: {error}\n{text}"),
            Err(_) => panic!("{name}, input {done} of seed {seed} panics:\n{text}\n{text:?}"),
        }
        if before.elapsed() > slowest.0 {
            slowest = (before.elapsed(), text);
        }
        done += 1;
    }
    println!("{name}: {done} inputs of seed {seed} in {:?}, the slowest took {:?}", begun.elapsed(), slowest.0);
    if slowest.0 > Duration::from_secs(2) {
        println!("{}", slowest.1);
    }
}

/// The examples, and the good and bad examples of the rules, as whole patterns.
fn samples() -> Vec<String> {
    let of_rules = wale::rules::ALL.iter().flat_map(|rule| [rule.bad, rule.good]).map(wale::catalogue::Rule::whole);
    // The rules' examples are short; the others would be lost among them.
    let examples: Vec<String> = examples().into_iter().map(|(_, text)| text).collect();
    examples.iter().cycle().take(examples.len() * 8).cloned().chain(of_rules).collect()
}

#[test]
fn any_text_can_be_parsed() {
    fuzz("parse", 1500, sound::read);
}

/// What must hold of the tidy text is in `tests/tidy`; here it is that there is one, and that it stays.
#[test]
fn any_text_can_be_tidied() {
    fuzz("tidy", 1500, |text| {
        let once = wale::syntax::tidy(wale::source::FileId(0), text);
        let twice = wale::syntax::tidy(wale::source::FileId(0), &once.text);
        let own = once
            .findings
            .iter()
            .find(|finding| finding.rule.name == "not-tidied" && !finding.what.starts_with("most of"));
        match own {
            Some(finding) => Err(finding.what.clone()),
            None if twice.text != once.text => Err(format!("tidying twice changes more:\n{}", twice.text)),
            None => Ok(()),
        }
    });
}

#[test]
fn any_text_can_be_checked() {
    fuzz("check", 500, |text| sound::check_and_write(text, &Examples));
}

//! The compiler and the judge on many programs by chance.
//!
//! The programs are always the same ones. `WALE_SOAK_PROGRAMS=3000000` in the environment goes on for that many, and
//! tries longer short programs as well: `WALE_SOAK_PROGRAMS=3000000 cargo test --release --test always laws::judge --
//! --nocapture`. `WALE_SOAK_SEED` sets the seed.

use super::compare::compare;
use super::programs::program;
use super::tally::{Tally, number};
use crate::common::random::Dice;
use std::collections::BTreeMap;
use std::time::Instant;

#[test]
fn the_judge_and_the_compiler_agree_on_programs_by_chance() {
    let programs = number("WALE_SOAK_PROGRAMS").unwrap_or(1_500);
    let seed = number("WALE_SOAK_SEED").unwrap_or(1);
    let (mut tally, mut manners) = (Tally::default(), BTreeMap::new());
    let begun = Instant::now();
    for number in 0..programs {
        let mut dice = Dice::new(seed.wrapping_mul(1_000_000_007).wrapping_add(number));
        let (manner, text) = program(&mut dice);
        let result = compare(&text);
        let (all, accepted): &mut (u64, u64) = manners.entry(manner).or_default();
        *all += 1;
        *accepted += u64::from(result.as_ref().is_ok_and(|agreed| agreed.error.is_none()));
        tally.take(result);
    }
    println!("all and accepted by manner: {manners:?}");
    tally.tell(&format!("by chance, seed {seed}"), begun);
    // The programs are of all kinds: else agreeing on them means little.
    assert!(tally.accepted * 5 > tally.done && tally.accepted * 5 < tally.done * 4, "{} accepted", tally.accepted);
    assert!(tally.errors.len() >= 15, "{:?}", tally.errors);
}

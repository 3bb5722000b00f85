//! Mutants of every example: one slip of the hand at a time, everywhere it can happen. Each is found, or is the same
//! knitting, or another pattern that somebody may well want; none is a mistake that could have been seen and was not.
#![allow(missing_docs, unreachable_pub, clippy::print_stdout)]

#[path = "../common/mod.rs"]
mod common;
mod fabric;
mod mutate;

use common::{Examples, examples};
use std::collections::BTreeMap;

#[test]
fn look() {
    let mut table: BTreeMap<&str, [usize; 3]> = BTreeMap::new();
    for (name, text) in examples() {
        let original = fabric::fabric(&wale::check(&name, &text, &Examples));
        for mutant in mutate::mutants(&text) {
            let checked = wale::check(&name, &mutant.text, &Examples);
            let row = table.entry(mutant.kind).or_default();
            row[0] += 1;
            if !checked.findings.is_empty() {
                row[1] += 1;
                let lines: Vec<_> = checked
                    .findings
                    .iter()
                    .map(|finding| (checked.sources.position(finding.at.span).line, finding.rule))
                    .collect();
                if lines.len() > 1 || (lines[0].0 as usize) < mutant.line {
                    println!("FOUND {name}:{} {} {}\n     {lines:?}", mutant.line, mutant.kind, mutant.what);
                }
                continue;
            }
            let knitted = fabric::fabric(&checked);
            let names = ["size", "stitch_size", "loosened"];
            if knitted == original {
                row[2] += 1;
                println!("SAME {name}:{} {} {}", mutant.line, mutant.kind, mutant.what);
            } else if fabric::without(&knitted, &names) == fabric::without(&original, &names) {
                println!("SIZE {name}:{} {} {}", mutant.line, mutant.kind, mutant.what);
            } else {
                println!("LOOK {name}:{} {} {}", mutant.line, mutant.kind, mutant.what);
            }
        }
    }
    for (kind, row) in &table {
        println!("{kind:45} {row:?}");
    }
}

//! The examples: each is clean, its sheet and its trace are kept beside it, and the trace adds up when a program that
//! knows nothing of wale re-adds it from the JSON alone.
#![allow(missing_docs, clippy::print_stdout, clippy::unwrap_used)]

use crate::common::{Examples, examples, folder, kept};
use crate::readd;
use serde_json::Value;

fn checked(name: &str, text: &str) -> wale::Checked {
    let checked = wale::check(name, text, &Examples);
    assert_eq!(checked.findings, [], "{name}");
    checked
}

fn trace(name: &str, text: &str) -> String {
    let checked = checked(name, text);
    let programs: Vec<_> = checked.programs.iter().collect();
    let mut out = Vec::new();
    wale::write::trace::write(&mut out, &programs, &checked.sources, None).unwrap();
    String::from_utf8(out).unwrap()
}

#[test]
fn every_trace_is_the_one_that_is_kept() {
    for (name, text) in examples() {
        kept(&folder().join("golden").join(name.replace(".wale", ".trace.json")), &trace(&name, &text));
    }
}

#[test]
fn every_sheet_is_the_one_that_is_kept() {
    for (name, text) in examples() {
        let checked = checked(&name, &text);
        let programs: Vec<_> = checked.programs.iter().collect();
        let mut sheet = Vec::new();
        wale::write::sheet::write(&mut sheet, &programs, None).unwrap();
        let sheet = String::from_utf8(sheet).unwrap();
        assert!(sheet.lines().all(|line| line.chars().count() <= 78), "{name} fits the paper");
        kept(&folder().join("golden").join(name.replace(".wale", ".sheet.txt")), &sheet);
    }
}

#[test]
fn every_trace_adds_up_and_fits_its_schema() {
    let schema = crate::common::schema("trace");
    let validator = jsonschema::validator_for(&schema).unwrap();
    for (name, text) in examples() {
        let trace: Value = serde_json::from_str(&trace(&name, &text)).unwrap();
        assert!(validator.is_valid(&trace), "{name}: {:?}", validator.iter_errors(&trace).next());
        readd::readd(&trace).unwrap_or_else(|error| panic!("{name}: {error}"));
        for size in trace["sizes"].as_array().unwrap() {
            for piece in size["pieces"].as_array().unwrap() {
                println!(
                    "{name:24} {:8} {:16} {:5} rows, {:6} loops made",
                    size["size"].as_str().unwrap_or("-"),
                    piece["piece"].as_str().unwrap(),
                    piece["totals"]["rows"],
                    piece["totals"]["ledger"]["made"]
                );
            }
        }
    }
}

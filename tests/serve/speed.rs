//! How long it takes from a change to what is shown because of it.

use super::client::{Client, Place};
use crate::common;
use serde_json::json;
use std::time::{Duration, Instant};

/// A pattern of many lines that is clean.
fn lines(count: usize) -> String {
    let mut text = String::from(
        "pattern \"Long quay\"\nmachine club { needles 96 each side }\nyarn slate {}\npiece \"Quay\" {\n    in work front L30-R30\n    \
         thread slate\n    cast on wound front\n",
    );
    for at in 0..count {
        text.push_str(if at % 3 == 0 { "    row front knit\n" } else { "    rows 2 front knit, loosened 1\n" });
    }
    text.push_str("    bind off front\n}\n");
    text
}

/// The middle one of several measurements.
fn from_change_to_findings(client: &mut Client, uri: &str, text: &str, times: i32) -> Duration {
    client.open(uri, 1, text);
    client.shown(uri, 1);
    let mut took = Vec::new();
    for version in 2..2 + times {
        // A letter typed at the end of the first line.
        let start = json!({ "line": 1, "character": 0 });
        let begun = Instant::now();
        client.change(uri, version, json!([{ "range": { "start": start, "end": start }, "text": "#\n" }]));
        client.shown(uri, i64::from(version));
        took.push(begun.elapsed());
    }
    took.sort_unstable();
    took[took.len() / 2]
}

#[test]
fn findings_come_while_one_types() {
    let place = Place::new("speed");
    place.file("machines/bollard-room.wale", &common::example("machines/bollard-room.wale"));
    let (name, example) = common::examples().into_iter().max_by_key(|(_, text)| text.len()).unwrap();
    let mut client = Client::new();
    let built = if cfg!(debug_assertions) { "debug" } else { "release" };
    let small = from_change_to_findings(&mut client, &place.uri(&name), &example, 15);
    println!("{built}: from a change to its findings, {name} with {} lines: {small:?}", example.lines().count());
    let text = lines(10_000);
    let large = from_change_to_findings(&mut client, &place.uri("long.wale"), &text, 5);
    println!("{built}: from a change to its findings, {} lines: {large:?}", text.lines().count());
    // Far more than it takes; this is here to notice something that grows with the square of the lines.
    assert!(small < Duration::from_secs(2) && large < Duration::from_secs(30), "{small:?} {large:?}");
}

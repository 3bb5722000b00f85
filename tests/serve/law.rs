//! The law of the server: whatever edits it is sent, in the end it shows what a fresh check of the final texts finds.

use super::client::{Client, PATIENCE, Place, at_byte};
use crate::common;
use crate::common::random::{Dice, slipped, word};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};
use std::time::Instant;
use wale::source::Library;

/// Texts by their paths, used from each other's folder.
struct Texts<'t>(&'t BTreeMap<String, String>);

impl Library for Texts<'_> {
    fn read(&self, from: &str, path: &str) -> Result<(String, String), String> {
        let name = format!("{}/{path}", from.rsplit_once('/').unwrap().0);
        self.0.get(&name).map(|text| (name, text.clone())).ok_or_else(|| "it is not there".to_owned())
    }
}

/// A place and what was found there, as both sides know it: the rule, and line and column of both ends.
type Found = (String, [u64; 4], String);

/// What a fresh check of the open texts finds, by the path of the file that it is about.
fn fresh(
    open: &BTreeSet<String>,
    texts: &BTreeMap<String, String>,
    sixteen: bool,
) -> BTreeMap<String, BTreeSet<Found>> {
    let mut found: BTreeMap<String, BTreeSet<Found>> = BTreeMap::new();
    for name in open {
        let checked = wale::check(name, &texts[name], &Texts(texts));
        for finding in checked.findings {
            let source = checked.sources.get(finding.at.span.file);
            let place = |byte: u32| at_byte(source.text(), byte as usize, sixteen);
            let (start, end) = (place(finding.at.span.start), place(finding.at.span.end));
            let number = |value: &Value| value.as_u64().unwrap();
            let range =
                [number(&start["line"]), number(&start["character"]), number(&end["line"]), number(&end["character"])];
            let first = wale::clean::block(&finding.what).lines().next().unwrap_or_default().to_owned();
            found.entry(source.name().to_owned()).or_default().insert((finding.rule.name.to_owned(), range, first));
        }
    }
    found
}

fn shown(diagnostics: &[Value]) -> BTreeSet<Found> {
    let number = |one: &Value, end: &str, what: &str| one["range"][end][what].as_u64().unwrap();
    diagnostics
        .iter()
        .map(|one| {
            let range = [
                number(one, "start", "line"),
                number(one, "start", "character"),
                number(one, "end", "line"),
                number(one, "end", "character"),
            ];
            let message = one["message"].as_str().unwrap().lines().next().unwrap_or_default().to_owned();
            (one["code"].as_str().unwrap().to_owned(), range, message)
        })
        .collect()
}

/// A small edit of a text: its range in bytes, and what comes in its place.
fn edit(dice: &mut Dice, text: &str) -> (usize, usize, String) {
    let boundary = |mut at: usize| {
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let start = boundary(dice.below(text.len() + 1));
    let end = boundary((start + dice.below(12)).min(text.len())).max(start);
    let new = match dice.below(8) {
        0 => String::new(),
        1 => "\n".to_owned(),
        2 => "𝄞é".to_owned(),
        3 => format!("{} {}\n", word(dice), word(dice)),
        _ => word(dice).to_owned(),
    };
    // A lone `\r` ends a line for editors and none for the check's own counting, so that it stays out of this comparison.
    (start, end, new.replace('\r', ""))
}

fn run(seed: u64, rounds: usize) -> usize {
    let mut dice = Dice::new(seed);
    let place = Place::new(&format!("law {seed}"));
    let sixteen = dice.below(2) == 0;
    let mut client = Client::with_encodings(if sixteen { &["utf-16"] } else { &["utf-8"] });
    let examples = common::examples();
    let machine = common::example("machines/bollard-room.wale");
    // Two patterns of the examples, a file of stitches between them and the machine, and the machine.
    let mut texts: BTreeMap<String, String> = BTreeMap::new();
    let stitches =
        "use \"bollard-room.wale\"\nstitch mesh on front {\n    row front knit\n    row front knit, loosened 1\n}\n";
    texts.insert(place.path("bollard-room.wale"), machine.clone());
    texts.insert(place.path("stitches.wale"), stitches.to_owned());
    for name in ["one.wale", "two.wale"] {
        let (_, example) = &examples[dice.below(examples.len())];
        let example = example.replace("use \"machines/bollard-room.wale\"", "use \"stitches.wale\"");
        texts.insert(place.path(name), example);
    }
    for (path, text) in &texts {
        place.file(path.rsplit('/').next().unwrap(), text);
    }
    let names: Vec<String> = texts.keys().cloned().collect();
    let mut versions: BTreeMap<String, i32> = BTreeMap::new();
    let mut open: BTreeSet<String> = BTreeSet::new();
    let uri = address;
    for _ in 0..rounds {
        let name = &names[dice.below(names.len())];
        if !open.contains(name) {
            let version = *versions.entry(name.clone()).and_modify(|version| *version += 1).or_insert(1);
            client.open(&uri(name), version, &texts[name]);
            open.insert(name.clone());
            continue;
        }
        match dice.below(40) {
            // Closed: its file counts, which holds something else.
            0 => {
                client.close(&uri(name));
                open.remove(name);
                let saved = std::fs::read_to_string(name).unwrap();
                texts.insert(name.clone(), saved);
            }
            // Saved, or changed by somebody else.
            1 => {
                std::fs::write(name, &texts[name]).unwrap();
                client.tell("textDocument/didSave", json!({ "textDocument": { "uri": uri(name) } }));
            }
            // A whole new text.
            2 => {
                let (_, other) = &examples[dice.below(examples.len())];
                let text = slipped(&mut dice, &texts[name], other).replace('\r', "");
                let version = versions.get_mut(name).unwrap();
                *version += 1;
                client.change(&uri(name), *version, json!([{ "text": text }]));
                texts.insert(name.clone(), text);
            }
            // A question on the way, of which only an answer is wanted.
            3 => {
                let position = at_byte(&texts[name], 0, sixteen);
                client.put("textDocument/hover", json!({ "textDocument": { "uri": uri(name) }, "position": position }));
            }
            _ => {
                let mut changes = Vec::new();
                for _ in 0..=dice.below(3) {
                    let text = texts.get_mut(name).unwrap();
                    let (start, end, new) = edit(&mut dice, text);
                    let range = json!({ "start": at_byte(text, start, sixteen), "end": at_byte(text, end, sixteen) });
                    changes.push(json!({ "range": range, "text": new }));
                    text.replace_range(start..end, &new);
                }
                let version = versions.get_mut(name).unwrap();
                *version += 1;
                client.change(&uri(name), *version, Value::Array(changes));
            }
        }
        if dice.below(20) == 0 {
            settled(&mut client, &texts, &open, &versions, sixteen, seed);
        }
        if dice.below(12) == 0 {
            // Time for a check to begin, and to be overtaken.
            std::thread::sleep(std::time::Duration::from_millis(dice.below(30) as u64));
        }
    }
    // What is open is checked; what is used and not open is read from the disk.
    let count = settled(&mut client, &texts, &open, &versions, sixteen, seed);
    // And nothing more comes.
    client.ask("workspace/symbol", json!({ "query": "" })).unwrap();
    let versions: BTreeMap<String, Vec<i64>> =
        client.published.iter().fold(BTreeMap::new(), |mut all, (uri, shown)| {
            all.entry(uri.clone()).or_insert_with(Vec::new).extend(shown.version);
            all
        });
    assert!(versions.values().all(|versions| versions.is_sorted()), "{versions:?}");
    assert_eq!(client.goodbye(), Some(0));
    count
}

fn address(path: &str) -> String {
    format!("file://{}", path.replace(' ', "%20"))
}

/// Waits until what is shown is what a fresh check finds, in the newest versions; how much that is.
fn settled(
    client: &mut Client,
    texts: &BTreeMap<String, String>,
    open: &BTreeSet<String>,
    versions: &BTreeMap<String, i32>,
    sixteen: bool,
    seed: u64,
) -> usize {
    let wanted = fresh(open, texts, sixteen);
    let until = Instant::now() + PATIENCE;
    loop {
        let last = client.last();
        let mut now: BTreeMap<String, BTreeSet<Found>> = BTreeMap::new();
        for name in texts.keys() {
            if let Some(one) = last.get(&address(name)).filter(|one| !one.diagnostics.is_empty()) {
                now.insert(name.clone(), shown(&one.diagnostics));
            }
        }
        let newest =
            |name: &String| last.get(&address(name)).is_some_and(|one| one.version == Some(i64::from(versions[name])));
        if now == wanted && open.iter().all(newest) {
            return wanted.values().map(BTreeSet::len).sum();
        }
        assert!(client.take_in(until), "seed {seed}: shown {now:#?}\nfound {wanted:#?}\n{texts:#?}");
    }
}

#[test]
fn any_edits_end_in_what_a_fresh_check_finds() {
    // WALE_SERVE_SEEDS=100 tries more.
    let seeds = std::env::var("WALE_SERVE_SEEDS").ok().and_then(|seeds| seeds.parse().ok()).unwrap_or(8);
    let found: usize = (1..=seeds).map(|seed| run(seed, 150)).sum();
    println!("{seeds} conversations of 150 steps, {found} findings at their ends");
    assert!(found > 20, "{found}: hardly anything was found, so hardly anything was compared");
}

//! The crates that wale is built from: under which licences, from where, each once, and that the file with their notices,
//! which goes with every binary, is the one of these crates.
#![allow(clippy::print_stdout)]

use crate::common::kept;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::process::Command;

/// The licences under which a crate may come. Each lets everybody use, change and hand on the program, also sold and
/// without its source, as long as the notices go with it.
const ALLOWED: [&str; 9] = [
    "Apache-2.0",
    "Apache-2.0 OR MIT",
    "Apache-2.0 WITH LLVM-exception OR Apache-2.0 OR MIT",
    "MIT",
    "MIT OR Apache-2.0",
    "MIT/Apache-2.0",
    "Unlicense OR MIT",
    "Zlib OR Apache-2.0 OR MIT",
    "(MIT OR Apache-2.0) AND Unicode-3.0",
];

/// The registry that all of them come from.
const SOURCE: &str = "registry+https://github.com/rust-lang/crates.io-index";

/// How files with licences begin.
const NAMES: [&str; 5] = ["license", "licence", "copying", "notice", "unlicense"];

/// Where a crate may be had under the licence MIT, these texts are not those that count.
const OTHERS: [&str; 5] = ["apache", "unlicense", "zlib", "copying", "boost"];

struct Crate {
    name: String,
    version: String,
    licence: String,
    source: String,
    /// The texts of its licences, in the order of their files.
    texts: Vec<String>,
}

/// The crates without which wale is not built, on whatever system; not those that only its tests need. None where cargo
/// cannot say, because it has not got them all and there is no network.
fn crates() -> Option<Vec<Crate>> {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let told = Command::new(cargo)
        .args(["metadata", "--format-version", "1", "--locked"])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output();
    let told = match told {
        Ok(told) if told.status.success() => told.stdout,
        other => {
            println!("not tried: cargo cannot say what wale is built from ({other:?})");
            return None;
        }
    };
    let told: Value = serde_json::from_slice(&told).expect("it is JSON");
    let list = |value: &Value| value.as_array().cloned().unwrap_or_default();
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let nodes: BTreeMap<String, Vec<String>> = list(&told["resolve"]["nodes"])
        .iter()
        .map(|node| {
            let normal = |needed: &Value| list(&needed["dep_kinds"]).iter().any(|kind| kind["kind"].is_null());
            let needs = list(&node["deps"]).into_iter().filter(normal).map(|needed| text(&needed["pkg"]));
            (text(&node["id"]), needs.collect())
        })
        .collect();
    let root = text(&told["resolve"]["root"]);
    let (mut needed, mut open) = (BTreeSet::new(), vec![root.clone()]);
    while let Some(id) = open.pop() {
        if needed.insert(id.clone()) {
            open.extend(nodes.get(&id).into_iter().flatten().cloned());
        }
    }
    needed.remove(&root);
    let mut found: Vec<Crate> = list(&told["packages"])
        .iter()
        .filter(|package| needed.contains(&text(&package["id"])))
        .map(|package| {
            let licence = text(&package["license"]);
            let folder = text(&package["manifest_path"]);
            Crate {
                name: text(&package["name"]),
                version: text(&package["version"]),
                source: text(&package["source"]),
                texts: texts(Path::new(&folder).parent().expect("it stands in a folder"), &licence),
                licence,
            }
        })
        .collect();
    found.sort_by(|one, other| (&one.name, &one.version).cmp(&(&other.name, &other.version)));
    Some(found)
}

/// The texts of the licences of the crate in a folder that count.
fn texts(folder: &Path, licence: &str) -> Vec<String> {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let mut files: Vec<_> = entries.map(|entry| entry.path()).filter(|path| path.is_file()).collect();
    files.sort();
    let name = |path: &Path| path.file_name().unwrap_or_default().to_string_lossy().to_lowercase();
    files.retain(|path| NAMES.iter().any(|begins| name(path).starts_with(begins)));
    if licence.contains("MIT") {
        let counts = |path: &std::path::PathBuf| !OTHERS.iter().any(|other| name(path).contains(other));
        let counting: Vec<_> = files.iter().filter(|path| counts(path)).cloned().collect();
        if !counting.is_empty() {
            files = counting;
        }
    }
    let read = |path: &std::path::PathBuf| std::fs::read(path).ok();
    let plain = |bytes: Vec<u8>| {
        let text = String::from_utf8_lossy(&bytes).replace("\r\n", "\n");
        let lines: Vec<&str> = text.lines().map(str::trim_end).collect();
        lines.join("\n").trim_matches('\n').to_owned()
    };
    files.iter().filter_map(read).map(plain).filter(|text| !text.is_empty()).collect()
}

#[test]
fn crates_come_from_one_place_under_known_licences_and_once() {
    let Some(crates) = crates() else { return };
    assert!(crates.len() > 20, "only {} crates", crates.len());
    let mut names = BTreeSet::new();
    for used in &crates {
        let Crate { name, version, licence, source, texts } = used;
        assert!(ALLOWED.contains(&licence.as_str()), "{name} {version} comes under `{licence}`: is that allowed?");
        assert_eq!(source, SOURCE, "{name} {version} comes from somewhere else");
        assert!(!texts.is_empty(), "{name} {version} comes without the text of its licence");
        assert!(names.insert(name), "there are two versions of {name}");
    }
    let unused = ALLOWED.iter().find(|licence| !crates.iter().any(|used| used.licence == **licence));
    assert_eq!(unused, None, "no crate comes under that any more");
}

#[test]
fn the_notices_are_those_of_the_crates() {
    let Some(crates) = crates() else { return };
    let mut page = "# Notices\n\nwale comes under the licence in the file LICENSE. It is built from the crates below, which others have \
                    written; their notices go with every binary of wale. Where a crate may be had under one of several licences, wale \
                    takes it under MIT, and only that text stands here.\n\nThis page is written by a test: `WALE_REWRITE=1 cargo test \
                    --test program notices`.\n\n| Crate | Version | Licence |\n| --- | --- | --- |\n"
        .to_owned();
    let mut texts: Vec<(&str, Vec<&str>)> = Vec::new();
    for Crate { name, version, licence, texts: own, .. } in &crates {
        page.push_str(&format!("| {name} | {version} | {licence} |\n"));
        for text in own {
            match texts.iter_mut().find(|(known, _)| known == text) {
                Some((_, names)) => names.push(name),
                None => texts.push((text, vec![name])),
            }
        }
    }
    for (text, names) in texts {
        page.push_str(&format!("\n## {}\n\n````text\n{text}\n````\n", names.join(", ")));
    }
    kept(&Path::new(env!("CARGO_MANIFEST_DIR")).join("NOTICES.md"), &page);
}

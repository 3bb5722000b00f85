//! Names: where they are given, where they stand, and giving them others. The law: another name changes no finding but the
//! names in it, and no trace.

use super::client::{Client, Place, at, at_byte, edited, edits_of};
use crate::common;
use crate::common::random::Dice;
use serde_json::{Value, json};
use std::collections::BTreeMap;

fn place_of(uri: &str, position: &Value) -> Value {
    json!({ "textDocument": { "uri": uri }, "position": position })
}

#[test]
fn names_are_found_across_files() {
    let place = Place::new("across");
    let parts = "yarn slate {}\nmachine club { needles 20 each side }\nlet wide = 4\nstitch welt (depth rows) on front {\n    rows depth front knit\n}\n";
    let main = "use \"parts.wale\"\npiece \"P\" {\n    in work front wide each side\n    thread slate\n    cast on wound front\n    work welt (depth 2 rows) 3 times\n    bind off front\n}\n";
    place.file("parts.wale", parts).file("main.wale", main);
    let (p, m) = (place.uri("parts.wale"), place.uri("main.wale"));
    let mut client = Client::new();
    client.open(&m, 1, main);
    let given = |words: &str, name: &str| {
        let start = parts.find(words).unwrap() + words.find(name).unwrap();
        json!({ "uri": p, "range": { "start": at_byte(parts, start, true), "end": at_byte(parts, start + name.len(), true) } })
    };
    for (words, given_in, name) in [
        ("slate", "yarn slate", "slate"),
        ("wide each", "let wide", "wide"),
        ("welt (", "stitch welt", "welt"),
        ("depth 2", "(depth rows)", "depth"),
    ] {
        let found = client.asked("textDocument/definition", place_of(&m, &at(main, words)));
        assert_eq!(found, given(given_in, name), "{words}");
        let mut params = place_of(&m, &at(main, words));
        params["context"] = json!({ "includeDeclaration": true });
        let all = client.asked("textDocument/references", params.clone()).as_array().unwrap().clone();
        assert_eq!(all.len(), if name == "depth" { 3 } else { 2 }, "{words}: {all:?}");
        params["context"] = json!({ "includeDeclaration": false });
        let uses = client.asked("textDocument/references", params).as_array().unwrap().clone();
        assert_eq!(uses.len() + 1, all.len());
        let here = client.asked("textDocument/documentHighlight", place_of(&m, &at(main, words)));
        assert_eq!(here.as_array().unwrap().len(), 1);
    }
    // The file behind `use`.
    let found = client.asked("textDocument/definition", place_of(&m, &at(main, "parts")));
    assert_eq!(found["uri"], p);
    for words in ["piece", "thread", "\"P\"", "front"] {
        assert_eq!(client.asked("textDocument/definition", place_of(&m, &at(main, words))), Value::Null);
    }
    // Asked in the used file, the pattern that uses it is known too.
    client.open(&p, 7, parts);
    let mut params = place_of(&p, &at(parts, "slate"));
    params["newName"] = json!("foam");
    let edit = client.asked("textDocument/rename", params);
    assert_eq!(edited(main, &edits_of(&edit, &m)), main.replace("slate", "foam"));
    assert_eq!(edited(parts, &edits_of(&edit, &p)), parts.replace("slate", "foam"));
    assert_eq!(edit["documentChanges"].as_array().unwrap().len(), 2);
}

#[test]
fn an_editor_without_versions_gets_edits_without_them() {
    let text = "yarn slate {}\npiece \"P\" {\n    thread slate\n}\n";
    let uri = "file:///mooring/plain.wale";
    let mut client = Client::silent();
    client.ask("initialize", json!({ "capabilities": {} })).unwrap();
    client.tell("initialized", json!({}));
    client.open(uri, 1, text);
    let mut params = place_of(uri, &at(text, "slate"));
    params["newName"] = json!("foam");
    let edit = client.asked("textDocument/rename", params);
    assert_eq!(edit.get("documentChanges"), None);
    assert_eq!(edited(text, edit["changes"][uri].as_array().unwrap()), text.replace("slate", "foam"));
}

#[test]
fn names_that_will_not_do_are_refused_with_a_sentence() {
    let text = "machine club { needles 20 each side }\nyarn slate {}\nyarn foam {}\nlet depth = 2\nlet tall = 3\nchart net { \"|.\" }\n\
                stitch welt (high rows, low rows) on front {\n    rows high front knit\n    rows low front knit\n    rows depth front knit\n}\n\
                piece \"P\" {\n    in work front L4-R4\n    thread slate\n    cast on wound front\n    work welt (high 1 row, low 2 rows)\n    bind off front\n}\n";
    let uri = "file:///mooring/refused.wale";
    let mut client = Client::new();
    client.open(uri, 1, text);
    let mut refused = |words: &str, new: &str| -> String {
        let mut params = place_of(uri, &at(text, words));
        params["newName"] = json!(new);
        match client.ask("textDocument/rename", params) {
            Err(error) => {
                assert_eq!(error["code"], -32803, "{error}");
                error["message"].as_str().unwrap().to_owned()
            }
            Ok(edit) => panic!("{words} became {new}: {edit}"),
        }
    };
    for new in
        ["", " ", "Two", "two words", "4ply", "l30", "-dash", "a{", "a\nb", "a#", "\"a\"", "é\u{301}\u{202e}", "naïve!"]
    {
        let said = refused("slate", new);
        assert!(said.contains("cannot be the name of a yarn"), "{new}: {said}");
    }
    for new in ["row", "front", "empty", "loaded", "all", "stitch", "to"] {
        assert!(refused("slate", new).contains("cannot be the name"), "{new}");
    }
    assert!(refused("slate", "foam").contains("there is a yarn called `foam` already, in line 3"));
    assert!(refused("depth = 2", "tall").contains("there is a value called `tall` already"));
    assert!(refused("depth = 2", "net").contains("there is a chart called `net` already"));
    assert!(refused("high rows", "low").contains("there is a parameter called `low` already"));
    // It would be taken for the parameter, or the parameter for it.
    assert!(refused("depth = 2", "high").contains("would mean something else"));
    assert!(refused("high rows", "depth").contains("would mean something else"));
    assert!(refused("piece", "thing").contains("there is no name here"));
    for words in ["piece", "front L4", "\"P\"", "needles 20"] {
        let error = client.ask("textDocument/prepareRename", place_of(uri, &at(text, words))).unwrap_err();
        assert_eq!(error["code"], -32803);
    }
    let ready = client.asked("textDocument/prepareRename", place_of(uri, &at(text, "slate")));
    assert_eq!(ready["placeholder"], "slate");
    // The name that it has changes nothing; another sort may have it.
    let mut params = place_of(uri, &at(text, "slate"));
    params["newName"] = json!("slate");
    assert_eq!(client.asked("textDocument/rename", params.clone()), Value::Null);
    params["newName"] = json!("welt");
    assert_eq!(edits_of(&client.asked("textDocument/rename", params), uri).len(), 2);
}

/// A pattern of that title that uses `lengths.wale`, and the place of a name in it that is given there.
fn with_lengths(title: &str) -> (String, Value) {
    let text = format!(
        "use \"lengths.wale\"\nmachine club {{ needles 82 each side }}\nyarn slate {{}}\npiece \"{title}\" {{\n    in work front L4-R4\n    \
         thread slate\n    cast on wound front\n    rows tall front knit\n    bind off front\n}}\n"
    );
    let place = at(&text, "tall");
    (text, place)
}

const LENGTHS: &str = "let tall = 10 rows\n# the ferry waits for nobody\nlet wide = tall\n";

#[test]
fn a_file_that_changed_without_a_word_is_read_again_before_it_is_edited() {
    let place = Place::new("unsaid");
    let now = format!("# a new line at the top of it\n{LENGTHS}");
    for (number, now) in [now.as_str(), "let tall = 10 rows\n"].into_iter().enumerate() {
        place.file("lengths.wale", LENGTHS);
        let (text, position) = with_lengths("Cuff");
        let (uri, used) = (place.uri(&format!("{number}.wale")), place.uri("lengths.wale"));
        let mut client = Client::new();
        client.open(&uri, 1, &text);
        let params = place_of(&uri, &position);
        let given = client.asked("textDocument/definition", params.clone());
        assert_eq!(given["range"]["start"], at(LENGTHS, "tall"));
        // Another program writes the file, and no editor tells of it.
        place.file("lengths.wale", now);
        let mut renaming = params.clone();
        renaming["newName"] = json!("high");
        let edit = client.asked("textDocument/rename", renaming);
        assert_eq!(edited(now, &edits_of(&edit, &used)), now.replace("tall", "high"));
        assert_eq!(edited(&text, &edits_of(&edit, &uri)), text.replace("tall", "high"));
        assert_eq!(client.asked("textDocument/definition", params.clone())["range"]["start"], at(now, "tall"));
        let mut all = params;
        all["context"] = json!({ "includeDeclaration": true });
        let all = client.asked("textDocument/references", all).as_array().unwrap().clone();
        assert_eq!(all.len(), 1 + now.matches("tall").count());
        assert_eq!(client.goodbye(), Some(0));
    }
}

#[test]
fn patterns_that_read_a_file_at_different_times_are_renamed_by_one_text() {
    let place = Place::new("two times");
    let long = format!("let tall = 10 rows\n# {}\nlet wide = tall\n", "x".repeat(5000));
    place.file("lengths.wale", &long);
    let ((one, position), (other, _)) = (with_lengths("Cuff"), with_lengths("Hem"));
    let (first, second, used) = (place.uri("cuff.wale"), place.uri("hem.wale"), place.uri("lengths.wale"));
    let mut client = Client::new();
    client.open(&first, 1, &one);
    client.asked("textDocument/definition", place_of(&first, &position));
    let short = "let tall = 10 rows\n";
    place.file("lengths.wale", short);
    client.open(&second, 1, &other);
    let mut params = place_of(&second, &position);
    params["newName"] = json!("high");
    let edit = client.asked("textDocument/rename", params);
    for (uri, text) in [(&first, one.as_str()), (&second, &other), (&used, short)] {
        assert_eq!(edited(text, &edits_of(&edit, uri)), text.replace("tall", "high"));
    }
    assert_eq!(client.goodbye(), Some(0));
}

#[test]
fn a_file_that_changes_while_it_is_read_is_not_edited() {
    /// Gives another text each time.
    struct Restless;
    static TIMES: std::sync::atomic::AtomicUsize = std::sync::atomic::AtomicUsize::new(0);
    impl wale::source::Library for Restless {
        fn read(&self, _: &str, path: &str) -> Result<(String, String), String> {
            let times = TIMES.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
            Ok((format!("/mooring/{path}"), format!("{}{LENGTHS}", "#\n".repeat(100 - times % 100))))
        }
    }
    let mut workspace = wale::serve::Workspace::new(wale::serve::Encoding::Utf16);
    let (text, position) = with_lengths("Cuff");
    workspace.open("file:///mooring/cuff.wale", 1, &text);
    workspace.open("file:///mooring/hem.wale", 1, &text);
    let mut params = place_of("file:///mooring/cuff.wale", &position);
    params["newName"] = json!("high");
    let question = wale::serve::Question {
        method: "textDocument/rename",
        params,
        texts: &workspace.texts(),
        encoding: workspace.encoding(),
        versioned: true,
        libraries: &|_| Box::new(Restless),
        wanted: &|| true,
    };
    let failure = wale::serve::answer(&question, &wale::serve::Shelf::default()).unwrap_err();
    assert_eq!(failure.code, -32803);
    assert!(
        failure.message.starts_with("`/mooring/lengths.wale` was changed while it was read"),
        "{}",
        failure.message
    );
}

struct Folder(BTreeMap<String, String>);

impl wale::source::Library for Folder {
    fn read(&self, _: &str, path: &str) -> Result<(String, String), String> {
        self.0.get(path).map(|text| (path.to_owned(), text.clone())).ok_or_else(|| "it is not there".to_owned())
    }
}

/// What the check finds, and the traces, with every word that is one of two names replaced.
fn told(name: &str, texts: &BTreeMap<String, String>, old: &str, new: &str) -> (Vec<String>, String) {
    let checked = wale::check(name, &texts[name], &Folder(texts.clone()));
    let same = |text: &str| {
        let is_part = |character: char| character.is_alphanumeric() || character == '-';
        let mut out = String::new();
        let mut rest = text;
        while let Some(at) = rest.find(is_part) {
            out.push_str(&rest[..at]);
            let length = rest[at..].find(|character| !is_part(character)).unwrap_or(rest.len() - at);
            let word = &rest[at..at + length];
            out.push_str(if word == old || word == new { "NAME" } else { word });
            rest = &rest[at + length..];
        }
        out + rest
    };
    let findings = checked.findings.iter().map(|finding| {
        let place = checked.sources.position(finding.at.span);
        let marked = same(checked.sources.words(finding.at.span));
        format!("{} line {} `{marked}`: {}", finding.rule.name, place.line, same(&finding.what))
    });
    let programs: Vec<_> = checked.programs.iter().collect();
    let mut trace = Vec::new();
    wale::write::trace::write(&mut trace, &programs, &checked.sources, None).unwrap();
    let mut trace: Value = serde_json::from_slice(&trace).unwrap();
    without_columns(&mut trace);
    (findings.collect(), same(&trace.to_string()))
}

/// Columns behind a name move with its length; lines do not.
fn without_columns(value: &mut Value) {
    match value {
        Value::Object(fields) => {
            fields.retain(|name, _| name != "column" && name != "byte");
            fields.values_mut().for_each(without_columns);
        }
        Value::Array(items) => items.iter_mut().for_each(without_columns),
        _ => {}
    }
}

#[test]
fn another_name_changes_nothing_but_the_name() {
    let machine = common::example("machines/bollard-room.wale");
    let mut dice = Dice::new(7);
    let mut client = Client::new();
    let (mut renamed, mut with_findings) = (0, 0);
    for (at_file, (file, text)) in common::examples().into_iter().enumerate() {
        // As they are, and with a mistake.
        let place = Place::new(&format!("rename {at_file}"));
        place.file("machines/bollard-room.wale", &machine);
        let mut variants = vec![text.clone()];
        variants.extend(
            common::MISTAKES
                .iter()
                .filter(|mistake| mistake.0 == file)
                .take(3)
                .map(|(_, from, to, _, _)| text.replacen(from, to, 1)),
        );
        for (variant, text) in variants.into_iter().enumerate() {
            let uri = place.uri(&format!("{variant}.wale"));
            let used = place.uri("machines/bollard-room.wale");
            client.open(&uri, 1, &text);
            client.open(&used, 1, &machine);
            let mut names: Vec<(usize, String)> = Vec::new();
            let is_part = |character: char| character.is_alphanumeric() || character == '-';
            for (start, word) in text.match_indices(|character: char| is_part(character)).filter_map(|(start, _)| {
                let before = text[..start].chars().next_back().is_none_or(|character| !is_part(character));
                let length = text[start..].find(|character| !is_part(character)).unwrap_or(text.len() - start);
                before.then(|| (start, text[start..start + length].to_owned()))
            }) {
                if dice.below(3) == 0 {
                    names.push((start, word));
                }
            }
            for (start, old) in names {
                let position = at_byte(&text, start, true);
                if client.ask("textDocument/prepareRename", place_of(&uri, &position)).is_err() {
                    continue;
                }
                let new = ["x", "a-very-long-new-name", "ñandú", "z9"][dice.below(4)];
                let mut params = place_of(&uri, &position);
                params["newName"] = json!(new);
                let edit = client.asked("textDocument/rename", params);
                let before = BTreeMap::from([
                    ("main.wale".to_owned(), text.clone()),
                    ("machines/bollard-room.wale".to_owned(), machine.clone()),
                ]);
                let after = BTreeMap::from([
                    ("main.wale".to_owned(), edited(&text, &edits_of(&edit, &uri))),
                    ("machines/bollard-room.wale".to_owned(), edited(&machine, &edits_of(&edit, &used))),
                ]);
                assert_ne!(before, after, "{file}: {old}");
                let (one, other) = (told("main.wale", &before, &old, new), told("main.wale", &after, &old, new));
                assert_eq!(one.0, other.0, "{file} {variant}: {old} became {new}");
                assert!(one.1 == other.1, "{file} {variant}: {old} became {new}, and the trace another one");
                assert!(!one.1.is_empty());
                renamed += 1;
                with_findings += usize::from(!one.0.is_empty());
            }
            client.close(&uri);
            client.close(&used);
        }
    }
    println!("{renamed} names changed, {with_findings} of them in patterns with findings");
    assert!(renamed > 100 && with_findings > 30, "{renamed} {with_findings}");
}

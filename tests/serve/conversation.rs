//! The conversation itself: who may say what when, and what is said to nonsense.

use super::client::{Client, PATIENCE, Place, at, at_byte};
use serde_json::{Value, json};
use std::time::{Duration, Instant};

const PATTERN: &str = "machine club { needles 20 each side }\nyarn slate {}\npiece \"Loop\" {\n    in work front L4-R4\n    \
                       thread slate\n    cast on wound front\n    rows 6 front knit\n    bind off front\n}\n";

#[test]
fn hello_and_goodbye() {
    let mut client = Client::silent();
    let result = client.ask("initialize", json!({ "capabilities": {} })).unwrap();
    super::shape::is_of_the_protocol("initialize", &result);
    assert_eq!(result["serverInfo"]["name"], "wale");
    assert_eq!(result["capabilities"]["documentFormattingProvider"], true);
    client.tell("initialized", json!({}));
    assert_eq!(client.goodbye(), Some(0));
}

#[test]
fn an_end_without_goodbye_is_told_by_the_exit_code() {
    let mut client = Client::new();
    client.tell("exit", Value::Null);
    assert_eq!(client.ended(), Some(1));
    let mut client = Client::new();
    assert_eq!(client.ended(), Some(1));
    let mut client = Client::silent();
    assert_eq!(client.ended(), Some(1));
    let mut client = Client::silent();
    client.raw(b"nonsense without end");
    assert_eq!(client.ended(), Some(1));
}

#[test]
fn nothing_is_answered_before_hello_or_after_goodbye() {
    let mut client = Client::silent();
    let hover = json!({ "textDocument": { "uri": "file:///a.wale" }, "position": { "line": 0, "character": 0 } });
    assert_eq!(client.ask("textDocument/hover", hover.clone()).unwrap_err()["code"], -32002);
    assert_eq!(client.ask("shutdown", Value::Null).unwrap_err()["code"], -32002);
    client.open("file:///early.wale", 1, "nonsense");
    client.ask("initialize", json!({ "capabilities": {} })).unwrap();
    assert_eq!(client.ask("initialize", json!({ "capabilities": {} })).unwrap_err()["code"], -32600);
    client.ask("shutdown", Value::Null).unwrap();
    assert_eq!(client.ask("textDocument/hover", hover).unwrap_err()["code"], -32600);
    assert_eq!(client.ask("shutdown", Value::Null).unwrap_err()["code"], -32600);
    client.tell("exit", Value::Null);
    assert_eq!(client.ended(), Some(0));
    assert_eq!(client.published, []);
}

#[test]
fn nonsense_gets_an_error_and_spoils_nothing() {
    let mut client = Client::new();
    for text in ["{", "[]", "null", "{\"jsonrpc\":\"2.0\"}", "\"\\ud800\"", "{\"id\":[],\"method\":1}"] {
        client.raw(format!("Content-Length: {}\r\n\r\n{text}", text.len()).as_bytes());
    }
    // An answer nobody asked for, and questions with details of the wrong kind.
    client.send(&json!({ "jsonrpc": "2.0", "id": 77, "result": 3 }));
    client.open("file:///a.wale", 1, PATTERN);
    for (method, params, code) in [
        ("textDocument/hover", json!({}), -32602),
        ("textDocument/hover", json!([1, 2]), -32602),
        ("textDocument/hover", Value::Null, -32602),
        ("textDocument/rename", json!({ "textDocument": { "uri": 4 } }), -32602),
        ("textDocument/completion", json!({ "textDocument": { "uri": "file:///a.wale" }, "position": "end" }), -32602),
        (
            "textDocument/hover",
            json!({ "textDocument": { "uri": "file:///no.wale" }, "position": { "line": 0, "character": 0 } }),
            -32602,
        ),
        ("textDocument/documentSymbol", json!({ "textDocument": { "uri": "" } }), -32602),
        ("textDocument/colourOfTheSea", json!({}), -32601),
        ("", json!({}), -32601),
    ] {
        let error = client.ask(method, params.clone()).expect_err(method);
        assert_eq!(error["code"], code, "{method} {params}: {error}");
        assert!(error["message"].as_str().is_some_and(|words| words.len() > 10), "{error}");
    }
    // Notifications that cannot be understood.
    client.tell("textDocument/didOpen", json!({ "textDocument": 3 }));
    client.tell(
        "textDocument/didChange",
        json!({ "textDocument": { "uri": "file:///no.wale", "version": 3 }, "contentChanges": [] }),
    );
    client.change("file:///a.wale", 2, json!([{ "range": { "start": { "line": -1 } }, "text": "lost" }]));
    client.tell("textDocument/didClose", json!({ "textDocument": { "uri": "file:///no.wale" } }));
    client.tell("$/cancelRequest", json!({ "id": 9999 }));
    client.tell("$/cancelRequest", json!(null));
    client.tell("$/somethingNew", json!({}));
    client.tell("workspace/didChangeWatchedFiles", json!({ "changes": [{ "uri": "%%%", "type": 1 }] }));
    // A change that could not be read has changed nothing.
    assert_eq!(client.shown("file:///a.wale", 1).diagnostics, [] as [Value; 0]);
    client.change("file:///a.wale", 3, json!([{ "text": "nonsense" }]));
    assert_eq!(client.shown("file:///a.wale", 3).diagnostics.len(), 1);
    assert_eq!(client.goodbye(), Some(0));
}

#[test]
fn half_a_character_does_not_lose_the_change() {
    let mut client = Client::new();
    let uri = "file:///mooring/half.wale";
    client.open(uri, 1, &format!("# ab\n{PATTERN}"));
    // The first half of a character that takes two units of 16 bits, as an editor of such units can hold it.
    let start = json!({ "line": 0, "character": 0 });
    let change = json!({ "range": { "start": start, "end": start }, "text": "# x\n# HALF\n" });
    let params = json!({ "textDocument": { "uri": uri, "version": 2 }, "contentChanges": [change] });
    let note = json!({ "jsonrpc": "2.0", "method": "textDocument/didChange", "params": params });
    let text = note.to_string().replace("HALF", "\\ud83d!");
    client.raw(format!("Content-Length: {}\r\n\r\n{text}", text.len()).as_bytes());
    assert_eq!(client.shown(uri, 2).diagnostics, [] as [Value; 0]);
    // Behind the sign of exclamation: the half counts as one unit, and the lines are those that the editor has.
    let place = json!({ "line": 1, "character": 4 });
    client.change(uri, 3, json!([{ "range": { "start": place, "end": place }, "text": "\nrwo front knit" }]));
    let shown = client.shown(uri, 3);
    assert_eq!(shown.diagnostics.len(), 1, "{shown:?}");
    assert_eq!(shown.diagnostics[0]["range"]["start"], json!({ "line": 2, "character": 0 }));
    let edit = json!({ "line": 1, "character": 3 });
    client.change(uri, 4, json!([{ "range": { "start": place, "end": { "line": 2, "character": 14 } }, "text": "" }]));
    client.change(uri, 5, json!([{ "range": { "start": edit, "end": place }, "text": "" }]));
    assert_eq!(client.shown(uri, 5).diagnostics, [] as [Value; 0]);
    assert_eq!(client.goodbye(), Some(0));
}

#[test]
fn places_past_the_end_are_the_end() {
    let mut client = Client::new();
    client.open("file:///a.wale", 1, PATTERN);
    let far = json!({ "line": 4_000_000_000u32, "character": 4_000_000_000u32 });
    for method in ["hover", "completion", "definition", "documentHighlight"] {
        let params = json!({ "textDocument": { "uri": "file:///a.wale" }, "position": far });
        client.asked(&format!("textDocument/{method}"), params);
    }
    let range = json!({ "start": far, "end": { "line": 0, "character": 0 } });
    let params =
        json!({ "textDocument": { "uri": "file:///a.wale" }, "range": range, "context": { "diagnostics": [] } });
    client.asked("textDocument/codeAction", params.clone());
    client.asked("textDocument/inlayHint", params);
    let error = client
        .ask("textDocument/prepareRename", json!({ "textDocument": { "uri": "file:///a.wale" }, "position": far }));
    assert_eq!(error.unwrap_err()["code"], -32803);
    // The whole text goes.
    client.change("file:///a.wale", 2, json!([{ "range": range, "text": "" }]));
    client.shown("file:///a.wale", 2);
    let symbols = client.asked("textDocument/documentSymbol", json!({ "textDocument": { "uri": "file:///a.wale" } }));
    assert_eq!(symbols, json!([]));
}

#[test]
fn columns_are_counted_as_agreed() {
    // The letter is outside the basic plane: 2 units of 16 bits, 4 bytes.
    let text = PATTERN.replace("    rows 6", "    note \"𝄞𝄞\" rows 6");
    for (offered, sixteen, name) in [
        (&["utf-16"][..], true, "utf-16"),
        (&[], true, "utf-16"),
        (&["utf-32", "utf-8"], false, "utf-8"),
        (&["utf-32"], true, "utf-16"),
    ] {
        let mut client = Client::silent();
        let capabilities = json!({ "general": { "positionEncodings": offered } });
        let result = client.ask("initialize", json!({ "capabilities": capabilities })).unwrap();
        assert_eq!(result["capabilities"]["positionEncoding"], name);
        client.tell("initialized", json!({}));
        client.open("file:///a.wale", 1, &text);
        let shown = client.shown("file:///a.wale", 1);
        // The second instruction in the line cannot be read: it is marked where it stands.
        let start = &shown.diagnostics[0]["range"]["start"];
        assert_eq!(*start, at_byte(&text, text.find("rows 6").unwrap(), sixteen), "{:?}", shown.diagnostics);
        // It is cut out by a range counted the same way, with the letters in front of it.
        let from = at_byte(&text, text.find("note \"").unwrap(), sixteen);
        let to = at_byte(&text, text.find("rows 6").unwrap(), sixteen);
        client.change("file:///a.wale", 2, json!([{ "range": { "start": from, "end": to }, "text": "" }]));
        assert_eq!(client.shown("file:///a.wale", 2).diagnostics, [] as [Value; 0], "{name}");
    }
}

#[test]
fn a_question_can_be_taken_back() {
    let mut client = Client::new();
    client.open("file:///a.wale", 1, PATTERN);
    let params = json!({ "textDocument": { "uri": "file:///a.wale" }, "position": at(PATTERN, "rows 6") });
    let ids: Vec<i64> = (0..40).map(|_| client.put("textDocument/hover", params.clone())).collect();
    for id in &ids {
        client.tell("$/cancelRequest", json!({ "id": id }));
    }
    // Each gets exactly one answer: the result, or that it was taken back.
    let answers: Vec<_> = ids.into_iter().map(|id| client.answer(id)).collect();
    for answer in &answers {
        if let Err(error) = answer {
            assert_eq!(error["code"], -32800);
        }
    }
    client.ask("textDocument/hover", params).unwrap();
    // What is found in the text may come after the answers.
    client.shown("file:///a.wale", 1);
    assert!(!client.take_in(Instant::now() + Duration::from_millis(50)));
}

/// A pattern whose check takes long: repeats in each other that never come back to a state.
fn long(passes: u32) -> String {
    let mut text = String::from(
        "machine club { needles 128 each side\nmost tucks 12 }\nyarn slate {}\npiece \"Long\" {\nin work front L100-R100\n\
         thread slate\ncast on wound front\n",
    );
    for at in 0..passes {
        text.push_str(&format!("rows 2 front knit, size {}.{:02}\n", 1 + at % 7, at % 100));
        text.push_str("row front tuck on every 2, knit elsewhere\nrow front knit\n");
    }
    text.push_str("bind off front\n}\n");
    text
}

#[test]
fn the_server_listens_while_it_checks() {
    let mut client = Client::new();
    let text = long(30_000);
    client.open("file:///long.wale", 1, &text);
    // While that is being checked, a question about another text is answered, and a small text is opened.
    client.open("file:///a.wale", 1, PATTERN);
    let asked = Instant::now();
    client.asked("textDocument/documentSymbol", json!({ "textDocument": { "uri": "file:///a.wale" } }));
    let answered = asked.elapsed();
    let still_checking = !client.last().contains_key("file:///long.wale");
    // Newer versions take the place of older ones, which are given up.
    for version in 2..12 {
        client.change("file:///long.wale", version, json!([{ "range": { "start": { "line": 0, "character": 0 }, "end": { "line": 0, "character": 0 } }, "text": "\n" }]));
        std::thread::sleep(Duration::from_millis(20));
    }
    client.change("file:///long.wale", 12, json!([{ "text": PATTERN }]));
    let changed = Instant::now();
    client.shown("file:///long.wale", 12);
    let shown = changed.elapsed();
    assert!(still_checking, "the long text is checked too soon for this test");
    println!("answered in {answered:?} while checking; the last of 12 versions shown after {shown:?}");
    assert!(answered < Duration::from_secs(20) && shown < PATIENCE);
    assert_eq!(client.goodbye(), Some(0));
}

#[test]
fn an_answer_about_an_older_text_is_not_given() {
    let mut client = Client::new();
    let text = long(1_500);
    client.open("file:///long.wale", 1, &text);
    let params = json!({ "textDocument": { "uri": "file:///long.wale" }, "position": at(&text, "bind off") });
    let id = client.put("textDocument/hover", params.clone());
    client.change("file:///long.wale", 2, json!([{ "range": { "start": { "line": 0, "character": 0 }, "end": { "line": 0, "character": 0 } }, "text": "\n" }]));
    assert_eq!(client.answer(id).unwrap_err()["code"], -32801);
    // Taken back is something else, also where the text has changed.
    let id = client.put("textDocument/hover", params.clone());
    client.tell("$/cancelRequest", json!({ "id": id }));
    client.change("file:///long.wale", 3, json!([{ "range": { "start": { "line": 0, "character": 0 }, "end": { "line": 0, "character": 0 } }, "text": "\n" }]));
    assert_eq!(client.answer(id).unwrap_err()["code"], -32800);
    // A change of another text does not matter.
    let params =
        json!({ "textDocument": { "uri": "file:///long.wale" }, "position": at(&format!("\n\n{text}"), "bind off") });
    let id = client.put("textDocument/hover", params);
    client.open("file:///a.wale", 1, PATTERN);
    let said = client.answer(id).unwrap();
    assert!(said["contents"]["value"].as_str().is_some_and(|words| words.contains("After this line")), "{said}");
}

#[test]
fn what_is_overtaken_is_never_shown() {
    let mut client = Client::new();
    // In version n the mistake stands in line n: whatever is shown must be of the version it names.
    let text = |version: i32| format!("{}nonsense here\n", "# a comment\n".repeat(version as usize));
    client.open("file:///a.wale", 1, &text(1));
    for version in 2..=300 {
        let change = json!([{ "range": { "start": { "line": 0, "character": 0 }, "end": { "line": 0, "character": 0 } }, "text": "# a comment\n" }]);
        client.change("file:///a.wale", version, change);
        if version % 7 == 0 {
            std::thread::sleep(Duration::from_millis(u64::from(version as u32 % 5)));
        }
        let params = json!({ "textDocument": { "uri": "file:///a.wale" } });
        client.put("textDocument/documentSymbol", params);
    }
    client.shown("file:///a.wale", 300);
    let mut before = 0;
    for (_, shown) in &client.published {
        let version = shown.version.unwrap();
        assert!(version > before, "{version} after {before}");
        before = version;
        let lines: Vec<i64> =
            shown.diagnostics.iter().map(|one| one["range"]["start"]["line"].as_i64().unwrap()).collect();
        assert_eq!(lines, [version]);
    }
    assert_eq!(client.goodbye(), Some(0));
}

#[test]
fn files_that_change_are_checked_again() {
    let place = Place::new("watched");
    place.file("club.wale", "machine club { needles 20 each side }\nyarn slate {}\n");
    let main = PATTERN.split_once("piece").map(|(_, rest)| format!("use \"club.wale\"\npiece{rest}")).unwrap();
    place.file("hat.wale", &main);
    let (hat, club) = (place.uri("hat.wale"), place.uri("club.wale"));
    let mut client = Client::new();
    client.open(&hat, 1, &main);
    assert_eq!(client.shown(&hat, 1).diagnostics, [] as [Value; 0]);
    // On the disk, not open: the mistake is shown there.
    place.file("club.wale", "machine club { needles 20 each side }\nyarn slate {}\nnonsense\n");
    client.tell("workspace/didChangeWatchedFiles", json!({ "changes": [{ "uri": club, "type": 2 }] }));
    client.until("the mistake in the used file", |last| {
        last.get(&club).is_some_and(|shown| shown.diagnostics.len() == 1)
    });
    assert_eq!(client.last()[&club].version, None);
    // Opened, with a text that is not saved: that one counts.
    client.open(&club, 5, "machine club { needles 3 each side }\nyarn slate {}\n");
    client.until("a bed that is too small", |last| {
        !last[&hat].diagnostics.is_empty() && last[&club].diagnostics.is_empty()
    });
    assert!(client.rules(&hat).iter().all(|rule| rule == "off-bed"));
    assert_eq!(client.last()[&club].version, Some(5));
    // Edited while it is open.
    client.change(&club, 6, json!([{ "text": "machine club { needles 4 each side }\nyarn slate {}\n" }]));
    client.until("a bed that is large enough", |last| {
        last[&hat].diagnostics.is_empty() && last[&club].version == Some(6)
    });
    // Closed: the file counts again, and its mistake is back, without a version.
    client.close(&club);
    client.until("the file again", |last| last[&club].diagnostics.len() == 1 && last[&club].version.is_none());
    // With the pattern closed nobody uses it, and everything is taken back.
    client.close(&hat);
    client.until("nothing", |last| last.values().all(|shown| shown.diagnostics.is_empty()));
    assert_eq!(client.goodbye(), Some(0));
}

#[test]
fn what_was_found_in_an_older_text_of_a_used_file_is_not_shown_in_the_newer_one() {
    // The mistake stands in the used file, and is found only where the stitch is worked.
    let club = "machine club { needles 20 each side }\nyarn slate {}\nstitch lose on front {\n    out of work front L1\n    row front knit\n}\n";
    let main = PATTERN.split_once("piece").map(|(_, rest)| format!("use \"club.wale\"\npiece{rest}")).unwrap();
    let main = main.replace("rows 6 front knit", "work lose");
    let place = Place::new("older");
    let (hat, parts) = (place.uri("hat.wale"), place.uri("club.wale"));
    let mut client = Client::new();
    client.open(&hat, 1, &main);
    client.open(&parts, 1, club);
    client.until("the lost stitch", |last| last.get(&parts).is_some_and(|shown| !shown.diagnostics.is_empty()));
    for version in 2..=20 {
        let start = json!({ "line": 0, "character": 0 });
        client.change(&parts, version, json!([{ "range": { "start": start, "end": start }, "text": "# more\n" }]));
        client.until("the lost stitch again", |last| {
            last[&parts].version == Some(i64::from(version)) && !last[&parts].diagnostics.is_empty()
        });
    }
    for (_, shown) in client.published.iter().filter(|(uri, _)| *uri == parts) {
        for one in &shown.diagnostics {
            assert_eq!(one["code"], "lost-stitch");
            // In version n it stands n - 1 lines further down.
            assert_eq!(one["range"]["start"]["line"].as_i64(), shown.version.map(|version| 3 + version - 1));
        }
    }
    assert_eq!(client.goodbye(), Some(0));
}

#[test]
fn a_used_file_may_come_later() {
    let place = Place::new("later");
    let main = PATTERN.split_once("piece").map(|(_, rest)| format!("use \"parts/club.wale\"\npiece{rest}")).unwrap();
    let (hat, club) = (place.uri("hat.wale"), place.uri("parts/club.wale"));
    let mut client = Client::new();
    client.open(&hat, 1, &main);
    assert!(!client.shown(&hat, 1).diagnostics.is_empty());
    // It is open in the editor before it is on the disk.
    client.open(&club, 1, "machine club { needles 20 each side }\nyarn slate {}\n");
    client.until("the pattern is clean", |last| last[&hat].diagnostics.is_empty());
    client.close(&club);
    client.until("it is gone", |last| !last[&hat].diagnostics.is_empty());
    place.file("parts/club.wale", "machine club { needles 20 each side }\nyarn slate {}\n");
    client.tell("workspace/didChangeWatchedFiles", json!({ "changes": [{ "uri": club, "type": 1 }] }));
    client.until("it is there", |last| last[&hat].diagnostics.is_empty());
}

#[test]
fn texts_that_are_no_files_are_checked_too() {
    let mut client = Client::new();
    client.open("untitled:Untitled-1", 1, &format!("use \"club.wale\"\n{PATTERN}"));
    client.shown("untitled:Untitled-1", 1);
    assert_eq!(client.rules("untitled:Untitled-1"), ["unreadable-file"]);
}

#[test]
fn the_editor_is_asked_to_watch_where_it_can() {
    let mut client = Client::silent();
    let watch = json!({ "workspace": { "didChangeWatchedFiles": { "dynamicRegistration": true } } });
    client.ask("initialize", json!({ "capabilities": watch })).unwrap();
    client.tell("initialized", json!({}));
    let until = Instant::now() + PATIENCE;
    while client.told.is_empty() {
        assert!(client.take_in(until));
    }
    assert_eq!(client.told[0]["method"], "client/registerCapability");
    let id = client.told[0]["id"].clone();
    client.send(&json!({ "jsonrpc": "2.0", "id": id, "result": null }));
    assert_eq!(client.goodbye(), Some(0));
}

#[test]
fn a_question_gets_its_answer_whatever_its_id_is() {
    let mut client = Client::new();
    client.open("file:///a.wale", 1, PATTERN);
    let params = json!({ "textDocument": { "uri": "file:///a.wale" } });
    for id in [json!("a"), json!(i32::MAX), json!(2_147_483_648_u64), json!(-9_007_199_254_740_991_i64), json!(1.5)] {
        let ask = |method: &str| json!({ "jsonrpc": "2.0", "id": id, "method": method, "params": params });
        client.send(&ask("textDocument/documentSymbol"));
        assert!(client.answer_to(&id).is_ok_and(|outline| !outline[0].is_null()), "{id}");
        client.send(&ask("textDocument/nothing"));
        assert_eq!(client.answer_to(&id).unwrap_err()["code"], -32601, "{id}");
    }
    for id in [json!(null), json!(true), json!([7])] {
        client.send(&json!({ "jsonrpc": "2.0", "id": id, "method": "textDocument/documentSymbol", "params": params }));
        assert_eq!(client.answer_to(&Value::Null).unwrap_err()["code"], -32600, "{id}");
    }
    assert_eq!(client.goodbye(), Some(0));
}

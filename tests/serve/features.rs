//! What an editor shows: states of the beds, words that may follow, the outline, notes at the ends of lines, fixes.

use super::client::{Client, Place, at, at_byte, edited, edits_of};
use crate::common;
use serde_json::{Value, json};

/// A folder with all examples, and a client.
fn mooring(name: &str) -> (Place, Client) {
    let place = Place::new(name);
    for (file, text) in common::examples() {
        place.file(&file, &text);
    }
    place.file("machines/bollard-room.wale", &common::example("machines/bollard-room.wale"));
    (place, Client::new())
}

fn place_of(uri: &str, position: &Value) -> Value {
    json!({ "textDocument": { "uri": uri }, "position": position })
}

fn hover(client: &mut Client, uri: &str, text: &str, words: &str) -> String {
    let result = client.asked("textDocument/hover", place_of(uri, &at(text, words)));
    result["contents"]["value"].as_str().unwrap_or_default().to_owned()
}

#[test]
fn a_line_says_how_the_beds_stand_after_it() {
    let (place, mut client) = mooring("hover");
    let uri = place.uri("breakwater.wale");
    let text = common::example("breakwater.wale");
    client.open(&uri, 1, &text);
    // The numbers are those of the promises in the pattern and of the sheet in the README.
    let said = hover(&mut client, &uri, &text, "tubular 4 rows");
    for words in [
        "**After this line**, in piece \"Scarf\", size short",
        "row of the piece: 5",
        "carriage: at the right",
        "gaiting: between",
        "stitch size: 3 on both beds",
        "front bed: 60 stitches; 60 needles in work: L30-R30",
        "back bed: 59 stitches; 59 needles in work: L30-R29",
        "racking: the centre",
        "row counter: shows 5",
    ] {
        assert!(said.contains(words), "{words}: {said}");
    }
    // The picture is the one that `wale at` draws.
    let at_row = std::process::Command::new(env!("CARGO_BIN_EXE_wale"))
        .args(["at", "5", "breakwater.wale", "--size", "short"])
        .current_dir(&place.0)
        .output()
        .unwrap();
    let at_row = String::from_utf8(at_row.stdout).unwrap();
    let drawn: Vec<&str> =
        said.lines().filter(|line| line.starts_with("back ") || line.starts_with("front ")).collect();
    let drawn: Vec<&str> = drawn.into_iter().filter(|line| !line.contains("bed:")).collect();
    assert!(drawn.len() >= 2, "{said}");
    assert!(drawn.iter().all(|line| at_row.contains(line)), "{drawn:?} {at_row}");
    // A line of a stitch: after its first pass, and it says so.
    let said = hover(&mut client, &uri, &text, "row to left front knit");
    assert!(
        said.contains("row of the piece: 6") && said.contains("in the first of 264 passes of the stitch half-cardigan"),
        "{said}"
    );
    let said = hover(&mut client, &uri, &text, "row to right front knit");
    assert!(said.contains("row of the piece: 7") && said.contains("the oldest has waited"), "{said}");
    // The work as a whole.
    let said = hover(&mut client, &uri, &text, "work half-cardigan");
    assert!(said.contains("row of the piece: 533"), "{said}");
    let said = hover(&mut client, &uri, &text, "transfer back to front");
    assert!(said.contains("back bed: 0 stitches") && said.contains("gaiting: opposite"), "{said}");
    assert!(said.contains("takes every stitch of the bed"), "{said}");
    // A promise, and a line that is no part of the knitting.
    assert!(hover(&mut client, &uri, &text, "expect 60 stitches front, 0 back").contains("front bed: 60 stitches"));
    assert!(!hover(&mut client, &uri, &text, "count 2/15").contains("After this line"));
    assert_eq!(hover(&mut client, &uri, &text, "The first scarf"), "");
}

#[test]
fn names_rules_and_words_are_explained() {
    let (place, mut client) = mooring("words");
    let uri = place.uri("breakwater.wale");
    let text = common::example("breakwater.wale").replace(
        "        row both knit, loosened 3\n",
        "        allow tight-transfer because \"it is soft wool\" {\n        row both knit, loosened 3\n        }\n",
    );
    client.open(&uri, 1, &text);
    let said = hover(&mut client, &uri, &text, "half-cardigan for length");
    assert!(said.contains("is a stitch") && said.contains("row to right front knit, back tuck"), "{said}");
    let said = hover(&mut client, &uri, &text, "length\n    }");
    assert!(said.contains("In size short it is 120 cm.") && said.contains("In size long it is 160 cm."), "{said}");
    assert!(hover(&mut client, &uri, &text, "slate\n    section").contains("slate grey"));
    let said = hover(&mut client, &uri, &text, "tight-transfer");
    assert!(said.contains(wale::rules::find("tight-transfer").unwrap().why), "{said}");
    assert!(hover(&mut client, &uri, &text, "joining").contains("knitted together"));
    assert!(hover(&mut client, &uri, &text, "opposite").contains("face to face"));
    // In a used file the same names are explained, and lines know the piece that uses them.
    let club = place.uri("machines/bollard-room.wale");
    let machine = common::example("machines/bollard-room.wale");
    client.open(&club, 1, &machine);
    assert!(hover(&mut client, &club, &machine, "needles").contains("how many needles each bed has"));
}

fn labels(client: &mut Client, uri: &str, position: &Value) -> Vec<String> {
    let items = client.asked("textDocument/completion", place_of(uri, position));
    items.as_array().unwrap().iter().map(|item| item["label"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn what_may_follow_is_offered() {
    let (place, mut client) = mooring("completion");
    let uri = place.uri("new.wale");
    let mut version = 1;
    client.open(&uri, version, "");
    let before = "use \"machines/bollard-room.wale\"\nyarn slate {}\nyarn foam {}\nlet width = L20-R20\nchart net { \"|.\" }\n\
                  stitch rib (depth rows, middle selection) on both {\n    row both knit\n}\nstitch plain on front {\n    row front knit\n}\n";
    let mut offered = |line: &str| {
        version += 1;
        // The place is where the sign is.
        let text = format!("{before}{line}");
        let byte = text.find('^').unwrap();
        let text = text.replace('^', "");
        client.change(&uri, version, json!([{ "text": text }]));
        labels(&mut client, &uri, &at_byte(&text, byte, true))
    };
    let has = |labels: &[String], wanted: &[&str], not: &[&str]| {
        for word in wanted {
            assert!(labels.iter().any(|label| label == word), "{word} is missing: {labels:?}");
        }
        for word in not {
            assert!(!labels.iter().any(|label| label == word), "{word} is offered: {labels:?}");
        }
    };
    has(&offered("^"), &["piece", "stitch", "let", "use", "machine"], &["row", "transfer", "pitch"]);
    has(
        &offered("piece \"P\" {\n    ^\n}\n"),
        &["row", "transfer", "work", "section", "in"],
        &["machine", "pitch", "let"],
    );
    has(&offered("machine m {\n    ^\n}\n"), &["needles", "pitch", "racking"], &["row", "yarn"]);
    has(&offered("yarn y { ^ }\n"), &["count", "colour"], &["row"]);
    has(&offered("piece \"P\" {\n    thread ^\n}\n"), &["slate", "foam"], &["rib", "net", "width"]);
    has(&offered("piece \"P\" {\n    thread sl^\n}\n"), &["slate"], &["rib"]);
    has(&offered("piece \"P\" {\n    work ^\n}\n"), &["rib", "plain"], &["slate", "net", "width"]);
    has(&offered("piece \"P\" {\n    work rib (^\n}\n"), &["depth", "middle"], &["slate", "rib"]);
    has(&offered("piece \"P\" {\n    work rib (depth 2 rows, ^\n}\n"), &["depth", "middle"], &["slate"]);
    has(&offered("piece \"P\" {\n    follow ^\n}\n"), &["net"], &["rib"]);
    has(
        &offered("piece \"P\" {\n    follow net {\n        row front knit on ^\n    }\n}\n"),
        &["net", "width"],
        &["rib"],
    );
    has(&offered("piece \"P\" {\n    row front knit on ^\n}\n"), &["width", "every", "leftmost"], &["net", "depth"]);
    has(&offered("stitch b (depth rows) on both {\n    rows ^\n}\n"), &["depth", "width"], &["middle"]);
    has(&offered("piece \"P\" {\n    gaiting ^\n}\n"), &["between", "opposite"], &["front"]);
    has(&offered("piece \"P\" {\n    row front knit, ^\n}\n"), &["back", "loosened", "tuck"], &["between"]);
    has(&offered("piece \"P\" {\n    allow ^\n}\n"), &["long-float", "lost-stitch"], &["unused-name", "row"]);
    // The machine in the file that is used has 100 needles each side, or whatever it says.
    let machine = common::example("machines/bollard-room.wale");
    let number: u32 = machine.split_once("needles ").unwrap().1.split(' ').next().unwrap().parse().unwrap();
    has(&offered("piece \"P\" {\n    in work front ^\n}\n"), &[&format!("L{number}-R{number}")], &[]);
    has(
        &offered("piece \"P\" {\n    in work front L^\n}\n"),
        &["L1", &format!("L{number}")],
        &["R1", &format!("L{}", number + 1)],
    );
    has(&offered("piece \"P\" {\n    in work front L30-R^\n}\n"), &["L30-R1", &format!("L30-R{number}")], &["L30-L1"]);
    has(&offered("use \"^\"\n"), &["machines/bollard-room.wale", "quay.wale"], &["new.wale", "slate"]);
    // Where a new name is given, in words for the knitter, and in comments nothing is.
    for line in ["yarn ^", "let ^", "piece \"P\" {\n    note \"row ^\"\n}\n", "# row ^", "nonsense more ^"] {
        assert_eq!(offered(line), [""; 0], "{line}");
    }
}

#[test]
fn every_word_that_is_offered_can_stand_there() {
    let (place, mut client) = mooring("offered");
    let uri = place.uri("all.wale");
    client.open(&uri, 1, "");
    let mut version = 1;
    let mut tried = 0;
    let mut missing: Vec<String> = Vec::new();
    for (_, text) in common::examples().into_iter().step_by(2) {
        version += 1;
        client.change(&uri, version, json!([{ "text": text }]));
        // Before every word of the text that is a word of the language, that word must be offered.
        for line in text.lines().filter(|line| !line.trim_start().starts_with('#') && !line.contains('"')) {
            let start = line.as_ptr() as usize - text.as_ptr() as usize;
            for word in
                line.split([' ', ',', '(', ')', '{', '}']).filter(|word| wale::syntax::keywords().contains(word))
            {
                let byte = start + (word.as_ptr() as usize - line.as_ptr() as usize);
                let labels = labels(&mut client, &uri, &at_byte(&text, byte, true));
                tried += 1;
                // Units stand behind numbers and are one word with them, and a name is no word of the language.
                let unit = ["rows", "row", "cm", "mm", "needles", "stitches"].contains(&word)
                    && line[..word.as_ptr() as usize - line.as_ptr() as usize]
                        .trim_end()
                        .ends_with(|c: char| c.is_ascii_digit() || c == ')');
                let name = ["let {} ", "stitch {} on "].iter().any(|given| text.contains(&given.replace("{}", word)));
                if !unit && !name && !labels.iter().any(|label| label == word) {
                    missing.push(format!("`{word}` in `{line}`: {labels:?}"));
                }
            }
        }
    }
    assert!(missing.is_empty(), "{}", missing.join("\n"));
    assert!(tried > 100, "{tried}");
}

#[test]
fn the_outline_has_what_has_a_name() {
    let (place, mut client) = mooring("outline");
    let uri = place.uri("lantern-hat.wale");
    let text = common::example("lantern-hat.wale");
    client.open(&uri, 1, &text);
    let symbols = client.asked("textDocument/documentSymbol", json!({ "textDocument": { "uri": uri } }));
    let names = |symbols: &Value| -> Vec<String> {
        symbols
            .as_array()
            .unwrap()
            .iter()
            .map(|symbol| format!("{} {}", symbol["detail"].as_str().unwrap(), symbol["name"].as_str().unwrap()))
            .collect()
    };
    assert_eq!(
        names(&symbols),
        [
            "pattern Lantern hat",
            "yarn ember",
            "size child",
            "size grown",
            "gauge rib",
            "gauge crown",
            "value half",
            "value brim",
            "value height",
            "stitch rib",
            "stitch crown",
            "piece Hat"
        ]
    );
    let piece = symbols.as_array().unwrap().last().unwrap();
    assert_eq!(names(&piece["children"]), ["section Brim", "section Crown", "section Gathering"]);
    let inside = |outer: &Value, inner: &Value| {
        let at = |range: &Value, end: &str| (range[end]["line"].as_u64(), range[end]["character"].as_u64());
        at(outer, "start") <= at(inner, "start") && at(inner, "end") <= at(outer, "end")
    };
    assert!(symbols.as_array().unwrap().iter().all(|symbol| inside(&symbol["range"], &symbol["selectionRange"])));
    let found = client.asked("workspace/symbol", json!({ "query": "CROWN" }));
    let found: Vec<&str> = found.as_array().unwrap().iter().map(|one| one["name"].as_str().unwrap()).collect();
    assert_eq!(found, ["crown", "crown", "Crown"]);
    let folds = client.asked("textDocument/foldingRange", json!({ "textDocument": { "uri": uri } }));
    let line = |words: &str| at(&text, words)["line"].as_u64().unwrap();
    let fold = |first: u64, last: u64| json!({ "startLine": first, "endLine": last });
    let folds = folds.as_array().unwrap();
    assert!(folds.contains(&fold(line("piece"), text.lines().count() as u64 - 2)), "{folds:?}");
    assert!(folds.contains(&fold(line("section \"Brim\""), line("section \"Crown\"") - 2)), "{folds:?}");
    client.change(&uri, 2, json!([{ "text": "# one\n  # two\n# three\nuse \"a.wale\"\nuse \"b.wale\"\n# alone\n\n" }]));
    let folds = client.asked("textDocument/foldingRange", json!({ "textDocument": { "uri": uri } }));
    assert_eq!(
        folds,
        json!([{ "startLine": 0, "endLine": 2, "kind": "comment" }, { "startLine": 3, "endLine": 4, "kind": "imports" }])
    );
}

#[test]
fn lines_end_with_their_rows() {
    let (place, mut client) = mooring("hints");
    let uri = place.uri("breakwater.wale");
    let text = common::example("breakwater.wale");
    client.open(&uri, 1, &text);
    let all = json!({ "start": { "line": 0, "character": 0 }, "end": { "line": 999, "character": 0 } });
    let hints = client.asked("textDocument/inlayHint", json!({ "textDocument": { "uri": uri }, "range": all }));
    let hint = |words: &str| -> &str {
        let line = at(&text, words)["line"].clone();
        let found = hints.as_array().unwrap().iter().find(|hint| hint["position"]["line"] == line);
        found.map_or("", |hint| hint["label"].as_str().unwrap())
    };
    // As on the sheet that the README shows.
    assert_eq!(hint("cast on zigzag"), "row 1: 60 front, 59 back");
    assert_eq!(hint("tubular 4 rows"), "rows 2 to 5: 60 front, 59 back");
    assert_eq!(hint("row to left"), "short: rows 6 to 532: 60 front, 59 back");
    assert_eq!(hint("row to right"), "short: rows 7 to 533: 60 front, 59 back");
    assert_eq!(hint("work half-cardigan"), "short: rows 6 to 533: 60 front, 59 back");
    assert_eq!(hint("row both knit, loosened"), "short: row 534: 60 front, 59 back");
    assert_eq!(hint("transfer back"), "");
    let two = json!({ "start": { "line": 0, "character": 0 }, "end": { "line": at(&text, "row to left")["line"], "character": 0 } });
    let some = client.asked("textDocument/inlayHint", json!({ "textDocument": { "uri": uri }, "range": two }));
    assert_eq!(some.as_array().unwrap().len(), 1);
}

#[test]
fn what_leaves_no_choice_is_mended_at_once() {
    let (place, mut client) = mooring("fixes");
    let uri = place.uri("breakwater.wale");
    let text = common::example("breakwater.wale")
        .replace("row both knit, loosened", "rwo both knitt, loosened")
        .replace("        gaiting opposite\n", "")
        .replace("gaiting between", "gaiting betwen  # 𝄞");
    client.open(&uri, 1, &text);
    let shown = client.shown(&uri, 1);
    assert!(shown.diagnostics.iter().any(|one| one["data"]["fix"]["safe"] == true), "{shown:?}");
    let range = json!({ "start": at(&text, "rwo"), "end": at(&text, "rwo") });
    let params = json!({ "textDocument": { "uri": uri }, "range": range, "context": { "diagnostics": [] } });
    let actions = client.asked("textDocument/codeAction", params.clone());
    let quick = actions.as_array().unwrap().iter().find(|action| action["kind"] == "quickfix").unwrap().clone();
    assert_eq!(quick["isPreferred"], true);
    assert_eq!(quick["diagnostics"][0]["code"], "misspelt-word");
    assert_eq!(quick["edit"]["documentChanges"][0]["textDocument"]["version"], 1);
    let mended = edited(&text, &edits_of(&quick["edit"], &uri));
    assert_eq!(mended, text.replace("rwo both knitt", "row both knit"));
    // All at once: the same as `wale check --mend` makes of it.
    let only = json!({ "textDocument": { "uri": uri }, "range": range, "context": { "diagnostics": [], "only": ["source.fixAll"] } });
    let actions = client.asked("textDocument/codeAction", only);
    assert_eq!(actions.as_array().unwrap().len(), 1, "{actions}");
    let mended = edited(&text, &edits_of(&actions[0]["edit"], &uri));
    place.file("breakwater.wale", &text);
    let status = std::process::Command::new(env!("CARGO_BIN_EXE_wale"))
        .args(["check", "--mend", "breakwater.wale"])
        .current_dir(&place.0)
        .output()
        .unwrap();
    assert!(status.status.code().is_some());
    assert_eq!(mended, std::fs::read_to_string(place.0.join("breakwater.wale")).unwrap());
    assert_ne!(mended, text);
    // Of a kind that is not asked for there is nothing; elsewhere there is nothing to mend.
    let only = json!({ "textDocument": { "uri": uri }, "range": range, "context": { "diagnostics": [], "only": ["refactor"] } });
    assert_eq!(client.asked("textDocument/codeAction", only), json!([]));
    client.change(&uri, 2, json!([{ "text": mended }]));
    assert_eq!(client.shown(&uri, 2).diagnostics, [] as [Value; 0]);
    assert_eq!(client.asked("textDocument/codeAction", params), json!([]));
}

#[test]
fn findings_carry_all_there_is_to_know() {
    let (place, mut client) = mooring("data");
    let uri = place.uri("quay.wale");
    let text = common::example("quay.wale").replacen("yarn ", "yarn spare {}\nyarn ", 1);
    client.open(&uri, 1, &text);
    let shown = client.shown(&uri, 1);
    let one = &shown.diagnostics[0];
    assert_eq!((&one["code"], &one["severity"], &one["source"]), (&json!("unused-name"), &json!(2), &json!("wale")));
    assert_eq!(one["tags"], json!([1]));
    assert_eq!(one["range"]["start"], at(&text, "spare"));
    let doubled = text.replacen("yarn spare {}\n", "yarn spare {}\nyarn spare {}\n", 1);
    client.change(&uri, 2, json!([{ "text": doubled }]));
    let shown = client.shown(&uri, 2);
    let one = shown.diagnostics.iter().find(|one| one["code"] == "duplicate-name").unwrap();
    assert_eq!(one["relatedInformation"][0]["location"]["uri"], uri);
    assert_eq!(one["relatedInformation"][0]["location"]["range"]["start"], at(&doubled, "spare"));
    assert!(one["message"].as_str().unwrap().contains("Give one of the two another name."), "{one}");
}

#[test]
fn texts_are_tidied() {
    let (place, mut client) = mooring("tidy");
    let uri = place.uri("quay.wale");
    let text = common::example("quay.wale").replace("    ", "  ").replace(" knit", "   knit");
    client.open(&uri, 1, &text);
    let options = json!({ "tabSize": 4, "insertSpaces": true });
    let params = json!({ "textDocument": { "uri": uri }, "options": options });
    let tidy = wale::serve::formatted("quay.wale", &text).unwrap();
    let edits = client.asked("textDocument/formatting", params.clone());
    assert_eq!(edited(&text, edits.as_array().unwrap()), tidy);
    client.change(&uri, 2, json!([{ "text": tidy }]));
    assert_eq!(client.asked("textDocument/formatting", params), json!([]));
}

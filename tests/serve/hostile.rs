//! Texts by chance and questions anywhere in them: always an answer, never a panic. In this process, where it is quick.

use super::client::Client;
use crate::common;
use crate::common::random::{Dice, slipped, words};
use serde_json::{Value, json};
use wale::serve::{Encoding, Question, Shelf, Workspace, answer};
use wale::source::{Library, NoLibrary};

const METHODS: &[&str] = &[
    "textDocument/hover",
    "textDocument/completion",
    "textDocument/definition",
    "textDocument/references",
    "textDocument/documentHighlight",
    "textDocument/prepareRename",
    "textDocument/rename",
    "textDocument/documentSymbol",
    "textDocument/foldingRange",
    "textDocument/inlayHint",
    "textDocument/codeAction",
    "workspace/symbol",
];

fn no_files(_: &str) -> Box<dyn Library> {
    Box::new(NoLibrary)
}

#[test]
fn every_question_is_answered_whatever_the_text() {
    let mut dice = Dice::new(11);
    let examples = common::examples();
    let mut answered = 0;
    for round in 0..120 {
        let encoding = if round % 2 == 0 { Encoding::Utf8 } else { Encoding::Utf16 };
        let mut workspace = Workspace::new(encoding);
        let text = if round % 3 == 0 {
            words(&mut dice, 200)
        } else {
            let (one, other) = (&examples[dice.below(examples.len())].1, &examples[dice.below(examples.len())].1);
            let machine = "machine bollard-room { needles 68 each side }";
            slipped(&mut dice, &one.replace("use \"machines/bollard-room.wale\"", machine), other)
        };
        workspace.open("file:///a.wale", 1, &text);
        while let Some(job) = workspace.next_job() {
            if let Some(looked) = job.run(&no_files, &|| true) {
                workspace.looked(looked);
            }
        }
        let shelf = workspace.shelf();
        for _ in 0..24 {
            let place = |dice: &mut Dice| json!({ "line": dice.below(60), "character": dice.below(50) });
            let params = json!({
                "textDocument": { "uri": "file:///a.wale" },
                "position": place(&mut dice),
                "range": { "start": place(&mut dice), "end": place(&mut dice) },
                "context": { "includeDeclaration": true, "diagnostics": [], "triggerKind": 1 },
                "newName": dice.pick(&["other", "row", "L5", "a b", "", "ñ"]),
                "query": "",
            });
            let method = dice.pick(METHODS);
            let question = Question {
                method,
                params,
                texts: &workspace.texts(),
                encoding,
                versioned: true,
                libraries: &no_files,
                wanted: &|| true,
            };
            match answer(&question, &shelf) {
                Ok(value) => super::shape::is_of_the_protocol(method, &value),
                Err(failure) => assert!(failure.code == -32803 && failure.message.len() > 20, "{method}: {failure:?}"),
            }
            answered += 1;
        }
    }
    assert_eq!(answered, 120 * 24);
}

#[test]
fn an_unwanted_question_is_given_up() {
    let mut workspace = Workspace::new(Encoding::Utf16);
    workspace.open("file:///a.wale", 1, &common::example("quay.wale"));
    let job = workspace.next_job().unwrap();
    assert!(job.run(&no_files, &|| false).is_none());
    for method in METHODS {
        let question = Question {
            method,
            params: Value::Null,
            texts: &workspace.texts(),
            encoding: Encoding::Utf16,
            versioned: true,
            libraries: &no_files,
            wanted: &|| false,
        };
        assert_eq!(answer(&question, &Shelf::default()).unwrap_err().code, -32800);
    }
}

#[test]
fn a_text_that_is_too_long_is_refused_and_the_rest_goes_on() {
    let mut client = Client::new();
    let text = "# a comment that goes on and on and on and on and on\n".repeat((4 << 20) / 53 + 2);
    client.open("file:///long.wale", 1, &text);
    client.open("file:///a.wale", 1, "nonsense\n");
    client.shown("file:///a.wale", 1);
    client.shown("file:///long.wale", 1);
    assert_eq!(client.rules("file:///long.wale"), ["too-large"]);
    let place = json!({ "textDocument": { "uri": "file:///long.wale" }, "position": { "line": 3, "character": 1 } });
    assert_eq!(client.asked("textDocument/hover", place), Value::Null);
    client.change("file:///long.wale", 2, json!([{ "text": "" }]));
    assert_eq!(client.shown("file:///long.wale", 2).diagnostics, [] as [Value; 0]);
    assert_eq!(client.goodbye(), Some(0));
}

//! A small editor: it starts `wale serve`, speaks with it over pipes, and keeps what it is shown.
#![allow(dead_code)]

use serde_json::{Value, json};
use std::collections::{BTreeMap, VecDeque};
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::{Duration, Instant};

/// How long anything may take before the test is given up.
pub const PATIENCE: Duration = Duration::from_secs(60);

/// A folder of its own for one test, removed at the end.
pub struct Place(pub PathBuf);

impl Place {
    pub fn new(name: &str) -> Self {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("serve {name} {}", std::process::id()));
        let _ = std::fs::remove_dir_all(&path);
        std::fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    pub fn file(&self, name: &str, text: &str) -> &Self {
        let path = self.0.join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
        self
    }

    pub fn path(&self, name: &str) -> String {
        self.0.join(name).to_string_lossy().into_owned()
    }

    /// The address of a file, with its blanks written as editors do.
    pub fn uri(&self, name: &str) -> String {
        format!("file://{}", self.path(name).replace(' ', "%20"))
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// What was shown of one text.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    pub version: Option<i64>,
    pub diagnostics: Vec<Value>,
}

pub struct Client {
    child: Child,
    input: Option<ChildStdin>,
    messages: Receiver<Value>,
    waiting: VecDeque<Value>,
    next_id: i64,
    /// Every list of diagnostics that came, in order.
    pub published: Vec<(String, Shown)>,
    /// Other things the server told.
    pub told: Vec<Value>,
}

impl Client {
    /// A server that has not been spoken to.
    pub fn silent() -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_wale"))
            .arg("serve")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::inherit())
            .spawn()
            .unwrap();
        let input = child.stdin.take();
        let mut output = BufReader::new(child.stdout.take().unwrap());
        let (sender, messages) = channel();
        std::thread::spawn(move || {
            while let Some(message) = read(&mut output) {
                if sender.send(message).is_err() {
                    return;
                }
            }
        });
        Self { child, input, messages, waiting: VecDeque::new(), next_id: 1, published: Vec::new(), told: Vec::new() }
    }

    /// A server that has been greeted by an editor that can count columns so.
    pub fn with_encodings(encodings: &[&str]) -> Self {
        let mut client = Self::silent();
        let general = json!({ "positionEncodings": encodings });
        let workspace = json!({ "workspaceEdit": { "documentChanges": true } });
        let capabilities = json!({ "general": general, "workspace": workspace });
        client.ask("initialize", json!({ "processId": null, "rootUri": null, "capabilities": capabilities })).unwrap();
        client.tell("initialized", json!({}));
        client
    }

    pub fn new() -> Self {
        Self::with_encodings(&["utf-16", "utf-8"])
    }

    /// Sends bytes as they are.
    pub fn raw(&mut self, bytes: &[u8]) {
        let input = self.input.as_mut().unwrap();
        input.write_all(bytes).unwrap();
        input.flush().unwrap();
    }

    pub fn send(&mut self, message: &Value) {
        let text = message.to_string();
        self.raw(format!("Content-Length: {}\r\n\r\n{text}", text.len()).as_bytes());
    }

    pub fn tell(&mut self, method: &str, params: Value) {
        self.send(&json!({ "jsonrpc": "2.0", "method": method, "params": params }));
    }

    /// Puts a question and gives its number.
    pub fn put(&mut self, method: &str, params: Value) -> i64 {
        let id = self.next_id;
        self.next_id += 1;
        self.send(&json!({ "jsonrpc": "2.0", "id": id, "method": method, "params": params }));
        id
    }

    /// Puts a question and waits for the answer: the result or the error.
    pub fn ask(&mut self, method: &str, params: Value) -> Result<Value, Value> {
        let id = self.put(method, params);
        self.answer(id)
    }

    /// Puts a question that must have an answer; the result, whose shape is looked at.
    pub fn asked(&mut self, method: &str, params: Value) -> Value {
        let answer = self.ask(method, params.clone());
        let result = answer.unwrap_or_else(|error| panic!("{method} {params}: {error}"));
        super::shape::is_of_the_protocol(method, &result);
        result
    }

    pub fn answer(&mut self, id: i64) -> Result<Value, Value> {
        self.answer_to(&id.into())
    }

    /// The answer to the question with that id, whatever it is.
    pub fn answer_to(&mut self, id: &Value) -> Result<Value, Value> {
        let until = Instant::now() + PATIENCE;
        loop {
            if let Some(at) = self.waiting.iter().position(|message| message["id"] == *id) {
                let mut message = self.waiting.remove(at).unwrap();
                return match message.get_mut("error") {
                    Some(error) => Err(error.take()),
                    None => Ok(message["result"].take()),
                };
            }
            assert!(self.take_in(until), "there is no answer to question {id}");
        }
    }

    /// Takes in one message; false where none comes until then.
    pub fn take_in(&mut self, until: Instant) -> bool {
        let left = until.saturating_duration_since(Instant::now());
        match self.messages.recv_timeout(left) {
            Ok(message) => {
                assert_eq!(message["jsonrpc"], "2.0");
                if message["method"] == "textDocument/publishDiagnostics" {
                    super::shape::is_notification("textDocument/publishDiagnostics", &message["params"]);
                    let params = &message["params"];
                    let shown = Shown {
                        version: params["version"].as_i64(),
                        diagnostics: params["diagnostics"].as_array().unwrap().clone(),
                    };
                    self.published.push((params["uri"].as_str().unwrap().to_owned(), shown));
                } else if message.get("method").is_some() {
                    self.told.push(message);
                } else {
                    self.waiting.push_back(message);
                }
                true
            }
            Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => false,
        }
    }

    pub fn open(&mut self, uri: &str, version: i32, text: &str) {
        let document = json!({ "uri": uri, "languageId": "wale", "version": version, "text": text });
        self.tell("textDocument/didOpen", json!({ "textDocument": document }));
    }

    pub fn change(&mut self, uri: &str, version: i32, changes: Value) {
        let document = json!({ "uri": uri, "version": version });
        self.tell("textDocument/didChange", json!({ "textDocument": document, "contentChanges": changes }));
    }

    pub fn close(&mut self, uri: &str) {
        self.tell("textDocument/didClose", json!({ "textDocument": { "uri": uri } }));
    }

    /// What is shown of a text in a version, as soon as it is.
    pub fn shown(&mut self, uri: &str, version: i64) -> Shown {
        let until = Instant::now() + PATIENCE;
        loop {
            let last = self.published.iter().rev().find(|(known, _)| known == uri);
            if let Some((_, shown)) = last.filter(|(_, shown)| shown.version == Some(version)) {
                return shown.clone();
            }
            assert!(self.take_in(until), "version {version} of {uri} is not shown");
        }
    }

    /// Takes in what comes until what is shown is so.
    pub fn until(&mut self, what: &str, is: impl Fn(&BTreeMap<String, Shown>) -> bool) {
        let until = Instant::now() + PATIENCE;
        while !is(&self.last()) {
            assert!(self.take_in(until), "{what}: {:#?}", self.last());
        }
    }

    /// What is shown now of each text.
    pub fn last(&self) -> BTreeMap<String, Shown> {
        self.published.iter().cloned().collect()
    }

    /// The rules that are shown to have found something in a text.
    pub fn rules(&self, uri: &str) -> Vec<String> {
        let last = self.last();
        let diagnostics = last.get(uri).map(|shown| shown.diagnostics.clone()).unwrap_or_default();
        diagnostics.iter().map(|diagnostic| diagnostic["code"].as_str().unwrap().to_owned()).collect()
    }

    /// Says goodbye and gives the exit code.
    pub fn goodbye(mut self) -> Option<i32> {
        assert_eq!(self.ask("shutdown", Value::Null), Ok(Value::Null));
        self.tell("exit", Value::Null);
        self.ended()
    }

    /// Closes the input and gives the exit code.
    pub fn ended(&mut self) -> Option<i32> {
        self.input = None;
        let until = Instant::now() + PATIENCE;
        while Instant::now() < until {
            if let Some(status) = self.child.try_wait().unwrap() {
                return status.code();
            }
            std::thread::sleep(Duration::from_millis(5));
        }
        panic!("the server does not end");
    }
}

impl Drop for Client {
    fn drop(&mut self) {
        self.input = None;
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn read(input: &mut impl BufRead) -> Option<Value> {
    let mut length = 0;
    loop {
        let mut line = String::new();
        if input.read_line(&mut line).ok()? == 0 {
            return None;
        }
        match line.trim_end().split_once(": ") {
            Some(("Content-Length", value)) => length = value.parse().unwrap(),
            Some(other) => panic!("{other:?}"),
            None => break,
        }
    }
    let mut bytes = vec![0; length];
    input.read_exact(&mut bytes).ok()?;
    Some(serde_json::from_slice(&bytes).unwrap())
}

/// The position of the first letter of `words` in `text`, from line and column counted in units of 16 bits.
pub fn at(text: &str, words: &str) -> Value {
    at_byte(text, text.find(words).unwrap_or_else(|| panic!("`{words}` is not there")), true)
}

/// The position of a byte.
pub fn at_byte(text: &str, byte: usize, sixteen: bool) -> Value {
    let before = &text[..byte];
    let line = before.matches('\n').count();
    let start = before.rfind('\n').map_or(0, |at| at + 1);
    let column = if sixteen { before[start..].encode_utf16().count() } else { before.len() - start };
    json!({ "line": line, "character": column })
}

/// The text with edits made, counted in units of 16 bits; lines end in `\n`.
pub fn edited(text: &str, edits: &[Value]) -> String {
    let byte = |position: &Value| {
        let line = position["line"].as_u64().unwrap() as usize;
        let start: usize = text.split_inclusive('\n').take(line).map(str::len).sum();
        let mut left = position["character"].as_u64().unwrap() as usize;
        let mut at = start;
        for character in text[start..].chars() {
            if left == 0 {
                break;
            }
            left -= character.len_utf16();
            at += character.len_utf8();
        }
        at
    };
    let mut edits: Vec<_> = edits
        .iter()
        .map(|edit| (byte(&edit["range"]["start"]), byte(&edit["range"]["end"]), edit["newText"].as_str().unwrap()))
        .collect();
    edits.sort_unstable();
    let mut text = text.to_owned();
    for (start, end, new) in edits.into_iter().rev() {
        text.replace_range(start..end, new);
    }
    text
}

/// The edits of a text in a change of several.
pub fn edits_of(edit: &Value, uri: &str) -> Vec<Value> {
    let changes = edit["documentChanges"].as_array().unwrap();
    changes
        .iter()
        .filter(|change| change["textDocument"]["uri"] == uri)
        .flat_map(|change| change["edits"].as_array().unwrap().clone())
        .collect()
}

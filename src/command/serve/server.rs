//! The loop of the server: who said what, what is under way, and what has been overtaken.

use super::{Outgoing, frame, library};
use crate::command::Outcome;
use gen_lsp_types::{
    DidChangeTextDocumentParams, DidChangeWatchedFilesParams, DidCloseTextDocumentParams, DidOpenTextDocumentParams,
    DidSaveTextDocumentParams, InitializeResult, PublishDiagnosticsParams, ServerInfo,
};
use lsp_server::{ErrorCode, Message, Notification, Request, RequestId, Response, ResponseError};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use std::collections::HashMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender};
use wale::serve::{Encoding, Failure, Job, Looked, Question, Shelf, Texts, Workspace};

/// Something that happened.
pub(super) enum Event {
    /// The editor said something.
    Message(Box<Message>),
    /// The editor said something that is no message.
    Malformed(ErrorCode, String),
    /// The input has ended; perhaps because it broke.
    End(Option<String>),
    /// A check is done; none when it was given up.
    Checked(Option<Box<Looked>>),
    /// The check of the text of that name met a fault of wale.
    CheckFailed(String),
    /// A question is answered.
    Answered(RequestId, Result<Value, Failure>),
}

/// A flag by which something under way learns that it is not wanted any more.
type Dropped = Arc<AtomicBool>;

/// A check to be made.
pub(super) struct ToCheck {
    job: Job,
    dropped: Dropped,
}

/// A question to be answered.
pub(super) struct ToAnswer {
    request: Request,
    texts: Texts,
    encoding: Encoding,
    shelf: Shelf,
    versioned: bool,
    dropped: Dropped,
}

/// Makes checks until there are no more to come.
pub(super) fn check_all(jobs: &Receiver<ToCheck>, events: &Sender<Event>) {
    for ToCheck { job, dropped } in jobs {
        let looked = guarded(|| job.run(&library, &|| !dropped.load(Ordering::Relaxed)));
        let event = looked.map_or_else(|| Event::CheckFailed(job.root), |looked| Event::Checked(looked.map(Box::new)));
        if events.send(event).is_err() {
            return;
        }
    }
}

/// Does a piece of work so that a fault in it ends nothing else: none when there was one. The error output, which editors
/// keep, says where it was. What was found out before it is kept, and nothing is kept that is half found out.
fn guarded<T>(work: impl FnOnce() -> T) -> Option<T> {
    catch_unwind(AssertUnwindSafe(work)).ok()
}

/// Answers questions until there are no more to come.
pub(super) fn answer_all(questions: &Receiver<ToAnswer>, events: &Sender<Event>) {
    for ToAnswer { request, texts, encoding, shelf, versioned, dropped } in questions {
        let Request { id, method, params } = request;
        let question = Question {
            method: &method,
            params,
            texts: &texts,
            encoding,
            versioned,
            libraries: &library,
            wanted: &|| !dropped.load(Ordering::Relaxed),
        };
        let answer = guarded(|| wale::serve::answer(&question, &shelf)).unwrap_or_else(|| Err(Failure::fault()));
        if events.send(Event::Answered(id, answer)).is_err() {
            return;
        }
    }
}

/// How far the conversation is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Phase {
    /// Nothing but `initialize` is answered.
    Before,
    /// Everything is.
    Open,
    /// After `shutdown` nothing is but `exit`.
    Ending,
}

/// A question under way.
struct Asked {
    dropped: Dropped,
    /// The address of the text that it is about, and which state of the text.
    about: Option<(String, u64)>,
    /// Whether the editor took it back.
    taken_back: bool,
}

/// The state of the conversation.
pub(super) struct Server {
    outbox: Sender<Outgoing>,
    jobs: Sender<ToCheck>,
    questions: Sender<ToAnswer>,
    workspace: Workspace,
    phase: Phase,
    /// Whether the editor can be asked to tell of files that change.
    can_watch: bool,
    /// Whether the editor takes edits that name a version.
    versioned: bool,
    /// The check under way.
    checking: Option<(String, Dropped)>,
    asked: HashMap<RequestId, Asked>,
}

impl Server {
    pub(super) fn new(outbox: Sender<Outgoing>, jobs: Sender<ToCheck>, questions: Sender<ToAnswer>) -> Self {
        Self {
            outbox,
            jobs,
            questions,
            workspace: Workspace::default(),
            phase: Phase::Before,
            can_watch: false,
            versioned: false,
            checking: None,
            asked: HashMap::new(),
        }
    }

    /// Goes on until the editor says goodbye, or the input ends.
    pub(super) fn run(mut self, inbox: &Receiver<Event>) -> Outcome {
        while let Ok(event) = inbox.recv() {
            // Everything that has come is taken in before a check is begun: with several changes in a row the last counts.
            for event in std::iter::once(event).chain(inbox.try_iter()) {
                if let Some(outcome) = self.event(event) {
                    self.drop_all();
                    return outcome;
                }
            }
            self.drop_overtaken();
            self.begin_a_check();
        }
        Outcome::Findings
    }

    fn event(&mut self, event: Event) -> Option<Outcome> {
        match event {
            Event::Message(message) => match *message {
                Message::Request(request) => self.request(request),
                Message::Notification(note) if note.method == "exit" => {
                    return Some(if self.phase == Phase::Ending { Outcome::Clean } else { Outcome::Findings });
                }
                Message::Notification(note) => self.notification(note),
                // Nothing that is asked of the editor needs its answer.
                Message::Response(_) => {}
            },
            Event::Malformed(code, why) => {
                // It is not known which question it was, and the protocol has `null` for that.
                let error = json!({ "code": code as i32, "message": why });
                self.send(Outgoing::Json(json!({ "jsonrpc": "2.0", "id": null, "error": error })));
            }
            Event::End(why) => {
                if let Some(why) = why {
                    self.log(1, &format!("wale: the input cannot be read: {why}"));
                }
                return Some(if self.phase == Phase::Ending { Outcome::Clean } else { Outcome::Findings });
            }
            Event::Checked(looked) => {
                self.checking = None;
                let shown = looked.map(|looked| self.workspace.looked(*looked)).unwrap_or_default();
                self.show(shown);
            }
            Event::CheckFailed(root) => {
                self.checking = None;
                let message = format!(
                    "wale: {root} could not be checked because of a fault of wale's own, and what is shown of it is old. \
                     It is checked again at the next change. Please report the pattern.",
                );
                self.log(1, &message);
            }
            Event::Answered(id, answer) => self.answered(id, answer),
        }
        None
    }

    // -- questions ------------------------------------------------------------------------------------------------

    fn request(&mut self, request: Request) {
        let Request { id, method, params } = &request;
        match (self.phase, method.as_str()) {
            (Phase::Before, "initialize") => {
                let encoding = wale::serve::encoding(params);
                self.workspace = Workspace::new(encoding);
                let watch = "/capabilities/workspace/didChangeWatchedFiles/dynamicRegistration";
                let versioned = "/capabilities/workspace/workspaceEdit/documentChanges";
                let can = |what| params.pointer(what) == Some(&Value::Bool(true));
                (self.can_watch, self.versioned) = (can(watch), can(versioned));
                self.phase = Phase::Open;
                let info = ServerInfo { name: "wale".to_owned(), version: Some(env!("CARGO_PKG_VERSION").to_owned()) };
                let capabilities = wale::serve::capabilities(encoding);
                self.respond(request.id, Ok(&InitializeResult { capabilities, server_info: Some(info) }));
            }
            (Phase::Before, _) => {
                let message = "the first question must be `initialize`".to_owned();
                self.refuse(request.id, ErrorCode::ServerNotInitialized as i32, message);
            }
            (Phase::Open, "initialize") => {
                let message = "`initialize` was asked before, and is asked once".to_owned();
                self.refuse(request.id, ErrorCode::InvalidRequest as i32, message);
            }
            (Phase::Open, "shutdown") => {
                self.phase = Phase::Ending;
                self.drop_all();
                self.respond(request.id, Ok(&Value::Null));
            }
            (Phase::Ending, _) => {
                let message = "after `shutdown` nothing is answered any more".to_owned();
                self.refuse(request.id, ErrorCode::InvalidRequest as i32, message);
            }
            (Phase::Open, method) if !wale::serve::is_known(method) => {
                let Failure { code, message } = Failure::unknown(method);
                self.refuse(request.id, code, message);
            }
            (Phase::Open, _) if self.asked.contains_key(id) => {
                let message = "a question with this number is still being answered".to_owned();
                self.refuse(request.id, ErrorCode::InvalidRequest as i32, message);
            }
            (Phase::Open, _) => {
                let address = params.pointer("/textDocument/uri").and_then(Value::as_str).map(str::to_owned);
                let about = address.map(|address| (address.clone(), self.workspace.stamp(&address)));
                let dropped = Dropped::default();
                let asked = Asked { dropped: Arc::clone(&dropped), about, taken_back: false };
                self.asked.insert(id.clone(), asked);
                let to_answer = ToAnswer {
                    request,
                    texts: self.workspace.texts(),
                    encoding: self.workspace.encoding(),
                    shelf: self.workspace.shelf(),
                    versioned: self.versioned,
                    dropped,
                };
                if let Err(unsent) = self.questions.send(to_answer) {
                    let id = unsent.0.request.id;
                    self.asked.remove(&id);
                    self.refuse(id, ErrorCode::InternalError as i32, "nobody is left to answer".to_owned());
                }
            }
        }
    }

    fn answered(&mut self, id: RequestId, answer: Result<Value, Failure>) {
        let Some(asked) = self.asked.remove(&id) else { return };
        let overtaken = asked.about.as_ref().is_some_and(|(address, stamp)| self.workspace.stamp(address) != *stamp);
        let answer = match answer {
            _ if asked.taken_back => Err(Failure::cancelled()),
            _ if overtaken => Err(Failure::overtaken()),
            answer => answer,
        };
        match answer {
            Ok(value) => self.respond(id, Ok(&value)),
            Err(Failure { code, message }) => self.refuse(id, code, message),
        }
    }

    fn respond(&self, id: RequestId, result: Result<&impl Serialize, ResponseError>) {
        let internal = |error: serde_json::Error| ResponseError {
            code: ErrorCode::InternalError as i32,
            message: format!("the answer cannot be written: {error}"),
            data: None,
        };
        let response_result = result.and_then(|result| serde_json::to_value(result).map_err(internal));
        self.send(Outgoing::Message(Response { id, response_result }.into()));
    }

    fn refuse(&self, id: RequestId, code: i32, message: String) {
        self.respond(id, Err::<&Value, _>(ResponseError { code, message, data: None }));
    }

    // -- what the editor tells ------------------------------------------------------------------------------------

    fn notification(&mut self, note: Notification) {
        let Notification { method, params } = note;
        if method == "$/cancelRequest" {
            return self.cancel(&params);
        }
        if self.phase != Phase::Open {
            return;
        }
        match method.as_str() {
            "initialized" => self.watch(),
            "textDocument/didOpen" => {
                let Some(DidOpenTextDocumentParams { text_document: text }) = self.details(&method, params) else {
                    return;
                };
                self.workspace.open(text.uri.as_ref(), text.version, &text.text);
            }
            "textDocument/didChange" => {
                if let Some(why) = malformed_change(&params) {
                    return self.log(1, &format!("wale: the details of `{method}` cannot be read: {why}"));
                }
                let Some(DidChangeTextDocumentParams { text_document, content_changes }) =
                    self.details(&method, params)
                else {
                    return;
                };
                let address = text_document.text_document_identifier.uri;
                if !self.workspace.change(address.as_ref(), text_document.version, &content_changes) {
                    self.log(2, "wale: a text was changed that is not open; open it first");
                }
            }
            "textDocument/didClose" => {
                let Some(DidCloseTextDocumentParams { text_document }) = self.details(&method, params) else { return };
                let shown = self.workspace.close(text_document.uri.as_ref());
                self.show(shown);
            }
            "textDocument/didSave" => {
                // The text of an open file is known already; this is for one that is not.
                let Some(DidSaveTextDocumentParams { text_document, .. }) = self.details(&method, params) else {
                    return;
                };
                self.workspace.changed_outside(text_document.uri.as_ref());
            }
            "workspace/didChangeWatchedFiles" => {
                let Some(DidChangeWatchedFilesParams { changes }) = self.details(&method, params) else { return };
                for change in changes {
                    self.workspace.changed_outside(change.uri.as_ref());
                }
            }
            // Whatever else an editor tells may be passed over.
            _ => {}
        }
    }

    fn cancel(&mut self, params: &Value) {
        let id = params.get("id").and_then(frame::id_of);
        if let Some(asked) = id.and_then(|id| self.asked.get_mut(&id)) {
            asked.taken_back = true;
            asked.dropped.store(true, Ordering::Relaxed);
        }
    }

    /// Asks the editor to tell of patterns that change on the disk.
    fn watch(&self) {
        if !self.can_watch {
            return;
        }
        let options = json!({ "watchers": [{ "globPattern": "**/*.wale" }] });
        let registration =
            json!({ "id": "wale-files", "method": "workspace/didChangeWatchedFiles", "registerOptions": options });
        let params = json!({ "registrations": [registration] });
        let id = RequestId::from("wale-files".to_owned());
        self.send(Outgoing::Message(Request { id, method: "client/registerCapability".to_owned(), params }.into()));
    }

    fn details<T: DeserializeOwned>(&self, method: &str, params: Value) -> Option<T> {
        let read = serde_json::from_value(params);
        if let Err(error) = &read {
            self.log(1, &format!("wale: the details of `{method}` cannot be read: {error}"));
        }
        read.ok()
    }

    // -- what is under way ----------------------------------------------------------------------------------------

    fn begin_a_check(&mut self) {
        if self.checking.is_some() || self.phase != Phase::Open {
            return;
        }
        let Some(job) = self.workspace.next_job() else { return };
        let dropped = Dropped::default();
        self.checking = Some((job.root.clone(), Arc::clone(&dropped)));
        // Where nobody checks any more, nothing is shown, and the rest goes on.
        let _ = self.jobs.send(ToCheck { job, dropped });
    }

    /// Gives up what a newer text has made worthless.
    fn drop_overtaken(&mut self) {
        if let Some((root, dropped)) = &self.checking
            && self.workspace.is_due(root)
        {
            dropped.store(true, Ordering::Relaxed);
        }
        for asked in self.asked.values() {
            if asked.about.as_ref().is_some_and(|(address, stamp)| self.workspace.stamp(address) != *stamp) {
                asked.dropped.store(true, Ordering::Relaxed);
            }
        }
    }

    fn drop_all(&self) {
        let under_way = self.checking.iter().map(|(_, dropped)| dropped);
        under_way
            .chain(self.asked.values().map(|asked| &asked.dropped))
            .for_each(|dropped| dropped.store(true, Ordering::Relaxed));
    }

    fn show(&self, shown: Vec<PublishDiagnosticsParams>) {
        for params in shown {
            self.tell("textDocument/publishDiagnostics", &params);
        }
    }

    /// Tells the editor something for its log: 1 is an error, 2 a warning.
    fn log(&self, kind: i32, message: &str) {
        self.tell("window/logMessage", &json!({ "type": kind, "message": message }));
    }

    fn tell(&self, method: &str, params: &impl Serialize) {
        if let Ok(params) = serde_json::to_value(params) {
            self.send(Outgoing::Message(Notification { method: method.to_owned(), params }.into()));
        }
    }

    fn send(&self, outgoing: Outgoing) {
        // Whoever reads no more wants nothing more.
        let _ = self.outbox.send(outgoing);
    }
}

/// Why the changes cannot be made as they stand: a range that cannot be read must not be taken for a whole new text.
fn malformed_change(params: &Value) -> Option<String> {
    let changes = params.get("contentChanges")?.as_array()?;
    changes.iter().filter_map(|change| change.get("range")).filter(|range| !range.is_null()).find_map(|range| {
        serde_json::from_value::<gen_lsp_types::Range>(range.clone()).err().map(|error| error.to_string())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fault_in_one_piece_of_work_ends_no_other() {
        assert_eq!(guarded(|| 1), Some(1));
        let none: Vec<u32> = Vec::new();
        assert_eq!(guarded(|| none[0]), None);
        assert_eq!(guarded(|| 2), Some(2));
    }

    #[test]
    fn the_command_as_it_is_shipped_unwinds() {
        // Where a fault ended the process there would be nothing left to guard.
        let manifest: toml::Table = include_str!("../../../Cargo.toml").parse().expect("the manifest is TOML");
        for (name, profile) in manifest["profile"].as_table().expect("there are profiles") {
            assert_eq!(profile.get("panic"), None, "{name}");
        }
    }
}

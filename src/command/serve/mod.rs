//! `wale serve`: the language server on standard input and output.
//!
//! One thread reads messages, one writes them, one checks patterns, one answers questions. The loop between them only
//! hands on, so that it is never kept waiting: what takes long takes it elsewhere, and is given up when a newer text makes
//! it worthless.

mod frame;
mod server;

use super::Outcome;
use super::library::Folder;
use frame::Frame;
use lsp_server::{Message, Response};
use server::{Event, Server};
use std::io::{self, BufReader, Write};
use std::path::Path;
use std::process::ExitCode;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;
use wale::source::{Library, NoLibrary};

/// Speaks with an editor: findings while you type, how the beds stand after a line, and more.
///
/// This is a language server on standard input and output, started by an editor and of no use without one. How to set up
/// an editor stands in the folder `editors`.
#[derive(Debug, clap::Args)]
#[command(after_long_help = "\
Exit codes:
  0  the editor has said goodbye
  1  the input ended without that
  2  wrong use")]
pub(crate) struct Arguments {
    /// Some editors ask for standard input and output by this name; there is no other way.
    #[arg(long, hide = true)]
    stdio: bool,
}

/// Stack of the threads that read and play patterns. It is far more than the deepest pattern needs.
const STACK: usize = 64 << 20;

/// Serves until the input ends.
pub(crate) fn run(_: &Arguments) -> ExitCode {
    match serve() {
        Ok(outcome) => outcome.into(),
        Err(error) => {
            // Nothing is left to be told where the error output fails as well.
            let _ = writeln!(io::stderr(), "wale: the server cannot go on: {error}. Start it again.");
            Outcome::WrongUse.into()
        }
    }
}

/// The files beside a text; of a text that is no file there are none.
fn library(root: &str) -> Box<dyn Library> {
    if wale::serve::is_file(root) { Box::new(Folder::of(Path::new(root))) } else { Box::new(NoLibrary) }
}

fn serve() -> io::Result<Outcome> {
    let (events, inbox) = channel();
    let (outbox, output) = channel();
    let (jobs, to_check) = channel();
    let (questions, to_answer) = channel();
    let start = |name: &str, stack: usize, work: Box<dyn FnOnce() + Send>| {
        thread::Builder::new().name(name.to_owned()).stack_size(stack).spawn(work)
    };
    let reader = events.clone();
    // The one that reads is not waited for: it may wait for input that never comes.
    start("reader", 1 << 20, Box::new(move || read_all(&reader)))?;
    let writer = start("writer", 1 << 20, Box::new(move || write_all(&output)))?;
    let checked = events.clone();
    start("checker", STACK, Box::new(move || server::check_all(&to_check, &checked)))?;
    start("answerer", STACK, Box::new(move || server::answer_all(&to_answer, &events)))?;
    let outcome = Server::new(outbox, jobs, questions).run(&inbox);
    // The server is gone and with it the way to the one that writes, which ends when all is written.
    let _ = writer.join();
    Ok(outcome)
}

fn read_all(events: &Sender<Event>) {
    let mut input = BufReader::new(io::stdin().lock());
    loop {
        let event = match frame::read(&mut input) {
            Ok(Frame::Message(message)) => Event::Message(message),
            Ok(Frame::Malformed(code, why)) => Event::Malformed(code, why),
            Ok(Frame::End) => Event::End(None),
            Err(error) => Event::End(Some(error.to_string())),
        };
        let ends = matches!(event, Event::End(_));
        if events.send(event).is_err() || ends {
            return;
        }
    }
}

/// What is to be written: a message, or JSON for which there is no form.
pub(super) enum Outgoing {
    Message(Message),
    Json(serde_json::Value),
}

/// Writes until nobody sends or nobody reads any more.
fn write_all(messages: &Receiver<Outgoing>) {
    let mut output = io::stdout().lock();
    for message in messages {
        let written = match message {
            Outgoing::Message(Message::Response(response)) => match frame::number_of(&response.id) {
                None => Message::from(response).write(&mut output),
                Some(id) => json_of(response, id).and_then(|value| write_json(&value, &mut output)),
            },
            Outgoing::Message(message) => message.write(&mut output),
            Outgoing::Json(value) => write_json(&value, &mut output),
        };
        if written.is_err() {
            return;
        }
    }
}

/// An answer to a question whose id is a number that the library has no form for.
fn json_of(response: Response, id: serde_json::Number) -> io::Result<serde_json::Value> {
    let mut value = serde_json::to_value(response)?;
    if let Some(fields) = value.as_object_mut() {
        fields.insert("jsonrpc".to_owned(), "2.0".into());
        fields.insert("id".to_owned(), id.into());
    }
    Ok(value)
}

fn write_json(value: &serde_json::Value, output: &mut impl Write) -> io::Result<()> {
    let text = value.to_string();
    write!(output, "Content-Length: {}\r\n\r\n{text}", text.len())?;
    output.flush()
}

//! Messages as bytes: a few lines of heading, an empty line, and the message as JSON.

use lsp_server::{ErrorCode, Message, Request, RequestId};
use serde::{Deserialize, Deserializer};
use serde_json::{Number, Value};
use std::io::{self, BufRead, Read};

/// The longest message that is read, in bytes. A text of the longest length that is read may be written with six bytes for
/// each of its own.
const LONGEST: usize = 64 << 20;
/// The longest line of a heading.
const LONGEST_LINE: u64 = 8 << 10;

/// What stands in the input next.
#[derive(Debug)]
pub(super) enum Frame {
    /// A message.
    Message(Box<Message>),
    /// Something that is no message, the sort of error, and why. What follows it can be read.
    Malformed(ErrorCode, String),
    /// The end.
    End,
}

/// Reads the next message.
///
/// # Errors
/// When what follows cannot be told apart from the message any more, or the input fails.
pub(super) fn read(input: &mut impl BufRead) -> io::Result<Frame> {
    let mut length = None;
    let mut line = Vec::new();
    loop {
        line.clear();
        let read = input.by_ref().take(LONGEST_LINE).read_until(b'\n', &mut line)?;
        if read == 0 {
            return Ok(Frame::End);
        }
        if line.last() != Some(&b'\n') {
            return Err(broken("a line of the heading has no end"));
        }
        let text = String::from_utf8_lossy(&line);
        let text = text.trim();
        if text.is_empty() {
            // An empty line before any heading is let be.
            if length.is_some() {
                break;
            }
            continue;
        }
        if let Some((name, value)) = text.split_once(':')
            && name.trim().eq_ignore_ascii_case("content-length")
        {
            let value = value.trim().parse::<usize>().map_err(|_| broken("the length of a message is no number"))?;
            length = Some(value);
        }
    }
    let length = length.unwrap_or_default();
    if length > LONGEST {
        // It is passed over, so that what follows can be read.
        let passed = io::copy(&mut input.by_ref().take(length as u64), &mut io::sink())?;
        return Ok(if passed < length as u64 {
            Frame::End
        } else {
            let said = format!("the message has {length} bytes; up to {LONGEST} are read");
            Frame::Malformed(ErrorCode::ParseError, said)
        });
    }
    // It grows as it is read: a length alone takes no room.
    let mut bytes = Vec::new();
    if input.by_ref().take(length as u64).read_to_end(&mut bytes)? < length {
        return Ok(Frame::End);
    }
    let mut message = serde_json::from_slice(&bytes);
    // Editors whose texts are units of 16 bits can send half a character, which is no text here.
    if message.is_err() && without_halves(&mut bytes) {
        message = serde_json::from_slice(&bytes);
    }
    Ok(match message {
        Ok(Message::Notification(note)) => match serde_json::from_slice::<Head>(&bytes).ok().and_then(|head| head.id) {
            None => Frame::Message(Box::new(note.into())),
            Some(id) => match id_of(&id) {
                Some(id) => Frame::Message(Box::new(Request { id, method: note.method, params: note.params }.into())),
                None => {
                    let said = format!("the id of a request is a number or a string; this is {id}");
                    Frame::Malformed(ErrorCode::InvalidRequest, said)
                }
            },
        },
        Ok(message) => Frame::Message(Box::new(message)),
        Err(error) => Frame::Malformed(ErrorCode::ParseError, format!("the message cannot be read: {error}")),
    })
}

/// What tells a question from a notification. The library takes a question whose id it has no form for as a notification,
/// and nobody would get an answer.
#[derive(Deserialize)]
struct Head {
    #[serde(default, deserialize_with = "said")]
    id: Option<Value>,
}

/// Any value, also `null`: it stands there.
fn said<'de, D: Deserializer<'de>>(value: D) -> Result<Option<Value>, D::Error> {
    Value::deserialize(value).map(Some)
}

/// Before a number that is no whole one of 32 bits: JSON-RPC 2.0 lets an id be any number (from memory), and the library
/// has whole numbers of 32 bits and strings. The character is in no string that an editor would think of.
const NUMBER: &str = "\u{0}number ";

/// The id that stands in a message; none of what cannot be one.
pub(super) fn id_of(value: &Value) -> Option<RequestId> {
    serde_json::from_value(value.clone())
        .ok()
        .or_else(|| value.is_number().then(|| RequestId::from(format!("{NUMBER}{value}"))))
}

/// The number that an id stands for, where it is one of those.
pub(super) fn number_of(id: &RequestId) -> Option<Number> {
    let id = serde_json::to_value(id).ok()?;
    id.as_str()?.strip_prefix(NUMBER)?.parse().ok()
}

/// Puts the replacement character, U+FFFD, in the place of every escaped half of a character that has no other half, and
/// says whether there was one. It is one unit of 16 bits as the half was, and three bytes, so that the places behind it
/// stay the same for both sides. (The halves, U+D800 to U+DBFF and U+DC00 to U+DFFF, and their escapes: RFC 8259, section
/// 7; from memory.)
fn without_halves(bytes: &mut [u8]) -> bool {
    /// `\u` and four digits.
    const ESCAPE: usize = 6;
    let unit = |bytes: &[u8], at: usize| {
        let escape = bytes.get(at..at + ESCAPE)?.strip_prefix(b"\\u")?;
        u16::from_str_radix(std::str::from_utf8(escape).ok()?, 16).ok()
    };
    let mut found = false;
    let mut at = 0;
    while at < bytes.len() {
        if bytes[at] != b'\\' {
            at += 1;
            continue;
        }
        at += match (unit(bytes, at), unit(bytes, at + ESCAPE)) {
            (Some(0xD800..=0xDBFF), Some(0xDC00..=0xDFFF)) => 2 * ESCAPE,
            (Some(0xD800..=0xDFFF), _) => {
                bytes[at..at + ESCAPE].copy_from_slice(b"\\ufffd");
                found = true;
                ESCAPE
            }
            // Another escape; of a backslash, the second one begins none.
            _ => 2,
        };
    }
    found
}

fn broken(why: &str) -> io::Error {
    io::Error::new(io::ErrorKind::InvalidData, why)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn frames(input: &[u8]) -> Vec<String> {
        let mut input = input;
        let mut found = Vec::new();
        loop {
            match read(&mut input) {
                Ok(Frame::Message(message)) => found.push(match *message {
                    Message::Request(request) => request.method,
                    Message::Notification(note) => note.method,
                    Message::Response(_) => "response".to_owned(),
                }),
                Ok(Frame::Malformed(..)) => found.push("malformed".to_owned()),
                Ok(Frame::End) => return found,
                Err(_) => {
                    found.push("broken".to_owned());
                    return found;
                }
            }
        }
    }

    fn framed(text: &str) -> String {
        format!("Content-Length: {}\r\n\r\n{text}", text.len())
    }

    #[test]
    fn what_is_no_message_spoils_no_other() {
        let good = framed(r#"{"jsonrpc":"2.0","method":"exit"}"#);
        for bad in ["{", "", "[]", "null", r#"{"jsonrpc":"2.0"}"#, "\u{0}", r#"{"id":{},"method":3}"#] {
            assert_eq!(frames(format!("{}{good}", framed(bad)).as_bytes()), ["malformed", "exit"], "{bad}");
        }
        let deep = "[".repeat(100_000);
        assert_eq!(frames(format!("{}{good}", framed(&deep)).as_bytes()), ["malformed", "exit"]);
        let other = format!("content-length:{}\nContent-Type: x\n\n{{\"method\":\"a\"}}", 14);
        assert_eq!(frames(format!("{other}\r\n{good}").as_bytes()), ["a", "exit"]);
    }

    #[test]
    fn an_id_may_be_any_number_or_string() {
        for id in
            ["7", "-1", "\"a\"", "\"\"", "2147483648", "-9007199254740991", "18446744073709551615", "1.5", "1e300"]
        {
            let message = framed(&format!(r#"{{"jsonrpc":"2.0","id":{id},"method":"a"}}"#));
            let Ok(Frame::Message(message)) = read(&mut message.as_bytes()) else { panic!("{id} is not read") };
            let Message::Request(request) = *message else { panic!("{id} is no question") };
            let sent: Value = serde_json::from_str(id).expect("it is JSON");
            assert_eq!(Some(&request.id), id_of(&sent).as_ref());
            let back =
                number_of(&request.id).map_or_else(|| serde_json::to_value(&request.id).ok(), |id| Some(id.into()));
            assert_eq!(back, Some(sent), "{id}");
        }
        for id in ["null", "true", "[1]", "{}"] {
            let message = framed(&format!(r#"{{"jsonrpc":"2.0","id":{id},"method":"a"}}"#));
            let frame = read(&mut message.as_bytes());
            assert!(matches!(frame, Ok(Frame::Malformed(ErrorCode::InvalidRequest, _))), "{id}: {frame:?}");
        }
    }

    #[test]
    fn half_a_character_becomes_the_replacement_character() {
        for (sent, read_as) in [
            (r"\ud83d", "\u{fffd}"),
            (r"\uDE00", "\u{fffd}"),
            (r"a\ud83d\ud83d\ude00b", "a\u{fffd}\u{1f600}b"),
            (r"\ude00\ud83d", "\u{fffd}\u{fffd}"),
            (r"\\ud83d\ud83d\n", "\\ud83d\u{fffd}\n"),
            (r"\ud83d\\ude00", "\u{fffd}\\ude00"),
            // Nothing is amiss in these.
            (r"\ud83d\ude00", "\u{1f600}"),
            (r"\\ud83d", "\\ud83d"),
        ] {
            let message = framed(&format!(r#"{{"jsonrpc":"2.0","method":"a","params":["{sent}"]}}"#));
            let Ok(Frame::Message(message)) = read(&mut message.as_bytes()) else { panic!("{sent} is not read") };
            let Message::Notification(note) = *message else { panic!("{sent}") };
            assert_eq!(note.params, serde_json::json!([read_as]), "{sent}");
        }
        // What is broken otherwise stays so.
        for sent in [r"\ud83d\x", r"\ud8", "\\"] {
            let message = framed(&format!(r#"{{"jsonrpc":"2.0","method":"a","params":["{sent}"]}}"#));
            assert_eq!(frames(message.as_bytes()), ["malformed"], "{sent}");
        }
    }

    #[test]
    fn a_broken_heading_is_the_end() {
        assert_eq!(frames(b"Content-Length: -4\r\n\r\n"), ["broken"]);
        assert_eq!(frames(b"Content-Length: 99999999999999999999999\r\n\r\n"), ["broken"]);
        assert_eq!(frames(&[b'x'; 20_000]), ["broken"]);
        // More is said to come than comes.
        assert_eq!(frames(b"Content-Length: 400000000\r\n\r\n{}"), [""; 0]);
        assert_eq!(frames(b"Content-Length: 4000000000\r\n\r\n{}"), [""; 0]);
        assert_eq!(frames(b""), [""; 0]);
    }
}

//! Reads pattern files and standard input. Every refusal is a sentence that says what to do.

use super::kind;
use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::Path;
use wale::clean;
use wale::source::Sources;

/// How messages call standard input.
pub(crate) const STANDARD_INPUT: &str = "standard input";
/// How it is asked for.
pub(crate) const DASH: &str = "-";

/// The text of the file at `path`.
///
/// # Errors
/// A sentence for the knitter that names the file.
pub(crate) fn file(path: &Path) -> Result<String, String> {
    let shown = path.to_string_lossy();
    let shown = clean::line(&shown);
    let unreadable = |error: std::io::Error| match error.kind() {
        ErrorKind::NotFound => {
            format!("there is no file `{shown}`. Check the spelling, and the folder it is looked for in.")
        }
        ErrorKind::PermissionDenied => {
            format!("`{shown}` may not be read by you. Change its permissions, or work on a copy of your own.")
        }
        _ => format!("`{shown}` cannot be read: {error}. Check the name and the disk it is on."),
    };
    // Before it is opened: opening a pipe that nobody writes to would wait for ever.
    let kind = std::fs::metadata(path).map_err(unreadable)?;
    if kind.is_dir() {
        return Err(format!("`{shown}` is a folder. Give the names of the pattern files in it."));
    }
    if !kind.is_file() {
        return Err(format!(
            "`{shown}` is a device or a pipe, not a file. Save the pattern to a file, or send it to standard input and \
             give `-` as the name."
        ));
    }
    let mut opened = File::open(path).map_err(unreadable)?;
    text(&mut opened, &shown)
}

/// The text that `input` gives, up to the longest one that is read.
///
/// # Errors
/// A sentence for the knitter that begins with `name`.
pub(crate) fn text(input: &mut dyn Read, name: &str) -> Result<String, String> {
    let quoted = if name == STANDARD_INPUT { name.to_owned() } else { format!("`{name}`") };
    let mut bytes = Vec::new();
    let most = Sources::LONGEST_TEXT as u64;
    input
        .take(most + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| format!("{quoted} cannot be read: {error}. Check where it comes from."))?;
    if bytes.len() as u64 > most {
        return Err(format!(
            "{quoted} is longer than {} MiB, the most that is read. A pattern is far shorter: check that it is the right \
             file.",
            most >> 20
        ));
    }
    if let Some(kind) = kind::of(&bytes) {
        return Err(format!(
            "{quoted} is {kind}, and a pattern is plain text. Open it in the program it comes from and save it as plain \
             text (UTF-8), under a name that ends in `.wale`."
        ));
    }
    String::from_utf8(bytes).map_err(|error| {
        let valid = error.utf8_error().valid_up_to();
        let bytes = error.as_bytes();
        let line = 1 + String::from_utf8_lossy(&bytes[..valid]).replace("\r\n", "\n").matches(['\n', '\r']).count();
        format!(
            "{quoted} is not UTF-8 text: line {line} holds the byte {:#04x} where a character should be. Save it as plain \
             text (UTF-8) in your editor, or check that it is a pattern.",
            bytes.get(valid).copied().unwrap_or_default()
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_without_end_is_refused() {
        let said = text(&mut std::io::repeat(b'#'), STANDARD_INPUT).expect_err("it never ends");
        assert!(said.starts_with("standard input is longer than 4 MiB"), "{said}");
    }

    #[test]
    fn bytes_that_are_no_text_are_placed() {
        let said = text(&mut &b"pattern\nrow \xe9 x"[..], "hat.wale").expect_err("it is not UTF-8");
        assert!(said.starts_with("`hat.wale` is not UTF-8 text: line 2 holds the byte 0xe9"), "{said}");
        let said = text(&mut &b"\xff\xfep\0"[..], "hat.wale").expect_err("it is not UTF-8");
        assert!(said.starts_with("`hat.wale` is text in UTF-16, and a pattern is plain text."), "{said}");
        assert!(said.contains("save it as plain text (UTF-8)"), "{said}");
    }
}

//! How the JSON of a trace is laid out: one operation a line, so that a difference between two traces reads well.

use crate::clean;
use serde_json::ser::Formatter;
use std::io::{self, Write};

/// Breaks lines in the outer containers and writes the inner ones on one line. Hidden characters stand as `\u`
/// escapes, so that a trace can be looked at in a terminal.
#[derive(Debug, Default)]
pub(super) struct Lines {
    depth: usize,
    has_value: bool,
}

impl Lines {
    /// Containers with fewer than so many around them are broken: the trace, its sizes, a size, its pieces, a piece,
    /// and what belongs to a piece. An operation is inside all of these.
    const BROKEN: usize = 6;

    fn begin<W: ?Sized + Write>(&mut self, out: &mut W, bracket: u8) -> io::Result<()> {
        self.depth += 1;
        self.has_value = false;
        out.write_all(&[bracket])
    }

    fn end<W: ?Sized + Write>(&mut self, out: &mut W, bracket: u8) -> io::Result<()> {
        let broken = self.is_broken();
        self.depth = self.depth.saturating_sub(1);
        if self.has_value && broken {
            self.new_line(out)?;
        }
        self.has_value = true;
        out.write_all(&[bracket])
    }

    fn between<W: ?Sized + Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        match (first, self.is_broken()) {
            (true, true) => self.new_line(out),
            (false, true) => {
                out.write_all(b",")?;
                self.new_line(out)
            }
            (true, false) => Ok(()),
            (false, false) => out.write_all(b", "),
        }
    }

    /// Whether the innermost open container is broken.
    const fn is_broken(&self) -> bool {
        self.depth <= Self::BROKEN
    }

    fn new_line<W: ?Sized + Write>(&self, out: &mut W) -> io::Result<()> {
        out.write_all(b"\n")?;
        (0..self.depth).try_for_each(|_| out.write_all(b"  "))
    }
}

impl Formatter for Lines {
    fn begin_array<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.begin(out, b'[')
    }

    fn end_array<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.end(out, b']')
    }

    fn begin_array_value<W: ?Sized + Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        self.between(out, first)
    }

    fn end_array_value<W: ?Sized + Write>(&mut self, _: &mut W) -> io::Result<()> {
        self.has_value = true;
        Ok(())
    }

    fn begin_object<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.begin(out, b'{')
    }

    fn end_object<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.end(out, b'}')
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        self.between(out, first)
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        out.write_all(b": ")
    }

    fn end_object_value<W: ?Sized + Write>(&mut self, _: &mut W) -> io::Result<()> {
        self.has_value = true;
        Ok(())
    }

    fn write_string_fragment<W: ?Sized + Write>(&mut self, out: &mut W, fragment: &str) -> io::Result<()> {
        if fragment.bytes().all(|byte| (0x20..0x7f).contains(&byte)) {
            return out.write_all(fragment.as_bytes());
        }
        for character in fragment.chars() {
            if clean::is_hidden(character) {
                for unit in character.encode_utf16(&mut [0; 2]) {
                    write!(out, "\\u{unit:04x}")?;
                }
            } else {
                out.write_all(character.encode_utf8(&mut [0; 4]).as_bytes())?;
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde::Serialize as _;

    fn laid_out(value: &serde_json::Value) -> String {
        let mut out = Vec::new();
        value
            .serialize(&mut serde_json::Serializer::with_formatter(&mut out, Lines::default()))
            .expect("writing to memory");
        String::from_utf8(out).expect("JSON is UTF-8")
    }

    #[test]
    fn what_is_deep_inside_stands_on_one_line() {
        let deep = serde_json::json!([[[[[[{"number": 1, "knit": ["L1", "R2"], "none": []}, {}], []]]]]]);
        let text = laid_out(&deep);
        assert!(text.contains("\n            {\"knit\": [\"L1\", \"R2\"], \"none\": [], \"number\": 1},\n"), "{text}");
        assert!(text.contains("\n            {}\n          ],\n          []\n"), "{text}");
        assert_eq!(serde_json::from_str::<serde_json::Value>(&text).ok(), Some(deep));
    }

    /// RFC 8259, section 7 (from memory): any character may stand in a string as `\u` and its UTF-16 units.
    #[test]
    fn hidden_characters_are_escaped_and_read_back() {
        let words = serde_json::json!({"red \u{1b}[31m\u{202e}": "\u{e0001}\u{7f}é\"\n"});
        let text = laid_out(&words);
        assert_eq!(text, "{\n  \"red \\u001b[31m\\u202e\": \"\\udb40\\udc01\\u007fé\\\"\\n\"\n}");
        assert_eq!(serde_json::from_str::<serde_json::Value>(&text).ok(), Some(words));
    }
}

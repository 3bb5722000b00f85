//! Source texts, and where things stand in them.
//!
//! A [`Span`] is a byte range in one file. Lines and columns are worked out only when somebody asks, from one
//! [`SourceFile`] line index, because the parser's own look-up scans a file from its start at every call.

use std::ops::Range;

/// Which file of a [`Sources`] a span belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct FileId(pub u16);

/// A byte range `start..end` in one file, on character boundaries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct Span {
    /// The file.
    pub file: FileId,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// The byte range, for slicing a text.
    #[must_use]
    pub fn range(self) -> Range<usize> {
        self.start as usize..self.end as usize
    }

    /// The smallest span that holds both; both must be of one file.
    #[must_use]
    pub fn join(self, other: Self) -> Self {
        debug_assert_eq!(self.file, other.file, "spans of two files cannot be joined");
        Self { file: self.file, start: self.start.min(other.start), end: self.end.max(other.end) }
    }
}

/// A place as people count it: both from 1, the column in characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Position {
    /// The line, from 1.
    pub line: u32,
    /// The column in characters, from 1.
    pub column: u32,
}

/// The first byte of each line. A line ends at `\n`, `\r\n` or `\r`, as for the grammar and for an editor.
pub(crate) fn line_starts(text: &str) -> impl Iterator<Item = usize> {
    let bytes = text.as_bytes();
    let ends = move |&(at, &byte): &(usize, &u8)| byte == b'\n' || byte == b'\r' && bytes.get(at + 1) != Some(&b'\n');
    std::iter::once(0).chain(bytes.iter().enumerate().filter(ends).map(|(at, _)| at + 1))
}

/// One text with its name and its line index.
#[derive(Debug, Clone)]
pub struct SourceFile {
    name: String,
    text: String,
    line_starts: Vec<u32>,
}

impl SourceFile {
    fn new(name: String, text: String) -> Self {
        let line_starts = line_starts(&text).map(|at| at as u32).collect();
        Self { name, text, line_starts }
    }

    /// The name that messages print: a path, or `standard input`.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// How many lines there are; a text that ends in a newline has an empty last one.
    #[must_use]
    pub fn line_count(&self) -> usize {
        self.line_starts.len()
    }

    /// The index, from 0, of the line that holds byte `at`.
    #[must_use]
    pub fn line_index(&self, at: u32) -> usize {
        self.line_starts.partition_point(|&start| start <= at).saturating_sub(1)
    }

    /// The byte range of line `index` (from 0), its newline included; an index past the end gives an empty range.
    #[must_use]
    pub fn line_range(&self, index: usize) -> Range<usize> {
        let end = self.text.len();
        let start = self.line_starts.get(index).map_or(end, |&start| start as usize);
        let next = self.line_starts.get(index + 1).map_or(end, |&start| start as usize);
        start..next
    }

    /// Line and column of byte `at`.
    #[must_use]
    pub fn position(&self, at: u32) -> Position {
        let line = self.line_index(at);
        let start = self.line_starts[line] as usize;
        let before = self.text.get(start..at as usize).unwrap_or_default();
        Position { line: line as u32 + 1, column: before.chars().count() as u32 + 1 }
    }
}

/// Every text that one pattern is made of: the file itself and what it `use`s.
#[derive(Debug, Clone, Default)]
pub struct Sources {
    files: Vec<SourceFile>,
}

impl Sources {
    /// The longest text that is read, in bytes, and the most of all texts together that one pattern uses. A tree takes 55 to
    /// 85 times the room of its text (measured with texts of 60 MB), and no pattern comes near it: a row a line, this is a
    /// hundred thousand rows.
    pub const LONGEST_TEXT: usize = 4 << 20;
    /// How many files one pattern may be made of.
    pub const MOST_FILES: usize = 256;

    /// Adds a text and gives its number. The caller keeps to [`Self::LONGEST_TEXT`] and [`Self::MOST_FILES`].
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<String>) -> FileId {
        let id = FileId(self.files.len() as u16);
        self.files.push(SourceFile::new(name.into(), text.into()));
        id
    }

    /// The file of that number.
    ///
    /// # Panics
    /// When the number is of another `Sources`.
    #[must_use]
    pub fn get(&self, file: FileId) -> &SourceFile {
        &self.files[file.0 as usize]
    }

    /// All files, in the order of their numbers.
    pub fn iter(&self) -> impl Iterator<Item = &SourceFile> {
        self.files.iter()
    }

    /// The words that a span covers.
    #[must_use]
    pub fn words(&self, span: Span) -> &str {
        self.get(span.file).text().get(span.range()).unwrap_or_default()
    }

    /// The line on which a span begins, without its end.
    #[must_use]
    pub fn line(&self, span: Span) -> &str {
        let file = self.get(span.file);
        file.text().get(file.line_range(file.line_index(span.start))).unwrap_or_default()
    }

    /// Line and column of a span's first byte.
    #[must_use]
    pub fn position(&self, span: Span) -> Position {
        self.get(span.file).position(span.start)
    }
}

/// Hands over the text of a file that a pattern `use`s. The library itself opens no files.
pub trait Library {
    /// Reads `path` as written in the file `from`; gives the name to print and the text.
    ///
    /// # Errors
    /// A sentence for the knitter that says why the file cannot be read.
    fn read(&self, from: &str, path: &str) -> Result<(String, String), String>;

    /// The name that `path`, as written in the file `from`, would be read under, found without reading it; none where that
    /// is not known. With it a text that is not saved yet can stand in for the file.
    fn name(&self, _from: &str, _path: &str) -> Option<String> {
        None
    }

    /// The paths that the file `from` could `use`, as they would be written in it; empty where they cannot be listed.
    fn beside(&self, _from: &str) -> Vec<String> {
        Vec::new()
    }
}

/// A library with nothing in it: every `use` is refused.
#[derive(Debug, Clone, Copy, Default)]
pub struct NoLibrary;

impl Library for NoLibrary {
    fn read(&self, _from: &str, path: &str) -> Result<(String, String), String> {
        Err(format!("there is no place here to read `{path}` from"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn positions_count_characters_not_bytes() {
        let mut sources = Sources::default();
        let file = sources.add("a.wale", "één\nrow é x\n");
        let at = sources.get(file).text().find('x').expect("there is an x") as u32;
        assert_eq!(sources.get(file).position(at), Position { line: 2, column: 7 });
        assert_eq!(sources.get(file).line_count(), 3);
    }

    #[test]
    fn every_kind_of_line_end_ends_a_line() {
        let mut sources = Sources::default();
        let file = sources.add("a.wale", "one\rtwo\r\nthree\nfour\r\r");
        let file = sources.get(file);
        let lines: Vec<&str> = (0..file.line_count()).map(|line| &file.text()[file.line_range(line)]).collect();
        assert_eq!(lines, ["one\r", "two\r\n", "three\n", "four\r", "\r", ""]);
        assert_eq!(file.position(10), Position { line: 3, column: 2 });
    }
}

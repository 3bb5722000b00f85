//! The few lines of the sources that a finding shows, in the form that the terminal renderer asks for.
//!
//! Only the lines that are drawn are taken over, with hidden characters made visible and endless lines cut around the
//! marked places; line and column numbers come from the index that [`Sources`] has anyway. So the cost of a finding
//! does not grow with the length of the file.

use crate::clean;
use crate::source::{FileId, Sources, Span};
use codespan_reporting::files::{Error, Files, Location};
use std::collections::BTreeSet;
use std::ops::Range;

/// How many lines below the first and above the last line of a long block are drawn.
pub(super) const LINES_AFTER_START: usize = 3;
/// As above, at the end.
pub(super) const LINES_BEFORE_END: usize = 1;
/// A line of more bytes than this is cut.
const LONGEST_LINE: usize = 240;
/// How much of a cut line is kept before and after a marked place, in bytes.
const KEPT_BEFORE: usize = 60;
const KEPT_AFTER: usize = 100;

/// The lines to draw of every file that a finding speaks of.
pub(super) struct Excerpt<'s> {
    sources: &'s Sources,
    pages: Vec<Page>,
}

/// The lines of one file.
struct Page {
    file: FileId,
    text: String,
    lines: Vec<Line>,
    /// Where a label begins: the byte here, and the byte in the source.
    starts: Vec<(usize, u32)>,
}

/// One line of a page.
struct Line {
    /// Where it begins in the page.
    start: usize,
    /// Its index in the source. The two lines that stand for a gap have the one before; they are never drawn.
    index: usize,
}

impl<'s> Excerpt<'s> {
    /// An excerpt with the ranges that the spans have in it, in the order of the spans.
    pub(super) fn new(sources: &'s Sources, spans: &[Span]) -> (Self, Vec<Range<usize>>) {
        let tidy: Vec<(FileId, Range<usize>)> =
            spans.iter().map(|&span| (span.file, drawn_range(sources.get(span.file).text(), span))).collect();
        let mut ranges = vec![0..0; spans.len()];
        let mut pages: Vec<Page> = Vec::new();
        for &(file, _) in &tidy {
            if pages.iter().any(|page| page.file == file) {
                continue;
            }
            let mut page = Page { file, text: String::new(), lines: Vec::new(), starts: Vec::new() };
            let places = page.fill(sources, &tidy);
            for (number, (_, range)) in tidy.iter().enumerate().filter(|(_, (other, _))| *other == file) {
                let [start, end] = [range.start, range.end].map(|byte| place_of(&places, byte));
                ranges[number] = start..end.max(start);
                page.starts.push((start, range.start as u32));
            }
            pages.push(page);
        }
        (Self { sources, pages }, ranges)
    }

    fn page(&self, file: FileId) -> Result<&Page, Error> {
        self.pages.iter().find(|page| page.file == file).ok_or(Error::FileMissing)
    }
}

/// Where a byte of the source stands in the page.
fn place_of(places: &[(usize, usize)], byte: usize) -> usize {
    places.iter().find(|&&(source, _)| source == byte).map_or(0, |&(_, place)| place)
}

/// The range of a span that is drawn: inside the text, on character boundaries, without blanks at its end.
fn drawn_range(text: &str, span: Span) -> Range<usize> {
    let start = floor(text, span.start as usize);
    let end = floor(text, span.end as usize).max(start);
    start..start + text[start..end].trim_end().len()
}

/// The last character boundary at or before `byte`.
fn floor(text: &str, byte: usize) -> usize {
    let mut byte = byte.min(text.len());
    while !text.is_char_boundary(byte) {
        byte -= 1;
    }
    byte
}

impl Page {
    /// Takes over the lines around every range of this file. Gives each end of a range as a byte of the source with its
    /// place in the page.
    fn fill(&mut self, sources: &Sources, ranges: &[(FileId, Range<usize>)]) -> Vec<(usize, usize)> {
        let source = sources.get(self.file);
        let own = || ranges.iter().filter(|(file, _)| *file == self.file).map(|(_, range)| range);
        let ends: Vec<usize> = own().flat_map(|range| [range.start, range.end]).collect();
        let mut wanted = BTreeSet::new();
        for range in own() {
            let [first, last] = [range.start, range.end].map(|byte| source.line_index(byte as u32));
            wanted.extend((first..=last).take(1 + LINES_AFTER_START));
            wanted.extend((first..=last).rev().take(1 + LINES_BEFORE_END));
        }
        let mut places = Vec::new();
        let mut before: Option<usize> = None;
        for index in wanted {
            if let Some(before) = before.filter(|before| index > before + 1) {
                // Two lines, because the renderer draws a gap of a single line in full.
                for _ in 0..2 {
                    self.lines.push(Line { start: self.text.len(), index: before });
                    self.text.push('\n');
                }
            }
            before = Some(index);
            self.lines.push(Line { start: self.text.len(), index });
            let line = source.line_range(index);
            let is_last = index + 1 == source.line_count();
            let here: Vec<usize> =
                ends.iter().copied().filter(|end| line.contains(end) || (is_last && *end == line.end)).collect();
            self.take_over(source.text(), line, &here, &mut places);
            self.text.push('\n');
        }
        places
    }

    /// Takes over one line, cut around the marked bytes where it is long.
    fn take_over(&mut self, text: &str, line: Range<usize>, marked: &[usize], places: &mut Vec<(usize, usize)>) {
        let end = line.start + text[line.clone()].trim_end_matches(['\n', '\r']).len();
        let mut place = |byte: usize, here: usize| {
            if marked.contains(&byte) && !places.iter().any(|&(known, _)| known == byte) {
                places.push((byte, here));
            }
        };
        let mut reached = line.start;
        for part in kept_parts(text, line.start..end, marked) {
            if part.start > reached {
                self.text.push('…');
            }
            for (offset, character) in text[part.clone()].char_indices() {
                place(part.start + offset, self.text.len());
                match character {
                    '\t' => self.text.push('\t'),
                    other => clean::push_shown(&mut self.text, other),
                }
            }
            reached = part.end;
            place(reached, self.text.len());
        }
        if reached < end {
            self.text.push('…');
        }
        // A mark on the line break itself is drawn behind the last character.
        for &byte in marked.iter().filter(|&&byte| byte >= end) {
            place(byte, self.text.len());
        }
    }
}

/// The parts of a line that are drawn, from left to right, apart from each other.
fn kept_parts(text: &str, line: Range<usize>, marked: &[usize]) -> Vec<Range<usize>> {
    if line.len() <= LONGEST_LINE {
        return vec![line];
    }
    let mut centres: Vec<usize> = marked.iter().map(|byte| (*byte).min(line.end)).collect();
    if centres.is_empty() {
        centres.push(line.start);
    }
    centres.sort_unstable();
    let mut parts: Vec<Range<usize>> = Vec::new();
    for centre in centres {
        let start = floor(text, centre.saturating_sub(KEPT_BEFORE)).max(line.start);
        let end = floor(text, (centre + KEPT_AFTER).min(line.end)).max(centre);
        match parts.last_mut() {
            Some(last) if start <= last.end => last.end = last.end.max(end),
            _ => parts.push(start..end),
        }
    }
    parts
}

impl<'a> Files<'a> for Excerpt<'_> {
    type FileId = FileId;
    type Name = String;
    type Source = &'a str;

    fn name(&'a self, id: FileId) -> Result<String, Error> {
        Ok(clean::line(self.sources.get(id).name()).into_owned())
    }

    fn source(&'a self, id: FileId) -> Result<&'a str, Error> {
        Ok(&self.page(id)?.text)
    }

    fn line_index(&'a self, id: FileId, byte_index: usize) -> Result<usize, Error> {
        Ok(self.page(id)?.lines.partition_point(|line| line.start <= byte_index).saturating_sub(1))
    }

    fn line_number(&'a self, id: FileId, line_index: usize) -> Result<usize, Error> {
        let lines = &self.page(id)?.lines;
        let max = lines.len().saturating_sub(1);
        let line = lines.get(line_index).ok_or(Error::LineTooLarge { given: line_index, max })?;
        Ok(line.index + 1)
    }

    fn location(&'a self, id: FileId, byte_index: usize) -> Result<Location, Error> {
        let page = self.page(id)?;
        let byte = page.starts.iter().find(|&&(start, _)| start == byte_index).map_or(0, |&(_, byte)| byte);
        let position = self.sources.get(id).position(byte);
        Ok(Location { line_number: position.line as usize, column_number: position.column as usize })
    }

    fn line_range(&'a self, id: FileId, line_index: usize) -> Result<Range<usize>, Error> {
        let page = self.page(id)?;
        let max = page.lines.len().saturating_sub(1);
        let line = page.lines.get(line_index).ok_or(Error::LineTooLarge { given: line_index, max })?;
        let next = page.lines.get(line_index + 1).map_or(page.text.len(), |next| next.start);
        Ok(line.start..next)
    }
}

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
use unicode_width::UnicodeWidthChar;

/// How many lines below the first and above the last line of a long block are drawn.
pub(super) const LINES_AFTER_START: usize = 3;
/// As above, at the end.
pub(super) const LINES_BEFORE_END: usize = 1;
/// Columns between tab stops.
pub(super) const TAB_WIDTH: usize = 4;

/// The lines to draw of every file that a finding speaks of.
pub(super) struct Excerpt<'s> {
    sources: &'s Sources,
    pages: Vec<Page>,
    /// Columns that the frame takes before a line of the source.
    frame: usize,
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
    /// An excerpt with the ranges that the spans have in it, in the order of the spans. Lines that get longer than `width`
    /// columns with the frame before them are cut.
    pub(super) fn new(sources: &'s Sources, spans: &[Span], width: usize) -> (Self, Vec<Range<usize>>) {
        let tidy: Vec<(FileId, Range<usize>)> =
            spans.iter().map(|&span| (span.file, drawn_range(sources.get(span.file).text(), span))).collect();
        let frame = frame_of(sources, &tidy);
        let mut ranges = vec![0..0; spans.len()];
        let mut pages: Vec<Page> = Vec::new();
        for &(file, _) in &tidy {
            if pages.iter().any(|page| page.file == file) {
                continue;
            }
            let mut page = Page { file, text: String::new(), lines: Vec::new(), starts: Vec::new() };
            let places = page.fill(sources, &tidy, width.saturating_sub(frame));
            for (number, (_, range)) in tidy.iter().enumerate().filter(|(_, (other, _))| *other == file) {
                let [start, end] = [range.start, range.end].map(|byte| place_of(&places, byte));
                ranges[number] = start..end.max(start);
                page.starts.push((start, range.start as u32));
            }
            pages.push(page);
        }
        (Self { sources, pages, frame }, ranges)
    }

    /// Columns that the frame takes before a line of the source, the bars of long blocks included.
    pub(super) const fn frame(&self) -> usize {
        self.frame
    }

    fn page(&self, file: FileId) -> Result<&Page, Error> {
        self.pages.iter().find(|page| page.file == file).ok_or(Error::FileMissing)
    }
}

/// The columns before a line of the source: the number of the line, the border between blanks, and two for each block of
/// several lines.
fn frame_of(sources: &Sources, ranges: &[(FileId, Range<usize>)]) -> usize {
    let index = |file: FileId, byte: usize| sources.get(file).line_index(byte as u32);
    let last = ranges.iter().map(|(file, range)| index(*file, range.end) + 1).max().unwrap_or(1);
    let is_long = |file: FileId, range: &Range<usize>| index(file, range.start) < index(file, range.end);
    let blocks = ranges.iter().filter(|(file, range)| is_long(*file, range)).count();
    last.to_string().len() + " │ ".chars().count() + 2 * blocks
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
    /// Takes over the lines around every range of this file, each in `room` columns. Gives each end of a range as a byte of the source with its
    /// place in the page.
    fn fill(&mut self, sources: &Sources, ranges: &[(FileId, Range<usize>)], room: usize) -> Vec<(usize, usize)> {
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
            self.take_over(source.text(), line, &here, room, &mut places);
            self.text.push('\n');
        }
        places
    }

    /// Takes over one line, cut around the marked bytes where it is long.
    fn take_over(
        &mut self,
        text: &str,
        line: Range<usize>,
        marked: &[usize],
        room: usize,
        places: &mut Vec<(usize, usize)>,
    ) {
        let end = line.start + text[line.clone()].trim_end_matches(['\n', '\r']).len();
        let mut place = |byte: usize, here: usize| {
            if marked.contains(&byte) && !places.iter().any(|&(known, _)| known == byte) {
                places.push((byte, here));
            }
        };
        let mut reached = line.start;
        for part in kept_parts(text, line.start..end, marked, room) {
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

/// A line as it is drawn, without its frame: cut around the marked bytes where it takes more columns than there is room.
pub(super) fn shown_line(text: &str, line: Range<usize>, marked: &[usize], room: usize) -> String {
    let mut page = Page { file: FileId::default(), text: String::new(), lines: Vec::new(), starts: Vec::new() };
    page.take_over(text, line, marked, room, &mut Vec::new());
    page.text
}

/// The columns of a character as it is drawn; of a tab the most that it can take.
fn columns_of(character: char) -> usize {
    match character {
        '\t' => TAB_WIDTH,
        hidden if clean::is_hidden(hidden) => {
            let mut shown = String::new();
            clean::push_shown(&mut shown, hidden);
            shown.chars().count()
        }
        plain => plain.width().unwrap_or(0),
    }
}

/// How many bytes of these characters fit into that many columns. Of characters that take none, such as accents by
/// themselves, no more are taken than anybody could mean.
fn fitting(characters: impl Iterator<Item = char>, room: usize) -> usize {
    const MOST_IN_A_COLUMN: usize = 8;
    let mut used = 0;
    let kept = characters.take(room.saturating_mul(MOST_IN_A_COLUMN)).take_while(|character| {
        used += columns_of(*character);
        used <= room
    });
    kept.map(char::len_utf8).sum()
}

/// The parts of a line that are drawn, from left to right, apart from each other: all of it where there is room, and else
/// what stands around the marked bytes, a little more of it behind them than before.
fn kept_parts(text: &str, line: Range<usize>, marked: &[usize], room: usize) -> Vec<Range<usize>> {
    if fitting(text[line.clone()].chars(), room) == line.len() {
        return vec![line];
    }
    let mut centres: Vec<usize> = marked.iter().map(|byte| (*byte).clamp(line.start, line.end)).collect();
    if centres.is_empty() {
        centres.push(line.start);
    }
    centres.sort_unstable();
    let mut kept = room;
    loop {
        let parts = parts_around(text, &line, &centres, kept);
        let dots = 1 + parts.len();
        let used: usize = parts.iter().flat_map(|part| text[part.clone()].chars()).map(columns_of).sum();
        let over = (used + dots).saturating_sub(room);
        if over == 0 || kept <= 1 {
            return parts;
        }
        kept = kept.saturating_sub(over.div_ceil(parts.len())).max(1);
    }
}

/// The parts around the centres, each of that many columns; those that touch are one.
fn parts_around(text: &str, line: &Range<usize>, centres: &[usize], columns: usize) -> Vec<Range<usize>> {
    let before = columns * 2 / 5;
    let mut parts: Vec<Range<usize>> = Vec::new();
    for &centre in centres {
        let left = fitting(text[line.start..centre].chars().rev(), before);
        // What is not needed before the place is used behind it.
        let spare = if centre - left == line.start { before - columns_in(&text[line.start..centre]) } else { 0 };
        let right = fitting(text[centre..line.end].chars(), columns - before + spare);
        let (start, end) = (centre - left, centre + right);
        match parts.last_mut() {
            Some(last) if start <= last.end => last.end = last.end.max(end),
            _ => parts.push(start..end),
        }
    }
    parts
}

fn columns_in(text: &str) -> usize {
    text.chars().map(columns_of).sum()
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

//! A finding in whole sentences, without a frame or a drawing, for screen readers and braille displays: every sort of thing
//! that there is to say has a line of its own, which begins with what it is. Nothing is broken at a width.

use super::parts::{self, MOST_PLACES};
use super::{excerpt, severity_word};
use crate::clean;
use crate::finding::{Finding, Label};
use crate::source::{FileId, SourceFile, Sources, Span};
use crate::words::capital;
use std::io::{self, Write};

/// Columns of a line of the pattern that are said; of a longer one what stands around the place.
const LONGEST_LINE: usize = 240;

/// Writes all findings, each followed by an empty line.
///
/// # Errors
/// What `out` gives.
pub fn write(out: &mut impl Write, sources: &Sources, findings: &[Finding]) -> io::Result<()> {
    findings.iter().try_for_each(|finding| out.write_all(text(sources, finding).as_bytes()))
}

/// One finding as lines of text with an empty one at the end. The spans must be of `sources`.
#[must_use]
pub fn text(sources: &Sources, finding: &Finding) -> String {
    let at = &finding.at;
    let severity = capital(severity_word(finding.rule.severity));
    let file = clean::line(sources.get(at.span.file).name());
    let mut lines =
        vec![format!("{severity} in {} of {file}: {}", lines_of(sources, at.span), sentence(&finding.what))];
    lines.push(format!("The line: {}", line_of(sources, at.span)));
    lines.extend(marked(sources, at));
    for label in finding.also.iter().take(MOST_PLACES) {
        lines.push(format!("See also {}", second_place(sources, at.span.file, label)));
    }
    lines.extend(parts::more_places(finding).map(|more| format!("And {more}.")));
    let optional = |title: &str, words: &str| (!words.is_empty()).then(|| format!("{title}: {}", sentence(words)));
    let place = finding.place.as_ref().map(parts::place);
    lines.extend(place.and_then(|place| optional("Where", &place)));
    lines.extend(optional("Why", &finding.why));
    lines.extend(finding.picture.as_ref().and_then(|picture| optional("The beds", &picture.words)));
    lines.extend(optional("What to do", &finding.mend));
    lines.extend(parts::safe_fix(sources, finding).and_then(|fix| optional("Can be mended", &fix)));
    lines.extend(parts::only_in(finding).map(|sizes| sentence(&capital(&sizes))));
    lines.push(format!("Rule: {}", finding.rule));
    lines.into_iter().map(|line| line + "\n").collect::<String>() + "\n"
}

/// On one line, with an end.
fn sentence(words: &str) -> String {
    let words = clean::line(words.trim_end());
    if words.ends_with(['.', '!', '?', ':']) { words.into_owned() } else { format!("{words}.") }
}

/// `line 12`, `lines 12 to 40`.
fn lines_of(sources: &Sources, span: Span) -> String {
    let (first, last) = ends(sources.get(span.file), span);
    if first == last { format!("line {}", first + 1) } else { format!("lines {} to {}", first + 1, last + 1) }
}

/// The indices of the first and the last line of a span.
fn ends(file: &SourceFile, span: Span) -> (usize, usize) {
    let last = span.start.max(span.end.saturating_sub(1));
    (file.line_index(span.start), file.line_index(last))
}

/// The first line of a span as it is written, without the blanks around it.
fn line_of(sources: &Sources, span: Span) -> String {
    let file = sources.get(span.file);
    let range = file.line_range(file.line_index(span.start));
    let line = range.start..range.end.min(file.text().len());
    let shown = excerpt::shown_line(file.text(), line, &[span.start as usize], LONGEST_LINE);
    match shown.trim().replace('\t', " ") {
        empty if empty.is_empty() => "it is empty.".to_owned(),
        line => line,
    }
}

/// The marked words, if they are not the whole line, and what is said of them there.
fn marked(sources: &Sources, label: &Label) -> Option<String> {
    let file = sources.get(label.span.file);
    let (first, last) = ends(file, label.span);
    let words = sources.words(label.span).trim();
    let line = file.text().get(file.line_range(first)).unwrap_or_default().trim();
    let is_part = first == last && words != line && !words.is_empty();
    let said = if label.text.is_empty() { String::new() } else { format!(": {}", label.text) };
    if is_part {
        let (words, column) = (shortened(words), sources.position(label.span).column);
        return Some(sentence(&format!("The place in it: `{words}`, from column {column}{said}")));
    }
    (!label.text.is_empty()).then(|| sentence(&format!("Marked{said}")))
}

/// ``line 18, `in work front L5-R5`: the front bed works these needles.``
fn second_place(sources: &Sources, main: FileId, label: &Label) -> String {
    let file = if label.span.file == main {
        String::new()
    } else {
        format!(" of {}", clean::line(sources.get(label.span.file).name()))
    };
    let said = if label.text.is_empty() { String::new() } else { format!(": {}", label.text) };
    sentence(&format!("{}{file}, `{}`{said}", lines_of(sources, label.span), line_of(sources, label.span)))
}

/// Words of which the end is left out where they are far too many.
fn shortened(words: &str) -> String {
    let mut kept: String = words.chars().take(LONGEST_LINE).collect();
    if kept.len() < words.len() {
        kept.push('…');
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::{Fix, Picture, Place};
    use crate::rules::find;

    #[test]
    fn everything_has_a_line_of_its_own_that_says_what_it_is() {
        let mut sources = Sources::default();
        let text = "piece \"Scarf\" {\n    in work front L3-R3\n\ttransfer back to front\n}\n";
        let file = sources.add("breakwater.wale", text);
        let used = sources.add("mooring.wale", "needles 74 each side\n");
        let span = |words: &str| {
            let start = text.find(words).expect("the words stand in the text") as u32;
            Span { file, start, end: start + words.len() as u32 }
        };
        let mut finding = find("lost-stitch")
            .expect("a rule")
            .finds(span("back to front"), "the stitch of back L4 has no needle to go to")
            .marked("L4 faces no needle in work")
            .also(span("L3-R3"), "the front bed works these needles")
            .also(Span { file: used, start: 8, end: 10 }, "")
            .because("The back bed carries 8 stitches.\nThe front bed has 6 needles in work.")
            .mend("Bring front L4 and R4 into work before the transfer: `in work front L4-R4`.")
            .fix(Fix::new("write `in work front L4-R4` on a line before it", span("back"), "").safe_if(true));
        finding.picture = Some(Picture {
            drawn: "back   o o\n".to_owned(),
            below: "after this line".to_owned(),
            words: "around back L4: L4 with 1 loop".to_owned(),
        });
        finding.place = Some(Place { piece: "Scarf".to_owned(), row: 12, pass: Some((2, 4)), outer: None });
        finding.sizes = vec!["long".to_owned(), "wide".to_owned()];
        insta::assert_snapshot!(super::text(&sources, &finding), @r#"
        Error in line 3 of breakwater.wale: the stitch of back L4 has no needle to go to.
        The line: transfer back to front
        The place in it: `back to front`, from column 11: L4 faces no needle in work.
        See also line 2, `in work front L3-R3`: the front bed works these needles.
        See also line 1 of mooring.wale, `needles 74 each side`.
        Where: in piece "Scarf", row 12, pass 2 of 4.
        Why: The back bed carries 8 stitches. The front bed has 6 needles in work.
        The beds: around back L4: L4 with 1 loop.
        What to do: Bring front L4 and R4 into work before the transfer: `in work front L4-R4`.
        Can be mended: write `in work front L4-R4` on a line before it (wale check --mend).
        Only in sizes long and wide.
        Rule: lost-stitch
        "#);
        finding.at.span = Span { file, start: 0, end: text.len() as u32 };
        finding.also.clear();
        let told = super::text(&sources, &finding);
        assert!(told.starts_with("Error in lines 1 to 4 of breakwater.wale: the stitch"), "{told}");
        assert!(told.contains("\nThe line: piece \"Scarf\" {\nMarked: L4 faces no needle in work.\n"), "{told}");
    }

    #[test]
    fn nothing_is_drawn_and_nothing_is_endless() {
        let mut sources = Sources::default();
        let file = sources.add("\u{1b}[31m.wale", format!("row {}\n\n", "knit, ".repeat(100_000)));
        for (start, end) in [(0, 600_000), (300_000, 300_004), (600_100, 600_200)] {
            let finding = find("off-bed")
                .expect("a rule")
                .finds(Span { file, start, end }, "here?\n")
                .also(Span { file, start: 8, end: 500_000 }, "\u{202e}");
            let told = super::text(&sources, &finding);
            assert!(told.len() < 1_200, "{} bytes", told.len());
            let hidden = told.chars().find(|&letter| letter != '\n' && clean::is_hidden(letter));
            assert_eq!((hidden, told.contains(['│', '┌', '^'])), (None, false), "{told}");
            assert!(told.contains(": here?\n") && told.ends_with("\nRule: off-bed\n\n"), "{told}");
        }
    }
}

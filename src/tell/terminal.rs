//! Findings as a knitter reads them at the screen: the sentence, the line of the pattern with the place marked, where in
//! the knitting it happens, why, a picture of the beds, and what to do.

use super::excerpt::{Excerpt, LINES_AFTER_START, LINES_BEFORE_END};
use super::wrap::{WIDTH, wrapped, wrapped_to};
use super::{Colour, severity_word, short};
use crate::catalogue::Severity;
use crate::clean;
use crate::finding::{Finding, Fix, Place};
use crate::source::{FileId, Sources};
use crate::words;
use codespan_reporting::diagnostic::{self, Diagnostic};
use codespan_reporting::term::{self, termcolor};
use std::io::{self, Write};

/// More second places than this are counted, not drawn.
const MOST_PLACES: usize = 6;
/// Columns that the frame puts before a note, with a line number of three digits.
const FRAME: usize = 6;
/// Columns between tab stops.
const TAB_WIDTH: usize = 4;

/// Writes all findings, each followed by an empty line.
///
/// # Errors
/// What `out` gives.
pub fn write(out: &mut impl Write, sources: &Sources, findings: &[Finding], colour: Colour) -> io::Result<()> {
    findings.iter().try_for_each(|finding| out.write_all(text(sources, finding, colour).as_bytes()))
}

/// One finding as lines of text with an empty one at the end. The spans must be of `sources`.
#[must_use]
pub fn text(sources: &Sources, finding: &Finding, colour: Colour) -> String {
    let spans: Vec<_> =
        std::iter::once(&finding.at).chain(finding.also.iter().take(MOST_PLACES)).map(|label| label.span).collect();
    let (excerpt, ranges) = Excerpt::new(sources, &spans);
    let head = severity_word(finding.rule.severity).len() + finding.rule.name.len() + "[]: ".len();
    let mut diagnostic = Diagnostic::new(match finding.rule.severity {
        Severity::Error => diagnostic::Severity::Error,
        Severity::Warning => diagnostic::Severity::Warning,
    })
    .with_code(finding.rule.name)
    .with_message(wrapped(&finding.what, head, 4))
    .with_notes(notes(sources, finding));
    for (number, range) in ranges.into_iter().enumerate() {
        let (style, label) = match number.checked_sub(1) {
            None => (diagnostic::LabelStyle::Primary, &finding.at),
            Some(second) => (diagnostic::LabelStyle::Secondary, &finding.also[second]),
        };
        let label = diagnostic::Label::new(style, label.span.file, range).with_message(clean::line(&label.text));
        diagnostic = diagnostic.with_label(label);
    }
    drawn(&excerpt, &diagnostic, colour).unwrap_or_else(|| short::line(sources, finding) + "\n\n")
}

/// The finding drawn with its excerpt; none when the renderer refuses.
fn drawn(excerpt: &Excerpt<'_>, diagnostic: &Diagnostic<crate::source::FileId>, colour: Colour) -> Option<String> {
    let config = term::Config {
        tab_width: TAB_WIDTH,
        start_context_lines: LINES_AFTER_START,
        end_context_lines: LINES_BEFORE_END,
        ..term::Config::default()
    };
    match colour {
        Colour::Plain => {
            let text = term::emit_into_string(&config, excerpt, diagnostic).ok()?;
            // The frame leaves blanks at the end of empty lines; they are noise in a file or a comparison.
            Some(text.lines().map(|line| line.trim_end().to_owned() + "\n").collect())
        }
        Colour::Coloured => {
            let mut out = termcolor::Ansi::new(Vec::new());
            term::emit_to_write_style(&mut out, &config, excerpt, diagnostic).ok()?;
            String::from_utf8(out.into_inner()).ok()
        }
    }
}

/// The notes under the excerpt, each wrapped.
fn notes(sources: &Sources, finding: &Finding) -> Vec<String> {
    let note = |title: &str, words: &str| wrapped_to(WIDTH - FRAME, &format!("{title}{words}"), 0, 2);
    let mut notes = Vec::new();
    if finding.also.len() > MOST_PLACES {
        notes.push(format!("and {} more places", finding.also.len() - MOST_PLACES));
    }
    if let Some(place) = &finding.place {
        notes.push(note("where: ", &place_words(place)));
    }
    if !finding.why.is_empty() {
        notes.push(note("why: ", &finding.why));
    }
    if let Some(picture) = &finding.picture {
        let lines = clean::block(picture.trim_matches('\n')).replace('\n', "\n  ");
        notes.push(format!("the beds:\n  {lines}"));
    }
    if !finding.mend.is_empty() {
        notes.push(note("what to do: ", &finding.mend));
    }
    if let Some(fix) = finding.fix.as_ref().filter(|fix| fix.safe) {
        notes.push(note("can be mended: ", &format!("{} (wale check --mend{})", fix.title, other_file(sources, fix))));
    }
    match finding.sizes.as_slice() {
        [] => {}
        [size] => notes.push(note("only in size ", size)),
        sizes => notes.push(note("only in sizes ", &words::list(sizes))),
    }
    notes
}

/// The name of the file that a fix changes, with a blank before it, where that is not the first of the pattern: only the
/// file that is asked for is mended.
fn other_file(sources: &Sources, fix: &Fix) -> String {
    match fix.edits.first().map(|edit| edit.span.file) {
        Some(file) if file != FileId::default() => {
            let name = clean::line(sources.get(file).name()).into_owned();
            if name.contains(' ') { format!(" \"{name}\"") } else { format!(" {name}") }
        }
        _ => String::new(),
    }
}

/// A place in words: `in piece "Scarf", row 12, pass 2 of 4`.
fn place_words(place: &Place) -> String {
    let row = match place.row {
        0 => "before row 1".to_owned(),
        row => format!("row {row}"),
    };
    let pass = place.pass.map_or_else(String::new, |(number, of)| format!(", pass {number} of {of}"));
    format!("in piece \"{}\", {row}{pass}", place.piece)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Rule;
    use crate::plan::rules::{DUPLICATE_NAME, OFF_BED, OPEN_REPEAT, UNKNOWN_NAME};
    use crate::rules::find;
    use crate::source::Span;
    use crate::tell::json::Report;

    const SCARF: &str =
        "pattern \"Breakwater scarf\"\n\npiece \"Scarf\" {\n    in work front L3-R3\n\ttransfer back to front\n}\n";

    fn span_of(sources: &Sources, file: FileId, words: &str) -> Span {
        let start = sources.get(file).text().find(words).expect("the words stand in the text") as u32;
        Span { file, start, end: start + words.len() as u32 }
    }

    fn scarf() -> (Sources, Finding) {
        let mut sources = Sources::default();
        let file = sources.add("breakwater.wale", SCARF);
        let mut finding = find("lost-stitch").expect("a rule").finds(span_of(&sources, file, "transfer back to front"),
            "the stitch of back L4 has no needle to go to",
        )
        .marked("L4 faces no needle in work")
        .also(span_of(&sources, file, "L3-R3"), "the front bed works these needles")
        .because(
            "In row 12 the back bed carries 8 stitches on L4 to R4 and the front bed has 6 needles in work, so 2 stitches \
             fall off their needles and run down.",
        )
        .mend("Bring front L4 and R4 into work before the transfer: `in work front L4-R4`.");
        finding.picture = Some("back   o o o o\nfront    | | |\n       ^\n".to_owned());
        finding.place = Some(Place { piece: "Scarf".to_owned(), row: 12, pass: Some((2, 4)) });
        finding.sizes = vec!["long".to_owned()];
        (sources, finding)
    }

    #[test]
    fn a_finding_with_everything() {
        let (sources, finding) = scarf();
        insta::assert_snapshot!(text(&sources, &finding, Colour::Plain), @r#"
        error[lost-stitch]: the stitch of back L4 has no needle to go to
          ┌─ breakwater.wale:5:2
          │
        4 │     in work front L3-R3
          │                   ----- the front bed works these needles
        5 │     transfer back to front
          │     ^^^^^^^^^^^^^^^^^^^^^^ L4 faces no needle in work
          │
          = where: in piece "Scarf", row 12, pass 2 of 4
          = why: In row 12 the back bed carries 8 stitches on L4 to R4 and the front bed has 6 needles in
              work, so 2 stitches fall off their needles and run down.
          = the beds:
              back   o o o o
              front    | | |
                     ^
          = what to do: Bring front L4 and R4 into work before the transfer: `in work front L4-R4`.
          = only in size long
        "#);
    }

    #[test]
    fn the_same_on_one_line() {
        let (sources, finding) = scarf();
        assert_eq!(
            short::line(&sources, &finding),
            "breakwater.wale:5:2: error: the stitch of back L4 has no needle to go to (size long) [lost-stitch]"
        );
    }

    #[test]
    fn the_same_as_json() {
        let (sources, finding) = scarf();
        insta::assert_json_snapshot!(Report::new(&[(&sources, &[finding])]), @r#"
        {
          "findings_version": 1,
          "files": [
            "breakwater.wale"
          ],
          "findings": [
            {
              "rule": "lost-stitch",
              "severity": "error",
              "what": "the stitch of back L4 has no needle to go to",
              "why": "In row 12 the back bed carries 8 stitches on L4 to R4 and the front bed has 6 needles in work, so 2 stitches fall off their needles and run down.",
              "mend": "Bring front L4 and R4 into work before the transfer: `in work front L4-R4`.",
              "picture": "back   o o o o\nfront    | | |\n       ^\n",
              "place": {
                "piece": "Scarf",
                "row": 12,
                "pass": {
                  "number": 2,
                  "of": 4
                }
              },
              "sizes": [
                "long"
              ],
              "at": {
                "file": "breakwater.wale",
                "start": {
                  "line": 5,
                  "column": 2,
                  "byte": 69
                },
                "end": {
                  "line": 5,
                  "column": 24,
                  "byte": 91
                },
                "text": "L4 faces no needle in work"
              },
              "also": [
                {
                  "file": "breakwater.wale",
                  "start": {
                    "line": 4,
                    "column": 19,
                    "byte": 62
                  },
                  "end": {
                    "line": 4,
                    "column": 24,
                    "byte": 67
                  },
                  "text": "the front bed works these needles"
                }
              ],
              "fix": null
            }
          ],
          "errors": 1,
          "warnings": 0
        }
        "#);
    }

    #[test]
    fn colour_only_when_asked() {
        let (sources, finding) = scarf();
        assert!(!text(&sources, &finding, Colour::Plain).contains('\u{1b}'));
        assert!(text(&sources, &finding, Colour::Coloured).contains("\u{1b}["));
    }

    #[test]
    fn long_sentences_are_wrapped() {
        let (sources, mut finding) = scarf();
        finding.what = "word ".repeat(60);
        finding.why = "reason ".repeat(60);
        for line in text(&sources, &finding, Colour::Plain).lines() {
            assert!(line.chars().count() <= 100, "{line}");
        }
    }

    #[test]
    fn control_characters_never_reach_the_terminal() {
        let mut sources = Sources::default();
        let file = sources.add("\u{1b}[31mred.wale", "piece \"\u{1b}[2J\u{9b}\u{202e}\u{7}\" {\r\n}\r\n");
        let mut finding = OPEN_REPEAT
            .finds(span_of(&sources, file, "{"), "a \u{1b}[1m b")
            .marked("\u{7}")
            .because("\u{1b}")
            .mend("\r\u{8}");
        finding.picture = Some("\u{1b}[3m".to_owned());
        finding.place = Some(Place { piece: "\u{1b}]0;".to_owned(), row: 0, pass: None });
        finding.sizes = vec!["\u{1b}".to_owned(), "b".to_owned()];
        let all = [text(&sources, &finding, Colour::Plain), short::line(&sources, &finding), {
            let mut out = Vec::new();
            Report::new(&[(&sources, std::slice::from_ref(&finding))]).write(&mut out).expect("writing to memory");
            String::from_utf8(out).expect("JSON is UTF-8")
        }];
        for text in all {
            let hidden = text.chars().find(|&character| character != '\n' && clean::is_hidden(character));
            assert_eq!(hidden, None, "{text}");
        }
    }

    #[test]
    fn the_caret_stands_under_the_place_behind_tabs_and_wide_characters() {
        let mut sources = Sources::default();
        let file = sources.add("a.wale", "\tnote \"編み物\" knot\n");
        let finding = UNKNOWN_NAME.finds(span_of(&sources, file, "knot"), "no such name");
        let text = text(&sources, &finding, Colour::Plain);
        // Four columns of tab, `note "`, six columns for the three wide characters, `" `.
        let caret = text.lines().find(|line| line.contains("^^^^")).expect("there is a caret");
        assert_eq!(caret, format!("  │ {}^^^^", " ".repeat(4 + 6 + 6 + 2)));
        assert!(text.contains("a.wale:1:13"), "{text}");
    }

    #[test]
    fn an_endless_line_is_cut_around_the_place() {
        let mut sources = Sources::default();
        let noise = "front knit, ".repeat(1_000_000);
        let file = sources.add("a.wale", format!("row {noise}HERE {noise}THERE {noise}\n"));
        let finding = OFF_BED
            .finds(span_of(&sources, file, "HERE"), "no such needle")
            .marked("this")
            .also(span_of(&sources, file, "THERE"), "and this");
        let text = text(&sources, &finding, Colour::Plain);
        assert!(text.len() < 2_000, "{} bytes", text.len());
        assert!(text.contains("…") && text.contains("HERE") && text.contains("THERE"), "{text}");
        let lines: Vec<&str> = text.lines().collect();
        let shown = lines.iter().position(|line| line.contains("HERE")).expect("the line is shown");
        let column = |line: &str, found: usize| line[..found].chars().count();
        let caret = lines[shown + 1].find("^^^^").expect("there is a caret");
        let word = lines[shown].find("HERE").expect("it is there");
        assert_eq!(column(lines[shown + 1], caret), column(lines[shown], word), "{text}");
    }

    /// A rule that only warns, with a name of another length.
    static LEFT: Rule = Rule { name: "left-on-needles", severity: Severity::Warning, ..OFF_BED };

    #[test]
    fn a_long_block_is_drawn_by_its_ends() {
        let mut sources = Sources::default();
        let file = sources.add("a.wale", format!("piece \"A\" {{\n{}}}\n", "    row front knit\n".repeat(500_000)));
        let end = sources.get(file).text().len() as u32;
        let finding = LEFT.finds(Span { file, start: 10, end }, "not empty");
        insta::assert_snapshot!(text(&sources, &finding, Colour::Plain), @r#"
        warning[left-on-needles]: not empty
               ┌─ a.wale:1:11
               │
             1 │   piece "A" {
               │ ╭───────────^
             2 │ │     row front knit
             3 │ │     row front knit
             4 │ │     row front knit
               · │
        500001 │ │     row front knit
        500002 │ │ }
               │ ╰─^
        "#);
    }

    #[test]
    fn spans_at_the_edges_are_drawn() {
        for text_of_file in ["", "\n", "\r\n", "x", "é", "a\nb", "\n\n\n", "\u{0}\u{0}"] {
            let mut sources = Sources::default();
            let file = sources.add("a.wale", text_of_file);
            for start in 0..=text_of_file.len() as u32 + 2 {
                for end in 0..=text_of_file.len() as u32 + 2 {
                    let finding = OFF_BED.finds(Span { file, start, end }, "here");
                    let out = text(&sources, &finding, Colour::Plain);
                    assert!(out.starts_with("error[off-bed]: here\n"), "{out}");
                    assert!(out.contains("a.wale:"), "{out}");
                }
            }
        }
    }

    #[test]
    fn a_finding_over_two_files() {
        let mut sources = Sources::default();
        let first = sources.add("hat.wale", "use \"yarns.wale\"\nyarn slate { count 2/15 Nm }\n");
        let second = sources.add("yarns.wale", "yarn slate { count 60 tex }\n");
        let finding = DUPLICATE_NAME
            .finds(span_of(&sources, first, "slate"), "`slate` is given twice")
            .also(span_of(&sources, second, "slate"), "first given here");
        insta::assert_snapshot!(text(&sources, &finding, Colour::Plain), @r#"
        error[duplicate-name]: `slate` is given twice
          ┌─ hat.wale:2:6
          │
        2 │ yarn slate { count 2/15 Nm }
          │      ^^^^^
          │
          ┌─ yarns.wale:1:6
          │
        1 │ yarn slate { count 60 tex }
          │      ----- first given here
        "#);
    }

    #[test]
    fn very_many_second_places_are_counted() {
        let (sources, mut finding) = scarf();
        finding.also = vec![finding.also[0].clone(); 1000];
        let text = text(&sources, &finding, Colour::Plain);
        assert!(text.contains("and 994 more places"), "{text}");
        assert!(text.lines().count() < 40, "{text}");
    }

    proptest::proptest! {
        #[test]
        fn any_text_and_any_spans_are_drawn(
            texts in proptest::collection::vec("([a-c \\t{}\\n\\r]|\\PC|\\pC){0,60}", 1..3),
            repeated in 1_usize..20,
            spans in proptest::collection::vec((0_u16..3, 0_u32..1500, 0_u32..1500), 1..9),
        ) {
            let mut sources = Sources::default();
            for text in &texts {
                sources.add("a.wale", text.repeat(repeated));
            }
            let mut labels = spans.iter().map(|&(file, start, end)| Span {
                file: FileId(file % texts.len() as u16),
                start,
                end,
            });
            let first = labels.next().expect("there is one span at least");
            let finding = labels.fold(OFF_BED.finds(first, "here"), |finding, span| {
                finding.also(span, "and here")
            });
            let out = text(&sources, &finding, Colour::Plain);
            let hidden = out.chars().find(|&character| character != '\n' && clean::is_hidden(character));
            proptest::prop_assert_eq!(hidden, None);
            proptest::prop_assert!(out.contains("a.wale:"), "the renderer gave up: {}", out);
            proptest::prop_assert!(out.lines().nth(1).is_some_and(|line| line.contains("┌─")), "{}", out);
        }
    }
}

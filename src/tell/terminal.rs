//! Findings as a knitter reads them at the screen: the sentence, the line of the pattern with the place marked, where in
//! the knitting it happens, why, a picture of the beds, and what to do.

use super::excerpt::{Excerpt, LINES_AFTER_START, LINES_BEFORE_END, TAB_WIDTH};
use super::parts::{self, MOST_PLACES};
use super::snippet::Snippet;
use super::wrap::{columns, wrapped_to};
use super::{Screen, severity_word, short};
use crate::catalogue::Severity;
use crate::clean;
use crate::finding::{Finding, Picture};
use crate::source::Sources;
use codespan_reporting::diagnostic::{self, Diagnostic};
use codespan_reporting::term;
use std::io::{self, Write};

/// Columns that the frame puts before a note, with a line number of three digits; it is not less for a smaller number, so
/// that the notes of all findings look alike.
const FRAME: usize = 6;

/// Writes all findings, each followed by an empty line.
///
/// # Errors
/// What `out` gives.
pub fn write(
    out: &mut impl Write,
    sources: &Sources,
    findings: &[Finding],
    screen: impl Into<Screen>,
) -> io::Result<()> {
    let screen = screen.into();
    findings.iter().try_for_each(|finding| out.write_all(text(sources, finding, screen).as_bytes()))
}

/// One finding as lines of text with an empty one at the end. The spans must be of `sources`.
///
/// No line is wider than the screen but for a path or a single word that is.
#[must_use]
pub fn text(sources: &Sources, finding: &Finding, screen: impl Into<Screen>) -> String {
    let screen = screen.into();
    let spans: Vec<_> =
        std::iter::once(&finding.at).chain(finding.also.iter().take(MOST_PLACES)).map(|label| label.span).collect();
    let (excerpt, ranges) = Excerpt::new(sources, &spans, screen.width());
    let head = severity_word(finding.rule.severity).len() + finding.rule.name.len() + "[]: ".len();
    let room = screen.width() - FRAME.max(excerpt.frame());
    let mut diagnostic = Diagnostic::new(match finding.rule.severity {
        Severity::Error => diagnostic::Severity::Error,
        Severity::Warning => diagnostic::Severity::Warning,
    })
    .with_code(finding.rule.name)
    .with_message(wrapped_to(screen.width(), &finding.what, head, 4))
    .with_notes(notes(sources, finding, room));
    for (number, range) in ranges.into_iter().enumerate() {
        let (style, label) = match number.checked_sub(1) {
            None => (diagnostic::LabelStyle::Primary, &finding.at),
            Some(second) => (diagnostic::LabelStyle::Secondary, &finding.also[second]),
        };
        let label = diagnostic::Label::new(style, label.span.file, range).with_message(clean::line(&label.text));
        diagnostic = diagnostic.with_label(label);
    }
    drawn(&excerpt, &diagnostic, screen).unwrap_or_else(|| short::line(sources, finding) + "\n\n")
}

/// The finding drawn with its excerpt; none when the renderer refuses.
fn drawn(excerpt: &Excerpt<'_>, diagnostic: &Diagnostic<crate::source::FileId>, screen: Screen) -> Option<String> {
    let config = term::Config {
        tab_width: TAB_WIDTH,
        start_context_lines: LINES_AFTER_START,
        end_context_lines: LINES_BEFORE_END,
        ..term::Config::default()
    };
    let mut snippet = Snippet::default();
    term::emit_to_write_style(&mut snippet, &config, excerpt, diagnostic).ok()?;
    let labels: Vec<&str> = diagnostic.labels.iter().map(|label| label.message.as_str()).collect();
    Some(snippet.text(&labels, screen))
}

/// The notes under the excerpt, each wrapped to that many columns.
fn notes(sources: &Sources, finding: &Finding, room: usize) -> Vec<String> {
    let note = |title: &str, words: &str| wrapped_to(room, &format!("{title}{words}"), 0, 2);
    let mut notes = Vec::new();
    notes.extend(parts::more_places(finding).map(|more| note("and ", &more)));
    notes.extend(finding.place.as_ref().map(|place| note("where: ", &parts::place(place))));
    if !finding.why.is_empty() {
        notes.push(note("why: ", &finding.why));
    }
    notes.extend(finding.picture.as_ref().map(|picture| beds(picture, room)));
    if !finding.mend.is_empty() {
        notes.push(note("what to do: ", &finding.mend));
    }
    notes.extend(parts::safe_fix(sources, finding).map(|fix| note("can be mended: ", &fix)));
    notes.extend(parts::only_in(finding).map(|sizes| note("", &sizes)));
    notes
}

/// The picture as a note. Of a picture that is too wide the same number of needles is left out on both sides, as the one
/// that it is about stands in the middle.
fn beds(picture: &Picture, room: usize) -> String {
    const INDENT: usize = 2;
    let mut out = "the beds:".to_owned();
    let room = room - INDENT;
    let drawn = clean::block(picture.drawn.trim_matches('\n'));
    let over = drawn.lines().map(columns).max().unwrap_or(0).saturating_sub(room);
    for line in drawn.lines() {
        let letters = line.chars();
        let line: String = if over == 0 {
            line.to_owned()
        } else {
            let name = letters.clone().take(Picture::MARGIN);
            name.chain(letters.skip(Picture::MARGIN + over.div_ceil(2))).take(room).collect()
        };
        out.push_str(&format!("\n{:INDENT$}{}", "", line.trim_end()));
    }
    for line in clean::block(picture.below.trim_matches('\n')).lines() {
        out.push_str(&format!("\n{:INDENT$}{}", "", wrapped_to(room, line, 0, INDENT)));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Rule;
    use crate::finding::Place;
    use crate::plan::rules::{DUPLICATE_NAME, OFF_BED, OPEN_REPEAT, UNKNOWN_NAME};
    use crate::rules::find;
    use crate::source::{FileId, Span};
    use crate::tell::json::Report;
    use crate::tell::{Colour, plain};

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
        finding.picture = Some(Picture {
            drawn: "back   o o o o\nfront    | | |\n       ^\n".to_owned(),
            below: "after this line".to_owned(),
            words: "The back bed has loops on L4 to R4".to_owned(),
        });
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
              after this line
          = what to do: Bring front L4 and R4 into work before the transfer: `in work front L4-R4`.
          = only in size long
        "#);
    }

    #[test]
    fn the_same_on_one_line() {
        let (sources, finding) = scarf();
        assert_eq!(
            short::line(&sources, &finding),
            "breakwater.wale:5:2: error: the stitch of back L4 has no needle to go to (size long); bring front L4 and R4 into \
             work before the transfer: `in work front L4-R4` [lost-stitch]"
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
              "picture": "back   o o o o\nfront    | | |\n       ^\nafter this line",
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
              "fix": null,
              "ways": []
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
    fn a_narrow_screen_is_kept_to() {
        let (sources, mut finding) = scarf();
        finding.picture = Some(Picture {
            drawn: format!("back   {}\nfront  {}\n{}^ front R30\n", "2 ".repeat(15), "| ".repeat(15), " ".repeat(21)),
            below: "after this line; gaiting opposite, racked to the centre\n| in work and empty".to_owned(),
            words: String::new(),
        });
        let told = text(&sources, &finding, Screen::new(Colour::Plain, Some(40)));
        insta::assert_snapshot!(told, @r#"
        error[lost-stitch]: the stitch of back
            L4 has no needle to go to
          ┌─ breakwater.wale:5:2
          │
        4 │     in work front L3-R3
          │                   -----
          │    the front bed works these needles
        5 │     transfer back to front
          │     ^^^^^^^^^^^^^^^^^^^^^^
          │    L4 faces no needle in work
          │
          = where: in piece "Scarf", row 12,
              pass 2 of 4
          = why: In row 12 the back bed
              carries 8 stitches on L4 to R4
              and the front bed has 6 needles
              in work, so 2 stitches fall off
              their needles and run down.
          = the beds:
              back    2 2 2 2 2 2 2 2 2 2 2 2
              front   | | | | | | | | | | | |
                                ^ front R30
              after this line; gaiting
              opposite, racked to the centre
              | in work and empty
          = what to do: Bring front L4 and R4
              into work before the transfer:
              `in work front L4-R4`.
          = only in size long
        "#);
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
        let hidden = || "\u{1b}[3m".to_owned();
        finding.picture = Some(Picture { drawn: hidden(), below: hidden(), words: hidden() });
        finding.place = Some(Place { piece: "\u{1b}]0;".to_owned(), row: 0, pass: None });
        finding.sizes = vec!["\u{1b}".to_owned(), "b".to_owned()];
        let (at, told) = (short::line(&sources, &finding), plain::text(&sources, &finding));
        let all = [text(&sources, &finding, Colour::Plain), at, told, {
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
        assert!(text.lines().all(|line| columns(line) <= Screen::WIDEST), "{text}");
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
        fn no_line_is_wider_than_the_screen(
            lines in proptest::collection::vec("[ \ta-f編é]{0,150}", 1..30),
            places in proptest::collection::vec((0_usize..30, 0_u32..400, 0_u32..60, "([a-f]{1,9} ){0,12}"), 1..4),
            width in 30_usize..130,
            severity in 0..2,
        ) {
            let mut sources = Sources::default();
            let file = sources.add("a.wale", lines.join("\n"));
            let length = sources.get(file).text().len() as u32;
            let mut labels = places.iter().map(|(line, start, long, said)| {
                let line = sources.get(file).line_range(*line % lines.len());
                let start = (line.start as u32 + start % (line.len() as u32 + 1)).min(length);
                (Span { file, start, end: (start + long).min(length) }, said.trim_end())
            });
            let (first, said) = labels.next().expect("there is one place at least");
            let rule = if severity == 0 { &OFF_BED } else { &LEFT };
            let finding = labels.fold(rule.finds(first, "word ".repeat(30)).marked(said), |finding, (span, said)| {
                finding.also(span, said)
            });
            let finding = finding.because("reason ".repeat(40)).mend("Write `one` line. ".repeat(9));
            let screen = |colour| Screen::new(colour, Some(width));
            let told = text(&sources, &finding, screen(Colour::Plain));
            for line in told.lines() {
                proptest::prop_assert!(columns(line) <= screen(Colour::Plain).width(), "{} columns: {}", columns(line), told);
            }
            // What is said of a place is all there, and colour changes nothing else.
            let flat = |text: &str| text.replace('│', " ").split_whitespace().collect::<Vec<_>>().join(" ");
            proptest::prop_assert!(flat(&told).contains(&flat(said)), "{}: {}", said, told);
            let inked = text(&sources, &finding, screen(Colour::Coloured));
            let mut shown = String::new();
            for (number, part) in inked.split('\u{1b}').enumerate() {
                shown.push_str(if number == 0 { part } else { part.split_once('m').map_or(part, |(_, rest)| rest) });
            }
            proptest::prop_assert_eq!(shown, told);
        }

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

//! One mistake is one finding: a line that cannot be read is reported where it stands, and neither hides what is wrong
//! elsewhere nor makes other lines look wrong.
#![allow(missing_docs, clippy::unwrap_used)]

use crate::common::{self, examples, found};

/// Which lines stand inside a piece or a stitch: between its opening line and the brace in the first column.
fn inside(text: &str) -> Vec<usize> {
    let mut block = false;
    let mut lines = Vec::new();
    for (index, line) in text.lines().enumerate() {
        if line.starts_with('}') {
            block = false;
        }
        if block && !line.trim().is_empty() && !line.trim().starts_with(['#', '}']) {
            lines.push(index);
        }
        block |= line.starts_with("piece ") || line.starts_with("stitch ");
    }
    lines
}

fn with_line(text: &str, index: usize, make: impl Fn(&str) -> String) -> String {
    text.lines().enumerate().map(|(at, line)| if at == index { make(line) } else { line.to_owned() } + "\n").collect()
}

#[test]
fn every_example_is_clean() {
    for (name, text) in examples() {
        assert_eq!(found(&name, &text), [], "{name}");
    }
}

#[test]
fn a_line_that_cannot_be_read_is_one_finding_on_that_line() {
    let mut lines = 0;
    for (name, text) in examples() {
        for index in inside(&text) {
            // A word nobody knows, a word too many at the end, and a sign that stands for nothing.
            let words = ["zzz ", "~ "].map(|word| with_line(&text, index, |line| format!("{word}{line}")));
            for broken in words {
                let found = found(&name, &broken);
                assert_eq!(
                    found.iter().map(|(line, _)| *line as usize).collect::<Vec<_>>(),
                    [index + 1],
                    "{name}, line {}: {found:?}\n{broken}",
                    index + 1
                );
                lines += 1;
            }
        }
    }
    assert!(lines > 200, "{lines} lines were broken");
}

#[test]
fn broken_lines_are_each_reported_and_the_rest_is_still_checked() {
    for (name, text) in examples() {
        let rows: Vec<usize> = inside(&text)
            .into_iter()
            .filter(|&index| text.lines().nth(index).unwrap().trim().starts_with("row"))
            .collect();
        let mut broken = text.clone();
        for &index in &rows {
            broken = with_line(&broken, index, |line| line.replace("knit", "kint"));
        }
        // A mistake of another kind in a piece of its own, behind all of them.
        broken.push_str("piece \"Last\" {\n    in work front L5-R5\n    row front knit\n}\n");
        let last = broken.lines().count() as u32 - 1;
        let expected: Vec<u32> = rows.iter().map(|&index| index as u32 + 1).collect();
        let found = found(&name, &broken);
        let misspelt: Vec<u32> =
            found.iter().filter(|(_, rule)| *rule == "misspelt-word").map(|(line, _)| *line).collect();
        assert_eq!(misspelt, expected, "{name}: {found:?}");
        assert!(found.contains(&(last, "no-yarn")), "{name}: {found:?}");
    }
}

#[test]
fn line_ends_do_not_matter() {
    for (name, text) in examples() {
        let crlf = text.replace('\n', "\r\n");
        assert_eq!(found(&name, &crlf), [], "{name}");
        assert_eq!(found(&name, text.trim_end()), [], "{name} without its last line end");
    }
}

#[test]
fn a_line_without_its_opening_brace_is_one_finding_and_the_fix_puts_it_back() {
    let mut lines = 0;
    for (name, text) in examples() {
        for (index, line) in text.lines().enumerate().filter(|(_, line)| line.ends_with(" {")) {
            let broken = with_line(&text, index, |line| line.trim_end_matches(" {").to_owned());
            let checked = wale::check(&name, &broken, &common::Examples);
            let rules: Vec<&str> = checked.findings.iter().map(|finding| finding.rule.name).collect();
            assert_eq!(rules, ["missing-block"], "{name}: {line}");
            let fix = checked.findings[0].fix.as_ref().unwrap();
            assert!(fix.safe, "{name}: {line}");
            let mut mended = broken.clone();
            mended.replace_range(fix.edits[0].span.range(), &fix.edits[0].text);
            assert_eq!(mended.trim_end(), text.trim_end(), "{name}: {line}");
            // Where nothing is indented, the brace that is left over tells it.
            let flat: String = broken.lines().map(|line| line.trim_start().to_owned() + "\n").collect();
            let found = found(&name, &flat);
            assert!(matches!(found.as_slice(), [(_, "missing-block")]), "{name}: {line}: {found:?}");
            lines += 1;
        }
    }
    assert!(lines > 30, "{lines} lines");
}

#[test]
fn a_piece_without_any_brace_is_one_finding() {
    for opening in ["piece \"Cuff\"", "stitch rib on both"] {
        let text =
            format!("machine mooring {{\n    needles 92 each side\n}}\n{opening}\nrow both knit\nrow front knit\n");
        assert_eq!(found("cuff.wale", &text), [(4, "missing-block")], "{text}");
    }
}

#[test]
fn advice_is_given_in_words_that_can_be_typed() {
    let text = "machine mooring {\n    needles 92 each side\n    pitch 5\n    longest float 5\n}\nyarn slate {\n    ball 50\n}\n\
                stitch rib on front {\n    row both knit\n}\npiece \"Cuff\" {\n    in work front L20 - R20\n    in work front, L5-R5\n}\n";
    let checked = wale::check("cuff.wale", text, &common::Examples);
    let advice: String = checked.findings.iter().map(|finding| format!("{}\n", finding.mend)).collect();
    for words in ["`5 mm`", "`longest float 5 needles`", "`50 g`", "write `on both`", "`L20-R20`"] {
        assert!(advice.contains(words), "{words}: {advice}");
    }
    let dash = checked.findings.iter().find(|finding| finding.mend.contains("L20-R20")).unwrap();
    let edit = &dash.fix.as_ref().filter(|fix| fix.safe).unwrap().edits[0];
    assert_eq!((&text[edit.span.range()], edit.text.as_str()), ("L20 - R20", "L20-R20"));
}

//! What cannot be read is reported once and at its place, and all the rest is read.

use super::{place, places, read};
use crate::source::{FileId, Span};
use crate::syntax::tree::{Kind, NeedlesWord, Statement};
use crate::syntax::{MOST_FINDINGS, rules};

/// One broken line each: the rule, line and column, and words that the finding must hold.
const BROKEN: &[(&str, &str, usize, usize, &str)] = &[
    ("row front knot", "misspelt-word", 1, 11, "`knit`"),
    ("row front knitt, back tuck", "misspelt-word", 1, 11, "`knit`"),
    ("row frnt knit", "misspelt-word", 1, 5, "`front`"),
    ("rwo front knit", "misspelt-word", 1, 1, "`row`"),
    ("transfr back to front", "misspelt-word", 1, 1, "`transfer`"),
    ("transfer back to front, joning", "misspelt-word", 1, 25, "`joining`"),
    ("gaiting betwen", "misspelt-word", 1, 9, "`between`"),
    ("repeat 3 tims", "misspelt-word", 1, 10, "`times`"),
    ("in wrk front", "misspelt-word", 1, 4, "`work`"),
    ("cast on zigzak", "misspelt-word", 1, 9, "`zigzag`"),
    ("26 stiches and 44 rows in 10 cm", "misspelt-word", 1, 4, "`stitches`"),
    ("row front knit on L30-X3", "unreadable-line", 1, 19, "needles such as"),
    ("Row front knit", "capital-word", 1, 1, "`row`"),
    ("row Front knit", "capital-word", 1, 5, "`front`"),
    ("row front Knit", "capital-word", 1, 11, "`knit`"),
    ("work halfCardigan 3 times", "capital-word", 1, 6, "`half-cardigan`"),
    ("count 2/15 nm", "capital-word", 1, 12, "`Nm`"),
    ("row front knit on l30", "capital-word", 1, 19, "`L30`"),
    ("row front knit on l30-r29", "capital-word", 1, 19, "`L30-R29`"),
    ("row", "unreadable-line", 1, 4, "a bed"),
    ("row front", "unreadable-line", 1, 10, "`knit`, `tuck` or `slip`"),
    ("row front knit back tuck", "unreadable-line", 1, 16, "a comma"),
    ("gaiting", "unreadable-line", 1, 8, "`between` or `opposite`"),
    ("stitch size 4,5", "unreadable-line", 1, 14, "`4.5`"),
    ("hello", "unreadable-line", 1, 1, "no line begins with `hello`"),
    ("+-*", "unreadable-line", 1, 1, "no line begins with `+`"),
    ("row(front knit)", "unreadable-line", 1, 4, "`row front knit`"),
    ("let left = 3", "reserved-word", 1, 5, "a name"),
    ("gauge tuck { 24 stitches and 48 rows in 10 cm }", "reserved-word", 1, 7, "`my-tuck`"),
    ("yarn \"foam\" {}", "unreadable-line", 1, 6, "and no quotation marks"),
    ("transfer A front to back", "unreadable-line", 1, 10, "`transfer front to back`"),
    ("let A = L5", "capital-word", 1, 5, "Names are written in small letters"),
    ("work tile (odd-tiles, even-tiles)", "unreadable-line", 1, 12, "such as `depth 3 rows`"),
    ("work tile (3 rows)", "unreadable-line", 1, 12, "`work NAME (NAME NUMBER rows)`"),
    ("in work front L25-R25 2x1", "unreadable-line", 1, 23, "Behind `in work front L25-R25`"),
    ("move back L30 to L29", "unreadable-line", 1, 18, "`move back L30 to front L29`"),
    ("note \u{201c}hang the weights\u{201d}", "look-alike-character", 1, 6, "curly quotation mark"),
    ("row front knit on L30\u{2013}R30", "look-alike-character", 1, 22, "en dash"),
    ("row front knit on L30\u{2014}R30", "look-alike-character", 1, 22, "em dash"),
    ("let a = b \u{2212} 3", "look-alike-character", 1, 11, "minus sign"),
    ("let a = b \u{d7} 3", "look-alike-character", 1, 11, "multiplication sign"),
    ("row\u{a0}front knit", "look-alike-character", 1, 4, "non-breaking space"),
    ("row front knit on L\u{ff13}\u{ff10}", "look-alike-character", 1, 20, "full-width digit"),
    ("row fr\u{43e}nt knit", "look-alike-character", 1, 7, "Cyrillic letter"),
    ("r\u{3bf}w front knit", "look-alike-character", 1, 2, "Greek letter"),
    ("row front knit\u{feff}", "look-alike-character", 1, 15, "byte order mark"),
    ("row\u{3000}front knit", "look-alike-character", 1, 4, "full-width blank"),
    ("note \"a", "unclosed-quote", 1, 6, "never closed"),
    ("row front\u{0} knit", "control-character", 1, 10, "NUL"),
    ("note \"a\u{1b}[31mb\"", "control-character", 1, 8, "escape"),
    ("repeat 3 times", "missing-block", 1, 15, "`{`"),
    ("row both knit {\n}", "needless-block", 1, 15, "no block"),
    ("{\n}", "needless-block", 1, 1, "belongs to no line"),
    ("row both knit\n}", "stray-brace", 2, 1, "closes nothing"),
    ("piece \"A\" {\nrow both knit\n", "unclosed-brace", 1, 11, "never closed"),
    ("piece \"A {\nrow both knit\n}", "unclosed-quote", 1, 7, "never closed"),
];

#[test]
fn a_broken_line_is_reported_once_and_at_its_place() {
    for &(text, rule, line, column, words) in BROKEN {
        let (_, findings) = read(text);
        assert_eq!(places(text), [(rule, line, column)], "{text}: {findings:#?}");
        let finding = &findings[0];
        let said = format!("{} {} {} {}", finding.what, finding.at.text, finding.why, finding.mend);
        assert!(said.contains(words), "{text}: `{words}` is not in: {said}");
        assert!(rules::RULES.contains(&finding.rule), "{}", finding.rule.name);
        assert!(!finding.mend.is_empty() && !said.contains("EOI") && !said.contains("Rule::"), "{text}: {said}");
    }
}

#[test]
fn several_broken_lines_do_not_hide_the_others() {
    let text = "pattern \"X\"\npiece \"A\" {\n  row front knti\n  row both knit\n  gaitng between {\n    row back knit\n  }\n  note \u{201c}x\u{201d}\n  bind off front\n}\nfoo bar\n";
    assert_eq!(
        places(text),
        [("misspelt-word", 3, 13), ("misspelt-word", 5, 3), ("look-alike-character", 8, 8), ("unreadable-line", 11, 1)]
    );
    let (tree, _) = read(text);
    assert_eq!(tree.statements.len(), 3);
    let piece = tree.statements[1].body.as_ref().expect("the piece has its block");
    assert_eq!(piece.statements.len(), 5);
    assert!(matches!(piece.statements[0].kind, Kind::Broken));
    assert!(matches!(piece.statements[1].kind, Kind::Row(_)));
    let broken = piece.statements[2].body.as_ref().expect("a broken line keeps its block");
    assert!(matches!(broken.statements[0].kind, Kind::Row(_)));
    assert!(matches!(piece.statements[4].kind, Kind::Needles(NeedlesWord::BindOff, _)));
}

#[test]
fn an_unclosed_brace_points_at_its_opener_by_the_indentation() {
    let text = "piece \"A\" {\n    repeat 3 times {\n        row both knit\n    row both knit\n    repeat 2 times {\n        row both knit\n    }\n}\npiece \"B\" {\n    row both knit\n}\n";
    let (tree, findings) = read(text);
    assert_eq!(places(text), [("unclosed-brace", 2, 20)]);
    assert_eq!(place(text, findings[0].also[0].span), (4, 5));
    assert_eq!(tree.statements.len(), 2, "both pieces are read as pieces");

    let text = "piece \"A\" {\n    row both knit\n\npiece \"B\" {\n    row both knit\n}\n";
    let (tree, findings) = read(text);
    assert_eq!(places(text), [("unclosed-brace", 1, 11)]);
    assert_eq!(place(text, findings[0].also[0].span), (4, 1));
    assert_eq!(tree.statements.len(), 2);
}

#[test]
fn two_versions_side_by_side_are_one_finding() {
    let text = "piece \"A\" {\n<<<<<<< mine\nrow front knit\n||||||| before\nrow both slip\n=======\nrow back knit\n>>>>>>> theirs\n}\n";
    let (tree, findings) = read(text);
    assert_eq!(places(text), [("merge-marker", 2, 1)]);
    let lines: Vec<usize> = findings[0].also.iter().map(|label| place(text, label.span).0).collect();
    assert_eq!(lines, [4, 6, 8]);
    assert_eq!(tree.statements[0].body.as_ref().map(|block| block.statements.len()), Some(3));
    assert_eq!(places("<<<<<<< a\n=======\n>>>>>>> b\n<<<<<<< c\n=======\n>>>>>>> d\n").len(), 2);
}

#[test]
fn letters_of_any_alphabet_and_signs_in_quotes_and_comments_are_no_look_alikes() {
    let text = "\u{feff}let ребро = L5 # \u{201c}x\u{201d} \u{2013}\nnote \"\u{201c}x\u{201d} \u{2013} y\"\nyarn 青 {\n}\nwork ribs-été\n";
    assert_eq!(places(text), []);
}

#[test]
fn blocks_go_64_deep_and_no_deeper() {
    let nest = |depth: usize| format!("{}row both knit\n{}", "repeat 2 times {\n".repeat(depth), "}\n".repeat(depth));
    assert_eq!(places(&nest(64)), []);
    assert_eq!(places(&nest(65)), [("too-deep", 65, 16)]);
    assert_eq!(places(&nest(100_000)), [("too-deep", 65, 16)]);
}

#[test]
fn a_flood_of_findings_ends_in_a_number() {
    let (tree, findings) = read(&"hello\n".repeat(1_000));
    assert_eq!(findings.len(), MOST_FINDINGS + 1);
    let last = findings.last().expect("there are findings");
    assert_eq!(last.rule.name, "too-many-findings");
    assert!(last.what.starts_with("800 more"), "{}", last.what);
    assert_eq!(tree.statements.len(), 1_000);
}

#[test]
fn texts_of_one_thing_only_are_refused_without_ado() {
    for part in [
        "{",
        "}",
        "(",
        "\"",
        "\0",
        "a",
        "<<<<<<< \n",
        "row a(",
        "1+",
        "L1-",
        "“",
        "row both knit,",
        "X ",
        "\r",
        "\" {\n",
        "{}",
        "#",
    ] {
        let text = part.repeat(100_000 / part.len());
        let (_, findings) = read(&text);
        assert!(findings.len() <= MOST_FINDINGS + 1, "{part:?}");
        let one = format!("row front {text}");
        let (tree, _) = read(&one);
        assert!(!tree.statements.is_empty(), "{part:?}");
    }
}

#[test]
fn a_brace_may_stand_on_the_next_line() {
    for text in ["repeat 3 times\n{\nrow both knit\n}\n", "repeat 3 times # why\n\n  # more\n{ row both knit }"] {
        let (tree, findings) = read(text);
        assert_eq!(findings, []);
        let Statement { span, body, .. } = &tree.statements[0];
        assert_eq!(*span, Span { file: FileId(0), start: 0, end: 14 });
        assert_eq!(body.as_ref().map(|block| block.statements.len()), Some(1));
    }
}

#[test]
fn a_missing_opening_brace_is_one_finding_and_the_block_is_read() {
    for (text, line, column, inside, safe) in [
        (
            "piece \"A\" {\n    repeat 3 times\n        row both knit\n    }\n    bind off front\n}\n",
            2,
            19,
            1,
            Some(true),
        ),
        ("piece \"A\" {\nrepeat 3 times\nrow both knit\n}\nbind off front\n}\n", 2, 15, 1, Some(false)),
        ("piece \"A\" {\n    repeat 3 times\n    row both knit\n    }\n    bind off front\n}\n", 2, 19, 1, Some(false)),
        ("piece \"A\" {\n    repeat 3 times # so\n        row both knit\n    bind off front\n}\n", 2, 19, 1, None),
        ("piece \"A\"\n    row both knit\n    bind off front\n}\n", 1, 10, 2, Some(true)),
        ("piece \"A\"\nrow both knit\nbind off front\n}\n", 1, 10, 2, Some(false)),
        ("stitch rib on both\n    row both knit\n}\npiece \"A\" {\n}\n", 1, 19, 1, Some(true)),
        ("stitch rib on both\n    row both knit\npiece \"A\" {\n}\n", 1, 19, 1, None),
        ("stitch rib on both\n    row both knit\n", 1, 19, 1, None),
        ("yarn slate\n}\npiece \"A\" {\n}\n", 1, 11, 0, Some(false)),
        ("repeat 2 times\n    repeat 2 times {\n        row both knit\n    }\n}\n", 1, 15, 1, Some(true)),
        ("repeat 2 times\n    row both knit }\n", 1, 15, 1, Some(false)),
    ] {
        let (tree, findings) = read(text);
        assert_eq!(places(text), [("missing-block", line, column)], "{text}");
        assert_eq!(findings[0].fix.as_ref().map(|fix| fix.safe), safe, "{text}");
        let mut opened = tree.statements[0].body.as_ref().expect("a block");
        while let Some(Statement { body: Some(body), .. }) = opened.statements.first().filter(|_| line == 2) {
            opened = body;
        }
        assert_eq!(opened.statements.len(), inside, "{text}");
        if let Some(fix) = &findings[0].fix {
            let mut mended = text.to_owned();
            mended.replace_range(fix.edits[0].span.range(), &fix.edits[0].text);
            assert_eq!(places(&mended), [], "{mended}");
        }
    }
}

#[test]
fn every_missing_opening_brace_is_found() {
    let text =
        "piece \"A\"\n    section \"Cuff\"\n        repeat 3 times\n            row both knit\n        }\n    }\n}\n";
    assert_eq!(places(text), [("missing-block", 1, 10), ("missing-block", 2, 19), ("missing-block", 3, 23)]);
    let flat: String = text.lines().map(|line| line.trim_start().to_owned() + "\n").collect();
    assert_eq!(places(&flat).len(), 3);
    // Without any brace nothing below is sure to belong to it.
    assert_eq!(places("piece \"A\"\nrow both knit\nbind off front\n"), [("missing-block", 1, 10)]);
}

//! Line ends, numbers, spans, and what holds for every text there is.

use super::{places, plain, read, spans};
use crate::syntax::keywords;
use crate::syntax::tree::{Kind, OperandKind};
use crate::syntax::words::{SAMPLES, is_keyword};
use proptest::prelude::*;

/// The scarf of the language's first page.
const SCARF: &str = r#"pattern "Breakwater scarf"

machine club {                      # a profile; also loaded from a file with `use`
    needles 92 each side            # L92 .. L1 | R1 .. R92 on both beds
    pitch 4.7 mm
    racking back bed, 4 left to 7 right
    selectors both beds
    transfer carriage
    most tucks 4
    longest float 25 mm
    racking slack 2
}

yarn slate { count 2/15 Nm }
gauge half-cardigan { 26 stitches and 44 rows in 10 cm, washed }

sizes short, long
let length = 120 (160) cm           # sizes as the trade prints them: first (others)

stitch half-cardigan on both {
    row front knit, back knit
    row front knit, back tuck
}

piece "Scarf" {
    gaiting between
    in work front L30-R30, back L30-R29
    thread slate
    stitch size 3
    cast on zigzag
    tubular 4 rows
    stitch size 5
    work half-cardigan for length      # rounded to whole repeats, and the sheet says by how much
    row both knit, loosened 3          # this row only
    gaiting opposite
    transfer back to front, joining
    expect 60 stitches front, 0 back
    out of work back
    bind off front
}
"#;

#[test]
fn the_scarf_is_read_whole() {
    let (tree, findings) = read(SCARF);
    assert_eq!(findings, []);
    assert_eq!(tree.statements.len(), 8);
    let sizes: Vec<usize> =
        tree.statements.iter().filter_map(|line| line.body.as_ref()).map(|block| block.statements.len()).collect();
    assert_eq!(sizes, [8, 1, 1, 2, 14]);
}

#[test]
fn every_sort_of_line_end_gives_the_same_tree() {
    let shape = |text: &str| {
        let (tree, findings) = read(text);
        assert_eq!(findings, [], "{text:?}");
        let debug = format!("{tree:?}");
        let mut shape = String::new();
        for part in debug.split("Span {") {
            shape.push_str(part.split_once('}').map_or(part, |(_, rest)| rest));
        }
        shape
    };
    let unix = shape(SCARF);
    assert_eq!(unix, shape(&SCARF.replace('\n', "\r\n")));
    assert_eq!(unix, shape(&SCARF.replace('\n', "\r")));
    assert_eq!(unix, shape(SCARF.trim_end()));
    assert_eq!(unix, shape(&SCARF.replace("    ", "\t")));
    assert_eq!(unix, shape(&SCARF.replace("    ", "").replace('\n', "  \t\n")));
    assert_eq!(unix, shape(&format!("\u{feff}{SCARF}")));
    for empty in ["", "\n", "\r\n", " ", "# only a comment", "\u{feff}", "\t\r"] {
        let (tree, findings) = read(empty);
        assert!(tree.statements.is_empty() && findings.is_empty(), "{empty:?}");
    }
}

#[test]
fn numbers_are_exact_and_never_overflow() {
    let number = |text: &str| {
        let (tree, findings) = read(&format!("let a = {text}"));
        assert_eq!(findings, []);
        let Kind::Let(_, value) = &tree.statements[0].kind else { panic!("{text}: {tree:?}") };
        let OperandKind::Quantity(quantity) = &value.first.kind else { panic!("{text}: {value:?}") };
        (quantity.values[0].units, quantity.values[0].decimals)
    };
    assert_eq!(number("0"), (0, 0));
    assert_eq!(number("12.50"), (1250, 2));
    assert_eq!(number("0.000000000000000001"), (1, 18));
    assert_eq!(number("1.50000000000000000000000000"), (1_500_000_000_000_000_000, 18));
    assert_eq!(number("9223372036854775807"), (i64::MAX, 0));
    assert_eq!(number("9223372036854775808"), (i64::MAX, 0));
    assert_eq!(number(&"9".repeat(1_000)), (i64::MAX, 0));
    assert_eq!(number(&format!("0.{}", "3".repeat(40))), (i64::MAX, 0));
}

#[test]
fn the_list_of_words_is_the_grammars() {
    let grammar = include_str!("../../../grammar/wale.pest");
    let mut words: Vec<&str> = grammar
        .lines()
        .map(|line| line.split("//").next().unwrap_or_default())
        .flat_map(|line| line.split('"').skip(1).step_by(2))
        .filter(|word| word.len() > 1 && word.bytes().all(|byte| byte.is_ascii_alphabetic()))
        .collect();
    words.sort_unstable();
    words.dedup();
    let mut listed: Vec<&str> = keywords().iter().copied().filter(|word| word.len() > 1).collect();
    listed.retain(|word| !matches!(*word, "empty" | "loaded"));
    assert_eq!(words, listed);
}

#[test]
fn every_first_word_has_a_sample_that_can_be_read() {
    for (word, samples) in SAMPLES.iter() {
        assert!(is_keyword(word), "{word}");
        for sample in samples {
            assert!(sample.starts_with(word), "{sample}");
            let whole = if sample.ends_with('{') { format!("{sample} }}") } else { sample.to_string() };
            assert_eq!(places(&whole), [], "{sample}");
        }
    }
}

#[test]
fn a_statements_span_holds_its_words_and_nothing_else() {
    let text = "  row front knit  # comment\n\trepeat 3 times  { work rib }";
    let (tree, _) = read(text);
    let words = |index: usize| &text[tree.statements[index].span.range()];
    assert_eq!((words(0), words(1)), ("row front knit", "repeat 3 times"));
    assert_eq!(plain(&format!("{:?}", tree.statements[1].kind)), "Repeat(Quantity([3]))");
}

/// Whatever the text: nothing breaks, and every span lies in the text, on characters, and inside what holds it.
fn holds_for(text: &str) {
    let (tree, findings) = read(text);
    for (span, parent) in spans(&tree, text.len()) {
        assert!(text.get(span.range()).is_some(), "{span:?} in {text:?}");
        assert!(parent.start <= span.start && span.end <= parent.end, "{span:?} outside {parent:?} in {text:?}");
    }
    for finding in &findings {
        for label in std::iter::once(&finding.at).chain(&finding.also) {
            assert!(text.get(label.span.range()).is_some(), "{finding:?} in {text:?}");
        }
    }
}

/// Words and signs that texts are made of, and some that they are not.
const PARTS: &[&str] = &[
    " ",
    "\n",
    "\r\n",
    "\t",
    "{",
    "}",
    "\"",
    "#",
    ",",
    "(",
    ")",
    "-",
    "+",
    "=",
    "L5",
    "R30",
    "L1-R2",
    "120 (160) cm",
    "9",
    "0.5",
    "\u{201c}",
    "\u{2013}",
    "\u{a0}",
    "\u{feff}",
    "\0",
    "é",
    "о",
    "青",
    "<<<<<<< ",
    "=======\n",
    ">>>>>>> x\n",
    "Row",
    "l30",
];

fn scraps() -> impl Strategy<Value = String> {
    let part = prop_oneof![
        prop::sample::select(PARTS).prop_map(str::to_owned),
        prop::sample::select(keywords()).prop_map(|word| format!("{word} ")),
        prop::sample::select(SAMPLES.as_slice()).prop_map(|(_, samples)| format!("{}\n", samples.join("` or `"))),
    ];
    prop::collection::vec(part, 0..40).prop_map(|parts| parts.concat())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn any_text_is_taken(text in any::<String>()) {
        holds_for(&text);
    }

    #[test]
    fn any_heap_of_scraps_is_taken(text in scraps()) {
        holds_for(&text);
    }

    #[test]
    fn a_pattern_with_something_wrong_is_taken(at in 0..SCARF.len(), length in 0..30_usize, scrap in scraps()) {
        let end = (at + length).min(SCARF.len());
        holds_for(&format!("{}{scrap}{}", &SCARF[..at], &SCARF[end..]));
    }
}

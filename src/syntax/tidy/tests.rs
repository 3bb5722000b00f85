//! Tests of the room.

use super::{Tidied, tidy};
use crate::source::FileId;
use std::borrow::Cow;

fn tidied(text: &str) -> Tidied<'_> {
    tidy(FileId(0), text)
}

/// Tidies one text to another, which is tidy already.
#[track_caller]
fn becomes(text: &str, wanted: &str) {
    let tidied = tidied(text);
    assert_eq!(tidied.findings, []);
    assert_eq!(tidied.text, wanted);
    let again = tidy(FileId(0), wanted);
    assert_eq!((again.text, again.findings), (Cow::Borrowed(wanted), Vec::new()));
}

#[track_caller]
fn stays(text: &str) {
    becomes(text, text);
}

#[test]
fn words_stand_one_blank_apart() {
    for (line, wanted) in [
        ("row\tfront   knit ,back  tuck", "row front knit, back tuck"),
        ("let  a=3 rows+2*b/4 - 1 row", "let a = 3 rows + 2 * b / 4 - 1 row"),
        ("let a = 120(160 ,80)cm", "let a = 120 (160, 80) cm"),
        ("let a=2.5cm+0.25 ( 1.5 )cm", "let a = 2.5 cm + 0.25 (1.5) cm"),
        ("let a = 120 ( 160,80 )", "let a = 120 (160, 80)"),
        ("in work front L12(14,16)-R12 (14, 16),back L1-R1", "in work front L12 (14, 16)-R12 (14, 16), back L1-R1"),
        (
            "stitch mark( middle  selection,count number )  on both {}",
            "stitch mark (middle selection, count number) on both {}",
        ),
        ("work mark(middle L1-R1,count 3)  4 times", "work mark (middle L1-R1, count 3) 4 times"),
        ("yarn slate { count  2/15   Nm }", "yarn slate { count 2/15 Nm }"),
        ("gauge rib {26stitches and 44rows in 10cm,washed}", "gauge rib { 26 stitches and 44 rows in 10 cm, washed }"),
        ("half step with  the\tracking handle", "half step with the racking handle"),
        ("needles 9 each  side", "needles 9 each side"),
        ("sizes a,b ,c", "sizes a, b, c"),
        (
            "row front slip on \"|.  .\"  over L1-R4 , knit  elsewhere",
            "row front slip on \"|.  .\" over L1-R4, knit elsewhere",
        ),
        ("note   \"two  blanks , {braces} # and\ta tab\"", "note \"two  blanks , {braces} # and\ta tab\""),
        ("let a = half-cardigan  -  b", "let a = half-cardigan - b"),
        ("let ålgrön =every 2  over 3  each side", "let ålgrön = every 2 over 3 each side"),
    ] {
        becomes(line, &format!("{wanted}\n"));
    }
}

#[test]
fn the_inside_of_charts_and_fabrics_is_kept() {
    stays("chart waves {\n    \"|..|  ..\"\n    \". .\"\n}\nfabric basket {\n    XX  OO\n    X X\tO .\n}\n");
}

#[test]
fn blocks_are_indented_and_braces_come_to_their_lines() {
    becomes(
        "piece \"A\"\n{\nrepeat 2 times{\nrow front knit}\n      rows 2 both knit }",
        "piece \"A\" {\n    repeat 2 times {\n        row front knit\n    }\n    rows 2 both knit\n}\n",
    );
}

#[test]
fn a_block_stays_on_its_line_if_it_fits_there() {
    stays("yarn slate {}\n");
    stays("yarn slate {\n}\n");
    becomes("yarn slate{ } yarn foam {colour \"foam\"}", "yarn slate {}\nyarn foam { colour \"foam\" }\n");
    // A block in it opens the outer one.
    becomes(
        "section \"A\" { repeat 2 times { row front knit } }",
        "section \"A\" {\n    repeat 2 times { row front knit }\n}\n",
    );
    becomes("section \"A\" { yarn b {} }", "section \"A\" {\n    yarn b {}\n}\n");
    // So does a line end, a comment, or what cannot be read.
    becomes("yarn a { strands 2\n}", "yarn a {\n    strands 2\n}\n");
    becomes("yarn a {\nstrands 2 }", "yarn a {\n    strands 2\n}\n");
    becomes("yarn a\n{ strands 2 }", "yarn a {\n    strands 2\n}\n");
    becomes("yarn a { strands 2 # two\n}", "yarn a {\n    strands 2  # two\n}\n");
    becomes("yarn a { strnds 2 }", "yarn a {\n    strnds 2\n}\n");
    // 80 characters, and one more.
    let allow = |reason: usize| format!("allow long-float because \"{}\" {{ row front knit }}\n", "é".repeat(reason));
    assert_eq!(allow(34).trim_end().chars().count(), 80);
    stays(&allow(34));
    becomes(&allow(35), &allow(35).replace("{ ", "{\n    ").replace(" }", "\n}"));
    becomes(&format!("section \"S\" {{\n{}}}", allow(30)), &format!("section \"S\" {{\n    {}}}\n", allow(30)));
    let opened = allow(31).replace("{ ", "{\n        ").replace(" }", "\n    }");
    becomes(&format!("section \"S\" {{\n{}}}", allow(31)), &format!("section \"S\" {{\n    {opened}}}\n"));
}

#[test]
fn comments_keep_their_places_and_their_inside() {
    becomes(
        "#  a\tb   \n   # c\nyarn a{#d\n# e\n strands 2# f\n} # g\n   # h",
        "#  a\tb\n# c\nyarn a {  #d\n    # e\n    strands 2  # f\n}  # g\n# h\n",
    );
    // A brace goes before the comments that keep it from its line.
    becomes("yarn a # b\n{ # c\n}", "yarn a {  # b\n    # c\n}\n");
    becomes("yarn a\n\n# b\n\n# c\n\n{ strands 2 }", "yarn a {\n    # b\n\n    # c\n    strands 2\n}\n");
}

#[test]
fn one_empty_line_stays_of_several() {
    becomes(
        "\n\n# a\n\n\n\nyarn a {\n\n\nstrands 2\n \t\n\nball 50 g\n\n}\n\n\nyarn b {}\n\n\n",
        "# a\n\nyarn a {\n    strands 2\n\n    ball 50 g\n}\n\nyarn b {}\n",
    );
    becomes("yarn a { # why\n\nstrands 2\n}", "yarn a {  # why\n    strands 2\n}\n");
    for nothing in ["", " ", "\n", "\r\n\t\r\n", "\u{feff}", "\u{feff}\n"] {
        becomes(nothing, "");
    }
}

#[test]
fn line_ends_are_all_alike() {
    becomes("yarn a {}\r\n\r\n\r\nyarn b {}\r\n", "yarn a {}\r\n\r\nyarn b {}\r\n");
    becomes("yarn a {}\r\nyarn b {}", "yarn a {}\r\nyarn b {}\r\n");
    for mixed in
        ["yarn a {}\r\n\r\nyarn b {}\n", "yarn a {}\r\ryarn b {}", "yarn a {}\n\ryarn b {}", "yarn a {}\n\r\nyarn b {}"]
    {
        becomes(mixed, "yarn a {}\n\nyarn b {}\n");
    }
}

#[test]
fn what_cannot_be_read_keeps_its_inside() {
    for (text, wanted, unread) in [
        (
            "piece \"A\" {\nrwo  front\tknit \nrow  front knit\n}",
            "piece \"A\" {\n    rwo  front\tknit\n    row front knit\n}\n",
            1,
        ),
        ("note  \"never   closed {\n}", "note  \"never   closed {\n}\n", 1),
        ("note  \"never # closed\n{\n}", "note  \"never # closed\n{\n}\n", 1),
        ("rwo  front{ row  both knit }", "rwo  front { row both knit }\n", 1),
        ("rwo  front # why\n{ }", "rwo  front  # why\n{}\n", 1),
        ("let a = \u{a0}3 \u{1b}[2J\0", "let a = \u{a0}3 \u{1b}[2J\0\n", 1),
        // What would be something else at the start of a line does not get there.
        (" <<<<<<< ours  {", "    <<<<<<< ours  {\n", 1),
        ("yarn a {} ======= {", "yarn a {}\n    ======= {\n", 1),
        (" <<<<<<<ours", "<<<<<<<ours\n", 1),
        ("\u{feff}\u{feff}row", "    \u{feff}row\n", 1),
        ("\n \u{feff}row\n \u{feff}row", "    \u{feff}row\n\u{feff}row\n", 2),
    ] {
        // With as many lines that can be read: otherwise it would be taken for no pattern.
        let more = "note \"a\"\n".repeat(unread);
        let (text, wanted) = (format!("{text}\n{more}"), format!("{wanted}{more}"));
        becomes(&text, &wanted);
        assert_eq!(tidied(&text).unread, unread, "{text}");
        assert_eq!(tidied(&wanted).unread, unread, "{text}");
    }
    becomes("\u{feff}  yarn a {}", "yarn a {}\n");
}

#[test]
fn where_nobody_can_tell_what_belongs_where_all_is_left_alone() {
    for (text, rules) in [
        ("piece  \"A\" {\n", &["unclosed-brace"][..]),
        ("yarn  a {}\n}\n", &["stray-brace"]),
        ("}\n  {\n", &["stray-brace", "unclosed-brace"]),
        ("<<<<<<< ours\nyarn  a {}\n=======\nyarn b {}\n>>>>>>> theirs\n", &["merge-marker"]),
        ("yarn  a {}\n=======", &["merge-marker"]),
    ] {
        let tidied = tidied(text);
        assert_eq!(tidied.text, text);
        assert_eq!(tidied.findings.iter().map(|finding| finding.rule.name).collect::<Vec<_>>(), rules, "{text}");
    }
    let deep = format!("{}{}", "repeat  2 times {".repeat(65), "}".repeat(65));
    assert_eq!(tidied(&deep).findings.iter().map(|finding| finding.rule.name).collect::<Vec<_>>(), ["too-deep"]);
    // Behind so many other findings that it is not listed.
    let late = format!("{}}}", "rwo\n".repeat(300));
    assert_eq!(
        tidied(&late).findings.iter().map(|finding| finding.rule.name).collect::<Vec<_>>(),
        ["too-many-findings"]
    );
}

/// What guards all the rest must be able to fail.
#[test]
fn every_change_but_of_blanks_is_noticed() {
    let text =
        "let a = 3 (4) cm  # why\nnote \"two  blanks\"\npiece \"A\" {\n    rwo  front\n}\nfabric f {\n    X  O\n}\n";
    let same = |other: &str| super::same::is_same(FileId(0), text, other);
    // The same words in the same order, but the second is the mark of two versions.
    assert!(!super::same::is_same(FileId(0), " =======\n", "=======\n"));
    assert_eq!(super::proved(FileId(0), text, text.replace('4', "5")), None);
    assert_eq!(super::changed(FileId(0)).rule.name, "not-tidied");
    assert!(same(&text.replace("3 (4) cm", "3(4)cm").replace("    ", "")));
    for (from, to) in [
        ("3", "4"),
        ("cm", "mm"),
        ("why", "who"),
        ("  # why", ""),
        ("two  ", "two "),
        ("rwo  ", "rwo "),
        ("X  O", "X O"),
        ("let a", "leta"),
        ("}\nfabric", "\nfabric"),
        ("note \"two  blanks\"\n", ""),
        ("# why\n", "# why "),
    ] {
        assert!(text.contains(from) && !same(&text.replacen(from, to, 1)), "{from} to {to}");
    }
}

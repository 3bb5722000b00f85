//! 10,000 distinct lines read, beside a TOML parser on as many bytes.

use super::seconds;
use std::fmt::Write;
use wale::source::FileId;

const LINES: usize = 10_000;

pub(crate) fn bench() {
    let pattern = pattern();
    assert_eq!(wale::syntax::read(FileId(0), &pattern).1, [], "the lines can be read");
    let ours = seconds(20, || {
        std::hint::black_box(wale::syntax::read(FileId(0), &pattern));
    });
    println!("{LINES} distinct lines read, {} bytes, into the syntax tree: {:.2} ms", pattern.len(), ours * 1e3);
    for (name, text) in [
        ("tables of three values", cut(tables(), pattern.len())),
        ("inline tables with a list", cut(inline(), pattern.len())),
        ("key = \"text\" alone", cut(keys(), pattern.len())),
    ] {
        let theirs = seconds(20, || {
            std::hint::black_box(text.parse::<toml::Table>().expect("it is TOML"));
        });
        println!(
            "  TOML parser on as many bytes, {name:26} {:6.2} ms   (wale takes {:.2} of it; goal: not more than 1)",
            theirs * 1e3,
            ours / theirs
        );
    }
}

fn pattern() -> String {
    let mut text = String::from("stitch long on both {\n");
    let needle = |at: usize| format!("{}{}", if at.is_multiple_of(2) { 'L' } else { 'R' }, at / 2 % 90 + 1);
    for at in 0..LINES - 2 {
        let _ = match at % 5 {
            0 => writeln!(text, "    row front knit on {}, tuck elsewhere, back knit, loosened {at}", needle(at)),
            1 => writeln!(text, "    row front knit, back tuck on every {at}"),
            2 => writeln!(
                text,
                "    rows {at} front knit, back knit on L{}-R{}, slip elsewhere",
                at % 90 + 1,
                at % 89 + 1
            ),
            3 => writeln!(text, "    row to left front knit, back tuck on {} or {}", needle(at), needle(at / 3)),
            _ => writeln!(text, "    transfer front L{}-R{} to back, joining   # line {at}", at % 90 + 1, at % 88 + 1),
        };
    }
    text + "}\n"
}

fn tables() -> String {
    (0..LINES * 2).fold(String::new(), |text, at| {
        text + &format!("[[row]]\nfront = \"knit on R{at}\"\nback = \"tuck\"\nloosened = {at}\n\n")
    })
}

fn inline() -> String {
    (0..LINES * 2).fold(String::new(), |text, at| {
        text + &format!("row-{at} = {{ front = \"knit\", needles = [\"L{at}\", \"R{at}\"], loosened = {at} }}\n")
    })
}

fn keys() -> String {
    (0..LINES * 2).fold(String::new(), |text, at| {
        text + &format!("row-{at} = \"front knit on L{at}, tuck elsewhere, back knit\"\n")
    })
}

/// The text up to the last whole table or line within that many bytes.
fn cut(text: String, bytes: usize) -> String {
    let end = text[..bytes].rfind("\n[[").or_else(|| text[..bytes].rfind('\n')).expect("it has lines");
    text[..end].to_owned()
}

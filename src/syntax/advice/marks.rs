//! Marks of lists, tables and sentences that stand around a line or in it.

use super::super::reach::reads;
use super::super::words::is_needle;

/// The line without its marks, and what is said of them; none if it has none.
pub(super) fn cleaned(line: &str) -> Option<(String, String)> {
    let mut text = line.trim().to_owned();
    let mut said: Vec<&str> = Vec::new();
    if let Some(inner) = within(&text, '"').or_else(|| within(&text, '\'')) {
        said.push(
            "Only words for the knitter and titles stand in quotation marks; an instruction stands without them.",
        );
        text = inner;
    }
    let behind = text.trim_end_matches(['.', ';', ',', '…', '!']).trim_end();
    if behind.len() < text.len() {
        said.push("A line ends by itself, without a full stop or a semicolon.");
        text = behind.to_owned();
    }
    if let Some(rest) = bullet(&text) {
        said.push(
            "A line needs no number and no mark of a list before it: the order of the lines is the order of the work.",
        );
        text = rest.to_owned();
    }
    if let Some(rest) = row_number(&text) {
        said.push("Rows need no numbers: wale counts them, and the sheet prints them.");
        text = rest;
    }
    if let Some(rest) = ranges(&text) {
        said.push("Needles from one to another are written with a dash and no blanks, as in `L10-R10`.");
        text = rest;
    }
    (!said.is_empty()).then(|| (text, said.join(" ")))
}

fn within(text: &str, mark: char) -> Option<String> {
    let inner = text.strip_prefix(mark)?.strip_suffix(mark)?;
    (!inner.contains(mark)).then(|| inner.trim().to_owned())
}

fn bullet(text: &str) -> Option<&str> {
    if let Some(rest) = text.strip_prefix(['-', '*', '•', '·', '●', '▪', '–']) {
        return rest.starts_with([' ', '\t']).then(|| rest.trim_start());
    }
    let digits = text.len() - text.trim_start_matches(|letter: char| letter.is_ascii_digit()).len();
    let rest = text[digits..].strip_prefix(['.', ')'])?;
    (digits > 0 && rest.starts_with([' ', '\t'])).then(|| rest.trim_start())
}

/// `row 1: front knit`, `RS: knit`.
fn row_number(text: &str) -> Option<String> {
    let (head, rest) = text.split_once(':')?;
    let head = head.trim().to_lowercase();
    let head = head.trim_end_matches("(rs)").trim_end_matches("(ws)").trim();
    let number = head.strip_prefix("row").or_else(|| head.strip_prefix('r')).unwrap_or("").trim();
    let numbered = !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit());
    let side = matches!(head, "rs" | "ws" | "right side" | "wrong side");
    let rest = rest.trim();
    (numbered || side).then(|| if rest.starts_with("row") { rest.to_owned() } else { format!("row {rest}") })
}

/// A line with words in brackets at its end, as the line and the words. Numbers for other sizes stand in brackets too, and
/// what a stitch is given.
pub(super) fn remark(text: &str) -> Option<(&str, &str)> {
    let (line, rest) = text.trim_end().split_once(" (")?;
    let words = rest.strip_suffix(')').filter(|words| !words.contains(['(', ')', '"']))?;
    let line = line.trim_end();
    let is_value = ["work", "stitch", "let"].iter().any(|first| line.starts_with(first));
    (!is_value && words.starts_with(char::is_alphabetic) && reads(line)).then_some((line, words))
}

/// `L10 to R10`, `L10:R10`, `L10..R10`, `L10 - R10` as `L10-R10`.
fn ranges(text: &str) -> Option<String> {
    let mut words: Vec<String> = text.split(' ').map(str::to_owned).collect();
    let mut changed = false;
    for word in &mut words {
        for sign in ["...", "..", ":", "/"] {
            let plain = word.replacen(sign, "-", 1);
            if plain != *word && is_needle(plain.trim_end_matches(',')) {
                *word = plain;
                changed = true;
            }
        }
    }
    let mut at = 1;
    // What is moved goes from one needle to another.
    let goes = words.first().is_some_and(|first| first == "move");
    while !goes && at + 1 < words.len() {
        let single = |word: &str| is_needle(word.trim_end_matches(',')) && !word.contains('-');
        if matches!(words[at].as_str(), "to" | "-" | "through" | "until")
            && single(&words[at - 1])
            && single(&words[at + 1])
        {
            let joined = format!("{}-{}", words[at - 1], words[at + 1]);
            words.splice(at - 1..=at + 1, [joined]);
            changed = true;
        } else {
            at += 1;
        }
    }
    changed.then(|| words.join(" "))
}

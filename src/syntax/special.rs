//! Characters that look like others, characters nobody can see, and the marks of two versions laid side by side.

use super::line::Piece;
use super::words;
use crate::finding::{Edit, Finding, Fix, Severity};
use crate::source::Span;

/// So many look-alikes of one line are shown.
const MOST_PLACES: usize = 16;
/// What is to be typed for a character that ends a line.
const A_NEW_LINE: &str = "a new line";

/// A sign that is easily taken for another: its name and what to type.
fn sign(character: char) -> Option<(&'static str, &'static str)> {
    Some(match character {
        '\u{201c}' | '\u{201d}' | '\u{201e}' | '\u{201f}' | '\u{2033}' | '\u{ff02}' => ("curly quotation mark", "\""),
        '\u{ab}' | '\u{bb}' => ("angled quotation mark", "\""),
        '\u{2018}' | '\u{2019}' | '\u{201a}' | '\u{201b}' => ("curly single quotation mark", "\""),
        '\u{2013}' => ("en dash", "-"),
        '\u{2014}' | '\u{2015}' => ("em dash", "-"),
        '\u{2212}' => ("minus sign", "-"),
        '\u{2010}' => ("typographer's hyphen", "-"),
        '\u{2011}' => ("hyphen that does not break", "-"),
        '\u{ad}' => ("soft hyphen", "-"),
        '\u{2012}' => ("figure dash", "-"),
        '\u{d7}' | '\u{2715}' | '\u{2a2f}' => ("multiplication sign", "*"),
        '\u{f7}' => ("division sign", "/"),
        '\u{2215}' | '\u{2044}' => ("fraction stroke", "/"),
        '\u{a0}' => ("blank that does not break (non-breaking space)", " "),
        '\u{2007}' => ("blank as wide as a digit", " "),
        '\u{202f}' => ("narrow blank that does not break", " "),
        '\u{3000}' => ("full-width blank", " "),
        '\u{1680}' | '\u{2000}'..='\u{2006}' | '\u{2008}'..='\u{200a}' | '\u{205f}' => ("typographer's blank", " "),
        '\u{200b}' | '\u{200c}' | '\u{200d}' | '\u{2060}' => ("blank of no width", ""),
        '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => {
            ("sign for the direction of writing", "")
        }
        '\u{feff}' => ("byte order mark", ""),
        '\u{2028}' | '\u{2029}' | '\u{85}' => ("unusual line end", A_NEW_LINE),
        '\u{ff0c}' => ("full-width comma", ","),
        '\u{ff08}' => ("full-width bracket", "("),
        '\u{ff09}' => ("full-width bracket", ")"),
        '\u{ff5b}' => ("full-width brace", "{"),
        '\u{ff5d}' => ("full-width brace", "}"),
        '\u{ff5c}' | '\u{2502}' => ("upright stroke of another kind", "|"),
        _ => return None,
    })
}

/// A letter or digit that looks like a plain one: which script it is of, and the plain one.
fn letter(character: char) -> Option<(&'static str, char)> {
    const CYRILLIC: &[(char, char)] = &[
        ('а', 'a'),
        ('е', 'e'),
        ('о', 'o'),
        ('р', 'p'),
        ('с', 'c'),
        ('у', 'y'),
        ('х', 'x'),
        ('і', 'i'),
        ('ѕ', 's'),
        ('ј', 'j'),
        ('к', 'k'),
        ('т', 't'),
        ('п', 'n'),
        ('г', 'r'),
        ('һ', 'h'),
        ('ԁ', 'd'),
        ('ԝ', 'w'),
        ('ӏ', 'l'),
        ('ь', 'b'),
        ('в', 'b'),
        ('А', 'A'),
        ('В', 'B'),
        ('Е', 'E'),
        ('К', 'K'),
        ('М', 'M'),
        ('Н', 'H'),
        ('О', 'O'),
        ('Р', 'P'),
        ('С', 'C'),
        ('Т', 'T'),
        ('Х', 'X'),
        ('Ѕ', 'S'),
        ('Ԍ', 'G'),
        ('Ꮮ', 'L'),
    ];
    const GREEK: &[(char, char)] = &[
        ('α', 'a'),
        ('ε', 'e'),
        ('ι', 'i'),
        ('κ', 'k'),
        ('ν', 'v'),
        ('ο', 'o'),
        ('ρ', 'p'),
        ('τ', 't'),
        ('υ', 'u'),
        ('χ', 'x'),
        ('ω', 'w'),
        ('Α', 'A'),
        ('Β', 'B'),
        ('Ε', 'E'),
        ('Ζ', 'Z'),
        ('Η', 'H'),
        ('Ι', 'I'),
        ('Κ', 'K'),
        ('Μ', 'M'),
        ('Ν', 'N'),
        ('Ο', 'O'),
        ('Ρ', 'P'),
        ('Τ', 'T'),
        ('Χ', 'X'),
    ];
    let find = |table: &[(char, char)]| table.iter().find(|(odd, _)| *odd == character).map(|(_, plain)| *plain);
    if let Some(plain) = find(CYRILLIC) {
        return Some(("Cyrillic letter", plain));
    }
    if let Some(plain) = find(GREEK) {
        return Some(("Greek letter", plain));
    }
    if ('\u{ff01}'..='\u{ff5e}').contains(&character) {
        let plain = char::from_u32(character as u32 - 0xfee0)?;
        return Some((if plain.is_ascii_digit() { "full-width digit" } else { "full-width character" }, plain));
    }
    match character {
        '٠'..='٩' => Some(("Arabic digit", char::from_digit(character as u32 - '٠' as u32, 10)?)),
        '०'..='९' => Some(("Devanagari digit", char::from_digit(character as u32 - '०' as u32, 10)?)),
        _ => None,
    }
}

/// The first look-alike in a line that could not be read: outside words in quotation marks, every sign; and every
/// letter of a word that is one of the language's words but for such letters.
pub(super) fn look_alike(piece: Piece<'_>, start: u32, line: &str) -> Option<Finding> {
    if line.is_ascii() {
        return None;
    }
    let mut quoted = false;
    let mut found: Vec<(usize, char, &'static str, String)> = Vec::new();
    let mut word_start = 0;
    let closed_quotes = line.bytes().filter(|&byte| byte == b'"').count() / 2 * 2;
    let mut quotes = 0;
    for (at, character) in line.char_indices() {
        if character == '"' {
            quotes += 1;
            quoted = quotes % 2 == 1;
            word_start = at + 1;
            continue;
        }
        if quoted {
            // Behind a mark that is never closed only another mark can be what went wrong.
            let quote = matches!(sign(character), Some((_, "\"")));
            if quotes > closed_quotes
                && quote
                && let Some((name, plain)) = sign(character)
            {
                found.push((at, character, name, plain.to_owned()));
            }
            continue;
        }
        if let Some((name, plain)) = sign(character) {
            // Inside curly quotation marks other signs are just text.
            if found.last().is_some_and(|last| last.3 == "\"") && found.len() % 2 == 1 && plain != "\"" {
                continue;
            }
            found.push((at, character, name, plain.to_owned()));
        }
        if words::is_word_character(character)
            || matches!(letter(character), Some((_, plain)) if plain.is_ascii_alphanumeric())
        {
            let end = at + character.len_utf8();
            let ends = line[end..].chars().next().is_none_or(|next| {
                !words::is_word_character(next)
                    && !matches!(letter(next), Some((_, plain)) if plain.is_ascii_alphanumeric())
            });
            if ends {
                look_alike_word(&line[word_start..end], word_start, &mut found);
            }
        } else {
            // The wide brackets and commas are signs already.
            if sign(character).is_none()
                && let Some((name, plain)) = letter(character)
            {
                found.push((at, character, name, plain.to_string()));
            }
            word_start = at + character.len_utf8();
        }
        if found.len() >= MOST_PLACES {
            break;
        }
    }
    found.sort_by_key(|place| place.0);
    let (at, character, name, plain) = found.first()?;
    let span = |at: usize, character: char| piece.span(start + at as u32, start + (at + character.len_utf8()) as u32);
    let mend = match plain.as_str() {
        "" => "Delete it; it cannot be seen, so go over that place with the delete key.".to_owned(),
        " " => "Type a plain blank in its place.".to_owned(),
        A_NEW_LINE => "Begin a new line there with the enter key.".to_owned(),
        plain => format!("Type `{plain}` in its place."),
    };
    let shown = if character.is_whitespace() || plain.is_empty() { String::new() } else { format!(" `{character}`") };
    let what = format!("there is {} {name}{shown} here", words::article(name));
    let mut finding = Finding::new(
        "look-alike-character",
        crate::finding::Severity::Error,
        span(*at, *character),
        what,
    )
    .marked(name.to_string())
    .because(format!(
        "It looks like another character but is not the same (U+{:04X}). Such characters come in when text is copied \
             from a web page or a word processor.",
        *character as u32
    ))
    .mend(mend);
    for (at, character, name, _) in found.iter().skip(1) {
        finding = finding.also(span(*at, *character), format!("{} {name} here too", words::article(name)));
    }
    let edits: Vec<Edit> = found
        .iter()
        .map(|(at, character, _, plain)| Edit {
            span: span(*at, *character),
            text: if plain == A_NEW_LINE { "\n".to_owned() } else { plain.clone() },
        })
        .collect();
    // The characters look as the plain ones do, so with them the line says what its reader sees. That is certain once
    // it can be read; if it cannot, something else is wrong with it, and it is left to the knitter. Where a line should
    // end is never certain.
    let breaks = edits.iter().any(|edit| edit.text == "\n");
    let safe = !breaks && found.len() < MOST_PLACES && super::slip::reads(&replaced(line, &found));
    let title = match plain.as_str() {
        "" => "delete it".to_owned(),
        " " => "type a plain blank".to_owned(),
        A_NEW_LINE => "begin a new line there".to_owned(),
        plain => format!("type `{plain}`"),
    };
    let title = if edits.len() > 1 { "type the plain characters".to_owned() } else { title };
    Some(finding.fix(Fix { title, edits, safe }))
}

/// The line with the plain characters in their places.
fn replaced(line: &str, found: &[(usize, char, &'static str, String)]) -> String {
    let mut text = line.to_owned();
    for (at, character, _, plain) in found.iter().rev() {
        text.replace_range(*at..*at + character.len_utf8(), plain);
    }
    text
}

fn look_alike_word(word: &str, start: usize, found: &mut Vec<(usize, char, &'static str, String)>) {
    if word.is_ascii() || word.len() > 64 {
        return;
    }
    let plain: String = word.chars().map(|character| letter(character).map_or(character, |(_, plain)| plain)).collect();
    if !plain.is_ascii() {
        return;
    }
    let digits = plain.bytes().all(|byte| byte.is_ascii_digit() || byte == b'-');
    if !(digits || words::is_keyword(&plain) || words::is_needle(&plain)) {
        return;
    }
    for (at, character) in word.char_indices() {
        if let Some((name, plain)) = letter(character) {
            found.push((start + at, character, name, plain.to_string()));
        }
    }
}

/// The first control character of some words, which must hold one.
pub(super) fn control_character(piece: Piece<'_>, start: u32, words: &str) -> Finding {
    let (at, character) = words.char_indices().find(|&(_, character)| is_control(character)).unwrap_or((0, '\0'));
    let name = match character {
        '\0' => "a character of no meaning (NUL)".to_owned(),
        '\u{1b}' => "an escape character".to_owned(),
        '\u{7}' => "a bell character".to_owned(),
        '\u{8}' => "a backspace character".to_owned(),
        '\u{b}' => "a vertical tab".to_owned(),
        '\u{c}' => "a page break".to_owned(),
        other => format!("a control character (U+{:04X})", other as u32),
    };
    let end = (at + character.len_utf8()).min(words.len());
    Finding::new(
        "control-character",
        Severity::Error,
        piece.span(start + at as u32, start + end as u32),
        format!("there is {name} in this line"),
    )
    .marked("it cannot be seen")
    .because("Characters that steer a printer or a screen have no meaning in a pattern; often the file is damaged or is no text.")
    .mend("Delete it, or type the line anew.")
    // Not to be made without asking: where a file is damaged, more than this character is missing.
    .fix(Fix::new("delete it", piece.span(start + at as u32, start + end as u32), ""))
}

/// Whether a character steers a machine and is no part of a text.
pub(super) fn is_control(character: char) -> bool {
    character.is_control() && !matches!(character, '\t' | '\n' | '\r' | '\u{85}')
}

/// Whether a line that starts like a marker of two versions is one: seven signs and no more.
pub(super) fn is_marker(line: &str) -> bool {
    line.get(7..).is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', '\t']))
}

/// The markers of one conflict as one finding; none if there are no markers.
pub(super) fn conflict(markers: &[(char, Span)]) -> Option<Finding> {
    let describe = |kind: char| match kind {
        '<' => "below this: the version that was here, up to the next marker",
        '|' => "below this: what both versions were made from",
        '=' => "below this: the version that was brought in, up to the last marker",
        _ => "the two versions end here",
    };
    let ((kind, span), rest) = markers.split_first()?;
    let mut finding = Finding::new(
        "merge-marker",
        Severity::Error,
        *span,
        "two versions of the pattern stand here side by side",
    )
    .marked(describe(*kind))
    .because("A merge could not decide which lines to keep and marked both halves; for now the lines of both are read.")
    .mend("Keep the lines you want, and delete the others and the marker lines.");
    // A file of nothing but markers still gets one finding that can be read.
    for (kind, span) in rest.iter().take(64) {
        finding = finding.also(*span, describe(*kind));
    }
    Some(finding)
}

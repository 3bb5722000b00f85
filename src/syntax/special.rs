//! Characters that look like others, characters nobody can see, and the marks of two versions laid side by side.

use super::piece::Piece;
use super::words;
use crate::finding::{Edit, Finding, Fix};
use crate::source::Span;
use crate::syntax::rules;

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
        '\u{ad}' => ("soft hyphen", ""),
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

/// A look-alike: its byte in the line, the character, its name, and what to type for it.
type Place = (usize, char, &'static str, String);

/// A word that would be one of the language's but for the letters that only look plain.
struct Word {
    places: Vec<Place>,
    /// Whether it could be a name as it is, with all its letters from another script.
    own: bool,
}

/// The look-alikes of a line, those in words for the knitter left out.
struct Seen {
    signs: Vec<Place>,
    words: Vec<Word>,
    /// Whether there are more than are looked at.
    more: bool,
}

/// The look-alikes in a line that could not be read: outside words in quotation marks of any kind, every sign; and the
/// letters of a word that the line can be read with only if they are plain. A word that may as well be a name is left as
/// it is, because another name would be another thing.
pub(super) fn look_alike(piece: Piece<'_>, start: u32, line: &str) -> Option<Finding> {
    if line.is_ascii() {
        return None;
    }
    let (found, certain) = chosen(line, seen(line));
    let (at, character, name, plain) = found.first()?;
    let span = |at: usize, character: char| piece.span(start + at as u32, start + (at + character.len_utf8()) as u32);
    let mend = match plain.as_str() {
        "" => "Delete it; it cannot be seen, so go over that place with the delete key.".to_owned(),
        " " => "Type a plain blank in its place.".to_owned(),
        A_NEW_LINE => "Begin a new line there with the enter key.".to_owned(),
        _ if joins(line, &found[0]) => {
            "Type `-` in its place if it belongs to the name; if it takes one from the other, with a blank on each side."
                .to_owned()
        }
        plain => format!("Type `{plain}` in its place."),
    };
    let shown = if character.is_whitespace() || plain.is_empty() { String::new() } else { format!(" `{character}`") };
    let what = format!("there is {} {name}{shown} here", words::article(name));
    let mut finding = rules::LOOK_ALIKE_CHARACTER
        .finds(span(*at, *character), what)
        .marked(name.to_string())
        .because(format!(
            "{} (U+{:04X}). Such characters come in when text is copied from a web page or a word processor.",
            if plain.is_empty() {
                "It cannot be seen, and yet it is read"
            } else {
                "It looks like another character but is not the same"
            },
            *character as u32
        ))
        .mend(mend);
    for (at, character, name, _) in found.iter().skip(1) {
        finding = finding.also(span(*at, *character), format!("{} {name} here too", words::article(name)));
    }
    let edits: Vec<Edit> = found
        .iter()
        .map(|(at, character, _, plain)| {
            Edit::new(span(*at, *character), if plain == A_NEW_LINE { "\n" } else { plain })
        })
        .collect();
    // Where a line should end is never certain, nor whether a dash within a name belongs to it or takes away from it.
    let breaks = edits.iter().any(|edit| edit.text == "\n");
    let safe = certain && !breaks && !found.iter().any(|place| joins(line, place));
    let title = match plain.as_str() {
        "" => "delete it".to_owned(),
        " " => "type a plain blank".to_owned(),
        A_NEW_LINE => "begin a new line there".to_owned(),
        plain => format!("type `{plain}`"),
    };
    let title = if edits.len() > 1 { "type the plain characters".to_owned() } else { title };
    Some(finding.fix(Fix { title, edits, safe }))
}

/// Every look-alike of a line that may be one.
fn seen(line: &str) -> Seen {
    let mut seen = Seen { signs: Vec::new(), words: Vec::new(), more: false };
    let (mut at, mut count) = (0, 0);
    while let Some(character) = line.get(at..).and_then(|rest| rest.chars().next()) {
        if count >= MOST_PLACES {
            seen.more = true;
            break;
        }
        let (before, end) = (count, at + character.len_utf8());
        let mut push = |place: usize, character: char| {
            if let Some((name, plain)) = sign(character) {
                seen.signs.push((place, character, name, plain.to_owned()));
                count += 1;
            }
        };
        if is_quote(character) {
            // What stands between the marks is text, whatever it looks like.
            push(at, character);
            let Some(close) = closing(line, end, character) else {
                // Behind a plain mark that is never closed everything is text.
                at = if character == '"' { line.len() } else { end };
                continue;
            };
            let mark = line[close..].chars().next().unwrap_or('"');
            push(close, mark);
            at = close + mark.len_utf8();
        } else if let Some(length) = word_length(&line[at..]) {
            let word = &line[at..at + length];
            if let Some(word) = look_alike_word(word, at) {
                count += word.places.len();
                seen.words.push(word);
            }
            at += length;
        } else {
            push(at, character);
            // The wide brackets and commas are signs already.
            if count == before
                && let Some((name, plain)) = letter(character)
            {
                seen.signs.push((at, character, name, plain.to_string()));
                count += 1;
            }
            at = end;
        }
    }
    seen
}

/// Which of them are to be replaced, in the order of the line, and whether it is certain: the characters look as the
/// plain ones do, so once the line can be read with them it says what its reader sees. If it cannot, something else is
/// wrong with it, and it is left to the knitter.
fn chosen(line: &str, seen: Seen) -> (Vec<Place>, bool) {
    let Seen { mut signs, mut words, more } = seen;
    let all = |signs: &[Place], words: &[Word]| {
        let mut all: Vec<Place> = signs.iter().chain(words.iter().flat_map(|word| &word.places)).cloned().collect();
        all.sort_by_key(|place| place.0);
        all
    };
    let reads = |places: &[Place]| super::reach::reads(&replaced(line, places));
    if more || !reads(&all(&signs, &words)) {
        words.retain(|word| !word.own || stops_at(line, &signs, word));
        let mut all = all(&signs, &words);
        all.truncate(MOST_PLACES);
        return (all, false);
    }
    // Those that the line can be read without stay as they are, first of all those that may be names.
    for own in [true, false] {
        let mut at = 0;
        while at < words.len() {
            if words[at].own != own {
                at += 1;
                continue;
            }
            let word = words.remove(at);
            if !reads(&all(&signs, &words)) {
                words.insert(at, word);
                at += 1;
            }
        }
    }
    signs = all(&signs, &words);
    (signs, true)
}

/// Whether reading stops at that word when all signs before it are plain: then it is the word that is meant.
fn stops_at(line: &str, signs: &[Place], word: &Word) -> bool {
    let Some((at, ..)) = word.places.first() else { return false };
    let before: Vec<Place> = signs.iter().filter(|place| place.0 < *at).cloned().collect();
    let before = replaced(line.get(..*at).unwrap_or_default(), &before);
    let whole = format!("{before}{}", line.get(*at..).unwrap_or_default());
    super::reach::farthest(&whole).0 == before.len()
}

/// A quotation mark, plain or of another kind.
fn is_quote(character: char) -> bool {
    character == '"' || matches!(sign(character), Some((_, "\"")))
}

/// Where the words in quotation marks end that `mark` opens just before byte `start`: at the mark that belongs to it, or
/// else at another one of the same thickness, or at any. A mark between two letters is an apostrophe.
fn closing(line: &str, start: usize, mark: char) -> Option<usize> {
    let rest = line.get(start..)?;
    let single = |mark: char| matches!(mark, '\u{2018}'..='\u{201b}');
    let apostrophe = |at: usize, other: char| {
        let behind = line.get(start + at + other.len_utf8()..).and_then(|rest| rest.chars().next());
        single(other)
            && line.get(..start + at).is_some_and(|before| before.ends_with(char::is_alphanumeric))
            && behind.is_some_and(char::is_alphanumeric)
    };
    let marks = || rest.char_indices().filter(|&(at, other)| is_quote(other) && !apostrophe(at, other));
    let partners: &[char] = match mark {
        '"' => &['"'],
        '\u{201e}' => &['\u{201c}', '\u{201d}'],
        '\u{201c}' | '\u{201d}' | '\u{201f}' => &['\u{201d}'],
        '\u{ab}' | '\u{bb}' => &['\u{ab}', '\u{bb}'],
        '\u{201a}' => &['\u{2018}', '\u{2019}'],
        '\u{2018}' | '\u{2019}' | '\u{201b}' => &['\u{2019}'],
        _ => &[],
    };
    let own = marks().find(|(_, other)| *other == mark && partners.is_empty() || partners.contains(other));
    let alike = || {
        let mut alike: Vec<usize> =
            marks().filter(|(_, other)| single(*other) == single(mark)).map(|(at, _)| at).collect();
        // A plain mark closes what another opened; of others, the last, because those before it may be text.
        let plain = marks().find(|(_, other)| *other == '"').map(|(at, _)| at);
        plain.or_else(|| alike.pop())
    };
    own.map(|(at, _)| at).or_else(alike).or_else(|| marks().next_back().map(|(at, _)| at)).map(|at| start + at)
}

/// How long the word is that a text begins with, letters that only look plain counted in.
fn word_length(text: &str) -> Option<usize> {
    let is_part = |character: char| {
        words::is_word_character(character)
            || matches!(letter(character), Some((_, plain)) if plain.is_ascii_alphanumeric())
    };
    let length = text.find(|character| !is_part(character)).unwrap_or(text.len());
    (length > 0).then_some(length)
}

/// Whether a dash stands between two words without blanks and would make one name of them. In needles and behind
/// a number it does not, and a hyphen is meant as one.
fn joins(line: &str, (at, character, _, plain): &Place) -> bool {
    if plain != "-" || matches!(character, '\u{2010}' | '\u{2011}') {
        return false;
    }
    let (before, behind) = (&line[..*at], &line[at + character.len_utf8()..]);
    let one = &before[before.trim_end_matches(words::is_word_character).len()..];
    let other = &behind[..word_length(behind).unwrap_or(0)];
    let needles = words::is_needle(one) && words::is_needle(other);
    // A number cannot be the beginning of a name.
    !one.is_empty() && !one.starts_with(|first: char| first.is_ascii_digit()) && !other.is_empty() && !needles
}

/// The line with the plain characters in their places.
fn replaced(line: &str, found: &[Place]) -> String {
    let mut text = line.to_owned();
    for (at, character, _, plain) in found.iter().rev() {
        text.replace_range(*at..*at + character.len_utf8(), plain);
    }
    text
}

fn look_alike_word(word: &str, start: usize) -> Option<Word> {
    if word.is_ascii() || word.len() > 64 {
        return None;
    }
    let plain: String = word.chars().map(|character| letter(character).map_or(character, |(_, plain)| plain)).collect();
    if !plain.is_ascii() {
        return None;
    }
    let digits = plain.bytes().all(|byte| byte.is_ascii_digit() || byte == b'-');
    if !(digits || words::is_keyword(&plain) || words::is_needle(&plain)) {
        return None;
    }
    let place =
        |(at, character)| letter(character).map(|(name, plain)| (start + at, character, name, plain.to_string()));
    let own = super::reach::is_name(word) && !word.contains(|character: char| character.is_ascii_alphanumeric());
    Some(Word { places: word.char_indices().filter_map(place).collect(), own })
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
    rules::CONTROL_CHARACTER.finds(piece.span(start + at as u32, start + end as u32),
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
    let mut finding = rules::MERGE_MARKER
        .finds(*span, "two versions of the pattern stand here side by side")
        .marked(describe(*kind))
        .because(
            "A merge could not decide which lines to keep and marked both halves; for now the lines of both are read.",
        )
        .mend("Keep the lines you want, and delete the others and the marker lines.");
    // A file of nothing but markers still gets one finding that can be read.
    for (kind, span) in rest.iter().take(64) {
        finding = finding.also(*span, describe(*kind));
    }
    Some(finding)
}

//! Why a line cannot be read, said to a knitter.

use super::grammar::{Grammar, Rule};
use super::habits;
use super::line::Piece;
use super::meant::{self, BadLine};
use super::slip;
use super::special;
use super::words::{self, SAMPLES, UNITS, expectation, is_word_character};
use crate::finding::{Finding, Fix};
use crate::source::Span;
use crate::syntax::rules;
use pest::Parser as _;
use pest::error::{ErrorVariant, InputLocation};
use std::ops::Range;

/// The longest word that is compared with the language's words.
pub(super) const LONGEST_WORD: usize = 32;
/// The longest word that is printed in a message.
const LONGEST_SHOWN: usize = 40;
/// How many things a message lists that might have stood there.
const MOST_EXPECTED: usize = 4;

/// In longer lines no changes are tried.
const LONGEST_TRIED: usize = 200;

/// Whether it costs little to try changes of the line.
pub(super) const fn is_short(line: &str) -> bool {
    line.len() <= LONGEST_TRIED
}

/// Why `line`, which starts at byte `start` of the piece, cannot be read. `declared` tells whether the pattern gives
/// something that name: such a word is no slip.
pub(super) fn explain(piece: Piece<'_>, start: u32, line: &str, declared: &dyn Fn(&str) -> bool) -> Finding {
    if line.chars().any(special::is_control) {
        return special::control_character(piece, start, line);
    }
    if let Some(finding) = habits::comment(piece, start, line) {
        return finding;
    }
    if let Some(finding) = special::look_alike(piece, start, line) {
        return finding;
    }
    if line.bytes().filter(|&byte| byte == b'"').count() % 2 == 1 {
        return unclosed_quote(piece, start, line);
    }
    if let Some(finding) = habits::spoken(piece, start, line) {
        return finding;
    }
    let bad = BadLine { piece, start, text: line };
    if let Some(finding) = meant::whole(bad) {
        return finding;
    }
    let (at, expected) = farthest(line);
    let word = word_at(line, at);
    let known = line.get(word.clone()).unwrap_or_default();
    let span = piece.span(start + word.start as u32, start + word.end as u32);
    if let Some(finding) = meant::unquoted(bad, &word, &expected) {
        return finding;
    }
    let slipped = capital(span, line, word.clone(), &expected)
        .or_else(|| if declared(known) { None } else { misspelt(span, line, word.clone(), &expected) });
    match slipped {
        Some((finding, meant)) => finding.fix(slip::fix(piece, start, line, span, &meant)),
        None => meant::small_word(bad, &word, &expected)
            .or_else(|| taken(span, line, word, &expected))
            .unwrap_or_else(|| general(span, line, known, at, &expected)),
    }
}

/// A line of which nothing more can be said.
pub(super) fn unreadable(span: Span) -> Finding {
    rules::UNREADABLE_LINE
        .finds(span, "this line cannot be read")
        .because("It is like no line that the language knows.")
        .mend("Write it anew, or make a comment of it with `#`.")
}

/// A needle in small letters, `l30`, where a name stands.
pub(super) fn small_needle(span: Span, text: &str) -> Finding {
    let large = text.to_uppercase();
    rules::CAPITAL_WORD
        .finds(span, format!("`{text}` is a needle written in small letters"))
        .marked(format!("write `{large}`"))
        .because(
            "Needles are named with a capital L or R and counted from the centre, so that `l1` is not read as `11`.",
        )
        .mend(format!("Write `{large}`; if it is meant as a name, choose one that does not look like a needle."))
        // Not to be made without asking: it may be the name of something, and then every use of it would change.
        .fix(Fix::new(format!("write `{large}`"), span, large))
}

/// How far the line can be read, and what could have stood there.
pub(super) fn farthest(line: &str) -> (usize, Vec<Rule>) {
    // With a blank behind the last word, what is missing is the word after it.
    let (at, expected) = farthest_in(line, &format!("{line} "));
    let before = line.get(..at).unwrap_or_default();
    let start = before.trim_end_matches(is_word_character).len();
    if start == 0 || start == at || !line.get(at..).unwrap_or_default().starts_with(is_word_character) {
        return (at, expected);
    }
    // It stopped in the middle of a word, `knitt`: what could have stood in the place of the whole word?
    let cut = line.get(..start).unwrap_or_default();
    farthest_in(line, &format!("{cut}\u{1}"))
}

/// How far the beginning of a line can be read, and what could stand there.
pub(super) fn farthest_at(before: &str) -> (usize, Vec<Rule>) {
    // No word has this character in it, so reading stops there if it comes that far.
    match Grammar::parse(Rule::line, &format!("{before}\u{1}")) {
        Ok(_) => (before.len(), Vec::new()),
        Err(error) => {
            let at = match error.location {
                InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
            };
            match error.variant {
                ErrorVariant::ParsingError { positives, .. } => (at.min(before.len()), positives),
                ErrorVariant::CustomError { .. } => (at.min(before.len()), Vec::new()),
            }
        }
    }
}

fn farthest_in(line: &str, read: &str) -> (usize, Vec<Rule>) {
    let Err(error) = Grammar::parse(Rule::line, read) else { return (0, Vec::new()) };
    let at = match error.location {
        InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
    };
    let expected = match error.variant {
        ErrorVariant::ParsingError { positives, .. } => positives,
        ErrorVariant::CustomError { .. } => Vec::new(),
    };
    let first = first_word(line);
    if at < first.end && SAMPLES.iter().any(|(known, _)| line.get(first.clone()) == Some(known)) {
        // The first word is right, and directly behind it stands something that has no name.
        let behind = line.get(first.end..).unwrap_or_default();
        return (first.end + behind.len() - behind.trim_start().len(), Vec::new());
    }
    (at.min(line.len()), expected)
}

fn first_word(line: &str) -> std::ops::Range<usize> {
    0..line.find(|character| !is_word_character(character)).unwrap_or(line.len())
}

/// The word around a byte: all of it, also when the byte is in its middle; a single sign if no word is there, and
/// nothing at the end of the line.
pub(super) fn word_at(line: &str, at: usize) -> std::ops::Range<usize> {
    let (before, behind) = (line.get(..at).unwrap_or(line), line.get(at..).unwrap_or_default());
    let length = behind.find(|character| !is_word_character(character)).unwrap_or(behind.len());
    if length > 0 {
        return before.trim_end_matches(is_word_character).len()..at + length;
    }
    at..at + behind.chars().next().map_or(0, char::len_utf8)
}

pub(super) fn shown(word: &str) -> String {
    if word.chars().count() <= LONGEST_SHOWN {
        return format!("`{word}`");
    }
    let head: String = word.chars().take(LONGEST_SHOWN).collect();
    format!("`{head}...`")
}

/// The first words that a line may begin with.
fn first_words() -> impl Iterator<Item = &'static str> {
    SAMPLES.iter().map(|(word, _)| *word)
}

/// The words that may stand at the place.
pub(super) fn words_there(line: &str, word_start: usize, expected: &[Rule]) -> Vec<&'static str> {
    if word_start == 0 {
        return first_words().collect();
    }
    let there = expected.iter().filter_map(|rule| expectation(*rule)).flat_map(|(_, _, words)| words.iter().copied());
    // A number is read together with its unit, so that the grammar does not say that one could have stood there.
    let units = if behind_number(line, word_start) { UNITS } else { &[] };
    there.chain(units.iter().copied()).collect()
}

/// Whether the word that begins there stands behind a number, which may have others for other sizes in brackets.
fn behind_number(line: &str, word_start: usize) -> bool {
    let before = line.get(..word_start).unwrap_or_default().trim_end();
    let before = match before.strip_suffix(')') {
        Some(inside) => inside.rsplit_once('(').map_or("", |(before, _)| before.trim_end()),
        None => before,
    };
    let number = before.rsplit(|character| !(is_word_character(character) || character == '.')).next();
    number.is_some_and(|number| number.starts_with(|first: char| first.is_ascii_digit()))
}

/// A word that is right but for its capitals, and how it is written.
fn capital(span: Span, line: &str, place: Range<usize>, expected: &[Rule]) -> Option<(Finding, String)> {
    let word_start = place.start;
    let word = line.get(place.clone()).unwrap_or_default();
    if word.len() > LONGEST_WORD {
        return None;
    }
    let small = word.to_lowercase();
    let there = words_there(line, word_start, expected);
    let meant = there.iter().find(|known| known.eq_ignore_ascii_case(word)).copied();
    if !word.chars().any(char::is_uppercase) {
        // `nm` for `Nm`: some units of the trade have capitals of their own.
        let meant = meant.filter(|meant| *meant != word)?;
        let what = format!("{} is written without its capital letter", shown(word));
        let finding = rules::CAPITAL_WORD
            .finds(span, what)
            .marked(format!("write `{meant}`"))
            .because("The trade writes it so, and it is read as it is written there.")
            .mend(format!("Write `{meant}`."));
        return Some((finding, meant.to_owned()));
    }
    let (meant, why) = if let Some(meant) = meant {
        (meant.to_owned(), "The words of the language are written in small letters, also at the start of a line.")
    } else if words::is_keyword(&small) && (word_start == 0 || !is_name(&small) && goes_on(line, &place, &small)) {
        (small, "The words of the language are written in small letters, also at the start of a line.")
    } else if word_start > 0 && expected.contains(&Rule::name) && !looks_like_needles(word) {
        (
            kebab(word),
            "Names are written in small letters with `-` between their words, so that they read the same everywhere.",
        )
    } else {
        return None;
    };
    if meant == word {
        return None;
    }
    let what = format!("{} is written with a capital letter", shown(word));
    let finding = rules::CAPITAL_WORD
        .finds(span, what)
        .marked(format!("write `{meant}`"))
        .because(why)
        .mend(format!("Write `{meant}`."));
    Some((finding, meant))
}

/// Whether the grammar reads that word as a name.
pub(super) fn is_name(word: &str) -> bool {
    Grammar::parse(Rule::name, word).is_ok_and(|read| read.as_str().len() == word.len())
}

/// Whether the line can be read past the word at `place` when that is written in its stead.
fn goes_on(line: &str, place: &Range<usize>, instead: &str) -> bool {
    let mut mended = line.to_owned();
    mended.replace_range(place.clone(), instead);
    slip::reads(&mended) || farthest(&mended).0 >= place.start + instead.len()
}

/// A word of the language where the line could be read with a name.
fn taken(span: Span, line: &str, place: Range<usize>, expected: &[Rule]) -> Option<Finding> {
    let word = line.get(place.clone()).filter(|word| words::is_keyword(word) && !is_name(word))?;
    let other = format!("my-{word}");
    let mended = format!("{}{other}{}", line.get(..place.start)?, line.get(place.end..)?);
    (expected.contains(&Rule::name) && slip::reads(&mended)).then(|| {
        rules::RESERVED_WORD
            .finds(span, format!("`{word}` is a word of the language and cannot be a name"))
            .because("A line with this name in it could be read in two ways.")
            .mend(format!("Add a word to it with a dash, for example `{other}`."))
    })
}

/// `L30-X3`: begun as a needle, so no name was meant.
fn looks_like_needles(word: &str) -> bool {
    word.split('-').next().is_some_and(words::is_needle)
}

/// `halfCardigan` as `half-cardigan`.
fn kebab(word: &str) -> String {
    let mut text = String::new();
    for character in word.chars() {
        if character.is_uppercase() && !text.is_empty() && !text.ends_with('-') {
            text.push('-');
        }
        text.extend(character.to_lowercase());
    }
    text
}

/// How like each other two words must be, from 0 to 1, for a word of that many letters.
pub(super) const fn cutoff(length: usize) -> f32 {
    if length <= 4 { 0.66 } else { 0.72 }
}

/// The known word that is truly near: few letters differ, and it begins alike or has the same letters.
pub(super) fn nearest<'w>(word: &str, known: &[&'w str]) -> Option<&'w str> {
    let length = word.chars().count();
    if !(2..=LONGEST_WORD).contains(&length) {
        return None;
    }
    let cutoff = cutoff(length);
    let letters = |word: &str| {
        let mut letters: Vec<char> = word.chars().collect();
        letters.sort_unstable();
        letters
    };
    similar::get_close_matches(word, known, 3, cutoff).into_iter().find(|near| {
        // In a short word one letter is much: it must begin alike or have its letters in another order.
        let alike = length > 4 || near.chars().next() == word.chars().next() || letters(near) == letters(word);
        *near != word && alike && near.chars().count().abs_diff(length) <= 2
    })
}

/// A word that is very like one that the language knows, and that one.
fn misspelt(span: Span, line: &str, place: Range<usize>, expected: &[Rule]) -> Option<(Finding, String)> {
    let (word, word_start) = (line.get(place.clone())?, place.start);
    let small = word.to_lowercase();
    let there = nearest(&small, &words_there(line, word_start, expected));
    let elsewhere = || {
        let long = word_start > 0 && word.chars().count() > 4 && !words::is_keyword(word);
        if long { nearest(&small, words::keywords()) } else { None }
    };
    // A word that is right elsewhere is a slip only if it is the only one of the line.
    let reads_with = |meant: &&str| {
        let mut mended = line.to_owned();
        mended.replace_range(place.clone(), meant);
        slip::reads(&mended) || !words::is_keyword(word) && goes_on(line, &place, meant)
    };
    let meant = there.or_else(elsewhere).filter(reads_with)?;
    // At the start of a line any word may be a name by mistake; there it is the first word that decides.
    let what = if word_start == 0 {
        format!("no line begins with {}", shown(word))
    } else {
        format!("{} is no word that can stand here", shown(word))
    };
    let finding = rules::MISSPELT_WORD.finds(span, what).marked(format!("`{meant}`?"));
    let finding = if word_start == 0 {
        finding.because(format!("The nearest word that a line can begin with is `{meant}`."))
    } else {
        finding.because(format!("{} the nearest word of the language is `{meant}`.", behind(line, word_start)))
    };
    Some((finding.mend(format!("Write `{meant}` if that is what you mean.")), meant.to_owned()))
}

/// `Behind `row front`` for the beginning of a sentence.
pub(super) fn behind(line: &str, at: usize) -> String {
    let before = line.get(..at).unwrap_or_default().trim_end();
    // All of the line where it is short: three words of it can begin in the middle of an instruction.
    let words: Vec<&str> = before.split_whitespace().collect();
    let whole = words.join(" ");
    let tail = if whole.len() > LONGEST_SHOWN { words[words.len().saturating_sub(3)..].join(" ") } else { whole };
    if tail.is_empty() || tail.len() > LONGEST_SHOWN { "Here".to_owned() } else { format!("Behind `{tail}`") }
}

/// What may stand there, in friendly order: `a bed, a comma or the end of the line`.
pub(super) fn list(expected: &[Rule]) -> Option<String> {
    let mut known: Vec<(u8, &str)> = Vec::new();
    for (order, text, _) in expected.iter().filter_map(|rule| expectation(*rule)) {
        if !known.iter().any(|(_, other)| *other == text) {
            known.push((order, text));
        }
    }
    known.sort_by_key(|(order, _)| *order);
    let more = known.len() > MOST_EXPECTED;
    known.truncate(MOST_EXPECTED);
    let texts: Vec<&str> = known.into_iter().map(|(_, text)| text).collect();
    let (last, first) = texts.split_last()?;
    Some(match (first.is_empty(), more) {
        (true, _) => (*last).to_owned(),
        (false, false) => format!("{} or {last}", first.join(", ")),
        (false, true) => format!("{}, {last} or the like", first.join(", ")),
    })
}

fn general(span: Span, line: &str, word: &str, at: usize, expected: &[Rule]) -> Finding {
    let first = first_word(line);
    let sample = SAMPLES.iter().find(|(known, _)| line.get(first.clone()) == Some(known)).map(|(_, sample)| *sample);
    let what = if word.trim().is_empty() {
        "this line is not finished".to_owned()
    } else if span.start == span.end || sample.is_none() && at == 0 {
        format!("no line begins with {}", shown(word))
    } else {
        format!("{} cannot be read here", shown(word))
    };
    let mut why = if at == 0 && sample.is_none() {
        "The first word of a line says what it does, such as `row`, `transfer`, `work` or `note`.".to_owned()
    } else {
        match list(expected) {
            Some(list) => format!("{} there can be {list}.", behind(line, at)),
            None => format!("{} something else belongs.", behind(line, at)),
        }
    };
    let bytes = line.as_bytes();
    let digit = |at: Option<usize>| at.and_then(|at| bytes.get(at)).is_some_and(u8::is_ascii_digit);
    let comma_at = (bytes.get(at) == Some(&b',')).then_some(at).or_else(|| {
        let before = at.checked_sub(1)?;
        (bytes.get(before) == Some(&b',')).then_some(before)
    });
    if let Some(comma) = comma_at
        && digit(comma.checked_sub(1))
        && digit(Some(comma + 1))
    {
        why.push_str(" A comma separates things; a part of a number is written with a point, as in `4.5`.");
    }
    if word == "\"" && expected.contains(&Rule::name) {
        why.push_str(" Only titles and words for the knitter stand in quotation marks.");
    }
    let mend = match sample {
        Some(sample) => format!("A line that can be read: `{sample}`."),
        None => "Write it as an instruction of the language, or make a comment of it with `#`.".to_owned(),
    };
    let marked = if word.trim().is_empty() { "something is missing here" } else { "reading stops here" };
    rules::UNREADABLE_LINE.finds(span, what).marked(marked).because(why).mend(mend)
}

fn unclosed_quote(piece: Piece<'_>, start: u32, line: &str) -> Finding {
    let at = line.rfind('"').unwrap_or(0) as u32;
    let end = start + line.len() as u32;
    rules::UNCLOSED_QUOTE
        .finds(piece.span(start + at, start + at + 1), "this quotation mark is never closed")
        .marked("opened here")
        .also(piece.span(end, end), "the line ends here")
        .because("Words in quotation marks end on the line they begin on; they hold no quotation marks themselves.")
        .mend("Put `\"` behind the last of the words.")
}

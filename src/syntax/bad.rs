//! Why a line cannot be read, said to a knitter.

use super::advice::{self, Around};
use super::bad_line::BadLine;
use super::forms::Home;
use super::grammar::Rule;
use super::habits;
use super::meant;
use super::piece::Piece;
use super::reach::{
    LONGEST_WORD, behind, farthest, first_word, goes_on, is_name, list, nearest, reads, shown, word_at, words_there,
};
use super::slip;
use super::special;
use super::unit;
use super::words;
use crate::finding::{Finding, Fix};
use crate::source::Span;
use crate::syntax::rules;
use std::ops::Range;

/// Why `line`, which starts at byte `start` of the piece, cannot be read. A word that the pattern gives something as a name
/// is no slip.
pub(super) fn explain(piece: Piece<'_>, start: u32, line: &str, around: &Around<'_>) -> Finding {
    if line.chars().any(special::is_control) {
        return special::control_character(piece, start, line);
    }
    if let Some(finding) = habits::comment(piece, start, line) {
        return finding;
    }
    if let Some(finding) = special::look_alike(piece, start, line) {
        return finding;
    }
    let bad = BadLine { piece, start, text: line };
    if line.bytes().filter(|&byte| byte == b'"').count() % 2 == 1 {
        // Behind a number it may be a mark of inches.
        let number = line.rsplit_once('"').is_some_and(|(before, _)| before.ends_with(|last: char| last.is_numeric()));
        let inches = if number && around.home != Some(Home::Work) { advice::of(bad, around) } else { None };
        return inches.unwrap_or_else(|| unclosed_quote(piece, start, line));
    }
    if let Some(finding) = meant::whole(bad, around) {
        return finding;
    }
    let (at, expected) = farthest(line);
    let word = word_at(line, at);
    let known = line.get(word.clone()).unwrap_or_default();
    let span = piece.span(start + word.start as u32, start + word.end as u32);
    if let Some(finding) = meant::unquoted(bad, &word, &expected) {
        return finding;
    }
    let declared = around.declared.contains(known);
    if !declared && let Some(finding) = unit::unknown(span, line, &word, &expected) {
        // A unit in full is no slip of another one.
        return advice::of(bad, around).unwrap_or(finding);
    }
    let slipped = capital(span, line, word.clone(), &expected)
        .or_else(|| if declared { None } else { misspelt(span, line, word.clone(), &expected) })
        .map(|(finding, meant)| finding.fix(slip::fix(piece, start, line, span, &meant)));
    // What leaves no choice first; then what the whole line says; then guesses at the word where reading stops.
    let certain = slipped.as_ref().is_some_and(|finding| {
        let meant = finding.fix.as_ref().and_then(|fix| fix.edits.first()).map_or("", |edit| &edit.text);
        let mut mended = line.to_owned();
        mended.replace_range(word.clone(), meant);
        finding.is_safely_mended() || *finding.rule == rules::CAPITAL_WORD && reads(&mended)
    });
    if let Some(finding) = slipped.clone().filter(|_| certain) {
        return finding;
    }
    meant::missing_word(bad, &word, &expected)
        .or_else(|| advice::of(bad, around))
        .or_else(|| meant::how_long(bad))
        .or(slipped)
        .or_else(|| meant::small_word(bad, &word, &expected, around))
        .or_else(|| taken(span, line, word, &expected))
        .unwrap_or_else(|| general(bad, span, known, at, &expected, around))
}

/// A line of which nothing more can be said.
pub(super) fn unreadable(span: Span) -> Finding {
    rules::UNREADABLE_LINE
        .finds(span, "this line cannot be read")
        .because("It is like no line that the language knows.")
        .mend("Write it anew in words of the language.")
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

/// A word of the language where the line could be read with a name.
fn taken(span: Span, line: &str, place: Range<usize>, expected: &[Rule]) -> Option<Finding> {
    let word = line.get(place.clone()).filter(|word| words::is_keyword(word) && !is_name(word))?;
    let other = format!("my-{word}");
    let mended = format!("{}{other}{}", line.get(..place.start)?, line.get(place.end..)?);
    (expected.contains(&Rule::name) && reads(&mended)).then(|| {
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
        reads(&mended) || !words::is_keyword(word) && goes_on(line, &place, meant)
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

fn general(bad: BadLine<'_>, span: Span, word: &str, at: usize, expected: &[Rule], around: &Around<'_>) -> Finding {
    let line = bad.text;
    let first = line.get(first_word(line)).unwrap_or_default();
    let sample = words::sample(first);
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
    let marked = if word.trim().is_empty() { "something is missing here" } else { "reading stops here" };
    let finding = rules::UNREADABLE_LINE.finds(span, what).marked(marked).because(why);
    if sample.is_some() {
        return finding.mend(advice::form(first, around.home));
    }
    match advice::said_to_the_knitter(bad, around) {
        Some(way) => {
            let mend = format!(
                "If the machine does it, write it in words of the language. If it is for the knitter to do, write `{}`: then \
                 it stands on the sheet.",
                way.text
            );
            let mut finding = finding.mend(mend);
            finding.ways.push(way);
            finding
        }
        None => {
            finding.mend("Write it in words of the language; if it is only a remark on the pattern, put `#` before it.")
        }
    }
}

fn unclosed_quote(piece: Piece<'_>, start: u32, line: &str) -> Finding {
    let at = line.rfind('"').unwrap_or(0) as u32;
    let end = start + line.len() as u32;
    let finding = rules::UNCLOSED_QUOTE
        .finds(piece.span(start + at, start + at + 1), "this quotation mark is never closed")
        .marked("opened here")
        .also(piece.span(end, end), "the line ends here")
        .because("Words in quotation marks end on the line they begin on; they hold no quotation marks themselves.")
        .mend("Put `\"` behind the last of the words.");
    // Not to be made without asking: where the words end only the knitter knows.
    if line.ends_with(['{', '}', '"']) || !reads(&format!("{line}\"")) {
        return finding;
    }
    finding.fix(Fix::new("put `\"` at the end of the line", piece.span(end, end), "\""))
}

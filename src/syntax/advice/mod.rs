//! What a line was meant to be that is no line of the language: words of the trade that the language does not have, the way
//! people speak at the machine, hand knitting, and the habits of spreadsheets and word processors.
//!
//! A reading of a line must account for every word of it; one word too many, and nothing is claimed. What is advised is
//! data (`Way`): whole lines that can be read, or lines with words in capitals for what only the knitter knows.

mod around;
mod beds;
mod declare;
mod heard;
mod marks;
mod phrases;
mod profile;
mod rows;
mod shape;
mod speech;
mod stitches;
mod values;

pub(super) use around::Around;
pub(crate) use beds::around_the_centre;
use heard::Heard;

use super::bad_line::BadLine;
use super::forms::{Home, beginning_with};
use super::reach::{is_short, reads};
use super::words;
use crate::finding::{Finding, Way};
use crate::source::Span;
use crate::syntax::rules;
use std::collections::HashSet;
use std::fmt::Write as _;

/// What is advised for a line.
#[derive(Debug)]
struct Advice {
    /// What is wrong, without a full stop.
    what: String,
    /// Why, in whole sentences.
    why: String,
    /// The lines to choose from, and when each is the right one.
    ways: Vec<(String, String)>,
}

impl Advice {
    /// One way alone.
    fn one(what: impl Into<String>, why: impl Into<String>, line: impl Into<String>) -> Self {
        Self { what: what.into(), why: why.into(), ways: vec![(line.into(), String::new())] }
    }

    /// Several, each with the words that say when.
    fn choice(what: impl Into<String>, why: impl Into<String>, ways: Vec<(String, &str)>) -> Self {
        let ways = ways.into_iter().map(|(line, when)| (line, when.to_owned())).collect();
        Self { what: what.into(), why: why.into(), ways }
    }
}

/// Whether every line of an advice can be read, with a name or needles where the knitter has something to fill in. Braces
/// stand at the ends of lines.
fn is_sound(text: &str) -> bool {
    text.lines().all(|line| {
        let line = line.split(" # ").next().unwrap_or_default().trim();
        let line = line.trim_end_matches('{').trim_end();
        line.is_empty() || line == "}" || reads(&tried(line))
    })
}

/// A line with something in the place of its blanks.
fn tried(line: &str) -> String {
    let mut tried = line.to_owned();
    for (blank, sample, _) in BLANKS {
        tried = tried.replace(blank, sample);
    }
    tried
}

/// The words for what only the knitter knows: what a line can be tried with, and what is to be put there.
const BLANKS: &[(&str, &str, &str)] = &[
    ("BED", "front", "`front`, `back` or `both`"),
    ("ACTION", "knit", "`knit`, `tuck` or `slip`"),
    ("GAITING", "between", "`between` or `opposite`"),
    ("KIND", "zigzag", "`zigzag`, `open`, `wound` or `chain`"),
    ("SIDE", "left", "`left` or `right`"),
    ("NEEDLES", "L10-R10", "the needles, such as `L10-R10`"),
    ("NUMBER", "2", "the number"),
    ("NAME", "slate", "a name"),
    ("WORDS", "like these", "words for the knitter"),
    ("LENGTH", "10 cm", "how much was measured, such as `10 cm`"),
];

/// What was meant by a line of which every word is understood; none where that cannot be said.
pub(super) fn of(line: BadLine<'_>, around: &Around<'_>) -> Option<Finding> {
    if !is_short(line.text) {
        return None;
    }
    let advice = meant(line.text, around)?;
    Some(finding(line, advice))
}

/// A line of which nothing can be said but that it is none, as a note: in a piece it may be for the knitter to do.
pub(super) fn said_to_the_knitter(line: BadLine<'_>, around: &Around<'_>) -> Option<Way> {
    let words = line.text.trim().trim_end_matches(['.', ';', ':']).replace('"', "'");
    let work = around.inside && matches!(around.home, Some(Home::Work) | None) && !around.opens;
    (work && is_short(line.text) && words.chars().any(char::is_alphabetic))
        .then(|| Way::new(whole(line), format!("note \"{words}\""), ""))
}

/// What was meant by a line in a piece that can be read and belongs elsewhere: why, what to do, and the ways.
pub(crate) fn meant_in_a_piece(words: &str, span: Span) -> Option<(String, String, Vec<Way>)> {
    let nothing = HashSet::new();
    let around =
        Around { home: Some(Home::Work), inside: true, opens: false, declared: &nothing, text: "", at: 0, line: words };
    if !is_short(words) {
        return None;
    }
    let quoted = words
        .strip_prefix('"')
        .and_then(|rest| rest.strip_suffix('"'))
        .filter(|inner| inner.contains(char::is_alphabetic));
    let advice = meant(words, &around).or_else(|| {
        let why = "Words in quotation marks alone say nothing; words for the knitter stand behind `note`.";
        quoted.map(|inner| Advice::one("", why, format!("note \"{inner}\"")))
    })?;
    let mend = told(&advice.ways);
    let ways = advice.ways.into_iter().map(|(text, when)| Way::new(span, text, when)).collect();
    Some((advice.why, mend, ways))
}

/// What lines that begin with that word look like there, with words in capitals for what only the knitter knows.
pub(super) fn form(first: &str, home: Option<Home>) -> String {
    let all: Vec<_> = beginning_with(first).collect();
    let stands = |home: &Option<Home>| all.iter().any(|form| form.home == *home);
    let home = [home, Some(Home::Work)].into_iter().find(stands);
    let mut forms: Vec<String> = Vec::new();
    for sample in all.iter().filter(|form| home.is_none_or(|home| form.home == home)).flat_map(|form| form.samples) {
        let form = with_blanks(sample.trim_end_matches('{').trim_end());
        if !forms.contains(&form) {
            forms.push(form);
        }
    }
    let shown: Vec<String> = forms.iter().map(|form| format!("`{form}`")).collect();
    format!("Such a line has the form {}.{}", shown.join(" or "), filled(&forms.join("\n")))
}

/// A line with words in capitals for its beds, needles, numbers and names.
fn with_blanks(line: &str) -> String {
    let mut quoted = line.split('"');
    let mut text = String::new();
    while let Some(plain) = quoted.next() {
        let words: Vec<String> = plain
            .split_inclusive([' ', ',', '(', ')'])
            .map(|part| {
                let word = part.trim_end_matches([' ', ',', '(', ')']);
                let blank = match word {
                    "front" | "back" | "both" => "BED",
                    "knit" | "tuck" | "slip" => "ACTION",
                    "between" | "opposite" => "GAITING",
                    "zigzag" => "KIND",
                    "left" | "right" if !line.starts_with("racking") => "SIDE",
                    _ if words::is_needle(word) => "NEEDLES",
                    _ if word.starts_with(|first: char| first.is_ascii_digit()) && !word.contains('/') => "NUMBER",
                    _ if !word.is_empty()
                        && word.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'-')
                        && !words::is_keyword(word) =>
                    {
                        "NAME"
                    }
                    _ => word,
                };
                format!("{blank}{}", &part[word.len()..])
            })
            .collect();
        text.push_str(&words.concat());
        if quoted.next().is_some() {
            text.push_str("\"WORDS\"");
        }
    }
    text
}

fn whole(line: BadLine<'_>) -> Span {
    line.piece.span(line.start, line.start + line.text.len() as u32)
}

fn meant(text: &str, around: &Around<'_>) -> Option<Advice> {
    let sound = |advice: &Advice| {
        !advice.ways.is_empty() && advice.ways.iter().all(|(line, _)| is_sound(line) && !is_without_bed(line))
    };
    // A mark of inches that was never closed has taken the brace behind it along.
    let braced = text.strip_suffix('}').filter(|text| text.bytes().filter(|&byte| byte == b'"').count() == 1);
    if let Some(inner) = braced.map(str::trim_end) {
        let mut advice = meant(inner, &Around { line: inner, ..*around })?;
        advice.ways.iter_mut().for_each(|(line, _)| line.push_str(" }"));
        return Some(advice);
    }
    let work = around.inside && around.home == Some(Home::Work);
    if let Some((line, words)) = marks::remark(text).filter(|_| work) {
        let ways = vec![
            (format!("{line}\nnote \"{words}\""), "to have the words on the sheet"),
            (format!("{line} # {words}"), "if they are only a remark in the file"),
        ];
        let why = "Brackets hold the numbers of other sizes, and no words.";
        return Some(Advice::choice("words in brackets are no part of a line", why, ways)).filter(sound);
    }
    let cleaned = marks::cleaned(text);
    if let Some((cleaned, why)) = cleaned.as_ref().filter(|(cleaned, _)| reads(cleaned) && !is_without_bed(cleaned)) {
        return Some(Advice::one("this line has marks that are no part of it", why.clone(), cleaned.clone()));
    }
    let bare = cleaned.as_ref().map_or(text, |(cleaned, _)| cleaned.as_str());
    let heard = Heard::new(bare);
    type Reading = fn(&Heard, &Around<'_>) -> Option<Advice>;
    let top: &[Reading] = match around.home {
        Some(Home::Machine) => &[profile::machine],
        Some(Home::Yarn) => &[profile::yarn],
        Some(Home::Gauge) => &[profile::gauge],
        Some(Home::Top) if !around.inside => &[declare::top],
        _ => &[],
    };
    let work: &[Reading] = &[
        speech::speech,
        beds::stitch_size,
        beds::gaiting,
        beds::rack,
        beds::needles,
        beds::carriage,
        beds::yarn,
        beds::turn,
        stitches::moved,
        stitches::transfer,
        stitches::cast_on,
        stitches::take_off,
        stitches::drop,
        stitches::lace,
        shape::edge,
        shape::repeat,
        shape::named,
        rows::garter,
        rows::rows,
    ];
    let first = |readings: &[Reading]| readings.iter().find_map(|read| read(&heard, around).filter(sound));
    let in_work = matches!(around.home, Some(Home::Work | Home::Top) | None);
    first(top)
        .or_else(|| phrases::written(bare).filter(|_| in_work).filter(sound))
        .or_else(|| if in_work { first(work) } else { None })
}

/// `row knit`: it can be read, and says of no bed what its needles do.
fn is_without_bed(line: &str) -> bool {
    let mut words = line.split(' ').filter(|word| !word.bytes().all(|byte| byte.is_ascii_digit()));
    let row = words.next().is_some_and(|first| matches!(first, "row" | "rows"));
    row && words.next().is_some_and(|next| matches!(next, "knit" | "tuck" | "slip"))
}

fn finding(line: BadLine<'_>, advice: Advice) -> Finding {
    let Advice { what, why, ways } = advice;
    let span = whole(line);
    let mend = told(&ways);
    let from = ways.first().map_or(0, |(text, _)| alike(line.text, text)) as u32;
    let mut finding = rules::UNREADABLE_LINE
        .finds(Span { start: span.start + from, ..span }, what)
        .marked("this is written otherwise")
        .because(why)
        .mend(mend);
    let indent = indent(line);
    for (text, when) in ways {
        // A brace that follows stays where it is; lines below the first stand as far in as the first.
        let text = text.lines().collect::<Vec<_>>().join(&format!("\n{indent}"));
        finding.ways.push(Way::new(span, text, when));
    }
    finding
}

/// The byte up to which two lines have the same words; 0 where one is the beginning of the other.
fn alike(line: &str, other: &str) -> usize {
    let same = line.bytes().zip(other.bytes()).take_while(|(one, other)| one == other).count();
    let word = line.get(..same).map_or("", |same| same.trim_end_matches(words::is_word_character));
    let split = line.get(same..).is_some_and(|rest| rest.starts_with(words::is_word_character));
    match same {
        _ if same >= line.trim_end().len() || same >= other.len() => 0,
        // In the middle of a word it is the whole word that is another.
        _ if split => word.len(),
        _ => same,
    }
}

/// The blanks before the line.
fn indent(line: BadLine<'_>) -> String {
    let before = line.piece.text.get(..line.start as usize).unwrap_or_default();
    let before = before.rsplit(['\n', '\r']).next().unwrap_or_default();
    if before.trim().is_empty() { before.to_owned() } else { String::new() }
}

/// What is to be done, for all ways.
pub(super) fn told(ways: &[(String, String)]) -> String {
    let mut told = String::new();
    for (at, (text, when)) in ways.iter().enumerate() {
        let lines: Vec<String> = text.lines().map(|line| format!("`{}`", line.trim())).collect();
        let verb = if at == 0 { "Write" } else { "write" };
        let what = match lines.as_slice() {
            [] if at == 0 => "Take the line out".to_owned(),
            [] => "take the line out".to_owned(),
            [line] => format!("{verb} {line}"),
            lines => format!("{verb} these lines in its place: {}", crate::words::list(lines)),
        };
        let sign = match at {
            0 => "",
            _ if at + 1 == ways.len() => "; or ",
            _ => "; ",
        };
        let blank = if when.is_empty() { "" } else { " " };
        let _ = write!(told, "{sign}{what}{blank}{when}");
    }
    told.push('.');
    let all: Vec<&str> = ways.iter().map(|(text, _)| text.as_str()).collect();
    told + &filled(&all.join("\n"))
}

/// What is to be written for the words in capitals, in a sentence with a blank before it.
fn filled(text: &str) -> String {
    let there = |blank: &str| crate::finding::blanks(text).any(|there| there == blank);
    let filled: Vec<String> = BLANKS
        .iter()
        .filter(|(blank, ..)| there(blank))
        .enumerate()
        .map(
            |(at, (blank, _, what))| {
                if at == 0 { format!("For {blank} write {what}") } else { format!("for {blank} {what}") }
            },
        )
        .collect();
    if filled.is_empty() { String::new() } else { format!(" {}.", filled.join("; ")) }
}

#[cfg(test)]
mod tests {
    use super::{BLANKS, form, is_sound, phrases, tried, with_blanks};
    use crate::finding::blanks;
    use crate::syntax::words::SAMPLES;

    #[test]
    fn every_form_can_be_read_once_it_is_filled_in_and_not_before() {
        for (first, samples) in SAMPLES.iter() {
            for sample in samples {
                let form = with_blanks(sample.trim_end_matches('{').trim_end());
                assert!(is_sound(&form), "{form}: {}", tried(&form));
            }
            for blank in blanks(form(first, None).split('.').next().unwrap_or_default()) {
                assert!(BLANKS.iter().any(|(known, ..)| *known == blank), "{first}: {blank}");
            }
        }
        assert_eq!(with_blanks("in work front L30-R30, back L30-R29"), "in work BED NEEDLES, BED NEEDLES");
        assert_eq!(with_blanks("racking back bed, 5 left to 5 right"), "racking BED bed, NUMBER left to NUMBER right");
        assert_eq!(with_blanks("note \"hang the weights\""), "note \"WORDS\"");
        assert_eq!(blanks("note \"WORDS\" NAME \"TAKE CARE\"").collect::<Vec<_>>(), ["NAME", "WORDS"]);
    }

    #[test]
    fn a_longer_phrase_stands_before_one_that_it_holds() {
        phrases::tests::in_order();
    }
}

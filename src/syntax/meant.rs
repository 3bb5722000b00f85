//! What a whole line was meant to be: one small change is tried, and where the line can be read with it, it is said.

use super::advice::Around;
use super::bad_line::BadLine;
use super::expected::expectation;
use super::grammar::Rule;
use super::reach::{behind, is_short, list, reads, shown};
use super::words::{self, UNITS};
use crate::finding::{Edit, Finding, Fix};
use crate::syntax::rules;
use std::ops::Range;

/// What is typed at the start of a line, and what the language writes for it.
const SPOKEN: &[(&str, &str)] = &[
    ("bind-off", "bind off"),
    ("bindoff", "bind off"),
    ("cast off", "bind off"),
    ("cast-off", "bind off"),
    ("cast-on", "cast on"),
    ("castoff", "bind off"),
    ("caston", "cast on"),
    ("dec", "decrease"),
    ("inc", "increase"),
];

/// The words of the trade for which the language has others, a number left out, and needles written the wrong way round:
/// slips that the place where reading stops says little about.
pub(super) fn whole(line: BadLine<'_>, around: &Around<'_>) -> Option<Finding> {
    if !is_short(line.text) {
        return None;
    }
    spoken(line)
        .or_else(|| needles(line))
        .or_else(|| row_or_rows(line))
        .or_else(|| {
            if line.text.split(' ').nth(1).is_some_and(|name| around.declared.contains(name)) {
                how_long(line)
            } else {
                None
            }
        })
        .or_else(|| centre(line))
        .or_else(|| several(line))
}

/// Lines that stand behind one another with commas or semicolons between: what stands behind the first is lost otherwise.
fn several(line: BadLine<'_>) -> Option<Finding> {
    /// So many marks are tried: nobody puts more lines into one.
    const MOST: usize = 12;
    let mut quoted = false;
    let marks = line.text.char_indices().filter(|(_, c)| {
        quoted ^= *c == '"';
        !quoted && matches!(c, ',' | ';')
    });
    let marks: Vec<usize> = marks.map(|(at, _)| at).take(MOST).collect();
    let mut cuts: Vec<usize> = Vec::new();
    let mut begin = 0;
    let part = |from: usize, to: usize| line.text.get(from..to).map_or("", str::trim);
    while !reads(part(begin, line.text.len())) {
        // A comma stands within lines too, so each is as long as it can be.
        let cut =
            *marks.iter().rev().find(|&&at| at >= begin && !part(begin, at).is_empty() && reads(part(begin, at)))?;
        cuts.push(cut);
        begin = cut + 1;
    }
    let first = *cuts.first()?;
    let mut from = 0;
    let mut lines: Vec<String> = Vec::new();
    for to in cuts.iter().copied().chain([line.text.len()]) {
        lines.push(format!("`{}`", part(from, to)));
        from = to + 1;
    }
    let last = lines.pop()?;
    let finding = line
        .finding(&(first..first + 1), "several statements stand in one line".to_owned())
        .marked("a new line belongs here")
        .because("One statement stands in a line. A comma goes on within a statement and begins no new one.")
        .mend(format!("Write each on a line of its own: {} and {last}.", lines.join(", ")));
    Some(finding)
}

fn spoken(line: BadLine<'_>) -> Option<Finding> {
    let begins = |word: &str| {
        let head = line.text.get(..word.len()).is_some_and(|head| head.eq_ignore_ascii_case(word));
        head && !line.text[word.len()..].starts_with(words::is_word_character)
    };
    let (word, meant) = SPOKEN.iter().find(|(word, _)| begins(word))?;
    let range = 0..word.len();
    let mended = line.with(&range, meant);
    let written = &line.text[range.clone()];
    reads(&mended).then(|| {
        line.finding(&range, format!("no line begins with `{written}`"))
            .marked(format!("write `{meant}`"))
            .because(format!("Every line has one form in wale, and this one begins with `{meant}`."))
            .mend(format!("Write `{mended}`."))
            .fix(Fix::new(format!("write `{meant}`"), line.span(&range), *meant).safe_if(true))
    })
}

/// `20L-20R` and `20L - 20R` for `L20-R20`.
fn needles(line: BadLine<'_>) -> Option<Finding> {
    let turned = |part: &str| {
        let side = part.chars().last().filter(|side| "LRlr".contains(*side))?;
        let digits = &part[..part.len() - 1];
        let number = !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit());
        number.then(|| format!("{}{digits}", side.to_ascii_uppercase()))
    };
    let mut edits: Vec<(Range<usize>, String)> = Vec::new();
    let mut at = 0;
    for word in line.text.split([' ', '\t', ',']) {
        let range = at..at + word.len();
        at = range.end + 1;
        let parts: Option<Vec<String>> = word.split('-').map(turned).collect();
        if let Some(parts) = parts.filter(|parts| parts.len() <= 2) {
            let apart = |last: &(Range<usize>, String)| line.text[last.0.end..range.start].trim() == "-";
            match edits.last_mut().filter(|last| apart(last)) {
                Some(last) => *last = (last.0.start..range.end, format!("{}-{}", last.1, parts.join("-"))),
                None => edits.push((range, parts.join("-"))),
            }
        }
    }
    let mut mended = line.text.to_owned();
    for (range, text) in edits.iter().rev() {
        mended.replace_range(range.clone(), text);
    }
    let (range, text) = edits.first().filter(|_| reads(&mended))?;
    let title = format!("write `{text}`");
    let finding = line
        .finding(range, format!("`{}` is no needle", &line.text[range.clone()]))
        .marked(title.clone())
        .because("A needle is named by its side first, `L` or `R`, and then by its number, counted from the centre.")
        .mend(format!("Write `{mended}`."));
    // A range with both its sides is no slip of a finger. `6l` alone may as well be 61.
    let safe = edits.iter().all(|(_, text)| text.contains('-'));
    let edits = edits.iter().map(|(range, text)| Edit::new(line.span(range), text)).collect();
    Some(finding.fix(Fix { title, edits, safe }))
}

/// `row 4 both knit` and `rows both knit`.
fn row_or_rows(line: BadLine<'_>) -> Option<Finding> {
    let first = line.first();
    let range = 0..first.len();
    match first {
        // With a name behind it, it may as well be a bed with a slip in it.
        "row" if line.text[first.len()..].trim_start().starts_with(|next: char| next.is_ascii_digit()) => {
            let mended = line.with(&range, "rows");
            reads(&mended).then(|| {
                line.finding(&range, "`row` is one row, and a number of rows follows".to_owned())
                    .marked("write `rows`")
                    .because("One row is written `row`, with its bed behind it; several are `rows` and their number.")
                    .mend(format!("Write `{mended}`."))
                    .fix(Fix::new("write `rows`", line.span(&range), "rows").safe_if(true))
            })
        }
        "rows" => {
            let one = line.with(&range, "row");
            reads(&one).then(|| {
                let behind = first.len()..first.len();
                line.finding(&behind, "the number of rows is missing".to_owned())
                    .marked("how many?")
                    .because("Behind `rows` stands how many there are; one row alone is written `row`.")
                    .mend(format!(
                        "Write the number in the place of NUMBER in `{}`, or `{one}` for one row.",
                        line.with(&behind, " NUMBER")
                    ))
            })
        }
        _ => None,
    }
}

/// `work rib 30 cm` for `work rib for 30 cm`.
pub(super) fn how_long(line: BadLine<'_>) -> Option<Finding> {
    if !is_short(line.text) || !matches!(line.first(), "work" | "follow") {
        return None;
    }
    let starts = line.text.match_indices([' ', '\t']).map(|(at, _)| at + 1);
    let (at, mended) = starts.skip(1).map(|at| (at, line.with(&(at..at), "for "))).find(|(_, mended)| reads(mended))?;
    let length = at..line.text.len();
    let written = &line.text[length.clone()];
    // With a unit it is an amount of work; a name or a number may also count how often.
    let unit = written.rsplit(|last: char| !last.is_ascii_alphabetic()).next().unwrap_or_default();
    let measured = UNITS.contains(&unit) && written.starts_with(|first: char| first.is_ascii_digit());
    let often = format!("{} times", line.text.trim_end());
    if written.bytes().all(|byte| byte.is_ascii_digit()) {
        let end = line.text.len()..line.text.len();
        return Some(
            line.finding(&end, format!("`times` or a unit is missing behind `{written}`"))
                .marked("how often, or how long?")
                .because("How often a stitch is worked is written with `times`; how long, with `for` and a unit.")
                .mend(format!("Write `{often}`, or, for example, `{mended} rows`.")),
        );
    }
    let finding = line
        .finding(&length, format!("`for` is missing before `{written}`"))
        .marked("how long?")
        .because("How long a stitch is worked is written with `for`, and how often with `times` behind the number.");
    let fix = Fix::new("write `for`", line.span(&(at..at)), "for ").safe_if(measured);
    Some(
        finding
            .mend(if measured || !reads(&often) {
                format!("Write `{mended}`.")
            } else {
                format!("Write `{mended}` for a length or rows, or `{often}` if it says how often.")
            })
            .fix(fix),
    )
}

/// `rack to center`.
fn centre(line: BadLine<'_>) -> Option<Finding> {
    let at = line.text.find("center").filter(|_| line.first() == "rack")?;
    let range = at..at + "center".len();
    reads(&line.with(&range, "centre")).then(|| {
        rules::MISSPELT_WORD
            .finds(line.span(&range), "`center` is no word that can stand here")
            .marked("`centre`?")
            .because("The language writes it `centre`.")
            .mend("Write `centre`.")
            .fix(Fix::new("write `centre`", line.span(&range), "centre").safe_if(true))
    })
}

/// Words that want quotation marks, where reading stops at `place` and nothing but words in quotation marks may follow.
pub(super) fn unquoted(line: BadLine<'_>, place: &Range<usize>, expected: &[Rule]) -> Option<Finding> {
    let other = [Rule::name, Rule::needles, Rule::quantity];
    let title = expected.contains(&Rule::words) && !other.iter().any(|rule| expected.contains(rule));
    if !title || !is_short(line.text) || place.is_empty() || place.start == 0 {
        return None;
    }
    let rest = line.text.get(place.start..)?;
    let ends = [rest.find(',').map(|comma| place.start + comma), Some(line.text.len())];
    let quoted = |end: usize| {
        let range = place.start..end;
        let words = format!("\"{}\"", line.text[range.clone()].trim_matches('\''));
        let mended = line.with(&range, &words);
        reads(&mended).then_some((range, words, mended))
    };
    let (range, words, mended) = ends.into_iter().flatten().find_map(quoted)?;
    Some(
        line.finding(&range, "quotation marks are missing here".to_owned())
            .marked("words in quotation marks belong here")
            .because("Titles, colours, names of files and words for the knitter stand in quotation marks; other words are read as instructions.")
            .mend(format!("Write `{mended}`."))
            .fix(Fix::new("put it in quotation marks", line.span(&range), words)),
    )
}

/// A word of the language too many at `place`, or a bed too few before it.
pub(super) fn small_word(
    line: BadLine<'_>,
    place: &Range<usize>,
    expected: &[Rule],
    around: &Around<'_>,
) -> Option<Finding> {
    if !is_short(line.text) {
        return None;
    }
    let word = line.text.get(place.clone())?;
    let rest = line.text.get(place.end..)?;
    let without = place.start..place.end + (rest.len() - rest.trim_start().len());
    if words::is_keyword(word) && reads(&line.with(&without, "")) {
        let mended = line.with(&without, "");
        return Some(
            line.finding(place, format!("{} does not belong here", shown(word)))
                .marked("leave this out")
                .because(format!("The line says the same without {}, and can be read then.", shown(word)))
                .mend(format!("Write `{}`.", mended.trim_end()))
                .fix(Fix::new(format!("leave `{word}` out"), line.span(&without), "")),
        );
    }
    missing(line, place, expected, around.bed_or_blank())
}

/// The one word that is missing before `place`, where there is no choice.
pub(super) fn missing_word(line: BadLine<'_>, place: &Range<usize>, expected: &[Rule]) -> Option<Finding> {
    // What stands behind the name of a stitch says how often or how long, which is told apart elsewhere.
    if !is_short(line.text) || matches!(line.first(), "work" | "follow") {
        return None;
    }
    missing(line, place, expected, "").filter(|finding| finding.fix.is_some())
}

fn missing(line: BadLine<'_>, place: &Range<usize>, expected: &[Rule], there: &str) -> Option<Finding> {
    let word = line.text.get(place.clone())?;
    let before = line.text.get(..place.start)?.trim_end();
    let insert = |words: &str| {
        let sign = if words == "," { "" } else { " " };
        format!("{before}{sign}{words} {}", &line.text[place.start..]).trim_end().to_owned()
    };
    let mut found: Vec<(&str, &str, bool, String)> = Vec::new();
    for &rule in expected {
        let (called, words) = match expectation(rule) {
            _ if rule == Rule::comma => ("a comma", vec![","]),
            Some(expected) => (expected.called, expected.words().collect()),
            None => continue,
        };
        // At the end of a line with several to choose from it is better said what they are.
        if word.is_empty() && words.len() != 1 {
            continue;
        }
        // An amount with a unit is no count of times.
        let measured = UNITS.iter().any(|unit| before.ends_with(&format!(" {unit}")));
        if measured && words == ["times"] {
            continue;
        }
        if let Some((choice, mended)) = words.iter().map(|word| (*word, insert(word))).find(|(_, mended)| reads(mended))
            && !found.iter().any(|(_, known, ..)| *known == called)
        {
            found.push((choice, called, words.len() > 1, mended));
        }
    }
    let [(choice, called, several, mended)] = found.as_slice() else { return None };
    // Of several words that would do, only a bed is likely to be what was left out.
    let bed = expectation(Rule::bed).is_some_and(|bed| bed.called == *called);
    if *several && (!bed || words::is_keyword(word)) {
        return None;
    }
    let thing = if *several || *choice == "," { (*called).to_owned() } else { format!("`{choice}`") };
    let place_words = if word.is_empty() { "at the end".to_owned() } else { format!("before {}", shown(word)) };
    let span = place.clone();
    let why = list(expected).map(|list| format!("{} there can be {list}.", behind(line.text, place.start)));
    let finding = line
        .finding(&span, format!("{thing} is missing {place_words}"))
        .marked("reading stops here")
        .because(why.unwrap_or_default())
        .mend(if *several {
            let meant = insert(there);
            let put = if reads(&meant) { "" } else { " Put `front`, `back` or `both` in the place of BED." };
            format!("Write `{meant}`.{put}")
        } else {
            format!("Write `{mended}`.")
        });
    let gap = before.len()..place.start;
    let behind = if word.is_empty() { "" } else { " " };
    let text = if *choice == "," { ", ".to_owned() } else { format!(" {choice}{behind}") };
    Some(if *several { finding } else { finding.fix(Fix::new(format!("write `{choice}`"), line.span(&gap), text)) })
}

#[cfg(test)]
mod tests {
    use super::SPOKEN;
    use crate::finding::Finding;
    use crate::source::FileId;
    use crate::syntax::{reach, read};

    /// The one finding of the last line.
    fn of_last(text: &str) -> Finding {
        let (_, mut findings) = read(FileId(0), text);
        let start = text.rfind('\n').map_or(0, |at| at + 1) as u32;
        findings.retain(|finding| finding.at.span.start >= start && finding.rule.name != "missing-block");
        assert_eq!(findings.len(), 1, "{text}: {findings:?}");
        findings.remove(0)
    }

    #[test]
    fn every_line_is_told_as_it_should_be_and_that_can_be_read() {
        for (line, what, right) in [
            ("in work width each side", "a bed", "in work BED width each side"),
            ("row front slip edges", "`on` is missing before `edges`", "row front slip on edges"),
            ("transfer from back to front", "do not stand in their order", "transfer back to front"),
            ("row front knit back tuck", "a comma is missing before `back`", "row front knit, back tuck"),
            ("increase front 1 left", "`at` is missing before `left`", "increase front 1 at left"),
            ("stitch rib both", "`on` is missing before `both`", "stitch rib on both"),
            ("repeat 3", "`times` is missing at the end", "repeat 3 times"),
            ("colour orange", "quotation marks are missing", "colour \"orange\""),
            ("use machines/shed.wale", "quotation marks are missing", "use \"machines/shed.wale\""),
            ("piece Scarf, make 2", "quotation marks are missing", "piece \"Scarf\", make 2"),
            ("inc front 1 at left", "no line begins with `inc`", "increase front 1 at left"),
            ("caston zigzag", "no line begins with `caston`", "cast on zigzag"),
            ("Cast off front", "no line begins with `Cast off`", "bind off front"),
            ("in work front 20L-20R", "`20L-20R` is no needle", "in work front L20-R20"),
            ("in work front 20l - 20r, back 9L", "`20l - 20r` is no needle", "in work front L20-R20, back L9"),
            ("row 4 both knit", "`row` is one row", "rows 4 both knit"),
            ("rows both knit", "the number of rows is missing", "rows NUMBER both knit"),
            ("work rib 30 cm", "`for` is missing before `30 cm`", "work rib for 30 cm"),
            ("work rib (depth 3 rows) 121 rows", "`for` is missing", "work rib (depth 3 rows) for 121 rows"),
            ("work rib height", "`for` is missing before `height`", "work rib for height"),
            ("work rib 4", "`times` or a unit is missing", "work rib 4 times"),
        ] {
            let finding = of_last(&format!("let width = 5\nlet edges = L5\n{line}"));
            assert!(finding.what.contains(what), "{line}: {finding:?}");
            assert!(finding.mend.contains(&format!("`{right}`")), "{line}: {finding:?}");
            assert!(reach::reads(&right.replace("BED", "front").replace("NUMBER", "4")), "{right}");
            if let Some(fix) = &finding.fix {
                let mut mended = format!("let width = 5\nlet edges = L5\n{line}");
                for edit in fix.edits.iter().rev() {
                    mended.replace_range(edit.span.range(), &edit.text);
                }
                assert_eq!(mended.lines().last(), Some(right), "{line}");
            }
        }
    }

    #[test]
    fn a_name_of_the_pattern_is_no_slip_and_what_helps_nothing_is_not_said() {
        let slip = "row front slip on edges, edgs";
        assert!(of_last(slip).mend.contains("Such a line has the form"), "{:?}", of_last(slip));
        assert_eq!(of_last("in wrok front").rule.name, "misspelt-word");
        assert_ne!(of_last("let wrok = 3\nin wrok front").rule.name, "misspelt-word");
        assert_eq!(of_last("row frnt knit").rule.name, "misspelt-word");
        assert_eq!(of_last("gaitng between").rule.name, "misspelt-word");
        assert_eq!(of_last("rack to center").mend, "Write `centre`.");
    }

    #[test]
    fn what_is_spoken_begins_a_line_of_the_language() {
        assert!(SPOKEN.is_sorted());
        for (_, meant) in SPOKEN {
            assert!(
                reach::reads(&format!("{meant} front"))
                    || reach::reads(&format!("{meant} front 1 at left"))
                    || reach::reads(&format!("{meant} open front"))
            );
        }
    }
}

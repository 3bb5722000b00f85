//! What the words of the language mean, taken from the page that describes the language, so that it is said in one place.

use crate::catalogue::Rule;
use crate::syntax::{self, forms::beginning_with};

/// The page that describes every line of the language.
const REFERENCE: &str = include_str!("../../grammar/README.md");

/// A row of a table of the page: a line of the language, and what it does.
struct Entry {
    line: &'static str,
    does: &'static str,
}

fn entries() -> impl Iterator<Item = Entry> {
    REFERENCE.lines().filter_map(|row| {
        let mut cells = row.strip_prefix("| ")?.strip_suffix(" |")?.split(" | ");
        let (line, does) = (cells.next()?.trim(), cells.next()?.trim());
        line.starts_with('`').then_some(Entry { line, does })
    })
}

/// Whether a cell shows a line that begins with these words.
fn shows(cell: &str, words: &str) -> bool {
    let lines = cell.split('`').skip(1).step_by(2);
    lines.into_iter().any(|line| line.strip_prefix(words).is_some_and(|rest| rest.is_empty() || rest.starts_with(' ')))
}

fn has_word(cell: &str, word: &str) -> bool {
    cell.split(|character: char| !character.is_alphanumeric() && character != '-').any(|part| part == word)
}

/// The rows of the page about lines that begin like this one, in Markdown: about its first two words if there are any, and
/// about its first word if not.
fn described(line: &str) -> Vec<String> {
    let words: Vec<&str> = line.split_whitespace().take(2).collect();
    let of = |words: &str| -> Vec<String> {
        let rows = entries().filter(|entry| shows(entry.line, words));
        rows.map(|Entry { line, does }| format!("- {line}: {does}")).take(MOST).collect()
    };
    let exactly = if words.len() == 2 { of(&words.join(" ")) } else { Vec::new() };
    if exactly.is_empty() { words.first().map(|word| of(word)).unwrap_or_default() } else { exactly }
}

/// Rows that are shown for one word.
const MOST: usize = 6;

/// What a word of the language means: as the first word of `line`, or behind other words.
pub(super) fn explained(word: &str, line: &str) -> Option<String> {
    let first = line.split(|character: char| character.is_whitespace() || character == '{').next() == Some(word);
    if first {
        let sample = syntax::sample(word)?;
        let rows = match beginning_with(word).find_map(|form| form.means) {
            Some(means) => vec![means.to_owned()],
            None => described(line),
        };
        let heading = format!("**{word}** begins a line such as `{sample}`.");
        return Some(if rows.is_empty() { heading } else { format!("{heading}\n\n{}", rows.join("\n")) });
    }
    if !syntax::keywords().contains(&word) {
        return None;
    }
    // The row that begins with the word, or one about such a line that has the word in it.
    let first = line.split_whitespace().next().unwrap_or_default();
    let begins = entries().find(|entry| shows(entry.line, word));
    let has = || entries().find(|entry| !first.is_empty() && shows(entry.line, first) && has_word(entry.line, word));
    let row = begins.or_else(has).map(|Entry { line, does }| format!("- {line}: {does}"));
    let called = syntax::called(word).map(|called| match called.split_once(" (") {
        Some((what, choice)) => format!("**{word}** is {what}: {}.", choice.trim_end_matches(')')),
        None => format!("**{word}** is a word of the language, as in {called}."),
    });
    let heading = called.unwrap_or_else(|| format!("**{word}** is a word of the language."));
    Some(row.map_or(heading.clone(), |row| format!("{heading}\n\n{row}")))
}

/// What a rule looks for, why, and where its numbers come from.
pub(super) fn rule(rule: &Rule) -> String {
    let severity = match rule.severity {
        crate::catalogue::Severity::Error => "error",
        crate::catalogue::Severity::Warning => "warning",
    };
    let mut text = format!("**{}** ({severity}): {}.\n\n{}", rule.name, rule.summary, rule.why);
    if !rule.source.is_empty() {
        text.push_str(&format!("\n\nWhere the numbers come from: {}", rule.source));
    }
    for (title, pattern) in [("To be mended", rule.bad), ("Mended", rule.good)] {
        if !pattern.is_empty() {
            text.push_str(&format!("\n\n{title}:\n\n```wale\n{}\n```", pattern.trim_matches('\n')));
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_explained_from_the_page() {
        let text = explained("transfer", "transfer back to front, joining").unwrap_or_default();
        assert!(text.contains("takes every stitch of the bed to the facing needle"), "{text}");
        let text = explained("bind", "bind off front").unwrap_or_default();
        assert!(text.contains("the needles stay in work, empty"), "{text}");
        let text = explained("front", "row front knit").unwrap_or_default();
        assert!(text.contains("a bed"), "{text}");
        assert!(explained("joining", "transfer back to front, joining").is_some_and(|text| text.contains("joining")));
    }

    #[test]
    fn every_first_word_and_every_keyword_is_explained() {
        for word in syntax::keywords() {
            assert!(explained(word, "").is_some(), "{word}");
            if syntax::sample(word).is_some() {
                // Every one has more than its sample.
                assert!(explained(word, &format!("{word} x")).is_some_and(|text| text.contains("\n\n")), "{word}");
                assert!(explained(word, &format!("{word} x")).is_some_and(|text| text.len() > word.len() + 10));
            }
        }
        assert_eq!(explained("half-cardigan", "work half-cardigan"), None);
    }

    #[test]
    fn the_page_has_its_tables() {
        assert!(entries().count() > 60, "{}", entries().count());
    }
}

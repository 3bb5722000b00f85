//! A word behind a number that is nearly a unit. Which unit was meant only the knitter knows: 120 cm and 120 m both read,
//! and one is a hundred times the other.

use super::classes::WordClass;
use super::grammar::Rule;
use super::reach::{behind_number, nearest, reads, shown, words_there};
use crate::finding::Finding;
use crate::source::Span;
use crate::syntax::rules;
use std::ops::Range;

/// How like a unit must be to what was written to be named, from 0 to 1.
const LIKE: f32 = 0.3;

/// The most units that are named.
const MOST_NAMED: usize = 4;

/// Whether a slip behind a number may not be mended without asking, because a unit would be chosen.
pub(super) fn chooses(line: &str, word_start: usize, word: &str, meant: &str) -> bool {
    !meant.eq_ignore_ascii_case(word) && behind_number(line, word_start) && WordClass::Unit.words().contains(&meant)
}

/// What is said of the word at `place`, if it is nearly a unit and the line can be read with one.
pub(super) fn unknown(span: Span, line: &str, place: &Range<usize>, expected: &[Rule]) -> Option<Finding> {
    let word = line.get(place.clone())?;
    let there = words_there(line, place.start, expected);
    let near = nearest(&word.to_lowercase(), &there)?;
    if !chooses(line, place.start, word, near) {
        return None;
    }
    let with = |unit: &str| {
        let mut mended = line.to_owned();
        mended.replace_range(place.clone(), unit);
        mended
    };
    let units: Vec<&str> = there.into_iter().filter(|word| WordClass::Unit.words().contains(word)).collect();
    let mut like = similar::get_close_matches(&*word.to_lowercase(), &units, units.len(), LIKE);
    like.retain(|unit| reads(&with(unit)));
    like.truncate(MOST_NAMED);
    let lines: Vec<String> = like.iter().map(|unit| format!("`{}`", with(unit).trim_end())).collect();
    let (first, others) = lines.split_first()?;
    let choice = match others {
        [] => format!("Write {first} if that is what you mean."),
        others => format!("Write what you mean: {first} or {}.", others.join(" or ")),
    };
    Some(
        rules::MISSPELT_WORD
            .finds(span, format!("{} is no unit that can stand here", shown(word)))
            .marked(match like.as_slice() {
                [only] => format!("`{only}`?"),
                _ => "which unit?".to_owned(),
            })
            .because(
                "Another unit is another size, and nothing else in the pattern would show that it is wrong. So a unit is \
                 never guessed, nor mended without you.",
            )
            .mend(choice),
    )
}

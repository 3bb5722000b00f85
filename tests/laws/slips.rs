//! A safe fix never guesses: of a pattern with one slip of the pen, what is mended without asking is the pattern that was
//! there before the slip, or nothing is mended.

use crate::common::{Examples, examples};
use proptest::prelude::*;
use std::ops::Range;
use wale::mend::mend;

/// A slip in one word: what a hand on a keyboard does.
#[derive(Debug, Clone, Copy)]
enum Slip {
    Drops,
    Doubles,
    Swaps,
    Strikes(char),
    Adds(char),
}

fn slip() -> impl Strategy<Value = Slip> {
    let letter = || prop::sample::select(('a'..='z').collect::<Vec<char>>());
    prop_oneof![
        Just(Slip::Drops),
        Just(Slip::Doubles),
        Just(Slip::Swaps),
        letter().prop_map(Slip::Strikes),
        letter().prop_map(Slip::Adds),
    ]
}

/// The words of a text outside comments and quotation marks, each with its place.
fn words(text: &str) -> Vec<Range<usize>> {
    let mut words = Vec::new();
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let code = line.split('#').next().unwrap_or_default();
        let mut at = start;
        for (number, part) in code.split('"').enumerate() {
            let place = |word: &str| word.as_ptr() as usize - text.as_ptr() as usize;
            if number % 2 == 0 {
                let found = part.split(|sign: char| !(sign.is_ascii_alphanumeric())).filter(|word| !word.is_empty());
                words.extend(found.map(|word| place(word)..place(word) + word.len()));
            }
            at += part.len() + 1;
        }
        start += line.len();
        debug_assert!(at >= start || code.len() < line.len());
    }
    words
}

fn slipped(word: &str, at: usize, slip: Slip) -> String {
    let mut letters: Vec<char> = word.chars().collect();
    let at = at % letters.len();
    match slip {
        Slip::Drops => drop(letters.remove(at)),
        Slip::Doubles => letters.insert(at, letters[at]),
        Slip::Swaps if at + 1 < letters.len() => letters.swap(at, at + 1),
        Slip::Swaps => {}
        Slip::Strikes(letter) => letters[at] = letter,
        Slip::Adds(letter) => letters.insert(at, letter),
    }
    letters.into_iter().collect()
}

proptest! {
    #![proptest_config(super::cases(1_500))]

    #[test]
    fn what_is_mended_after_a_slip_is_what_was_there_before(
        pick in any::<prop::sample::Index>(), word in any::<prop::sample::Index>(),
        at in 0_usize..40, slip in slip(),
    ) {
        let examples = examples();
        let (name, text) = &examples[pick.index(examples.len())];
        let words = words(text);
        let place = words[word.index(words.len())].clone();
        let mut with_slip = text.clone();
        with_slip.replace_range(place.clone(), &slipped(&text[place.clone()], at, slip));
        let mended = mend(&with_slip, |text| wale::check(name, text, &Examples));
        let same = mended.text == *text || mended.text == with_slip;
        prop_assert!(same, "{name}, `{}` {slip:?} at {at}: mended to another pattern:\n{}", &text[place],
            similar::TextDiff::from_lines(text, &mended.text).unified_diff());
    }
}

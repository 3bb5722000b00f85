//! Words and phrases for which the language has others, put right where they stand: the rest of the line is as it should be.

use super::super::reach::reads;
use super::super::words::is_word_character;
use super::Advice;

/// What is written, what the language writes for it (nothing: it leaves it out), and why. Longer phrases stand before those
/// that they hold.
const PHRASES: &[(&str, &str, &str)] = &[
    (
        "back purl",
        "back knit",
        "A stitch of the back bed shows its purl side by itself: the needle knits, as on the front bed",
    ),
    ("miss", "slip", SLIPS),
    ("skip", "slip", SLIPS),
    ("float", "slip", SLIPS),
    ("and then", ",", COMMAS),
    ("then", ",", COMMAS),
    (", and", ",", COMMAS),
    (" - ", ", ", COMMAS),
    ("all stitches", "", "A bed without needles means all that it carries"),
    ("all needles", "", "A bed without needles means all that are in work"),
    ("on each side", "each side", COUNTED),
    ("on either side", "each side", COUNTED),
    ("per side", "each side", COUNTED),
    ("at both edges", "at each edge", EDGES),
    ("at both sides", "at each edge", EDGES),
    ("at both ends", "at each edge", EDGES),
    ("at each side", "at each edge", EDGES),
    ("at each end", "at each edge", EDGES),
    ("every second", "every 2", EVERY),
    ("every other", "every 2", EVERY),
    ("every 2nd", "every 2", EVERY),
    ("every third", "every 3", EVERY),
    ("every 3rd", "every 3", EVERY),
    ("every fourth", "every 4", EVERY),
    ("e-wrap", "wound", "A loop that is wound round each needle by hand is called `wound`"),
    ("ewrap", "wound", "A loop that is wound round each needle by hand is called `wound`"),
    ("crochet", "chain", "Needles that are chained by hand with a latch tool are called `chain`"),
    ("latch", "chain", "Needles that are chained by hand with a latch tool are called `chain`"),
    ("front stitches", "front", BEDS),
    ("back stitches", "back", BEDS),
    ("front beds", "front", BEDS),
    ("front bed", "front", BEDS),
    ("back bed", "back", BEDS),
    ("both beds", "both", BEDS),
    ("onto", "to", "Where stitches go is said with `to`"),
    ("->", "to", "Where stitches go is said with `to`"),
    ("with the", "", SPARE),
    ("with", "", SPARE),
    ("the", "", SPARE),
    (":", "", "Between the words of a line stands no colon"),
    ("=", "", "A setting has no `=`: its number stands behind it"),
];

const SLIPS: &str = "A needle that leaves the yarn slips: the word is `slip`, whatever it is called elsewhere";
const COMMAS: &str = "The parts of a line stand side by side with commas between them, and no other words";
const COUNTED: &str = "Needles on both sides of the centre are counted with `each side`";
const EDGES: &str = "Both edges together are `each edge`";
const EVERY: &str = "How far apart the needles are is a number: `every 2` is every second one";
const BEDS: &str = "The beds are called `front`, `back` and `both` alone";
const SPARE: &str = "A line of the language has no words that only make it sound better";

/// The line with all these phrases put right, if it can be read then.
pub(super) fn written(line: &str) -> Option<Advice> {
    let mut text = line.to_owned();
    let mut whys: Vec<&str> = Vec::new();
    let mut words: Vec<&str> = Vec::new();
    for (phrase, meant, why) in PHRASES {
        // What can be read already is left alone.
        if reads(&text) {
            break;
        }
        let Some(changed) = replaced(&text, phrase, meant) else { continue };
        text = changed;
        words.push(phrase.trim());
        if !whys.contains(why) {
            whys.push(why);
        }
    }
    let text = tidied(&text);
    if words.is_empty() || !reads(&text) {
        return None;
    }
    let shown = words.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>();
    let what = format!(
        "{} {} no {} of this line",
        crate::words::list(&shown),
        crate::words::is_are(words.len() as u64),
        if words.len() == 1 { "part" } else { "parts" }
    );
    let why = whys.iter().map(|why| format!("{why}.")).collect::<Vec<_>>().join(" ");
    Some(Advice::one(what, why, text))
}

/// The text with a phrase replaced wherever it stands between words; none where it does not stand.
fn replaced(text: &str, phrase: &str, meant: &str) -> Option<String> {
    let mut out = String::new();
    let mut from = 0;
    let mut changed = false;
    for (at, found) in text.match_indices(phrase) {
        let before = text[..at].chars().next_back().filter(|_| phrase.starts_with(is_word_character));
        let behind = text[at + found.len()..].chars().next().filter(|_| phrase.ends_with(is_word_character));
        if before.is_some_and(is_word_character) || behind.is_some_and(is_word_character) || in_quotes(text, at) {
            continue;
        }
        out.push_str(&text[from..at]);
        out.push_str(meant);
        from = at + found.len();
        changed = true;
    }
    out.push_str(&text[from..]);
    changed.then_some(out)
}

fn in_quotes(text: &str, at: usize) -> bool {
    text[..at].bytes().filter(|&byte| byte == b'"').count() % 2 == 1
}

/// With one blank between words and none before a comma.
fn tidied(text: &str) -> String {
    if text.contains('"') {
        return text.trim().to_owned();
    }
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ").replace(" ,", ",");
    text.replace(",,", ",").trim_end_matches(',').to_owned()
}

#[cfg(test)]
pub(super) mod tests {
    use super::PHRASES;

    /// Put right in this order, no phrase is spoilt by a shorter one before it.
    pub(in super::super) fn in_order() {
        for (at, (phrase, ..)) in PHRASES.iter().enumerate() {
            for (later, ..) in &PHRASES[at + 1..] {
                assert!(
                    !later.contains(phrase.trim()) || phrase.trim().len() < 3,
                    "`{phrase}` stands before `{later}`"
                );
            }
        }
    }
}

//! Makes text safe to show. A pattern, or the name of its file, may hold characters that move the cursor of a terminal
//! or turn the direction of writing; they are shown as marks and never passed on.

use std::borrow::Cow;
use std::fmt::Write as _;

/// Whether a character does something to a terminal, or cannot be seen although it changes what is read.
#[must_use]
pub fn is_hidden(character: char) -> bool {
    character.is_control()
        || matches!(character,
            '\u{ad}' | '\u{061c}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
            | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}

/// Adds a character to `text`, a hidden one as a mark: control pictures where Unicode has one, its number elsewhere.
pub(crate) fn push_shown(text: &mut String, character: char) {
    match character {
        '\0'..='\u{1f}' => text.push(char::from_u32(0x2400 + u32::from(character)).unwrap_or('\u{fffd}')),
        '\u{7f}' => text.push('\u{2421}'),
        hidden if is_hidden(hidden) => {
            // Writing to a String cannot fail.
            let _ = write!(text, "<U+{:04X}>", u32::from(hidden));
        }
        plain => text.push(plain),
    }
}

/// A path as a reference (URI): everything but letters, digits and `-._~/` is written as its bytes (RFC 3986, sections 2.1
/// and 2.3, from memory).
pub(crate) fn reference(path: &str) -> String {
    let mut written = String::with_capacity(path.len());
    for byte in path.bytes() {
        if byte.is_ascii_alphanumeric() || b"/-_.~".contains(&byte) {
            written.push(char::from(byte));
        } else {
            // Writing to a String cannot fail.
            let _ = write!(written, "%{byte:02X}");
        }
    }
    written
}

fn cleaned(text: &str, keep: impl Fn(char) -> bool, blank: impl Fn(char) -> bool) -> Cow<'_, str> {
    if !text.contains(|character| is_hidden(character) && !keep(character)) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len());
    for character in text.chars() {
        if keep(character) {
            shown.push(character);
        } else if blank(character) {
            shown.push(' ');
        } else {
            push_shown(&mut shown, character);
        }
    }
    Cow::Owned(shown)
}

/// A text that must stay on one line: newlines and tabs become blanks, other hidden characters marks.
#[must_use]
pub fn line(text: &str) -> Cow<'_, str> {
    cleaned(text, |_| false, |character| matches!(character, '\n' | '\t'))
}

/// A text of several lines: newlines stay, tabs become blanks, other hidden characters marks.
#[must_use]
pub fn block(text: &str) -> Cow<'_, str> {
    cleaned(text, |character| character == '\n', |character| character == '\t')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn escape_sequences_are_shown_not_sent() {
        assert_eq!(line("red \u{1b}[31m\u{7f}\u{9b}2J\0"), "red ␛[31m␡<U+009B>2J␀");
        assert_eq!(line("a\nb\tc"), "a b c");
        assert_eq!(block("a\nb\tc\r"), "a\nb c␍");
    }

    #[test]
    fn a_path_becomes_a_reference() {
        assert_eq!(reference("hats/lantern-hat.wale"), "hats/lantern-hat.wale");
        assert_eq!(reference("my hat: 1 é.wale"), "my%20hat%3A%201%20%C3%A9.wale");
    }

    #[test]
    fn writing_that_turns_round_is_shown() {
        assert_eq!(line("slate\u{202e}etals"), "slate<U+202E>etals");
    }

    #[test]
    fn ordinary_words_of_any_alphabet_are_left_alone() {
        // The joiners U+200C and U+200D are letters' business and steer nothing.
        assert!(matches!(line("één ひつじ नमूना 👩‍🌾 می\u{200c}بافم"), Cow::Borrowed(_)));
    }
}

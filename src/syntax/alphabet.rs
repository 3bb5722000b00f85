//! Names whose letters are not what they seem: with a letter in them that cannot be seen, or with letters of two alphabets,
//! so that two names that look the same on paper are two.

use super::piece::{Piece, Token};
use crate::finding::Finding;
use crate::syntax::rules;
use unicode_security::general_security_profile::{GeneralSecurityProfile as _, IdentifierType};
use unicode_security::mixed_script::{AugmentedScriptSet, MixedScript as _};

/// What is found in a name, if anything. Names of plain letters are not looked at.
pub(super) fn in_name(piece: Piece<'_>, token: Token) -> Option<Finding> {
    let name = piece.words(token);
    if name.is_ascii() {
        return None;
    }
    let span = |at: usize, character: char| {
        let start = token.start + at as u32;
        piece.span(start, start + character.len_utf8() as u32)
    };
    if let Some((at, character)) = name.char_indices().find(|(_, character)| seems(*character)) {
        let number = u32::from(character);
        return Some(
            rules::LOOK_ALIKE_CHARACTER
                .finds(span(at, character), format!("there is a character in this name that cannot be told by eye, U+{number:04X}"))
                .marked("here")
                .because(
                    "It cannot be seen, or looks like another letter, so that two names that look the same would be two. \
                     Such characters come in when text is copied.",
                )
                .mend("Delete the name and type it anew, here and where it stands elsewhere."),
        );
    }
    if name.is_single_script() {
        return None;
    }
    let (at, character) = first_of_another(name)?;
    let number = u32::from(character);
    let shown: String = name.chars().take(MOST_SHOWN).collect();
    Some(
        rules::LOOK_ALIKE_CHARACTER
            .finds(span(at, character), format!("the letters of `{shown}` are of two alphabets"))
            .marked(format!("`{character}` (U+{number:04X}) is of another alphabet than the letters before it"))
            .because(
                "Letters of two alphabets can look the same on paper, so that two names that nobody can tell apart would \
                 be two. A name is written in one alphabet, whichever it is.",
            )
            .mend("Type the name anew in one alphabet, here and where it stands elsewhere."),
    )
}

/// Letters of a name that are shown.
const MOST_SHOWN: usize = 40;

/// Whether nobody can tell by eye what a character is. As Unicode sorts the characters of identifiers, in the tables of the
/// crate (Unicode Technical Standard 39, its text not read); rare scripts are welcome.
fn seems(character: char) -> bool {
    use IdentifierType::{Default_Ignorable, Deprecated, Not_Character, Not_NFKC};
    !character.is_ascii()
        && matches!(character.identifier_type(), Some(Default_Ignorable | Deprecated | Not_Character | Not_NFKC))
}

/// The first letter that no alphabet of all the letters before it has.
fn first_of_another(name: &str) -> Option<(usize, char)> {
    let mut all = AugmentedScriptSet::default();
    name.char_indices().find(|(_, character)| {
        all.intersect_with(AugmentedScriptSet::for_char(*character));
        all.is_empty()
    })
}

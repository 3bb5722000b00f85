//! Words for the knitter, and places that are marked.

use super::heard::Heard;
use super::{Advice, Around};

/// `note: hang the weights`, `remark - look at the edges`, `place marker`.
pub(super) fn speech(heard: &Heard, around: &Around<'_>) -> Option<Advice> {
    let why =
        "Words for the knitter stand behind `note`, in quotation marks, and come onto the sheet; `mark` names a place.";
    if heard.begin().begins(&["place marker", "place a marker", "pm"]) && heard.done() {
        return Some(Advice::one("a place is not marked so", why, "mark \"marker\""));
    }
    let line = around.line();
    let first = line.split(|letter: char| !letter.is_alphabetic()).next()?;
    if !["note", "remark", "comment", "nb"].contains(&first.to_lowercase().as_str()) {
        return None;
    }
    let words = line[first.len()..].trim_matches(|letter: char| letter.is_whitespace() || ":-='\"".contains(letter));
    (!words.is_empty() && !words.contains('"'))
        .then(|| Advice::one("words for the knitter are not written so", why, format!("note \"{words}\"")))
}

//! Rules about how a text is written: words, signs, braces. Their findings are made while the text is read.

pub(super) mod capital_word;
pub(super) mod control_character;
pub(super) mod look_alike_character;
pub(super) mod merge_marker;
pub(super) mod missing_block;
pub(super) mod misspelt_word;
pub(super) mod needless_block;
pub(super) mod not_tidied;
pub(super) mod stray_brace;
pub(super) mod too_deep;
pub(super) mod too_many_findings;
pub(super) mod unclosed_brace;
pub(super) mod unclosed_quote;
pub(super) mod unreadable_line;

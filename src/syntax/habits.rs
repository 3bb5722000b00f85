//! A mark that other texts have for a comment.

use super::piece::Piece;
use super::reach::reads;
use crate::finding::{Finding, Fix};
use crate::syntax::rules;

/// The mark that many other texts put before a comment.
const STROKES: &str = "//";

/// A comment that is marked as it is elsewhere, at the start of a line or behind one that can be read.
pub(super) fn comment(piece: Piece<'_>, start: u32, line: &str) -> Option<Finding> {
    let at = line.find(STROKES).filter(|&at| at == 0 || reads(line[..at].trim_end()))?;
    let span = piece.span(start + at as u32, start + (at + STROKES.len()) as u32);
    // A brace behind the strokes was read as one. Whether it opens a block or belongs to the comment is not certain.
    let behind = piece.text.get(start as usize + line.len()..).unwrap_or_default();
    let ends = behind.trim_start_matches([' ', '\t']).chars().next();
    // With one stroke it may be a sum.
    let sum = reads(&line.replacen(STROKES, "/", 1));
    let safe = !sum && ends.is_none_or(|next| matches!(next, '\n' | '\r' | '#'));
    Some(
        rules::UNREADABLE_LINE
            .finds(span, format!("a comment does not begin with `{STROKES}`"))
            .marked("write `#`")
            .because("A comment begins with `#` and goes to the end of the line.")
            .mend(format!("Write `#` for `{STROKES}`."))
            .fix(Fix::new("write `#`", span, "#").safe_if(safe)),
    )
}

#[cfg(test)]
mod tests {
    use crate::finding::Finding;
    use crate::source::FileId;
    use crate::syntax::read;

    fn only(text: &str) -> Finding {
        let (_, mut findings) = read(FileId(0), text);
        assert_eq!(findings.len(), 1, "{text}: {findings:?}");
        findings.remove(0)
    }

    #[test]
    fn strokes_before_a_comment_become_its_mark() {
        for (text, safe) in [
            ("// the cuff\n", true),
            ("row front knit // the 5\" edge\n", true),
            ("rack 1 left    // again # and again\n", true),
            ("section \"Cuff\" { // from here {\n}\n}\n", false),
        ] {
            let finding = only(text);
            assert_eq!(finding.what, "a comment does not begin with `//`", "{text}");
            let fix = finding.fix.expect("it has a fix");
            assert_eq!(fix.safe, safe, "{text}");
            let span = fix.edits[0].span;
            let mut mended = text.to_owned();
            mended.replace_range(span.range(), &fix.edits[0].text);
            if safe {
                assert!(read(FileId(0), &mended).1.is_empty(), "{mended}");
            }
        }
    }

    #[test]
    fn strokes_that_are_no_comment_are_left_alone() {
        assert_ne!(only("note \"see // below\" again\n").what, "a comment does not begin with `//`");
        assert!(!only("let half = 8 // 2\n").is_safely_mended());
    }
}

//! Tidying a text in the editor: as few edits as the change needs, line by line, so that the cursor and what is folded stay
//! where they are.

use super::text::{Encoding, Lines};
use crate::source::Sources;
use crate::syntax;
use gen_lsp_types::TextEdit;
use similar::{Algorithm, DiffOp};

/// The tidy form of a text; none where it is left as it is because braces do not fit, or too little of it can be read.
#[must_use]
pub fn formatted(name: &str, text: &str) -> Option<String> {
    let file = Sources::default().add(name, text);
    let tidied = syntax::tidy(file, text);
    tidied.findings.is_empty().then(|| tidied.text.into_owned())
}

/// The edits that make `new` of `old`. They replace whole lines, none over another, in the order of the text.
pub(super) fn line_edits(old: &str, new: &str, encoding: Encoding) -> Vec<TextEdit> {
    let (before, after) = (split(old), split(new));
    let operations = similar::capture_diff_slices(Algorithm::Myers, &before, &after);
    let starts: Vec<usize> = std::iter::once(0)
        .chain(before.iter().scan(0, |at, line| {
            *at += line.len();
            Some(*at)
        }))
        .collect();
    let lines = Lines::new(old, encoding);
    let edit = |operation: &DiffOp| {
        let (_, out, put_in) = operation.as_tag_tuple();
        let (from, to) = (*starts.get(out.start)?, *starts.get(out.end)?);
        Some(TextEdit { range: lines.range(from..to), new_text: after.get(put_in)?.concat() })
    };
    operations.iter().filter(|operation| !matches!(operation, DiffOp::Equal { .. })).filter_map(edit).collect()
}

/// The lines of a text, each with what ends it, as an editor sees them.
fn split(text: &str) -> Vec<&str> {
    let lines = Lines::new(text, Encoding::Utf8);
    let starts: Vec<usize> = (0..lines.count()).map(|index| lines.line(index).0).collect();
    let ends = starts.iter().skip(1).copied().chain(std::iter::once(text.len()));
    starts.iter().zip(ends).filter_map(|(start, end)| text.get(*start..end)).filter(|line| !line.is_empty()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn made(old: &str, edits: &[TextEdit], encoding: Encoding) -> String {
        let mut text = old.to_owned();
        for edit in edits.iter().rev() {
            super::super::text::change(&mut text, edit.range, &edit.new_text, encoding);
        }
        text
    }

    #[test]
    fn only_the_lines_that_change_are_replaced() {
        let old = "a\n  b\nc\n\n\nd 𝄞\n";
        let new = "a\nb\nc\n\nd 𝄞\n";
        let edits = line_edits(old, new, Encoding::Utf16);
        let lines: Vec<(u32, u32)> = edits.iter().map(|edit| (edit.range.start.line, edit.range.end.line)).collect();
        assert_eq!(lines, [(1, 2), (3, 4)]);
        assert_eq!(made(old, &edits, Encoding::Utf16), new);
        assert_eq!(line_edits(old, old, Encoding::Utf16), []);
    }

    proptest! {
        #[test]
        fn the_edits_make_the_new_text(old in "[ab𝄞\n\r]{0,30}", new in "[ab𝄞\n\r]{0,30}", sixteen: bool) {
            let encoding = if sixteen { Encoding::Utf16 } else { Encoding::Utf8 };
            prop_assert_eq!(made(&old, &line_edits(&old, &new, encoding), encoding), new);
        }
    }
}

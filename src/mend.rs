//! Makes the safe fixes of a pattern, and nothing else.

use crate::finding::{Edit, Finding, Fix};
use crate::source::FileId;

/// A fix may bring to light what could not be seen before, so the text is checked again after each round. A text for
/// which this is not enough is mended further the next time.
const MOST_ROUNDS: usize = 24;

/// A pattern after its safe fixes were made, with what the check of it gives.
#[derive(Debug, Clone)]
pub struct Mended<C> {
    /// The text; the one that was given, if there was nothing to be done.
    pub text: String,
    /// What is found in it now.
    pub checked: C,
    /// How many findings were mended.
    pub count: usize,
}

/// Makes the safe fixes of `text`, again and again until there are none left. `check` checks a text as the first file of
/// its sources; what belongs to another file is left alone. A text that has been mended is not changed again.
pub fn mend<C: AsRef<[Finding]>>(text: &str, mut check: impl FnMut(&str) -> C) -> Mended<C> {
    let mut text = text.to_owned();
    let mut count = 0;
    for _ in 0..MOST_ROUNDS {
        let checked = check(&text);
        let safe = checked.as_ref().iter().filter_map(|finding| finding.fix.as_ref()).filter(|fix| fix.safe);
        let (mended, made) = apply(&text, FileId::default(), safe);
        if made == 0 {
            return Mended { text, checked, count };
        }
        count += made;
        text = mended;
    }
    Mended { checked: check(&text), text, count }
}

/// Makes fixes in the text of `file`, and says how many. Of two that change the same place the first is made; one that
/// changes another file too, or has a place that the text does not have, is not.
#[must_use]
pub fn apply<'f>(text: &str, file: FileId, fixes: impl IntoIterator<Item = &'f Fix>) -> (String, usize) {
    let mut taken: Vec<&Edit> = Vec::new();
    let mut count = 0;
    for fix in fixes {
        let fits =
            |edit: &Edit| edit.span.file == file && text.get(edit.span.range()).is_some_and(|was| was != edit.text);
        let free = |edit: &Edit| taken.iter().all(|other| !touch(edit, other));
        if !fix.edits.is_empty() && fix.edits.iter().all(|edit| fits(edit) && free(edit)) {
            taken.extend(&fix.edits);
            count += 1;
        }
    }
    taken.sort_by_key(|edit| edit.span);
    let mut mended = String::with_capacity(text.len());
    let mut reached = 0;
    for edit in taken {
        let range = edit.span.range();
        mended.push_str(text.get(reached..range.start).unwrap_or_default());
        mended.push_str(&edit.text);
        reached = range.end;
    }
    mended.push_str(text.get(reached..).unwrap_or_default());
    (mended, count)
}

/// Whether two edits have a byte or a border in common: which of them comes first would then make a difference.
const fn touch(one: &Edit, other: &Edit) -> bool {
    one.span.start <= other.span.end && other.span.start <= one.span.end
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Checked;
    use crate::source::Span;

    fn fix(edits: &[(u32, u32, &str)]) -> Fix {
        let edit = |&(start, end, text): &(u32, u32, &str)| Edit::new(Span { start, end, ..Span::default() }, text);
        Fix { title: String::new(), edits: edits.iter().map(edit).collect(), safe: true }
    }

    #[test]
    fn of_two_fixes_of_one_place_the_first_is_made() {
        let text = "rwo frnt knit";
        let fixes = [fix(&[(0, 3, "row")]), fix(&[(4, 8, "front")]), fix(&[(4, 4, "to left ")]), fix(&[(3, 3, "!")])];
        assert_eq!(apply(text, FileId(0), &fixes), ("row front knit".to_owned(), 2));
    }

    #[test]
    fn a_fix_is_made_as_a_whole_or_not_at_all() {
        let other = Fix { edits: vec![Edit::new(Span { file: FileId(1), ..Span::default() }, "x")], ..fix(&[]) };
        for fixes in [
            vec![fix(&[(0, 1, "a")]), fix(&[(2, 3, "b"), (0, 1, "c")])],
            vec![fix(&[(0, 1, "a")]), fix(&[(2, 90, "b")]), fix(&[(4, 5, "é")]), other, fix(&[])],
        ] {
            assert_eq!(apply("o o é", FileId(0), &fixes), ("a o é".to_owned(), 1));
        }
    }

    #[test]
    fn a_fix_without_end_is_given_up() {
        let grow = |text: &str| Checked {
            findings: vec![crate::plan::rules::OFF_BED.finds(Span::default(), "too wide").fix(fix(&[(0, 0, "x")]))],
            sources: {
                let mut sources = crate::source::Sources::default();
                sources.add("a.wale", text);
                sources
            },
            ..Checked::default()
        };
        assert_eq!(mend("", grow).text.len(), MOST_ROUNDS);
    }
}

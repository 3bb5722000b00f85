//! How often a piece is played for what is written of it: once, whatever is asked.

use crate::source::NoLibrary;
use crate::{Checked, compare, write};
use std::cell::Cell;

thread_local! {
    static PLAYS: Cell<u64> = const { Cell::new(0) };
}

/// Counts one play of this thread.
pub(super) fn count() {
    PLAYS.set(PLAYS.get() + 1);
}

/// How often something plays.
fn plays<T>(what: impl FnOnce() -> T) -> (T, u64) {
    let before = PLAYS.get();
    let done = what();
    (done, PLAYS.get() - before)
}

fn pattern(work: &str) -> Checked {
    let text = format!(
        "machine club {{ needles 20 each side }}\nyarn slate {{}}\npiece \"P\" {{\n    in work front L5-R5, back L5-R4\n    \
         thread slate\n    cast on zigzag\n{work}    onto waste yarn both\n}}\n"
    );
    crate::check("a.wale", &text, &NoLibrary)
}

const WORK: &str = "    repeat 40 times {\n        rows 3 both knit\n        row front knit, back tuck\n    }\n";

fn sheet(checked: &Checked) -> u64 {
    let programs: Vec<_> = checked.programs.iter().collect();
    let mut out = Vec::new();
    let (done, plays) = plays(|| write::sheet::write(&mut out, &programs, None));
    assert!(done.is_ok() && !out.is_empty());
    plays
}

#[test]
fn a_sheet_plays_once() {
    assert_eq!(sheet(&pattern(WORK)), 1);
}

/// What fits in no memory is not held back for the head of the sheet.
#[test]
fn a_sheet_that_is_written_while_it_is_played_has_its_head_from_a_play_of_its_own() {
    let lines = |row| format!("    rows 3 both knit, size {}\n", 1 + row % 9);
    let work: String = (0..25_000).map(lines).collect();
    assert_eq!(sheet(&pattern(&work)), 2);
}

#[test]
fn a_row_is_shown_by_one_play() {
    let checked = pattern(WORK);
    let programs: Vec<_> = checked.programs.iter().collect();
    for (row, is_there) in [(0, false), (1, true), (77, true), (161, true), (162, false), (u64::MAX, false)] {
        let (said, plays) = plays(|| write::at::write(&programs, &checked.sources, None, row));
        assert_eq!((said.is_ok(), plays), (is_there, 1), "row {row}");
    }
}

#[test]
fn a_comparison_plays_each_side_once() {
    let (old, new) = (pattern(WORK), pattern(&WORK.replace("tuck", "slip")));
    assert_eq!(plays(|| compare::compare(&old, &new, None, None)).1, 2);
}

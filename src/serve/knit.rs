//! What the play of a pattern says about its lines: how the beds stand after one, and which rows it makes.

use crate::beds::State;
use crate::knitted::{ASKED_EVERY, Asked, Rows, rows};
use crate::plan::program::{Piece, Program, Promise, Repeat};
use crate::play::{Block, Flow, Manner, Moment, Stop, Watcher, play};
use crate::source::Span;
use std::collections::BTreeMap;

/// The beds after a line, where it is done for the first time.
#[derive(Debug)]
pub(super) struct After {
    pub(super) state: State,
    /// The repeats in which it stands, the innermost first: how many passes, and the stitch that is worked.
    pub(super) repeats: Vec<(u64, Option<String>)>,
}

/// How the beds stand after a statement has been done for the first time; none where the piece never does it.
pub(super) fn after(piece: &Piece, span: Span, wanted: &dyn Fn() -> bool) -> Option<After> {
    let mut watcher =
        Until { span, wanted, moments: 0, open: Vec::new(), inside: 0, done: false, after: None, given_up: false };
    play(piece, Manner::TELL, &mut watcher);
    watcher.after.filter(|_| !watcher.given_up)
}

struct Until<'w> {
    span: Span,
    wanted: &'w dyn Fn() -> bool,
    moments: u64,
    /// The open repeats: where, how many passes, which stitch.
    open: Vec<(Span, u64, Option<String>)>,
    /// How many of the open ones are the statement itself.
    inside: usize,
    done: bool,
    after: Option<After>,
    given_up: bool,
}

impl Until<'_> {
    fn note(&mut self, state: &State) {
        match &mut self.after {
            Some(after) => after.state.clone_from(state),
            None => {
                let around = self.open.iter().rev().filter(|(span, of, _)| *span != self.span && *of > 1);
                let repeats = around.map(|(_, of, stitch)| (*of, stitch.clone())).collect();
                self.after = Some(After { state: state.clone(), repeats });
            }
        }
    }

    /// Something else begins or ends: what follows does not belong to the first time.
    fn something_else(&mut self) {
        self.done |= self.after.is_some() && self.inside == 0;
    }
}

impl Watcher for Until<'_> {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        self.moments += 1;
        if self.moments.is_multiple_of(ASKED_EVERY) && !(self.wanted)() {
            self.given_up = true;
            return Flow::Break(Stop::Enough);
        }
        if moment.span != self.span {
            self.something_else();
        }
        if self.done {
            return Flow::Break(Stop::Enough);
        }
        if moment.span == self.span {
            self.note(moment.state);
        }
        Flow::Continue(())
    }

    fn promised(&mut self, _: &Promise, span: Span, state: &State, _: Option<(u64, u64)>) {
        let within = span.file == self.span.file && self.span.start <= span.start && span.end <= self.span.end;
        if within && !self.done {
            self.note(state);
        } else {
            self.something_else();
        }
    }

    fn begins(&mut self, block: &Block<'_>, _: &State) {
        let Block::Repeat(repeat, span) = block else { return self.something_else() };
        if *span == self.span && !self.done {
            self.inside += 1;
        } else {
            self.something_else();
        }
        self.open.push((*span, repeat.times, repeat.stitch.as_ref().map(|stitch| stitch.name.clone())));
    }

    fn ends(&mut self, block: &Block<'_>, state: &State) {
        let Block::Repeat(_, span) = block else { return self.something_else() };
        self.open.pop();
        if *span == self.span && self.inside > 0 {
            self.inside -= 1;
            self.note(state);
        }
        self.something_else();
    }

    fn pass_begins(&mut self, _: &Repeat, _: u64, _: &State) {
        self.something_else();
    }
}

/// The rows of one statement in one size of one piece.
#[derive(Debug)]
pub(super) struct Part {
    pub(super) size: Option<String>,
    pub(super) piece: String,
    pub(super) rows: Rows,
}

/// The rows of every statement, in all sizes and pieces that do it.
pub(super) type Known = BTreeMap<Span, Vec<Part>>;

/// What is known of every piece of every size; not of all when it is not wanted any more.
pub(super) fn known(programs: &[Program], wanted: &dyn Fn() -> bool) -> Known {
    let mut known = Known::new();
    for program in programs {
        for piece in &program.pieces {
            for (span, rows) in rows(piece, Asked { wanted, ..Asked::TELL }) {
                let part = Part { size: program.size.clone(), piece: piece.title.clone(), rows };
                known.entry(span).or_default().push(part);
            }
        }
    }
    known
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::NoLibrary;

    const PATTERN: &str = "machine club { needles 20 each side }\nyarn slate {}\n\
        stitch rib on both {\n    row front knit, back knit\n    row front knit, back tuck\n}\n\
        stitch twice on both {\n    work rib 2 times\n    rows 3 both knit\n}\n\
        piece \"P\" {\n    in work front L5-R5, back L5-R4\n    thread slate\n    cast on zigzag\n\
            work rib 50 times\n    repeat 40 times {\n        work twice 7 times\n        tubular 4 rows\n        rows 2 both knit\n\
            row both knit\n    }\n    repeat 3 times {\n        row both knit\n    }\n    row both knit, loosened 1\n    \
            onto waste yarn both\n}\n";

    fn piece(text: &str) -> Piece {
        let checked = crate::check("a.wale", text, &NoLibrary);
        checked.programs.into_iter().next().and_then(|mut program| program.pieces.pop()).expect("there is a piece")
    }

    /// The span of the statement whose words these are; the last of them.
    fn span(words: &str) -> Span {
        let start = PATTERN.rfind(words).expect("it is there") as u32;
        Span { start, end: start + words.len() as u32, ..Span::default() }
    }

    #[test]
    fn rows_counted_are_rows_played() {
        let piece = piece(PATTERN);
        let counted = rows(&piece, Asked::TELL);
        let played = rows(&piece, Asked { manner: Manner::EVERY, ..Asked::TELL });
        assert_eq!(counted, played);
        let of = |words: &str| counted.get(&span(words)).map(|rows| (rows.first, rows.last));
        // By hand: 1 row cast on, 100 rows of rib, 40 passes of 7 * 7 + 4 + 2 + 1 = 56 rows, 3 rows, 1 row.
        assert_eq!(of("cast on zigzag"), Some((1, 1)));
        assert_eq!(of("work rib 50 times"), Some((2, 101)));
        assert_eq!(of("repeat 40 times"), Some((102, 2341)));
        assert_eq!(of("tubular 4 rows"), Some((151, 2338)));
        assert_eq!(of("rows 2 both knit"), Some((155, 2340)));
        assert_eq!(of("rows 3 both knit"), Some((106, 2334)));
        assert_eq!(of("row front knit, back tuck"), Some((3, 2331)));
        assert_eq!(of("row both knit, loosened 1"), Some((2345, 2345)));
    }

    #[test]
    fn the_beds_after_a_line_are_those_of_its_first_time() {
        let piece = piece(PATTERN);
        let row = |words: &str| after(&piece, span(words), &|| true).map(|after| (after.state.row, after.repeats));
        let times = |of: u64| (of, None);
        let stitch = |of: u64, name: &str| (of, Some(name.to_owned()));
        assert_eq!(row("cast on zigzag"), Some((1, vec![])));
        assert_eq!(row("work rib 50 times"), Some((101, vec![])));
        assert_eq!(row("row front knit, back tuck"), Some((3, vec![stitch(50, "rib")])));
        assert_eq!(row("rows 3 both knit"), Some((108, vec![stitch(7, "twice"), times(40)])));
        assert_eq!(row("work twice 7 times"), Some((150, vec![times(40)])));
        assert_eq!(row("tubular 4 rows"), Some((154, vec![times(40)])));
        assert_eq!(row("rows 2 both knit"), Some((156, vec![times(40)])));
        assert_eq!(row("repeat 40 times"), Some((2341, vec![])));
        assert_eq!(row("row both knit, loosened 1"), Some((2345, vec![])));
        assert_eq!(row("stitch rib on both"), None);
        // The only line of a repeat: once, and not to the end of it.
        let start = PATTERN.find("repeat 3 times {\n        row both knit").expect("it is there") + 25;
        let only = Span { start: start as u32, end: start as u32 + 13, ..Span::default() };
        assert_eq!(after(&piece, only, &|| true).map(|after| after.state.row), Some(2342));
    }

    #[test]
    fn nobody_waits_for_what_is_not_wanted() {
        let long: String = (0..2000).map(|at| format!("    row both knit, size {}\n", 1 + at % 9)).collect();
        let piece = piece(&PATTERN.replace("    row both knit, loosened 1\n", &long));
        let start = PATTERN.find("row both knit, loosened 1").expect("it is there") as u32;
        let end = start - 4 + long.len() as u32 - 1;
        let last = Span { start: end - "row both knit, size 1".len() as u32, end, ..Span::default() };
        assert!(after(&piece, last, &|| true).is_some());
        assert!(after(&piece, last, &|| false).is_none());
        assert!(rows(&piece, Asked { wanted: &|| false, ..Asked::TELL }).len() < rows(&piece, Asked::TELL).len());
    }
}

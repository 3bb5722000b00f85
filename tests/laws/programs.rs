//! Random patterns in text, of rows, transfers, repeats in repeats, and stitches worked in many places.

use proptest::prelude::*;
use std::fmt::Write as _;
use wale::beds::{Bed, Loop, Needle, State};
use wale::plan::program::Piece;
use wale::source::NoLibrary;

/// A statement of a piece.
#[derive(Debug, Clone)]
pub(crate) enum Line {
    /// One line without a block.
    Plain(String),
    /// `repeat N times`.
    Repeat(u32, Vec<Line>),
    /// `allow RULE`.
    Allow(&'static str, Vec<Line>),
    /// `section`.
    Section(Vec<Line>),
    /// `work ONE-STITCH N times`; the stitches are numbered.
    Work(usize, u32),
}

/// Stitches, each of which may work those before it, and the statements of the piece.
#[derive(Debug, Clone)]
pub(crate) struct Pattern {
    pub(crate) stitches: Vec<Vec<Line>>,
    pub(crate) lines: Vec<Line>,
}

const STITCHES: usize = 2;

/// Lines that are about the beds alone. `L3-R3` are in work at the start.
const LINES: &[&str] = &[
    "row both knit",
    "row both knit",
    "row front knit, back tuck",
    "row front tuck, back knit, loosened 1",
    "row front knit, loosened 2",
    "row back knit",
    "row front knit on \"|..\", slip elsewhere, back tuck on L1-R1, knit elsewhere",
    "row front tuck on L1, knit elsewhere, new loops",
    "row to left both knit",
    "rows 3 both knit",
    "rows 2 to left front knit, to right back knit",
    "tubular 2 rows",
    "row back slip",
    "free pass",
    "carriage left",
    "carriage right",
    "gaiting between",
    "gaiting opposite",
    "rack 1 left",
    "rack 1 right",
    "rack 2 right",
    "rack to centre",
    "stitch size 5",
    "stitch size front 6",
    "thread chalk",
    "thread slate",
    "reset counter",
    "in work both L3-R3",
    "out of work back",
    "out of work front empty",
    "hold front L3-L2",
    "hold back rightmost 1",
    "release both",
    "transfer front to back",
    "transfer back to front, joining",
    "transfer front every 2 to back, joining",
    "transfer back L2-R2 to front, emptied go out of work",
    "move front L1 1 left, joining",
    "move front R1 1 right, joining, emptied stay in work",
    "move back L2 2 right, joining",
    "cross front L2-L1 over R1",
    "increase front 1 at left",
    "increase front 1 at right, inset 2",
    "decrease front 1 at left",
    "decrease back 1 at each edge, inset 2",
    "new loops front L3-R3",
    "new loops back L1",
    "cast on zigzag",
    "cast on wound both",
    "drop front L1",
    "drop back",
    "pick up front L1",
    "pick up both L2-R2",
    "pick up front L2-L1 from waste yarn",
    "pick up back R1 from waste yarn",
    "onto waste yarn front R1-R3",
    "onto waste yarn front",
    "bind off back R1",
    "expect 6 stitches front",
    "expect 6 stitches back",
    "expect carriage left",
    "expect racking centre",
    "expect gaiting between",
    "expect counter 3",
    "expect counter 4",
    "expect counter 6",
    "note \"Move the weights up.\"",
    "mark \"here\"",
];

const RULES: &[&str] =
    &["unplanned-loop", "tight-transfer", "doubled-stitch", "nothing-to-do", "count-mismatch", "edge-tuck", "no-yarn"];

fn plain() -> impl Strategy<Value = Line> {
    // Rows are more frequent than what is done between them.
    prop_oneof![2 => 0..12_usize, 5 => 0..LINES.len()].prop_map(|at| Line::Plain(LINES[at].to_owned()))
}

fn times() -> impl Strategy<Value = u32> {
    prop_oneof![12 => 1_u32..6, 1 => 6_u32..50]
}

fn lines(depth: u32, stitches: usize) -> BoxedStrategy<Vec<Line>> {
    let leaf = if stitches == 0 {
        plain().boxed()
    } else {
        prop_oneof![8 => plain(), 2 => (0..stitches, 1_u32..6).prop_map(|(which, times)| Line::Work(which, times))]
            .boxed()
    };
    let line = leaf.prop_recursive(depth, 20, 4, |inner| {
        let body = proptest::collection::vec(inner, 1..5);
        prop_oneof![
            6 => (times(), body.clone()).prop_map(|(times, body)| Line::Repeat(times, body)),
            1 => (0..RULES.len(), body.clone()).prop_map(|(rule, body)| Line::Allow(RULES[rule], body)),
            1 => body.prop_map(Line::Section),
        ]
    });
    proptest::collection::vec(line, 1..7).boxed()
}

pub(crate) fn pattern() -> impl Strategy<Value = Pattern> {
    let stitches = (0..STITCHES).map(|before| lines(1, before)).collect::<Vec<_>>();
    (stitches, lines(3, STITCHES)).prop_map(|(stitches, lines)| Pattern { stitches, lines })
}

impl Pattern {
    /// As it is written.
    pub(crate) fn text(&self) -> String {
        self.written(false)
    }

    /// With every repeat, and every stitch that is worked, written out in full.
    pub(crate) fn unrolled(&self) -> String {
        self.written(true)
    }

    fn written(&self, unrolled: bool) -> String {
        let mut text =
            "machine small {\n    needles 6 each side\n    pitch 4.9 mm\n}\nyarn slate {}\nyarn chalk {}\n".to_owned();
        if !unrolled {
            for (at, lines) in self.stitches.iter().enumerate() {
                let _ = writeln!(text, "stitch motif-{at} on both {{");
                self.write(&mut text, lines, false);
                text.push_str("}\n");
            }
        }
        text.push_str("piece \"Swatch\" {\nin work both L3-R3\nthread slate\ncast on zigzag\n");
        self.write(&mut text, &self.lines, unrolled);
        text.push_str("}\n");
        text
    }

    fn write(&self, text: &mut String, lines: &[Line], unrolled: bool) {
        for line in lines {
            match line {
                Line::Plain(words) => {
                    let _ = writeln!(text, "{words}");
                }
                Line::Repeat(times, body) if unrolled => (0..*times).for_each(|_| self.write(text, body, true)),
                Line::Work(which, times) if unrolled => {
                    (0..*times).for_each(|_| self.write(text, &self.stitches[*which], true));
                }
                Line::Allow(_, body) | Line::Section(body) if unrolled => self.write(text, body, true),
                Line::Repeat(times, body) => self.write_block(text, &format!("repeat {times} times"), body),
                Line::Allow(rule, body) => self.write_block(text, &format!("allow {rule} because \"a law\""), body),
                Line::Section(body) => self.write_block(text, "section \"Part\"", body),
                Line::Work(which, times) => {
                    let _ = writeln!(text, "work motif-{which} {times} times");
                }
            }
        }
    }

    fn write_block(&self, text: &mut String, opening: &str, body: &[Line]) {
        let _ = writeln!(text, "{opening} {{");
        self.write(text, body, false);
        text.push_str("}\n");
    }

    /// Lines it has when it is written out in full.
    pub(crate) fn length(&self) -> u64 {
        self.length_of(&self.lines)
    }

    fn length_of(&self, lines: &[Line]) -> u64 {
        let of = |line: &Line| match line {
            Line::Plain(_) => 1,
            Line::Repeat(times, body) => u64::from(*times) * self.length_of(body),
            Line::Allow(_, body) | Line::Section(body) => self.length_of(body),
            Line::Work(which, times) => u64::from(*times) * self.length_of(&self.stitches[*which]),
        };
        lines.iter().map(of).sum()
    }
}

/// The only piece of a pattern. Findings of the play are welcome; what is written is always understood.
pub(crate) fn only_piece(text: &str) -> Piece {
    let mut sources = wale::source::Sources::default();
    let main = sources.add("swatch.wale", text);
    let (trees, findings) = wale::plan::gather(&mut sources, main, &NoLibrary, wale::syntax::read);
    assert!(findings.is_empty(), "{text}\n{findings:#?}");
    let (programs, _) = wale::plan::plan(&sources, &trees);
    let [program] = programs.as_slice() else { panic!("one program:\n{text}") };
    let [piece] = program.pieces.as_slice() else { panic!("one piece:\n{text}") };
    piece.clone()
}

/// Ages above this many rows are one age for the model when it compares states, so a counted repeat may keep an older
/// loop's date.
const OLD: u64 = 32;

/// The loops of a needle, each with its age in rows.
type Aged = Vec<(u64, Loop)>;

/// Everything of a state that can be seen from outside, loops by their needles and with their ages.
#[derive(Debug, PartialEq)]
pub(crate) struct Seen {
    loops: Vec<(Bed, Needle, Aged)>,
    rest: State,
}

pub(crate) fn seen(state: &State) -> Seen {
    let aged = |what: Loop| ((state.row - what.made).min(OLD), Loop { made: 0, ..what });
    let stack = |bed, needle| state.loops.stack(bed, needle).into_iter().map(aged).collect();
    let loops = Bed::BOTH
        .into_iter()
        .flat_map(|bed| state.loops.loaded(bed).iter().map(move |needle| (bed, needle, stack(bed, needle))))
        .collect();
    // How the loops are stored is the model's own affair.
    Seen { loops, rest: State { loops: wale::beds::Loops::default(), ..state.clone() } }
}

//! Patterns that are read, checked and played, and what every needle did in every row of them.

use wale::beds::{Bed, Both, Machine, Needle, NeedleSet, Operation, Outcome, Side, State};
use wale::plan::program::{Piece, Rounding};
use wale::play::{Flow, Manner, Moment, Speech, Watcher, play};
use wale::source::NoLibrary;
use wale::syntax::tree::SpeechWord;

/// The machine that the tests knit on, and one yarn.
const ROOM: &str = "machine bollard-room {
    needles 40 each side
    pitch 5 mm
    racking back bed, 5 left to 5 right
}
yarn slate {}
";

/// The statements of a piece as a whole pattern.
pub(crate) fn piece(statements: &str) -> String {
    format!("{ROOM}piece \"Swatch\" {{\nthread slate\n{statements}\n}}\n")
}

/// Definitions and a piece as a whole pattern.
pub(crate) fn with(definitions: &str, statements: &str) -> String {
    format!("{definitions}\n{}", piece(statements))
}

/// The rules that have something to say of a pattern, in the order of the text.
pub(crate) fn rules_broken(text: &str) -> Vec<&'static str> {
    wale::check("swatch.wale", text, &NoLibrary).findings.iter().map(|finding| finding.rule.name).collect()
}

/// One row as it was knitted.
pub(crate) struct Course {
    pub(crate) toward: Side,
    pub(crate) knit: Both<NeedleSet>,
    pub(crate) tuck: Both<NeedleSet>,
    /// The beds before it.
    pub(crate) before: State,
    /// The beds after it.
    pub(crate) state: State,
}

impl Course {
    /// `K`, `T`, `-` for a needle in work that lets the yarn pass, `.` for one out of work.
    pub(crate) fn did(&self, bed: Bed, needle: Needle) -> char {
        let marks = [(self.knit, 'K'), (self.tuck, 'T'), (self.state.in_work, '-')];
        marks.into_iter().find(|(set, _)| set[bed].contains(needle)).map_or('.', |(_, mark)| mark)
    }
}

/// One racking: the beds before and after, and how many courses of the marked part had been knitted.
pub(crate) struct Rack {
    pub(crate) after_course: usize,
    pub(crate) before: State,
    pub(crate) after: State,
}

impl Rack {
    /// Steps to the right.
    pub(crate) fn steps(&self) -> i32 {
        self.after.racking - self.before.racking
    }
}

/// What was played between `mark "begin"` and `mark "end"`.
pub(crate) struct Played {
    pub(crate) machine: Machine,
    /// The beds at the first mark.
    pub(crate) start: State,
    pub(crate) courses: Vec<Course>,
    pub(crate) racks: Vec<Rack>,
    pub(crate) roundings: Vec<Rounding>,
    /// The beds at the second mark.
    pub(crate) end: State,
}

#[derive(Default)]
struct Eyes {
    looking: bool,
    start: State,
    end: State,
    last: State,
    courses: Vec<Course>,
    racks: Vec<Rack>,
    roundings: Vec<Rounding>,
}

impl Watcher for Eyes {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        if self.looking {
            if let Outcome::Row(done) = moment.outcome {
                let (toward, knit, tuck) = (done.toward, done.knit, done.tuck);
                let (before, state) = (self.last.clone(), moment.state.clone());
                self.courses.push(Course { toward, knit, tuck, before, state });
            }
            if let Operation::RackBy(_) | Operation::RackTo(_) = moment.operation {
                let (before, after) = (self.last.clone(), moment.state.clone());
                self.racks.push(Rack { after_course: self.courses.len(), before, after });
            }
        }
        self.last = moment.state.clone();
        Flow::Continue(())
    }

    fn said(&mut self, speech: &Speech, state: &State) {
        match speech {
            Speech::Words(SpeechWord::Mark, text) if text == "begin" => {
                self.looking = true;
                self.start = state.clone();
            }
            Speech::Words(SpeechWord::Mark, text) if text == "end" => {
                self.looking = false;
                self.end = state.clone();
            }
            Speech::Rounded(rounding) => self.roundings.push(rounding.clone()),
            _ => {}
        }
    }
}

/// The only piece of a pattern that nothing is to be said against.
fn only_piece(text: &str) -> Piece {
    let checked = wale::check("swatch.wale", text, &NoLibrary);
    let said: Vec<String> =
        checked.findings.iter().map(|it| format!("{}: {}. {}", it.rule.name, it.what, it.why)).collect();
    assert!(said.is_empty(), "{text}\n{}", said.join("\n"));
    let [program] = checked.programs.as_slice() else { panic!("one program") };
    let [piece] = program.pieces.as_slice() else { panic!("one piece") };
    piece.clone()
}

/// Checks a pattern, which must be clean, and plays every row of it.
pub(crate) fn played(text: &str) -> Played {
    let piece = only_piece(text);
    let mut eyes = Eyes::default();
    let (_, stop) = play(&piece, Manner::EVERY, &mut eyes);
    assert_eq!(stop, None);
    let Eyes { start, end, courses, racks, roundings, .. } = eyes;
    Played { machine: (*piece.machine).clone(), start, courses, racks, roundings, end }
}

/// `L6`, `R12`.
pub(crate) fn needle(text: &str) -> Needle {
    let side = if text.starts_with('L') { Side::Left } else { Side::Right };
    Needle::new(side, text[1..].parse().unwrap()).unwrap()
}

/// A structure as it is printed: for each course what the needles of one width repeat do, front and back.
/// `K` knit, `T` tuck, `-` miss, `.` out of work.
pub(crate) struct Published<'a> {
    pub(crate) source: &'a str,
    pub(crate) courses: &'a [[&'a str; 2]],
    /// How often a needle knits and tucks in one repeat, on the front bed and on the back bed.
    pub(crate) loops: [(usize, usize); 2],
}

impl Published<'_> {
    /// Compares needle by needle and course by course. The width repeat begins at `first` on both beds; the front bed
    /// goes on to the first of `last`, the back bed to the second.
    pub(crate) fn agrees_with(&self, played: &Played, first: &str, last: [&str; 2]) {
        let source = self.source;
        let height = self.courses.len();
        let repeats = played.courses.len() / height;
        assert_eq!(played.courses.len(), repeats * height, "{source}: whole repeats");
        assert!(repeats >= 2, "{source}: at least two repeats, to see that they close");
        for (at, bed) in Bed::BOTH.into_iter().enumerate() {
            let (first, last) = (needle(first).0, needle(last[at]).0);
            let span = NeedleSet::span(Needle(first), Needle(last));
            for number in first..=last {
                let mut counted = (0, 0);
                for (index, course) in played.courses.iter().enumerate() {
                    let printed = self.courses[index % height][at];
                    let expected = printed.chars().cycle().nth(usize::from(number - first)).unwrap();
                    let did = course.did(bed, Needle(number));
                    assert_eq!(did, expected, "{source}: course {}, {bed} {}", index + 1, Needle(number));
                    counted.0 += usize::from(did == 'K');
                    counted.1 += usize::from(did == 'T');
                }
                if played.courses.iter().any(|course| course.did(bed, Needle(number)) != '.') {
                    let (knits, tucks) = self.loops[at];
                    let expected = (knits * repeats, tucks * repeats);
                    assert_eq!(counted, expected, "{source}: loops of {bed} {}", Needle(number));
                }
            }
            for (index, course) in played.courses.iter().enumerate() {
                let acting = course.knit[bed] | course.tuck[bed];
                assert!((acting - span).is_empty(), "{source}: course {}: nothing else works", index + 1);
            }
            let begins = played.courses.iter().step_by(height).map(|course| &course.before);
            for state in begins.chain([&played.end]) {
                let stitches = state.stitch_count(bed);
                assert_eq!(stitches, played.start.stitch_count(bed), "{source}: stitches of a repeat, {bed} bed");
            }
        }
    }

    /// Loops cleared in one repeat, that is knitted, by one needle of the front bed and one of the back bed.
    pub(crate) fn cleared(&self) -> (usize, usize) {
        (self.loops[0].0, self.loops[1].0)
    }
}

/// Loops that were knitted by each bed between the marks, taken from the play.
pub(crate) fn knitted(played: &Played) -> (u64, u64) {
    let sum = |bed: Bed| played.courses.iter().map(|course| u64::from(course.knit[bed].len())).sum();
    (sum(Bed::Front), sum(Bed::Back))
}

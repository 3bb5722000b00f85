//! The hand that writes the patterns: for the machine as it is, for one that is its mirror image or racks the other bed,
//! and with a slip in them.

use serde_json::Value;
use std::cell::Cell;
use wale::beds::{Both, Machine, Needle, NeedleSet, Operation, Outcome, Side, State};
use wale::plan::program::{Piece, Rounding};
use wale::play::{Flow, Manner, Moment, Speech, Watcher, play};
use wale::source::NoLibrary;
use wale::syntax::tree::SpeechWord;

/// Whether a check holds, or what does not agree.
pub(crate) type Said = Result<(), String>;

/// Ends a check unless something is so.
macro_rules! must {
    ($is_so:expr $(,)?) => { must!($is_so, "{}", stringify!($is_so)) };
    ($is_so:expr, $($said:tt)+) => { if !$is_so { return Err(format!($($said)+)); } };
}

/// Ends a check unless what was found is what was expected.
macro_rules! agree {
    ($found:expr, $expected:expr $(,)?) => { agree!($found, $expected, "{}", stringify!($found)) };
    ($found:expr, $expected:expr, $($said:tt)+) => {{
        let (found, expected) = (&$found, &$expected);
        if *found != *expected {
            return Err(format!("{}: {found:?}, not {expected:?}", format!($($said)+)));
        }
    }};
}

/// The machine that the tests knit on, and one yarn.
const ROOM: &str = "machine bollard-room {
    needles 60 each side
    pitch 5 mm
    racking back bed, 5 left to 5 right
    half step to the right
}
yarn slate {}
";

/// Who writes the patterns of a check.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Way {
    Plain,
    Mirrored,
    /// The front bed racks, and the lines are turned so that they say the same.
    FrontRacks,
    /// The front bed racks.
    FrontBed,
}

/// A hand that writes patterns.
pub(crate) struct Hand<'a> {
    manner: Way,
    /// What it writes, and what it should have written.
    slip: Option<(&'a str, &'a str)>,
    slipped: Cell<bool>,
}

impl Hand<'_> {
    /// A hand that makes no slip.
    pub(crate) const fn plain() -> Self {
        Self { manner: Way::Plain, slip: None, slipped: Cell::new(false) }
    }

    /// Definitions and the statements of a piece as a whole pattern.
    pub(crate) fn with(&self, definitions: &str, statements: &str) -> String {
        let text = format!("{ROOM}{definitions}\npiece \"Swatch\" {{\nthread slate\n{statements}\n}}\n");
        let text = match self.manner {
            Way::Plain => text,
            Way::Mirrored => mirrored(&text),
            Way::FrontRacks => front_racks(&text),
            Way::FrontBed => text.replace("racking back bed", "racking front bed"),
        };
        match self.slip {
            Some((right, wrong)) if text.contains(right) => {
                self.slipped.set(true);
                text.replace(right, wrong)
            }
            _ => text,
        }
    }

    /// The statements of a piece as a whole pattern.
    pub(crate) fn piece(&self, statements: &str) -> String {
        self.with("", statements)
    }

    /// The rules that have something to say of a piece, in the order of the text.
    pub(crate) fn rules_broken(&self, statements: &str) -> Vec<&'static str> {
        let text = self.piece(statements);
        wale::check("swatch.wale", &text, &NoLibrary).findings.iter().map(|finding| finding.rule.name).collect()
    }

    pub(crate) const fn is_mirrored(&self) -> bool {
        matches!(self.manner, Way::Mirrored)
    }
}

/// A check of what wale works out: it holds, and it holds for none of the slips, each the right words and the wrong ones.
pub(crate) fn stands(check: impl Fn(&Hand<'_>) -> Said, slips: &[(&str, &str)]) {
    holds(&check, Way::Plain);
    refuses(&check, slips);
}

/// The same for a machine whose front bed racks, with the lines of the pattern as they are.
pub(crate) fn stands_for_front(check: impl Fn(&Hand<'_>) -> Said, slips: &[(&str, &str)]) {
    holds(&check, Way::FrontBed);
    refuses_as(&check, Way::FrontBed, slips);
}

/// A check of what a pattern makes, which does not depend on which side is which, nor on which bed racks: it holds for the
/// mirror image as well, and for the front bed racked the other way, and for none of the slips.
pub(crate) fn stands_either_way(check: impl Fn(&Hand<'_>) -> Said, slips: &[(&str, &str)]) {
    for manner in [Way::Plain, Way::Mirrored, Way::FrontRacks] {
        holds(&check, manner);
    }
    refuses(&check, slips);
}

fn holds(check: &impl Fn(&Hand<'_>) -> Said, manner: Way) {
    let hand = Hand { manner, slip: None, slipped: Cell::new(false) };
    if let Err(said) = check(&hand) {
        panic!("{manner:?}: {said}");
    }
}

fn refuses(check: &impl Fn(&Hand<'_>) -> Said, slips: &[(&str, &str)]) {
    refuses_as(check, Way::Plain, slips);
}

fn refuses_as(check: &impl Fn(&Hand<'_>) -> Said, manner: Way, slips: &[(&str, &str)]) {
    assert!(!slips.is_empty(), "a check that is not tried with a slip may be none");
    for &(right, wrong) in slips {
        let hand = Hand { manner, slip: Some((right, wrong)), slipped: Cell::new(false) };
        let said = check(&hand);
        assert!(hand.slipped.get(), "`{right}` stands in no pattern of the check");
        match said {
            Err(said) => println!("slip `{}` for `{}`: {}", line(wrong), line(right), line(&said)),
            Ok(()) => panic!("`{wrong}` written for `{right}` is not noticed"),
        }
    }
}

/// A text on one line, its beginning.
fn line(text: &str) -> String {
    text.replace('\n', " / ").chars().take(160).collect()
}

/// What stands in front of the mirror, word by word.
fn mirrored(text: &str) -> String {
    let mut out = String::new();
    for line in text.lines() {
        if line.trim_start().starts_with("racking ") {
            out.push_str(line);
        } else {
            let mut word = String::new();
            let mut quoted = false;
            for letter in line.chars().chain([' ']) {
                let ends = if quoted { letter == '"' } else { " ,(){}".contains(letter) };
                if !quoted && letter == '"' {
                    quoted = true;
                    word.push(letter);
                } else if ends {
                    out.push_str(&mirrored_word(&word));
                    out.push(letter);
                    word.clear();
                    quoted = false;
                } else {
                    word.push(letter);
                }
            }
        }
        out.truncate(out.trim_end_matches(' ').len());
        out.push('\n');
    }
    out.replacen("thread slate\n", "thread slate\ncarriage right\n", 1)
}

fn mirrored_word(word: &str) -> String {
    match word {
        "left" => "right".to_owned(),
        "right" => "left".to_owned(),
        "leftmost" => "rightmost".to_owned(),
        "rightmost" => "leftmost".to_owned(),
        _ => {
            // A picture, whose second quotation mark has not been read.
            if let Some(marks) = word.strip_prefix('"')
                && marks.chars().all(|mark| "|.".contains(mark))
            {
                return format!("\"{}", marks.chars().rev().collect::<String>());
            }
            let other = |name: &str| {
                let (side, number) = name.split_at_checked(1)?;
                number.parse::<u8>().ok()?;
                match side {
                    "L" => Some(format!("R{number}")),
                    "R" => Some(format!("L{number}")),
                    _ => None,
                }
            };
            let ends =
                word.split_once('-').and_then(|(first, last)| Some(format!("{}-{}", other(last)?, other(first)?)));
            ends.or_else(|| other(word)).unwrap_or_else(|| word.to_owned())
        }
    }
}

/// The front bed racks, and so the other way.
fn front_racks(text: &str) -> String {
    let mut out = String::new();
    for line in text.replace("racking back bed", "racking front bed").lines() {
        let is_rack = line.trim_start().starts_with("rack ");
        let turned = |line: &str| match line.strip_suffix("left") {
            Some(most) => format!("{most}right"),
            None => line.strip_suffix("right").map_or_else(|| line.to_owned(), |most| format!("{most}left")),
        };
        out.push_str(&if is_rack { turned(line) } else { line.to_owned() });
        out.push('\n');
    }
    out
}

/// One row as wale knitted it.
pub(crate) struct Course {
    pub(crate) knit: Both<NeedleSet>,
    /// The beds after it.
    pub(crate) state: State,
}

/// What was played between `mark "begin"` and `mark "end"`, as wale works it out.
pub(crate) struct Played {
    pub(crate) machine: Machine,
    /// The beds at the first mark.
    pub(crate) start: State,
    pub(crate) courses: Vec<Course>,
    pub(crate) roundings: Vec<Rounding>,
    /// The beds at the second mark.
    pub(crate) end: State,
    /// The beds before and after each racking.
    pub(crate) racks: Vec<(State, State)>,
}

#[derive(Default)]
struct Eyes {
    looking: bool,
    start: State,
    end: State,
    last: State,
    courses: Vec<Course>,
    roundings: Vec<Rounding>,
    racks: Vec<(State, State)>,
}

impl Watcher for Eyes {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        if self.looking {
            if let Outcome::Row(done) = moment.outcome {
                self.courses.push(Course { knit: done.knit, state: moment.state.clone() });
            }
            if let Operation::RackBy(_) | Operation::RackTo(_) = moment.operation {
                self.racks.push((self.last.clone(), moment.state.clone()));
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

/// The checked programs of a pattern that nothing is to be said against.
fn clean(text: &str) -> Result<wale::Checked, String> {
    let checked = wale::check("swatch.wale", text, &NoLibrary);
    let said: Vec<String> =
        checked.findings.iter().map(|it| format!("{}: {}. {}", it.rule.name, it.what, it.why)).collect();
    if said.is_empty() { Ok(checked) } else { Err(format!("{}\nin\n{text}", said.join("\n"))) }
}

/// Checks a pattern, which must be clean, and plays every row of it.
pub(crate) fn played(text: &str) -> Result<Played, String> {
    let checked = clean(text)?;
    let piece: &Piece = &checked.programs[0].pieces[0];
    let mut eyes = Eyes::default();
    let (_, stop) = play(piece, Manner::EVERY, &mut eyes);
    agree!(stop, None, "the play");
    let Eyes { start, end, courses, roundings, racks, .. } = eyes;
    Ok(Played { machine: (*piece.machine).clone(), start, courses, roundings, end, racks })
}

/// The trace of a pattern, which must be clean.
pub(crate) fn trace(text: &str) -> Result<Value, String> {
    let checked = clean(text)?;
    let mut out = Vec::new();
    let programs: Vec<_> = checked.programs.iter().collect();
    wale::write::trace::write(&mut out, &programs, &checked.sources, None).map_err(|error| error.to_string())?;
    serde_json::from_slice(&out).map_err(|error| error.to_string())
}

/// `L6`, `R12`.
pub(crate) fn needle(text: &str) -> Needle {
    let side = if text.starts_with('L') { Side::Left } else { Side::Right };
    Needle::new(side, text[1..].parse().unwrap()).unwrap()
}

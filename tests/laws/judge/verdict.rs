//! Plays a small pattern to its end, every pass of every repeat, and says what is wrong with it first.

use super::facts::{Bench, Facts};
use super::read::{Deed, Line, Pattern, Promised};
use crate::laws::second_model::Position;
use std::collections::BTreeSet;
use wale::beds::{Bed, Operation};

/// Loops on one needle beyond which no machine goes on, and no more is asked.
const JAM: usize = 48;

/// The rules that speak first, and the line.
pub(crate) type First = Option<(usize, BTreeSet<&'static str>)>;

#[derive(Debug, Clone)]
pub(crate) struct Play {
    pub(crate) bench: Bench,
    pub(crate) error: First,
    /// The first warning before that.
    pub(crate) warning: First,
    pub(crate) jammed: bool,
    /// The rules that are allowed here.
    allowed: Vec<String>,
}

/// Errors that come with another one in the same row, and are the same mistake. Where needles meet face to face the yarn
/// has no path that could be known, so nothing is said of its neighbours there.
const COMES_WITH: &[(&str, &[&str])] = &[
    ("facing-needles", &["adjacent-empties", "cast-on-shares-a-loop", "unplanned-loop"]),
    // Over needles that carry stitches already nobody knows who shares a loop with whom.
    ("doubled-stitch", &["cast-on-shares-a-loop"]),
];

impl Play {
    pub(crate) fn new(bench: Bench) -> Self {
        Self { bench, error: None, warning: None, jammed: false, allowed: Vec::new() }
    }

    fn note(&mut self, line: usize, mut facts: Facts) {
        let allowed = |rule: &&str| self.allowed.iter().any(|allowed| allowed == rule);
        facts.errors.retain(|rule| !allowed(rule));
        facts.warnings.retain(|rule| !allowed(rule));
        for (first, brings) in COMES_WITH {
            if facts.errors.contains(first) {
                facts.errors.retain(|rule| !brings.contains(rule));
            }
        }
        if self.error.is_none() && !facts.errors.is_empty() {
            self.error = Some((line, facts.errors));
        } else if self.error.is_none() && self.warning.is_none() && !facts.warnings.is_empty() {
            self.warning = Some((line, facts.warnings));
        }
    }

    fn operate(&mut self, line: usize, operation: &Operation, first_pass: bool) {
        if self.error.is_none() {
            let facts = self.bench.facts(operation, first_pass);
            self.note(line, facts);
        }
        let rows = self.bench.model.row;
        self.bench.apply(operation);
        // A row whose picture does not fit the bed is not knitted, and jams nothing.
        if matches!(operation, Operation::Row(_)) && self.bench.model.row > rows {
            let piled = |hook: &crate::laws::second_model::Hook| {
                hook.loops.len() > JAM && hook.loops.iter().filter(|strand| strand.caught).count() > JAM
            };
            self.jammed |= self.bench.model.beds.iter().flatten().any(piled);
        }
    }

    pub(crate) fn lines(&mut self, lines: &[Line], first_pass: bool) {
        for line in lines {
            if self.jammed {
                return;
            }
            match &line.deed {
                Deed::Do(operation) => self.operate(line.number, operation, first_pass),
                Deed::Rows(times, operation) => {
                    for pass in 0..*times {
                        if !self.jammed {
                            self.operate(line.number, operation, pass == 0);
                        }
                    }
                }
                Deed::Repeat(times, body) => {
                    let before = self.stands();
                    for pass in 0..*times {
                        self.lines(body, pass == 0);
                        if self.jammed {
                            return;
                        }
                        if pass == 0 && *times > 1 {
                            let mut facts = Facts::default();
                            facts.wrong(self.stands() != before, "open-repeat");
                            self.note(line.number, facts);
                        }
                    }
                }
                Deed::Allow(rule, body) => {
                    self.allowed.push(rule.clone());
                    self.lines(body, first_pass);
                    self.allowed.pop();
                }
                Deed::Expect(promises) => {
                    let mut facts = Facts::default();
                    for promise in promises {
                        self.judge_promise(promise, &mut facts);
                    }
                    self.note(line.number, facts);
                }
            }
        }
    }

    /// Which beds carry loops, and the gaiting: what a repeat must give back.
    fn stands(&self) -> (bool, bool, bool) {
        let model = &self.bench.model;
        let carries = |bed: usize| model.beds[bed].iter().any(|hook| !hook.loops.is_empty());
        (carries(0), carries(1), model.opposite)
    }

    fn judge_promise(&self, promise: &Promised, facts: &mut Facts) {
        let model = &self.bench.model;
        match *promise {
            Promised::Stitches { count, front, back } => {
                let on = |named, bed| if named { model.stitches(bed) } else { 0 };
                facts.wrong(on(front, Bed::Front) + on(back, Bed::Back) != count, "count-mismatch");
            }
            Promised::OnTheLeft(left) => facts.wrong(model.on_the_left != left, "wrong-side"),
            Promised::Counter(counter) => facts.wrong(model.counter != counter, "count-mismatch"),
            Promised::Opposite(opposite) => facts.wrong(model.opposite != opposite, "count-mismatch"),
            Promised::Racking(place) => facts.wrong(model.racking != place, "count-mismatch"),
        }
    }

    /// The piece ends at that line.
    pub(crate) fn end(&mut self, line: usize) {
        if self.jammed {
            return;
        }
        let model = &self.bench.model;
        let mut facts = Facts::default();
        facts.wrong(model.on_needles() > 0, "left-on-needles");
        let held = model.beds.iter().flatten().any(|hook| hook.position == Position::Held);
        facts.warn(held, "hold-left-on");
        facts.warn(model.racking != 0, "no-way-back");
        self.note(line, facts);
    }
}

/// The whole pattern.
pub(crate) fn verdict(pattern: &Pattern) -> Play {
    let mut play = Play::new(Bench::new(pattern.profile.clone()));
    play.lines(&pattern.lines, true);
    play.end(pattern.end);
    play
}

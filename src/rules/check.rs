//! Plays every piece once and lets each rule look at the moments it asks for.

use super::cause;
use super::fabric::ragged_repeat::Width;
use super::follow::{Standing, When, comes};
use super::memory::Memory;
use super::search::takes_back;
use super::table::{ALL, LookAtRow, Minds, WATCHES, is_found_in_reading, mindful, mindful_of_promises, rules_of_a_row};
use super::{Facts, LooksAt, PieceDone, Promised, Seen, Touches, Use, Watch};
use crate::beds::{Bed, Operation, Outcome, State};
use crate::catalogue::{Rule, Severity};
use crate::finding::{Finding, Fix, Label, Place};
use crate::plan::program::{Piece, Promise, Repeat};
use crate::plan::rules::UNKNOWN_NAME;
use crate::play::{Block, End, Flow, Manner, Moment, Stop, Watcher, play_counted};
use crate::source::Span;
use crate::syntax::rules::TOO_MANY_FINDINGS;
use crate::syntax::tree::Name;
use std::collections::{BTreeMap, HashSet};

/// Errors of one piece beyond which no more are kept, and warnings likewise: nobody reads them, and the first ones usually
/// cause the rest. Each sort has its own number, so that warnings never hide an error.
const MOST_FINDINGS: usize = 500;

/// Moments after which it is asked whether somebody still wants to know.
const ASKED_EVERY: u64 = 1024;

/// What a check of one piece gives.
#[derive(Debug)]
pub struct CheckedPiece {
    /// What is found.
    pub findings: Vec<Finding>,
    /// How many operations were done for it.
    pub operations: u64,
}

/// Checks one piece in one size: every rule, every row. A finding that comes up in many passes is said once. Its fixes
/// must still be [fitted](super::fit_fixes) to the text.
#[must_use]
pub fn check_piece(piece: &Piece) -> Vec<Finding> {
    check_piece_in(piece, Manner::CHECK)
}

/// The same, played in another manner: without counting repeats, say, to prove that counting them changes nothing.
#[must_use]
pub fn check_piece_in(piece: &Piece, manner: Manner) -> Vec<Finding> {
    check_piece_while(piece, manner, &[], &|| true).findings
}

/// The same, with the lines and definitions of which is known already that they work on the wrong bed: what comes of
/// them is not said again. It is given up as soon as it is not `wanted` any more; what was found is then worth nothing.
#[must_use]
pub fn check_piece_while(piece: &Piece, manner: Manner, wrong_bed: &[Span], wanted: &dyn Fn() -> bool) -> CheckedPiece {
    let mut checker = Checker {
        piece,
        wanted,
        wrong_bed,
        rows_unknown: false,
        moment: 0,
        mind: Mind::default(),
        roots: Vec::new(),
        findings: Vec::new(),
        kept: [0; 2],
        beyond: None,
        said: HashSet::new(),
        allowed: Vec::new(),
        uses: BTreeMap::new(),
        memory: Memory::before(piece),
        opposite_from: None,
        widths: Vec::new(),
    };
    let End { state, stop, operations } = play_counted(piece, manner, &mut checker);
    match stop {
        None => checker.piece_done(&state),
        Some(Stop::TooLong) => {
            let done = PieceDone { piece, machine: &piece.machine, state: &state };
            let (watch, finding) = super::machine::too_long_to_check(piece, state.row, operations);
            checker.say(watch, finding, state.row, None, Seen::End(&done));
        }
        Some(Stop::NotUnderstood) => return CheckedPiece { findings: checker.finish(), operations },
        Some(Stop::Jammed | Stop::RowReached | Stop::Enough) => {}
    }
    if stop.is_none() {
        checker.unused_allows();
    }
    CheckedPiece { findings: checker.finish(), operations }
}

/// The findings about names after `allow` that are no rule's name, or are of a rule that cannot be silenced.
#[must_use]
pub fn unknown_allows(names: &[&Name]) -> Vec<Finding> {
    let told = |name: &&Name| match super::find(&name.text) {
        None => Some(unknown_allow(name)),
        Some(rule) if is_found_in_reading(rule) => Some(super::promises::idle_allow(rule.name, name.span)),
        Some(_) => None,
    };
    names.iter().filter_map(told).collect()
}

fn unknown_allow(name: &Name) -> Finding {
    let known: Vec<&str> = ALL.iter().map(|rule| rule.name).collect();
    let near = similar::get_close_matches(&*name.text, &known, 1, 0.6);
    let mend = match near.first() {
        Some(near) => format!("Did you mean `{near}`? `wale explain` lists all rules."),
        None => "`wale explain` lists all rules.".to_owned(),
    };
    UNKNOWN_NAME
        .finds(name.span, format!("there is no rule called `{}`", name.text))
        .marked("not a rule's name")
        .because("`allow` silences one rule in one block, and needs the name that a finding prints in its brackets.")
        .mend(mend)
}

/// A finding from which others may follow.
struct Root {
    rule: &'static Rule,
    /// What it disturbs for the rest of the piece.
    disturbs: Facts,
    /// Its moment.
    at: u64,
}

/// A rule that is silenced in a block, and how often it was.
struct Allowed {
    rule: String,
    span: Span,
}

/// What the checker goes by besides the beds.
#[derive(Debug, Clone, Default, PartialEq)]
struct Mind {
    /// The errors that stand until a setting is made anew.
    standing: Standing,
    /// What each rule keeps in mind.
    of_rules: Minds,
}

struct Checker<'a> {
    piece: &'a Piece,
    /// Whether somebody still wants to know.
    wanted: &'a dyn Fn() -> bool,
    /// What works on the wrong bed, as is known from reading.
    wrong_bed: &'a [Span],
    /// Whether a line about rows could not be understood.
    rows_unknown: bool,
    /// Counts the moments, so that what is found at one moment is told apart from what is found later.
    moment: u64,
    /// The findings from which others may follow.
    roots: Vec<Root>,
    /// What it goes by besides the beds.
    mind: Mind,
    /// What is found, with its moment.
    findings: Vec<(u64, Finding)>,
    /// How many errors are kept, and how many warnings.
    kept: [usize; 2],
    /// How many more errors there are than are kept, and how many more warnings, and where the first of them is.
    beyond: Option<([u64; 2], Span)>,
    said: HashSet<(&'static Rule, Span)>,
    allowed: Vec<Allowed>,
    /// For each `allow` statement whether it silenced anything.
    uses: BTreeMap<Span, (String, bool)>,
    /// Which line last did what.
    memory: Memory,
    /// The finding that offers to set the gaiting to opposite, as long as nothing else has set it since.
    opposite_from: Option<usize>,
    /// The findings about a width that pictures do not go into.
    widths: Vec<(usize, Width)>,
}

impl Checker<'_> {
    fn next_moment(&mut self) {
        self.moment += 1;
        self.mind.standing.goes_on();
    }

    fn say(&mut self, watch: &Watch, finding: Finding, row: u64, pass: Option<(u64, u64)>, seen: Seen<'_>) {
        if let Some(allowed) = self.allowed.iter().rev().find(|allowed| allowed.rule == finding.rule.name) {
            if let Some(used) = self.uses.get_mut(&allowed.span) {
                used.1 = true;
            }
            return;
        }
        let touches = watch.touches(seen, &self.memory);
        if self.follows_from_before(watch, touches) {
            return;
        }
        // Whether it was said of this line before or not: the lines after it may be others.
        self.mind.standing.found(watch);
        self.mind.standing.disturbed(touches.disturbs);
        if !self.said.insert((finding.rule, finding.at.span)) {
            return;
        }
        if let Some(Outcome::Unfit(bed, ragged)) = seen.outcome()
            && let Seen::Done(moment) = seen
            && self.is_width_told(Width::of(moment, *bed, *ragged), finding.at.span)
        {
            return;
        }
        // Before the first loop is made there is one reason for all lines that find nothing to do.
        let idle = finding.rule == super::loops::nothing_to_do::RULE.rule;
        if idle && !self.memory.is_cast_on() && self.findings.iter().any(|(_, earlier)| earlier.rule == finding.rule) {
            return;
        }
        let sort = usize::from(finding.rule.severity == Severity::Warning);
        if self.kept[sort] >= MOST_FINDINGS {
            self.beyond.get_or_insert(([0; 2], finding.at.span)).0[sort] += 1;
            return;
        }
        self.kept[sort] += 1;
        self.roots.push(Root { rule: finding.rule, disturbs: touches.disturbs.of_the_piece(), at: self.moment });
        let place = Place { piece: self.piece.title.clone(), row, pass: pass.filter(|(_, of)| *of > 1) };
        let fix = watch.besides.fix.and_then(|fix| fix(finding.at.span, seen, &self.memory));
        let fix = if finding.rule == super::machine::not_opposite::RULE.rule { self.set_opposite(fix) } else { fix };
        let finding = cause::explained(finding, watch, seen, &self.memory);
        self.findings.push((self.moment, Finding { place: Some(place), fix, ..finding }));
    }

    /// Whether it was said of a working width already that a picture does not go into it: the line is put beside that
    /// finding, and its widths are those that fit the pictures of both.
    fn is_width_told(&mut self, width: Width, span: Span) -> bool {
        for (index, known) in &mut self.widths {
            let Some((label, mend)) = known.joined(&width) else { continue };
            if let Some((_, finding)) = self.findings.get_mut(*index) {
                finding.mend = mend;
                if finding.also.len() < cause::MOST_LINES {
                    finding.also.push(Label { span, text: label });
                }
            }
            return true;
        }
        self.widths.push((self.findings.len(), width));
        false
    }

    /// The fix of a transfer at gaiting `between`, if none has been offered yet: set once, the gaiting serves all
    /// transfers that follow.
    fn set_opposite(&mut self, fix: Option<Fix>) -> Option<Fix> {
        if self.opposite_from.is_some() {
            return None;
        }
        self.opposite_from = fix.is_some().then_some(self.findings.len());
        fix
    }

    /// Something counts on gaiting `between` after that fix, so that it may not be made without asking.
    fn needs_between(&mut self) {
        let finding = self.opposite_from.and_then(|index| self.findings.get_mut(index));
        if let Some(fix) = finding.and_then(|(_, finding)| finding.fix.as_mut()) {
            fix.safe = false;
        }
    }

    /// Whether a finding would probably only follow from what is not as the pattern thinks since an earlier moment.
    fn follows_from_before(&self, watch: &Watch, touches: Touches) -> bool {
        // A warning never hides an error: a sheet is written in spite of the one and not in spite of the other.
        let outranks = |root: &Root| {
            root.at < self.moment
                && root.rule.severity >= watch.rule.severity
                && (root.disturbs.meet(touches.rests_on) || comes(When::Later, watch.rule, root.rule))
        };
        self.rows_unknown && touches.rests_on.meet(Facts::EVERY_ROW)
            || self.mind.standing.holds(watch)
            || self.mind.standing.is_astray(touches.rests_on)
            || self.roots.iter().any(outranks)
    }

    /// Whether the last loops go from the needles here, as the pattern says. On waste yarn they may come back.
    fn ends_a_fabric(&self, moment: &Moment<'_>) -> bool {
        let Outcome::Handled(handled) = moment.outcome else { return false };
        moment.state.ledger.on_needles == 0
            && !handled.taken.is_empty()
            && match moment.operation {
                Operation::BindOff(_) | Operation::Drop(_) if moment.state.ledger.on_waste == 0 => true,
                Operation::BindOff(_) | Operation::Drop(_) | Operation::OntoWaste(..) => !takes_back(&self.piece.steps),
                _ => false,
            }
    }

    /// Takes down that something works on the wrong bed, which was said when it was read.
    fn known(&mut self, span: Span) {
        let inside = |known: &Span| known.file == span.file && span.start <= known.start && known.end <= span.end;
        if self.wrong_bed.iter().any(inside) {
            let wrong_bed = &super::machine::wrong_bed::RULE;
            let disturbs = wrong_bed.disturbs.of_the_piece();
            self.roots.push(Root { rule: wrong_bed.rule, disturbs, at: self.moment.saturating_sub(1) });
            self.mind.standing.disturbed(wrong_bed.disturbs);
            self.mind.standing.goes_on();
        }
    }

    fn each_rule(
        &mut self,
        row: u64,
        pass: Option<(u64, u64)>,
        seen: Seen<'_>,
        look: impl Fn(&LooksAt) -> Option<Finding>,
    ) {
        for watch in WATCHES {
            for looks_at in watch.looks_at {
                let finding = match (looks_at, seen) {
                    (&LooksAt::Mindful, Seen::Done(moment)) => {
                        mindful(watch).and_then(|look| look(&self.mind.of_rules, moment))
                    }
                    (&LooksAt::MindfulOfPromises, Seen::Promise(promised)) => {
                        mindful_of_promises(watch).and_then(|look| look(&self.mind.of_rules, promised))
                    }
                    _ => look(looks_at),
                };
                if let Some(finding) = finding {
                    debug_assert_eq!(finding.rule, watch.rule);
                    self.say(watch, finding, row, pass, seen);
                }
            }
        }
    }

    fn piece_done(&mut self, state: &State) {
        self.next_moment();
        let done = PieceDone { piece: self.piece, machine: &self.piece.machine, state };
        self.each_rule(state.row, None, Seen::End(&done), |looks_at| match looks_at {
            LooksAt::PieceEnd(look) => look(&done),
            _ => None,
        });
    }

    fn unused_allows(&mut self) {
        self.next_moment();
        let watch = &super::promises::needless_allow::RULE;
        if self.follows_from_before(watch, Touches { disturbs: watch.disturbs, rests_on: watch.rests_on }) {
            return;
        }
        for (span, (rule, used)) in std::mem::take(&mut self.uses) {
            let silences = super::find(&rule).is_some_and(|rule| !is_found_in_reading(rule));
            if !used && silences && self.kept[1] < MOST_FINDINGS {
                self.kept[1] += 1;
                self.findings.push((self.moment, super::promises::needless_allow(&rule, span)));
            }
        }
    }

    /// All findings, and a last one if there are more.
    fn finish(self) -> Vec<Finding> {
        let roots = &self.roots;
        let said: HashSet<(&'static Rule, Span)> =
            self.findings.iter().map(|(_, finding)| (finding.rule, finding.at.span)).collect();
        let said_better = |finding: &Finding| {
            finding.rule.severity == Severity::Warning
                && said
                    .iter()
                    .any(|(root, span)| *span == finding.at.span && comes(When::OnTheLine, finding.rule, root))
        };
        let says_more = |(moment, finding): &(u64, Finding)| {
            !said_better(finding)
                && !roots.iter().any(|root| {
                    let comes = |when| comes(when, finding.rule, root.rule);
                    root.at == *moment && root.rule.severity >= finding.rule.severity && comes(When::AtOnce)
                        || root.at > *moment && finding.rule.severity == Severity::Warning && comes(When::Before)
                })
        };
        let mut findings: Vec<Finding> =
            self.findings.into_iter().filter(says_more).map(|(_, finding)| finding).collect();
        if let Some(([errors, warnings], span)) = self.beyond {
            let counted = [(errors, "more error", "more errors"), (warnings, "more warning", "more warnings")];
            let more: Vec<String> = (counted.into_iter().filter(|(number, ..)| *number > 0))
                .map(|(number, one, several)| crate::words::count(number, one, several))
                .collect();
            findings.push(
                TOO_MANY_FINDINGS
                    .finds(span, format!("\"{}\" has {}", self.piece.title, more.join(" and ")))
                    .marked("the first that is not listed")
                    .because(format!(
                        "Only the first {MOST_FINDINGS} errors and the first {MOST_FINDINGS} warnings of a piece are listed; the \
                         first ones often cause the rest."
                    ))
                    .mend("Mend the first ones and check again."),
            );
        }
        findings
    }
}

impl Watcher<Mind> for Checker<'_> {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        let (row, pass, seen) = (moment.state.row, moment.pass, Seen::Done(moment));
        self.next_moment();
        self.mind.standing.did(moment.operation);
        self.mind.standing.begins_anew(moment.state.ledger.on_needles > 0);
        if self.moment.is_multiple_of(ASKED_EVERY) && !(self.wanted)() {
            return Flow::Break(Stop::Enough);
        }
        self.known(moment.span);
        match moment.outcome {
            Outcome::Row(done) => {
                for (watch, look) in rules_of_a_row() {
                    let finding = match look {
                        LookAtRow::Plain(look) => look(moment, done),
                        LookAtRow::Mindful(look) => look(&self.mind.of_rules, moment),
                    };
                    if let Some(finding) = finding {
                        self.say(watch, finding, row, pass, seen);
                    }
                }
                // What the row asks for counts: the transfer that was not made may have left a bed bare.
                if let (Some(_), Operation::Row(said)) = (self.opposite_from, moment.operation)
                    && Bed::BOTH.into_iter().all(|bed| said.work.toward(done.toward)[bed].asks())
                {
                    self.needs_between();
                }
            }
            Outcome::FreePass => self.each_rule(row, pass, seen, |_| None),
            Outcome::Carried(carried) => self.each_rule(row, pass, seen, |looks_at| match looks_at {
                LooksAt::Carried(look) => look(moment, carried),
                _ => None,
            }),
            Outcome::Handled(handled) => self.each_rule(row, pass, seen, |looks_at| match looks_at {
                LooksAt::Handled(look) => look(moment, handled),
                _ => None,
            }),
            Outcome::Needles(put) => self.each_rule(row, pass, seen, |looks_at| match looks_at {
                LooksAt::Needles(look) => look(moment, put),
                _ => None,
            }),
            Outcome::Setting(setting) => self.each_rule(row, pass, seen, |looks_at| match looks_at {
                LooksAt::Setting(look) => look(moment, setting),
                _ => None,
            }),
            Outcome::Unfit(bed, ragged) => self.each_rule(row, pass, seen, |looks_at| match looks_at {
                LooksAt::Unfit(look) => look(moment, *bed, *ragged),
                _ => None,
            }),
        }
        if matches!(moment.operation, Operation::Gaiting(_)) {
            self.opposite_from = None;
        }
        if self.ends_a_fabric(moment) {
            self.mind.standing.taken_off();
        }
        self.memory.note(moment);
        self.mind.of_rules.after(moment);
        Flow::Continue(())
    }

    fn promised(&mut self, promise: &Promise, span: Span, state: &State, pass: Option<(u64, u64)>) {
        self.next_moment();
        let promised = Promised { promise, span, state };
        self.each_rule(state.row, pass, Seen::Promise(&promised), |looks_at| match looks_at {
            LooksAt::Promise(look) => look(&promised),
            _ => None,
        });
        self.memory.promised(promise, span, state);
        self.mind.of_rules.promised(promise);
    }

    fn begins(&mut self, block: &Block<'_>, state: &State) {
        match block {
            Block::Allow(rule, _, span) => {
                self.uses.entry(*span).or_insert_with(|| ((*rule).to_owned(), false));
                self.allowed.push(Allowed { rule: (*rule).to_owned(), span: *span });
            }
            Block::Repeat(repeat, span) => {
                self.memory.begins();
                let Some(stitch) = &repeat.stitch else { return };
                self.next_moment();
                self.known(stitch.defined);
                let at = Use { repeat, span: *span, before: state, after: state };
                self.each_rule(state.row, None, Seen::Use(&at), |looks_at| match looks_at {
                    LooksAt::StitchBegins(look) => look(&at),
                    _ => None,
                });
            }
            Block::Section(_) => {}
        }
    }

    fn rows_unknown(&mut self) {
        self.rows_unknown = true;
    }

    fn ends(&mut self, block: &Block<'_>, _state: &State) {
        match block {
            Block::Allow(..) => drop(self.allowed.pop()),
            Block::Repeat(repeat, _) => {
                self.memory.ends();
                if repeat.stitch.is_some() {
                    self.mind.standing.block_ends();
                }
            }
            Block::Section(_) => self.mind.standing.block_ends(),
        }
    }

    fn mind(&self) -> Option<&Mind> {
        Some(&self.mind)
    }

    fn minds(&mut self, mind: &Mind) {
        self.mind.clone_from(mind);
    }

    fn remembered(&mut self, number: u64) {
        self.memory.remembered(number);
    }

    fn done_again(&mut self, number: u64, after: &State) {
        // Which rows there were is not told again.
        self.needs_between();
        self.memory.done_again(number, after);
    }

    fn first_pass_done(&mut self, repeat: &Repeat, span: Span, before: &State, after: &State) {
        self.next_moment();
        let at = Use { repeat, span, before, after };
        self.each_rule(after.row, Some((1, repeat.times)), Seen::Use(&at), |looks_at| match looks_at {
            LooksAt::FirstPass(look) => look(&at),
            _ => None,
        });
    }
}

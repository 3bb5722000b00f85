//! The state in which one size of a pattern is worked out, and what everything in it shares.

use super::chart::Charts;
use super::expression::{LetState, Value};
use super::gauge::Gauge;
use super::names::{Names, Sort};
use super::occupancy::Occupancy;
use super::program::{Piece, Program, Step, StepKind};
use super::stitch::Instance;
use crate::beds::{Machine, Operation};
use crate::finding::{Finding, Severity};
use crate::source::Span;
use crate::syntax::tree::{Kind, Name, Number, Statement};
use std::collections::{HashMap, HashSet};
use std::sync::Arc;

/// Blocks and stitches in each other.
pub(super) const MOST_DEPTH: usize = 64;
/// Sizes of a pattern.
pub(super) const MOST_SIZES: usize = 64;
/// Steps that all sizes together may keep in memory.
const MOST_STEPS: usize = 1_000_000;
/// Findings of one size.
const MOST_FINDINGS: usize = 5_000;
/// Rows of a piece: far more than anybody knits, and small enough to count with.
pub(super) const MOST_ROWS: u128 = 1_000_000_000_000_000;

/// What depends on values that a definition is only given when it is used. While a definition with parameters is
/// looked at on its own these would be guesses.
const GUESSES: &[&str] = &[
    "divided-by-zero",
    "no-rows",
    "not-a-whole-number",
    "not-fixed",
    "not-side-by-side",
    "off-bed",
    "open-repeat",
    "out-of-range",
    "ragged-repeat",
    "too-large",
    "uneven-move",
    "wrong-bed",
];

/// Works out one size.
pub(super) struct Planner<'a> {
    /// What is declared.
    pub(super) names: &'a Names<'a>,
    /// The charts, which are the same in all sizes.
    pub(super) charts: &'a Charts<'a>,
    /// The number of the size.
    pub(super) size: usize,
    findings: Vec<Finding>,
    seen: HashSet<Finding>,
    /// Whether the statement at hand is left out because its count is 0 in this size.
    pub(super) left_out: bool,
    /// Values of `let`.
    pub(super) lets: HashMap<&'a str, LetState>,
    /// Parameters and chart lines that hold here; the last one of a name counts.
    pub(super) locals: Vec<(&'a str, Value)>,
    /// The machine whose beds are meant; none outside pieces and stitches.
    pub(super) machine: Option<Arc<Machine>>,
    /// The gauges that could be read.
    pub(super) gauges: HashMap<&'a str, Option<Gauge>>,
    /// Stitches with the values they were given.
    pub(super) instances: HashMap<String, Arc<Instance>>,
    /// The stitches that are being worked out, outermost first.
    pub(super) calling: Vec<&'a Name>,
    /// Whether some parameter stands for nothing yet.
    pub(super) guessing: bool,
    /// Blocks and stitches that are open.
    pub(super) depth: usize,
    room: usize,
    /// Whether there is no room for more steps or findings, so that the rest is let be.
    pub(super) full: bool,
}

/// Steps on the way.
#[derive(Debug, Default)]
pub(super) struct Draft {
    /// The steps.
    pub(super) steps: Vec<Step>,
    /// How many rows they are.
    pub(super) rows: u128,
    /// How deep the steps are nested.
    pub(super) height: usize,
    /// Whether a statement in it could not be understood, so that the rows are not all.
    pub(super) gap: bool,
    /// What is known of the beds, inside a definition.
    pub(super) beds: Option<Occupancy>,
}

impl<'a> Planner<'a> {
    /// Starts on a size.
    pub(super) fn new(names: &'a Names<'a>, charts: &'a Charts<'a>, size: usize) -> Self {
        Self {
            names,
            charts,
            size,
            findings: Vec::new(),
            seen: HashSet::new(),
            left_out: false,
            lets: HashMap::new(),
            locals: Vec::new(),
            machine: None,
            gauges: HashMap::new(),
            instances: HashMap::new(),
            calling: Vec::new(),
            guessing: false,
            depth: 0,
            room: MOST_STEPS / names.sizes.len().max(1),
            full: false,
        }
    }

    /// What was found.
    pub(super) fn into_findings(self) -> Vec<Finding> {
        self.findings
    }

    /// Works out everything that is declared and every piece.
    pub(super) fn program(&mut self) -> Program {
        let names = self.names;
        for entry in names.table(Sort::Let).iter() {
            self.let_value(entry);
        }
        for entry in names.table(Sort::Gauge).iter() {
            let gauge = self.read_gauge(entry);
            self.gauges.insert(&entry.name.text, gauge);
        }
        let yarns = self.read_yarns();
        let machines: Vec<Arc<Machine>> =
            names.table(Sort::Machine).iter().map(|entry| Arc::new(self.read_machine(entry))).collect();
        self.check_definitions(&machines);
        let pieces = names.pieces.iter().filter_map(|piece| self.piece(piece, &machines)).collect();
        Program {
            title: names.title.map(str::to_owned),
            size: names.sizes.get(self.size).map(|name| name.text.to_string()),
            yarns,
            pieces,
        }
    }

    fn piece(&mut self, statement: &'a Statement, machines: &[Arc<Machine>]) -> Option<Piece> {
        let Kind::Piece { title, make, machine } = &statement.kind else { return None };
        let make = match make {
            Some(count) => self.whole(count, &super::expression::MAKE).unwrap_or(1),
            None => 1,
        };
        let machine = self.machine_of(statement, machine.as_ref(), machines);
        let body = statement.body.as_ref()?;
        self.machine = Some(Arc::clone(&machine));
        let mut draft = Draft::default();
        self.block(&mut draft, body);
        self.machine = None;
        let end = body.close.unwrap_or_else(|| {
            let file = statement.span.file;
            let end = self.names.sources.get(file).text().len() as u32;
            Span { file, start: end, end }
        });
        Some(Piece {
            title: title.text.to_string(),
            make,
            machine,
            span: statement.span,
            end,
            steps: draft.steps.into(),
        })
    }

    fn machine_of(
        &mut self,
        statement: &'a Statement,
        named: Option<&'a Name>,
        machines: &[Arc<Machine>],
    ) -> Arc<Machine> {
        let names = self.names;
        let table = names.table(Sort::Machine);
        if let Some(name) = named {
            if let Some(machine) = table.position(&name.text).and_then(|at| machines.get(at)) {
                return Arc::clone(machine);
            }
            self.report(names.unknown(name, Sort::Machine, &[]));
            return Arc::new(stand_in());
        }
        match machines {
            [only] => Arc::clone(only),
            [] => {
                self.report(
                    Finding::new(
                        "no-machine",
                        Severity::Error,
                        statement.span,
                        "the pattern does not say which machine it is for",
                    )
                    .because("Without its needles and its racking nobody can tell whether a row can be knitted.")
                    .mend(
                        "Write your machine's numbers at the top, for example `machine mine {`, `needles 90 each side`, \
                         `pitch 5 mm`, `}`, each on a line of its own, or `use` a file that has them.",
                    ),
                );
                Arc::new(stand_in())
            }
            [first, ..] => {
                let known: Vec<&str> = table.iter().map(|entry| entry.name.text.as_ref()).collect();
                self.report(
                    Finding::new(
                        "no-machine",
                        Severity::Error,
                        statement.span,
                        "the piece does not say which machine it is for",
                    )
                    .because(format!("There are {} machines: {}.", known.len(), super::names::listed(&known)))
                    .mend(format!("Write `on` and the machine behind the title, for example `on {}`.", first.name)),
                );
                Arc::clone(first)
            }
        }
    }

    /// Takes down a finding, once. While a definition is looked at without the values of its parameters, a finding
    /// that may hang on them is left out.
    pub(super) fn report(&mut self, finding: Finding) {
        if !(self.guessing && GUESSES.contains(&finding.rule)) {
            self.sure(finding);
        }
    }

    /// Takes down a finding that no parameter could change, once.
    pub(super) fn sure(&mut self, finding: Finding) {
        if self.findings.len() > MOST_FINDINGS || !self.seen.insert(finding.clone()) {
            return;
        }
        if self.findings.len() == MOST_FINDINGS {
            self.full = true;
            self.findings.push(
                Finding::new(
                    "too-many-findings",
                    Severity::Error,
                    finding.at.span,
                    "there is more to say than anybody can read",
                )
                .because(format!("These are {MOST_FINDINGS} findings already, and this is not the last."))
                .mend("Mend the first ones and check again."),
            );
            return;
        }
        self.findings.push(finding);
    }

    /// An error with its reason and what to do.
    pub(super) fn error(
        &mut self,
        rule: &'static str,
        span: Span,
        what: impl Into<String>,
        why: impl Into<String>,
        mend: impl Into<String>,
    ) {
        self.report(Finding::new(rule, Severity::Error, span, what).because(why).mend(mend));
    }

    /// The words of a span, short enough for a message.
    pub(super) fn words(&self, span: Span) -> String {
        super::names::clipped(self.names.sources.words(span))
    }

    /// The value of this size; reports a wrong count of values and gives none then.
    pub(super) fn of_size(&mut self, values: &[Number], span: Span) -> Option<Number> {
        let sizes = self.names.sizes.len();
        match values {
            [only] => return Some(*only),
            _ if values.len() == sizes => return values.get(self.size).copied(),
            _ => {}
        }
        // Where the sizes themselves are missing, that is one mistake however many values there are.
        let known = |finding: &Finding| finding.rule == "wrong-count-of-sizes";
        if sizes == 0 && self.findings.iter().any(known) {
            return None;
        }
        let (why, mend) = if sizes == 0 {
            (
                "The pattern has no sizes, so there may be one value.".to_owned(),
                "Name the sizes at the top, for example `sizes small, large`, or write one value.".to_owned(),
            )
        } else {
            let names: Vec<&str> = self.names.sizes.iter().map(|name| name.text.as_ref()).collect();
            (
                format!(
                    "The pattern has {} ({}).",
                    super::quantity::plural(sizes as u128, "size", "sizes"),
                    super::names::listed(&names)
                ),
                format!("Write one value for all sizes, or {sizes}: the first size's and the others' in brackets."),
            )
        };
        let counted = super::quantity::plural(values.len() as u128, "value is", "values are");
        let what = format!("{counted} given where sizes are meant");
        self.sure(Finding::new("wrong-count-of-sizes", Severity::Error, span, what).because(why).mend(mend));
        None
    }

    /// Takes room for so many steps; reports once when there is none.
    pub(super) fn take_room(&mut self, cost: usize, span: Span) -> bool {
        if self.full {
            return false;
        }
        match self.room.checked_sub(cost) {
            Some(left) => {
                self.room = left;
                true
            }
            None => {
                self.full = true;
                self.sure(
                    Finding::new("too-large", Severity::Error, span, "the pattern is too large to be worked out")
                        .because(format!(
                            "Up to here it has more than {} steps that are written out one by one.",
                            MOST_STEPS / self.names.sizes.len().max(1)
                        ))
                        .mend("Use `repeat N times` or `work NAME N times` for what is knitted again and again; a chart is written out line by line."),
                );
                false
            }
        }
    }

    /// Adds a step and what it does to the beds.
    pub(super) fn push(&mut self, draft: &mut Draft, kind: StepKind, span: Span) {
        if !self.take_room(1 + weight(&kind), span) {
            return;
        }
        if let StepKind::Do(operation) = &kind {
            if is_row(operation) {
                draft.rows += 1;
            }
            if let Some(beds) = &mut draft.beds
                && let Some(finding) = beds.apply(operation, span)
            {
                self.report(finding);
            }
        }
        draft.steps.push(Step { kind, span });
    }

    /// Adds something done on the machine.
    pub(super) fn push_do(&mut self, draft: &mut Draft, operation: Operation, span: Span) {
        self.push(draft, StepKind::Do(operation), span);
    }
}

/// Whether it is a pass of the carriages that the counter sees.
pub(super) const fn is_row(operation: &Operation) -> bool {
    use crate::beds::CastOn;
    matches!(operation, Operation::Row(_) | Operation::CastOn(CastOn::Zigzag | CastOn::Open, _))
}

/// What a step costs beyond itself, so that long texts and long rows count as well.
fn weight(kind: &StepKind) -> usize {
    use crate::beds::Work;
    match kind {
        StepKind::Note(text) | StepKind::Mark(text) | StepKind::Section(text, _) => text.len() / 64,
        StepKind::Remind { text, .. } => text.len() / 64,
        StepKind::Allow { because, .. } => because.len() / 64,
        StepKind::Do(Operation::Row(row)) => match &row.work {
            Work::Same(beds) => beds.front.picked.len() + beds.back.picked.len(),
            Work::ByDirection { to_left, to_right } => {
                [to_left, to_right].iter().map(|beds| beds.front.picked.len() + beds.back.picked.len()).sum()
            }
        },
        _ => 0,
    }
}

/// A machine that stands in where the pattern has none that can be read, so that the rest is still checked: as wide
/// as any.
pub(super) fn stand_in() -> Machine {
    Machine::new("", 128)
}

//! What it takes to lower one size of a tree to steps, and room for the steps.

use crate::beds::{Operation, StitchSize, Yarn};
use crate::finding::Finding;
use crate::plan::limits::MOST_STEPS;
use crate::plan::lower::draft::{Draft, Instance};
use crate::plan::names::Names;
use crate::plan::program::{Step, StepId, StepKind};
use crate::plan::rules;
use crate::plan::values::chart::Charts;
use crate::plan::values::context::Values;
use crate::plan::values::gauge::Gauge;
use crate::source::Span;
use crate::syntax::tree::Name;
use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

/// Lowers one size of a tree to steps.
pub(in crate::plan) struct Lowering<'a> {
    /// What the values are.
    pub(super) values: Values<'a>,
    /// The charts, which are the same in all sizes.
    pub(super) charts: &'a Charts,
    /// The gauges, by the things that they are; none for one that could not be read.
    pub(super) gauges: HashMap<usize, Option<Gauge>>,
    /// The stitch size at which plain rows of a yarn are knitted, for each yarn that says it.
    pub(super) plain_sizes: BTreeMap<Yarn, StitchSize>,
    /// Stitches with the values they were given.
    pub(super) instances: HashMap<String, Arc<Instance>>,
    /// The stitches that are being worked out, outermost first.
    pub(super) calling: Vec<&'a Name>,
    /// Whether the statement at hand is left out because its count is 0 in this size.
    pub(super) left_out: bool,
    /// Steps for which there is still room.
    room: usize,
    /// How many steps were made so far, which numbers them.
    steps: u64,
}

impl<'a> Lowering<'a> {
    /// Starts on a size.
    pub(in crate::plan) fn new(names: &'a Names<'a>, charts: &'a Charts, size: usize) -> Self {
        Self {
            values: Values::new(names, size),
            charts,
            gauges: HashMap::new(),
            plain_sizes: BTreeMap::new(),
            instances: HashMap::new(),
            calling: Vec::new(),
            left_out: false,
            room: MOST_STEPS / names.sizes.len().max(1),
            steps: 0,
        }
    }

    /// What was found.
    pub(in crate::plan) fn into_findings(self) -> Vec<Finding> {
        self.values.report.into_findings()
    }

    /// Takes room for so many steps; reports once when there is none.
    pub(super) fn take_room(&mut self, cost: usize, span: Span) -> bool {
        if self.values.report.full {
            return false;
        }
        match self.room.checked_sub(cost) {
            Some(left) => {
                self.room = left;
                true
            }
            None => {
                self.values.report.full = true;
                self.values.sure(
                    rules::TOO_LARGE.finds(span, "the pattern is too large to be worked out")
                        .because(format!(
                            "Up to here it has more than {} steps that are written out one by one, and there is room for {MOST_STEPS} in \
                             all sizes together. None of its pieces is knitted in the check before that is mended.",
                            MOST_STEPS / self.values.names.sizes.len().max(1)
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
                self.values.report(finding);
            }
        }
        self.steps += 1;
        draft.steps.push(Step { id: StepId(self.steps), kind, span });
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
        StepKind::Section(text, _) => text.len() / 64,
        StepKind::Say(speech) => speech.text().len() / 64,
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

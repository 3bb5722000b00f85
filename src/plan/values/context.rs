//! What values hang on in one size of a pattern: what is declared, what holds here, and the machine that is meant.

use crate::beds::Machine;
use crate::catalogue::Rule;
use crate::finding::Finding;
use crate::plan::limits::MOST_DEPTH;
use crate::plan::names::Names;
use crate::plan::rules;
use crate::plan::values::quantity::{Exact, decimal, exact};
use crate::plan::values::report::Report;
use crate::plan::values::value::{LetState, Value};
use crate::source::Span;
use crate::syntax::tree::Number;
use std::collections::HashMap;
use std::sync::Arc;

/// Works out the values of one size.
pub(in crate::plan) struct Values<'a> {
    /// What is declared.
    pub(in crate::plan) names: &'a Names<'a>,
    /// The number of the size.
    pub(in crate::plan) size: usize,
    /// What was found.
    pub(in crate::plan) report: Report,
    /// Values of `let`, by the thing that has them.
    pub(in crate::plan) lets: HashMap<usize, LetState>,
    /// Parameters and chart lines that hold here, by the thing that stands for them; the last one counts.
    pub(in crate::plan) locals: Vec<(usize, Value)>,
    /// The machine whose beds are meant; none outside pieces and stitches.
    pub(in crate::plan) machine: Option<Arc<Machine>>,
    /// Blocks, stitches and values that are open.
    pub(in crate::plan) depth: usize,
}

impl<'a> Values<'a> {
    /// Starts on a size.
    pub(in crate::plan) fn new(names: &'a Names<'a>, size: usize) -> Self {
        Self {
            names,
            size,
            report: Report::default(),
            lets: HashMap::new(),
            locals: Vec::new(),
            machine: None,
            depth: 0,
        }
    }

    /// Takes down a finding, once; left out where it may hang on a parameter that stands for nothing yet.
    pub(in crate::plan) fn report(&mut self, finding: Finding) {
        self.report.report(finding);
    }

    /// Takes down a finding that no parameter could change, once.
    pub(in crate::plan) fn sure(&mut self, finding: Finding) {
        self.report.sure(finding);
    }

    /// An error with its reason and what to do.
    pub(in crate::plan) fn error(
        &mut self,
        rule: &'static Rule,
        span: Span,
        what: impl Into<String>,
        why: impl Into<String>,
        mend: impl Into<String>,
    ) {
        self.report(rule.finds(span, what).because(why).mend(mend));
    }

    /// The words of a span, short enough for a message.
    pub(in crate::plan) fn words(&self, span: Span) -> String {
        crate::plan::say::clipped(self.names.sources.words(span))
    }

    /// The value of this size; reports a wrong count of values and gives none then.
    pub(in crate::plan) fn of_size(&mut self, values: &[Number], span: Span) -> Option<Number> {
        let sizes = self.names.sizes.len();
        match values {
            [only] => return Some(*only),
            _ if values.len() == sizes => {
                self.uneven(values, span);
                return values.get(self.size).copied();
            }
            _ => {}
        }
        // Where the sizes themselves are missing, that is one mistake however many values there are.
        let known = |finding: &Finding| *finding.rule == rules::WRONG_COUNT_OF_SIZES;
        if sizes == 0 && self.report.findings().iter().any(known) {
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
                    crate::words::count(sizes as u128, "size", "sizes"),
                    crate::plan::say::listed(&names)
                ),
                format!("Write one value for all sizes, or {sizes}: the first size's and the others' in brackets."),
            )
        };
        let counted = crate::words::count(values.len() as u128, "value is", "values are");
        let what = format!("{counted} given where sizes are meant");
        self.sure(rules::WRONG_COUNT_OF_SIZES.finds(span, what).because(why).mend(mend));
        None
    }

    /// Values that rise and fall from size to size.
    fn uneven(&mut self, values: &[Number], span: Span) {
        /// Below this they may well go up and down: rows between decreases, stitches taken off at once.
        const SMALL: i128 = 10;
        let Some(exact) = values.iter().map(|value| exact(*value)).collect::<Option<Vec<_>>>() else { return };
        let turns = |three: &&[Exact]| {
            (three[0] < three[1] && three[1] > three[2]) || (three[0] > three[1] && three[1] < three[2])
        };
        // Sizes that are equal to the one before say nothing of the way.
        let mut way = exact.clone();
        way.dedup();
        let Some(&[_, there, _]) = way.windows(3).find(turns) else { return };
        if exact.iter().all(|value| *value < Exact::from(SMALL)) {
            return;
        }
        let at = exact.iter().position(|value| *value == there).unwrap_or_default();
        let size = self.names.sizes.get(at).map_or("", |name| name.text.as_ref());
        let (shown, listed): (String, Vec<String>) =
            (decimal(there, 6), exact.iter().map(|value| decimal(*value, 6)).collect());
        let finding = rules::UNEVEN_SIZES
            .finds(span, "the values of the sizes rise and fall")
            .because(format!("They are {}, and the value of {size} is {shown}.", listed.join(", ")))
            .mend(format!("Look at the value of {size}, and whether two of them have changed places."));
        self.sure(finding);
    }

    /// Blocks, stitches or values that hang on each other too deep.
    pub(in crate::plan) fn too_deep(&mut self, span: Span) {
        self.sure(
            rules::TOO_DEEP
                .finds(span, "definitions and blocks are nested too deep here")
                .because(format!("There may be {MOST_DEPTH} in each other."))
                .mend("Write some of them out in one definition."),
        );
    }
}

//! Gauges: how many rows make a length.

use crate::plan::names::Entry;
use crate::plan::rules;
use crate::plan::say::twice;
use crate::plan::values::context::Values;
use crate::plan::values::quantity::{Exact, Measure};
use crate::syntax::tree::{Kind, Quantity};
use num_traits::Signed;

/// What a swatch measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::plan) struct Gauge {
    /// Rows.
    pub(in crate::plan) rows: Exact,
    /// Over that many micrometres.
    pub(in crate::plan) over: Exact,
}

impl<'a> Values<'a> {
    /// Reads a gauge. Findings: `missing-line`, `said-twice`, `unit-mismatch`, `out-of-range`, `unknown-name`.
    pub(in crate::plan) fn read_gauge(&mut self, entry: Entry<'a>) -> Option<Gauge> {
        let body = entry.statement.body.as_ref()?;
        let mut first = None;
        let mut broken = false;
        let mut gauge = None;
        for line in &body.statements {
            let Kind::GaugeLine { stitches, rows, over, state } = &line.kind else {
                broken |= line.kind == Kind::Broken;
                continue;
            };
            if let Some(first) = first.replace(line.span) {
                self.sure(twice("the gauge", line.span, first));
                continue;
            }
            if let Some(state) = state
                && !["washed", "unwashed", "relaxed"].contains(&state.text.as_ref())
            {
                self.error(
                    &rules::UNKNOWN_NAME,
                    state.span,
                    format!("a swatch cannot be `{}`", state.text),
                    "It is counted as it comes off the machine, after it has rested, or after it was washed.",
                    "Write `unwashed`, `relaxed` or `washed`.",
                );
            }
            let stitches = self.positive(stitches, Measure::Stitches, "the stitches of a gauge");
            let rows = self.positive(rows, Measure::Rows, "the rows of a gauge");
            let over = self.positive(over, Measure::Length, "what a gauge is counted over");
            gauge = stitches.and(rows).zip(over).map(|(rows, over)| Gauge { rows, over });
        }
        if first.is_none() && !broken {
            self.sure(
                rules::MISSING_LINE
                    .finds(entry.statement.span, "the gauge says no numbers")
                    .mend("Count them on your swatch and write, for example, `26 stitches and 44 rows in 10 cm`."),
            );
        }
        gauge
    }

    fn positive(&mut self, quantity: &'a Quantity, measure: Measure, what: &str) -> Option<Exact> {
        let amount = self.quantity(quantity)?;
        let exact = amount.exact?;
        if amount.measure != measure {
            self.error(
                &rules::UNIT_MISMATCH,
                quantity.span,
                format!("{what} cannot be {}", amount.measure.words()),
                format!(
                    "`{}` stands for {}. Wanted here: {}.",
                    self.words(quantity.span),
                    amount.measure.words(),
                    measure.words()
                ),
                "Write a gauge as, for example, `26 stitches and 44 rows in 10 cm`.",
            );
            return None;
        }
        if !exact.is_positive() {
            self.error(
                &rules::OUT_OF_RANGE,
                quantity.span,
                format!("{what} cannot be 0"),
                "A length is worked out by dividing with it.",
                "Count on your swatch again.",
            );
            return None;
        }
        Some(exact)
    }
}

//! Blocks, repeats, stitches that are worked, and charts that are followed.

use crate::beds::Pick;
use crate::plan::limits::{MOST_DEPTH, MOST_ROWS};
use crate::plan::lower::draft::Draft;
use crate::plan::lower::extent::TIMES;
use crate::plan::lower::lowering::Lowering;
use crate::plan::lower::occupancy::Occupancy;
use crate::plan::names::Sort;
use crate::plan::program::{Repeat, Speech, StepKind};
use crate::plan::rules;
use crate::plan::values::value::Value;
use crate::source::Span;
use crate::syntax::tree::{Argument, Block, Expression, Extent, Name, Statement, Text};
use std::sync::Arc;

impl<'a> Lowering<'a> {
    /// Adds the statements of a block.
    pub(super) fn block(&mut self, draft: &mut Draft, body: &'a Block) {
        if self.values.depth >= MOST_DEPTH {
            self.values.too_deep(body.open);
            return;
        }
        self.values.depth += 1;
        for statement in &body.statements {
            // Long lines cost more, so that a chart cannot make a short text endless.
            let length = (statement.span.end.saturating_sub(statement.span.start) / 256) as usize;
            if !self.take_room(1 + length, statement.span) {
                break;
            }
            self.statement_or_gap(draft, statement);
        }
        self.values.depth -= 1;
    }

    /// The statements of a block by themselves, beginning with what is known of the beds.
    pub(super) fn nested(&mut self, draft: &Draft, statement: &'a Statement) -> Option<Draft> {
        // A block that is missing has been reported.
        let body = statement.body.as_ref()?;
        let mut inner = Draft { beds: draft.beds, ..Draft::default() };
        self.block(&mut inner, body);
        Some(inner)
    }

    /// Adds a step that holds other steps: their rows, how often they are done, and how deep they are nested.
    pub(super) fn push_nested(
        &mut self,
        draft: &mut Draft,
        kind: StepKind,
        (rows, times, height): (u128, u64, usize),
        span: Span,
    ) {
        if height >= MOST_DEPTH {
            self.values.too_deep(span);
            return;
        }
        let total = rows.checked_mul(u128::from(times)).and_then(|rows| rows.checked_add(draft.rows));
        match total.filter(|&total| total <= MOST_ROWS) {
            Some(total) => {
                draft.rows = total;
                draft.height = draft.height.max(height + 1);
                self.push(draft, kind, span);
            }
            None => self.values.sure(
                rules::TOO_LARGE
                    .finds(span, "this makes more rows than can be counted")
                    .because(format!("Up to {MOST_ROWS} rows are worked out."))
                    .mend("Check the numbers of the repeats that stand in each other."),
            ),
        }
    }

    /// `section "Body" { ... }`
    pub(super) fn section(&mut self, draft: &mut Draft, statement: &'a Statement, title: &Text) {
        let Some(inner) = self.nested(draft, statement) else { return };
        draft.beds = inner.beds;
        draft.gap |= inner.gap;
        let kind = StepKind::Section(title.text.to_string(), inner.steps.into());
        self.push_nested(draft, kind, (inner.rows, 1, inner.height), statement.span);
    }

    /// `allow RULE because "..." { ... }`
    pub(super) fn allow(&mut self, draft: &mut Draft, statement: &'a Statement, rule: &Name, because: &Text) {
        let Some(inner) = self.nested(draft, statement) else { return };
        draft.beds = inner.beds;
        draft.gap |= inner.gap;
        let kind = StepKind::Allow {
            rule: rule.text.to_string(),
            because: because.text.to_string(),
            steps: inner.steps.into(),
        };
        self.push_nested(draft, kind, (inner.rows, 1, inner.height), statement.span);
    }

    /// `repeat 4 times { ... }`
    pub(super) fn repeat(&mut self, draft: &mut Draft, statement: &'a Statement, times: &'a Expression) {
        let times = self.values.whole(times, &TIMES);
        let inner = self.nested(draft, statement);
        let (Some(times), Some(inner)) = (times, inner) else { return };
        // A size that leaves the repeat out writes 0.
        self.left_out |= times == 0;
        if times > 0 {
            self.push_repeat(draft, inner, times, false, statement.span);
        }
    }

    /// `work half-cardigan for length`
    pub(super) fn work(
        &mut self,
        draft: &mut Draft,
        statement: &'a Statement,
        name: &'a Name,
        arguments: &'a [Argument],
        extent: &'a Extent,
    ) {
        let names = self.values.names;
        let Some(entry) = names.meant(name, Sort::Stitch) else {
            // A fabric has been reported where it stands: nothing is made of it yet.
            if names.meant(name, Sort::Fabric).is_none() {
                let mut finding = names.unknown(name, Sort::Stitch, &[]);
                if names.resolved.get(Sort::Chart, &name.text).is_some() {
                    finding = finding.mend(format!("A chart is followed: `follow {} {{ row ... }}`.", name.text));
                }
                self.values.report(finding);
            }
            return;
        };
        let Some(values) = self.arguments(entry, arguments, name) else { return };
        let Some(instance) = self.instance(entry, values, name) else { return };
        let Some((times, rounding)) = self.passes(extent, (!instance.gap).then_some(instance.rows), name) else {
            return;
        };
        if let Some(rounding) = rounding {
            self.push(draft, StepKind::Say(Speech::Rounded(rounding)), statement.span);
        }
        if times == 0 {
            self.left_out = true;
            return;
        }
        let used = &instance.used;
        if times > 1 && used.from != used.to {
            self.values.report(
                rules::OPEN_REPEAT.finds(statement.span,
                    format!("`{}` cannot be worked {times} times running", name.text),
                )
                .also(entry.name.span, "it begins and ends on different beds")
                .because("It does not end with its stitches where it begins, so a second pass has nothing to start from.")
                .mend("Work it once, or bring the stitches back at the end of the definition and write `on both` or the bed it begins on."),
            );
            return;
        }
        if let Some(beds) = &mut draft.beds {
            *beds = Occupancy::exactly(used.to.0, used.to.1);
        }
        draft.gap |= instance.gap;
        let repeat =
            Repeat { times, steps: Arc::clone(&instance.steps), stitch: Some(used.clone()), single_row: false };
        self.push_nested(draft, StepKind::Repeat(repeat), (instance.rows, times, instance.height), statement.span);
    }

    /// `follow anchor 2 times { ... }`: the block once for each line of the chart, the lowest first. Inside, the
    /// chart's name means the marks of that line.
    pub(super) fn follow(&mut self, draft: &mut Draft, statement: &'a Statement, name: &'a Name, extent: &'a Extent) {
        let (names, charts) = (self.values.names, self.charts);
        let Some(body) = &statement.body else { return };
        let Some(chart) = names.resolved.meant(name) else {
            self.values.report(names.unknown(name, Sort::Chart, &[]));
            return;
        };
        // One that could not be read has been reported.
        let Some(lines) = charts.get(&chart) else { return };
        let mut inner = Draft { beds: draft.beds, ..Draft::default() };
        for line in lines {
            if !self.take_room(1, statement.span) {
                return;
            }
            self.values.locals.push((chart, Value::Selection(Pick::Tile(line.clone()), true)));
            self.block(&mut inner, body);
            self.values.locals.pop();
        }
        let Some((times, rounding)) = self.passes(extent, (!inner.gap).then_some(inner.rows), name) else { return };
        if let Some(rounding) = rounding {
            self.push(draft, StepKind::Say(Speech::Rounded(rounding)), statement.span);
        }
        self.left_out |= times == 0;
        if times > 0 {
            self.push_repeat(draft, inner, times, false, statement.span);
        }
    }
}

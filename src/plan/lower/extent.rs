//! How often something is worked: a number of times, or for rows, or for a length.

use crate::plan::lower::lowering::Lowering;
use crate::plan::lower::row::ROWS;
use crate::plan::names::Sort;
use crate::plan::program::Rounding;
use crate::plan::rules;
use crate::plan::values::quantity::{Amount, Exact, Measure, decimal, printed};
use crate::plan::values::value::{Value, Wanted};
use crate::source::Span;
use crate::syntax::tree::{Extent, Name, Unit};
use crate::words::count;
use num_traits::{CheckedAdd, CheckedDiv, CheckedMul, CheckedSub, Signed, ToPrimitive, Zero};

/// How often something is repeated.
pub(super) const TIMES: Wanted =
    Wanted { what: "the number of repeats", measures: &[Measure::Number], least: 0, most: 1_000_000_000_000 };

impl<'a> Lowering<'a> {
    /// How often something of so many rows is worked, and how a length was rounded for it. Rows that are not known,
    /// because a line could not be understood, give one pass.
    pub(super) fn passes(
        &mut self,
        extent: &'a Extent,
        rows: Option<u128>,
        name: &'a Name,
    ) -> Option<(u64, Option<Rounding>)> {
        let wish = match extent {
            Extent::Once => return Some((1, None)),
            Extent::Times(times) => return self.values.whole(times, &TIMES).map(|times| (times, None)),
            Extent::For(wish) => wish,
        };
        let value = self.values.value(wish)?;
        let amount = match &value {
            Value::Amount(amount) if matches!(amount.measure, Measure::Rows | Measure::Length) => *amount,
            _ => {
                let plain = matches!(&value, Value::Amount(amount) if amount.measure == Measure::Number);
                let words = self.values.words(wish.span);
                self.values.error(
                    &rules::UNIT_MISMATCH,
                    wish.span,
                    format!("`{words}` does not say how long to work"),
                    format!("It stands for {}. Wanted behind `for`: rows or a length.", value.words()),
                    if plain {
                        format!("Write `for {words} rows`, or `{words} times`.")
                    } else {
                        "Write, for example, `for 40 rows` or `for 30 cm`.".to_owned()
                    },
                );
                return None;
            }
        };
        let (Some(exact), Some(rows)) = (amount.exact, rows) else { return Some((1, None)) };
        if rows == 0 {
            self.values.error(
                &rules::NO_ROWS,
                wish.span,
                format!("`{}` has no rows, so it never gets longer", name.text),
                "However often it is worked, the fabric does not grow.",
                format!("Write how often: `work {} 2 times`.", name.text),
            );
            return None;
        }
        if amount.measure == Measure::Rows {
            let wanted = self.values.whole_value(&value, wish.span, &ROWS)?;
            return self.whole_passes(wanted, rows, name, wish.span).map(|times| (times, None));
        }
        self.rounded(&amount, exact, rows, name, wish.span)
    }

    /// Whole passes for a number of rows; reports a number that does not come out.
    fn whole_passes(&mut self, wanted: u64, rows: u128, name: &Name, span: Span) -> Option<u64> {
        let (times, over) = (u128::from(wanted) / rows, u128::from(wanted) % rows);
        if over == 0 {
            return u64::try_from(times).ok();
        }
        let (low, high) = (times * rows, (times + 1) * rows);
        let mend = if low == 0 {
            format!("Write `for {high} rows`, which is once.")
        } else {
            format!("Write `for {low} rows` ({times} times) or `for {high} rows` ({} times).", times + 1)
        };
        self.values.error(
            &rules::RAGGED_REPEAT,
            span,
            format!("{} are no whole number of `{}`", count(u128::from(wanted), "row", "rows"), name.text),
            format!(
                "One `{}` is {}: {} would be left over.",
                name.text,
                count(rows, "row", "rows"),
                count(over, "row", "rows")
            ),
            mend,
        );
        None
    }

    /// Whole passes nearest to a length, at least one.
    fn rounded(
        &mut self,
        wish: &Amount,
        exact: Exact,
        rows: u128,
        name: &Name,
        span: Span,
    ) -> Option<(u64, Option<Rounding>)> {
        let gauge = self.values.names.resolved.gauge_of(name).and_then(|gauge| self.gauges.get(&gauge));
        let Some(gauge) = gauge.copied() else {
            self.no_gauge(wish, name, span);
            return None;
        };
        // A gauge that could not be read has been reported.
        let gauge = gauge?;
        if !exact.is_positive() {
            if exact.is_zero() {
                return Some((0, None));
            }
            self.values.error(
                &rules::OUT_OF_RANGE,
                span,
                "a length to work cannot be less than nothing",
                format!("`{}` is {}.", self.values.words(span), printed(wish)),
                "Check which length is taken from which.",
            );
            return None;
        }
        let sums = || {
            let wanted = exact.checked_mul(&gauge.rows)?.checked_div(&gauge.over)?;
            let one = Exact::from(i128::try_from(rows).ok()?);
            // Half a pass rounds up: a piece that is too long can be eased in, one that is too short cannot.
            let passes = wanted.checked_div(&one)?.checked_add(&Exact::new(1, 2))?.floor().to_integer().max(1);
            let times = passes.to_u64().filter(|&times| times <= TIMES.most)?;
            let chosen = u64::try_from(u128::from(times).checked_mul(rows)?).ok()?;
            let length = Exact::from(i128::from(chosen)).checked_mul(&gauge.over)?.checked_div(&gauge.rows)?;
            let more = length.checked_sub(&exact)?;
            Some((wanted, times, chosen, difference(more, wish.shown)?))
        };
        let Some((wanted, times, chosen, difference)) = sums() else {
            self.values.error(
                &rules::TOO_LARGE,
                span,
                "this length makes too many rows",
                format!("Up to {} are worked out.", count(crate::plan::limits::MOST_ROWS, "row", "rows")),
                "Check the length and the gauge.",
            );
            return None;
        };
        let rounding = Rounding { wish: printed(wish), exact: decimal(wanted, 2), rows: chosen, difference };
        Some((times, Some(rounding)))
    }

    fn no_gauge(&mut self, wish: &Amount, name: &Name, span: Span) {
        let gauges: Vec<&str> = self.values.names.all(Sort::Gauge).map(|entry| entry.name.text.as_ref()).collect();
        let why = format!("How many rows make {} depends on how tall the rows of `{}` are.", printed(wish), name.text);
        let mut mend = format!(
            "Count them on a swatch and write, with your numbers, `gauge {} {{ 26 stitches and 44 rows in 10 cm }}`.",
            name.text
        );
        if let Some(near) = crate::plan::say::nearest(&name.text, &gauges) {
            mend.push_str(&format!(
                " There is a gauge called `{near}`; a gauge has the same name as what it measures."
            ));
        } else if !gauges.is_empty() && gauges.len() <= 8 {
            mend.push_str(&format!(
                " The gauges there are: {}; a gauge has the same name as what it measures.",
                crate::plan::say::listed(&gauges)
            ));
        }
        self.values.report(
            rules::NO_GAUGE
                .finds(span, format!("there is no gauge for `{}`", name.text))
                .also(name.span, "this is what is worked")
                .because(why)
                .mend(mend),
        );
    }
}

/// A difference of lengths in words; empty when there is none. In inches where the wish is, in cm otherwise. None when
/// the numbers are past all limits.
fn difference(micrometres: Exact, shown: Option<Unit>) -> Option<String> {
    if micrometres.is_zero() {
        return Some(String::new());
    }
    let unit = if shown == Some(Unit::Inches) { Unit::Inches } else { Unit::Centimetres };
    let (_, factor) = Measure::of(Some(unit));
    let size = decimal(micrometres.checked_div(&Exact::from(factor))?.abs(), 2);
    let size = if size == "0" { "less than 0.01".to_owned() } else { size };
    let way = if micrometres.is_positive() { "more" } else { "less" };
    Some(format!("{size} {} {way} than asked", crate::plan::values::quantity::unit_words(unit)))
}

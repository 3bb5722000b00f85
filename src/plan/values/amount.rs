//! Values where a number is wanted: of the right kind, whole, and within its limits.

use crate::plan::rules;
use crate::plan::values::context::Values;
use crate::plan::values::quantity::{Amount, Exact, Measure};
use crate::plan::values::value::{Value, Wanted};
use crate::source::Span;
use crate::syntax::tree::Expression;
use num_traits::{Signed, ToPrimitive};

impl<'a> Values<'a> {
    /// An amount of one of these kinds; reports another.
    pub(in crate::plan) fn amount(
        &mut self,
        expression: &'a Expression,
        what: &str,
        measures: &[Measure],
    ) -> Option<Amount> {
        let value = self.value(expression)?;
        self.amount_value(&value, expression.span, what, measures)
    }

    /// The same for a value that is worked out already.
    pub(in crate::plan) fn amount_value(
        &mut self,
        value: &Value,
        span: Span,
        what: &str,
        measures: &[Measure],
    ) -> Option<Amount> {
        if let Value::Amount(amount) = value
            && measures.contains(&amount.measure)
        {
            return Some(*amount);
        }
        let wanted: Vec<&str> = measures.iter().map(|measure| measure.words()).collect();
        let plain = matches!(value, Value::Amount(amount) if amount.measure == Measure::Number);
        let mend = if plain {
            let examples: Vec<String> =
                measures.iter().filter_map(|measure| with_unit(&self.words(span), *measure)).collect();
            if examples.is_empty() {
                format!("Write the unit behind the number: {}.", wanted.join(" or "))
            } else {
                format!("Write the unit behind the number, for example {}.", examples.join(" or "))
            }
        } else if measures == [Measure::Number] {
            "Write the number alone, without a unit.".to_owned()
        } else {
            format!("Write {} here.", wanted.join(" or "))
        };
        self.error(
            &rules::UNIT_MISMATCH,
            span,
            format!("{what} cannot be {}", value.words()),
            format!("`{}` stands for {}. Wanted here: {}.", self.words(span), value.words(), wanted.join(" or ")),
            mend,
        );
        None
    }

    /// A whole number of one of the wanted kinds, within its limits.
    pub(in crate::plan) fn whole(&mut self, expression: &'a Expression, wanted: &Wanted) -> Option<u64> {
        let value = self.value(expression)?;
        self.whole_value(&value, expression.span, wanted)
    }

    /// The same for a value that is worked out already. Of a value that is not known yet the least that makes sense.
    pub(in crate::plan) fn whole_value(&mut self, value: &Value, span: Span, wanted: &Wanted) -> Option<u64> {
        let amount = self.amount_value(value, span, wanted.what, wanted.measures)?;
        let Some(exact) = amount.exact else { return Some(wanted.least.max(1)) };
        let shown = crate::plan::values::quantity::decimal(exact, 6);
        if !exact.is_integer() || exact.is_negative() {
            let (why, mend) = if exact.is_negative() {
                (
                    format!("`{}` is {shown}, which is less than nothing.", self.words(span)),
                    "Check which number is taken from which.".to_owned(),
                )
            } else {
                let (low, high) = (exact.floor().to_integer(), exact.ceil().to_integer());
                (
                    format!("`{}` is {shown}, which lies between {low} and {high}.", self.words(span)),
                    if low < i128::from(wanted.least) {
                        format!("Write {high}.")
                    } else {
                        format!("Write {low} or {high}.")
                    },
                )
            };
            self.error(&rules::NOT_A_WHOLE_NUMBER, span, format!("{} must be a whole number", wanted.what), why, mend);
            return None;
        }
        match exact.to_integer().to_u64() {
            Some(count) if count < wanted.least => {
                self.error(
                    &rules::OUT_OF_RANGE,
                    span,
                    format!("{} is too small", wanted.what),
                    format!("It is {count}, and {} is the least that makes sense.", wanted.least),
                    "Write a larger number, or take the line out.",
                );
                None
            }
            Some(count) if count <= wanted.most => Some(count),
            _ => {
                self.error(
                    &rules::TOO_LARGE,
                    span,
                    format!("{} is too large", wanted.what),
                    format!("It is {shown}, and {} is the most that is worked with.", wanted.most),
                    "Check the number.",
                );
                None
            }
        }
    }

    /// A number with at most two decimals in hundredths, for stitch sizes.
    pub(in crate::plan) fn hundredths(&mut self, expression: &'a Expression) -> Option<i32> {
        let amount = self.amount(expression, "a stitch size", &[Measure::Number])?;
        let Some(exact) = amount.exact else { return Some(100) };
        // Values on the way are small enough for this; see `within`.
        let scaled = exact * Exact::from(100);
        if !scaled.is_integer() {
            self.error(
                &rules::OUT_OF_RANGE,
                expression.span,
                "a stitch size has at most two decimals",
                format!("`{}` is {}.", self.words(expression.span), crate::plan::values::quantity::decimal(exact, 6)),
                "Round it; the carriage has no finer marks.",
            );
            return None;
        }
        match scaled.to_integer().to_i32().filter(|size| (-100_000..=100_000).contains(size)) {
            Some(size) => Some(size),
            None => {
                self.error(
                    &rules::TOO_LARGE,
                    expression.span,
                    "this stitch size is too large",
                    "Stitch sizes up to 1000 are worked out.",
                    "Check the number against the marks of the carriage.",
                );
                None
            }
        }
    }
}

/// A written number with a unit of that measure behind it, for an example; none for what is no written number.
fn with_unit(written: &str, measure: Measure) -> Option<String> {
    let unit = match measure {
        Measure::Needles => "needles",
        Measure::Stitches => "stitches",
        Measure::Rows => "rows",
        Measure::Length => "mm",
        Measure::Mass => "g",
        Measure::Number => return None,
    };
    let number = written.starts_with(|first: char| first.is_ascii_digit());
    let plain = written.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    (number && plain).then(|| format!("`{written} {unit}`"))
}

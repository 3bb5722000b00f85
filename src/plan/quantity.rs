//! Exact quantities: numbers with what they measure, and what may be done with them.

use crate::syntax::tree::{Number, Unit};
use num_rational::Ratio;
use num_traits::{CheckedAdd, CheckedDiv, CheckedMul, CheckedSub, Signed, Zero};

/// An exact number.
pub(super) type Exact = Ratio<i128>;

/// What a quantity measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Measure {
    /// A plain number.
    Number,
    /// Needles.
    Needles,
    /// Stitches.
    Stitches,
    /// Rows.
    Rows,
    /// A length, in micrometres.
    Length,
    /// A mass, in grams.
    Mass,
}

impl Measure {
    /// What a message calls it.
    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::Number => "a plain number",
            Self::Needles => "needles",
            Self::Stitches => "stitches",
            Self::Rows => "rows",
            Self::Length => "a length",
            Self::Mass => "a mass",
        }
    }

    /// What one unit of it is and how many base units that makes. An inch is exactly 25.4 mm (the international
    /// yard and pound agreement of 1959; NIST SP 811 gives the factor; from memory).
    pub(super) fn of(unit: Option<Unit>) -> (Self, i128) {
        match unit {
            None => (Self::Number, 1),
            Some(Unit::Needles) => (Self::Needles, 1),
            Some(Unit::Stitches) => (Self::Stitches, 1),
            Some(Unit::Rows) => (Self::Rows, 1),
            Some(Unit::Millimetres) => (Self::Length, 1_000),
            Some(Unit::Centimetres) => (Self::Length, 10_000),
            Some(Unit::Metres) => (Self::Length, 1_000_000),
            Some(Unit::Inches) => (Self::Length, 25_400),
            Some(Unit::Grams) => (Self::Mass, 1),
            Some(Unit::Kilograms) => (Self::Mass, 1_000),
        }
    }
}

/// How a unit is written behind a number.
pub(super) const fn unit_words(unit: Unit) -> &'static str {
    match unit {
        Unit::Needles => "needles",
        Unit::Stitches => "stitches",
        Unit::Rows => "rows",
        Unit::Millimetres => "mm",
        Unit::Centimetres => "cm",
        Unit::Metres => "m",
        Unit::Inches => "in",
        Unit::Grams => "g",
        Unit::Kilograms => "kg",
    }
}

/// A quantity.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Amount {
    /// The exact value in base units; none while a definition is checked on its own and the value hangs on a
    /// parameter.
    pub(super) exact: Option<Exact>,
    /// What it measures.
    pub(super) measure: Measure,
    /// The unit it is printed in.
    pub(super) shown: Option<Unit>,
}

/// Why an arithmetic step is refused.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Refused {
    /// The two measures do not go together.
    Mismatch,
    /// The result leaves the limits.
    TooLarge,
    /// Division by nothing.
    ByZero,
}

/// Numbers are below this.
const LIMIT: i128 = 1_000_000_000_000;
/// Numbers have at most this many decimals.
const MOST_DECIMALS: u8 = 6;
/// Values on the way are below this many base units; 10^12 m are 10^18 micrometres.
const LARGEST: i128 = LIMIT * LIMIT;

impl Amount {
    /// A written number; none past the limits.
    pub(super) fn read(number: Number, unit: Option<Unit>) -> Option<Self> {
        let value = exact(number)?;
        let (measure, factor) = Measure::of(unit);
        Some(Self { exact: value.checked_mul(&Exact::from(factor)), measure, shown: unit })
    }

    /// A value that is not known yet.
    pub(super) const fn unknown(measure: Measure) -> Self {
        Self { exact: None, measure, shown: None }
    }

    fn is_plain_zero(&self) -> bool {
        self.measure == Measure::Number && self.exact.is_some_and(|exact| exact.is_zero())
    }

    /// The sum of both, or the difference. Both must measure the same; a plain 0 goes with everything.
    pub(super) fn add(&self, other: &Self, minus: bool) -> Result<Self, Refused> {
        let like = if self.measure == other.measure || other.is_plain_zero() {
            self
        } else if self.is_plain_zero() {
            other
        } else {
            return Err(Refused::Mismatch);
        };
        let sum = |a: Exact, b: Exact| if minus { a.checked_sub(&b) } else { a.checked_add(&b) };
        like.with(self.exact, other.exact, sum)
    }

    /// The product. One of them must be a plain number.
    pub(super) fn times(&self, other: &Self) -> Result<Self, Refused> {
        let like = match (self.measure, other.measure) {
            (_, Measure::Number) => self,
            (Measure::Number, _) => other,
            _ => return Err(Refused::Mismatch),
        };
        like.with(self.exact, other.exact, |a, b| a.checked_mul(&b))
    }

    /// The quotient. The divisor must be a plain number, or measure the same, which gives a plain number.
    pub(super) fn over(&self, other: &Self) -> Result<Self, Refused> {
        let like = match (self.measure, other.measure) {
            (_, Measure::Number) => *self,
            (a, b) if a == b => Self { exact: None, measure: Measure::Number, shown: None },
            _ => return Err(Refused::Mismatch),
        };
        if other.exact.is_some_and(|exact| exact.is_zero()) {
            return Err(Refused::ByZero);
        }
        like.with(self.exact, other.exact, |a, b| a.checked_div(&b))
    }

    fn with(
        &self,
        a: Option<Exact>,
        b: Option<Exact>,
        make: impl Fn(Exact, Exact) -> Option<Exact>,
    ) -> Result<Self, Refused> {
        let exact = match (a, b) {
            (Some(a), Some(b)) => Some(make(a, b).filter(within).ok_or(Refused::TooLarge)?),
            _ => None,
        };
        Ok(Self { exact, ..*self })
    }
}

/// Whether a value is small enough to go on with; numerator and denominator as well, so that nothing can overflow.
fn within(value: &Exact) -> bool {
    value.numer().unsigned_abs() < 1 << 100 && *value.denom() < LARGEST && value.abs() < Exact::from(LARGEST)
}

/// The value of a written number; none past the limits.
pub(super) fn exact(number: Number) -> Option<Exact> {
    if number.decimals > MOST_DECIMALS {
        return None;
    }
    let value = Exact::new(i128::from(number.units), 10i128.pow(u32::from(number.decimals)));
    (value.abs() < Exact::from(LIMIT)).then_some(value)
}

/// As it is printed: `120 cm`, `5`.
pub(super) fn printed(amount: &Amount) -> String {
    let Some(exact) = amount.exact else { return amount.measure.words().to_owned() };
    let (_, factor) = Measure::of(amount.shown);
    let number = decimal(exact / Exact::from(factor), 2);
    match amount.shown {
        Some(Unit::Needles) if number == "1" => "1 needle".to_owned(),
        Some(Unit::Stitches) if number == "1" => "1 stitch".to_owned(),
        Some(Unit::Rows) if number == "1" => "1 row".to_owned(),
        Some(unit) => format!("{number} {}", unit_words(unit)),
        None => number,
    }
}

/// With at most that many decimals, rounded half away from zero, no zeros at the end.
pub(super) fn decimal(value: Exact, places: u32) -> String {
    let scale = 10i128.pow(places.min(9));
    let Some(scaled) = value.checked_mul(&Exact::from(scale)) else { return value.to_integer().to_string() };
    let rounded = scaled.round().to_integer();
    let sign = if rounded < 0 { "-" } else { "" };
    let (whole, part) = (rounded.abs() / scale, rounded.abs() % scale);
    if part == 0 {
        return format!("{sign}{whole}");
    }
    let digits = format!("{part:0width$}", width = places as usize);
    format!("{sign}{whole}.{}", digits.trim_end_matches('0'))
}

//! Expressions worked out: what a value is, and which kinds go together.

use super::names::{Entry, Sort};
use super::planner::Planner;
use super::quantity::{Amount, Exact, Measure, Refused, printed};
use crate::beds::Pick;
use crate::finding::{Finding, Fix};
use crate::plan::rules;
use crate::source::Span;
use crate::syntax::tree::{Count, Expression, Kind, Name, Operand, OperandKind, Operator, Quantity};
use num_traits::{Signed, ToPrimitive};

/// What an expression stands for.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Value {
    /// A number of something.
    Amount(Amount),
    /// Needles. The flag is `false` where the selection hangs on a parameter that stands for nothing yet.
    Selection(Pick, bool),
}

impl Value {
    /// What a message calls it.
    pub(super) fn words(&self) -> &'static str {
        match self {
            Self::Amount(amount) => amount.measure.words(),
            Self::Selection(..) => "a selection of needles",
        }
    }

    /// Whether it is not known yet.
    pub(super) fn is_unknown(&self) -> bool {
        match self {
            Self::Amount(amount) => amount.exact.is_none(),
            Self::Selection(_, known) => !known,
        }
    }
}

/// How far a `let` has been worked out.
#[derive(Debug, Clone)]
pub(super) enum LetState {
    /// It is being worked out, so meeting it again means that it stands for itself.
    Open,
    /// Done; none when it could not be read.
    Done(Option<Value>),
}

/// What a count must be.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wanted {
    /// What is counted, for messages: `the number of repeats`.
    pub(super) what: &'static str,
    /// Which kinds of number will do.
    pub(super) measures: &'static [Measure],
    /// The least that makes sense.
    pub(super) least: u64,
    /// The most that is worked out.
    pub(super) most: u64,
}

/// How many pieces to make.
pub(super) const MAKE: Wanted =
    Wanted { what: "the number of pieces to make", measures: &[Measure::Number], least: 1, most: 10_000 };
/// A plain count of needles behind `every`, `leftmost`, `each side`.
const NEEDLES: Wanted = Wanted {
    what: "the number of needles",
    measures: &[Measure::Number, Measure::Needles, Measure::Stitches],
    least: 1,
    most: 256,
};

impl<'a> Planner<'a> {
    /// The value of a `let`.
    pub(super) fn let_value(&mut self, entry: Entry<'a>) -> Option<Value> {
        let Kind::Let(name, expression) = &entry.statement.kind else { return None };
        match self.lets.get(name.text.as_ref()) {
            Some(LetState::Done(value)) => return value.clone(),
            Some(LetState::Open) => {
                self.sure(
                    rules::ENDLESS_DEFINITION
                        .finds(name.span, format!("`{}` stands for itself", name.text))
                        .because(format!("To work out `{0}` one would have to know `{0}` already.", name.text))
                        .mend("Give one of the values on the way round as a number."),
                );
                return None;
            }
            None => {}
        }
        if self.depth >= super::planner::MOST_DEPTH {
            self.too_deep(name.span);
            return None;
        }
        self.lets.insert(&name.text, LetState::Open);
        self.depth += 1;
        // A value at the top of the file knows no parameters and no machine.
        let (locals, machine) = (std::mem::take(&mut self.locals), self.machine.take());
        let guessing = std::mem::replace(&mut self.guessing, false);
        let value = self.value(expression);
        (self.locals, self.machine, self.guessing) = (locals, machine, guessing);
        self.depth -= 1;
        self.lets.insert(&name.text, LetState::Done(value.clone()));
        value
    }

    /// Blocks, stitches or values that hang on each other too deep.
    pub(super) fn too_deep(&mut self, span: Span) {
        self.sure(
            rules::TOO_DEEP
                .finds(span, "definitions and blocks are nested too deep here")
                .because(format!("There may be {} in each other.", super::planner::MOST_DEPTH))
                .mend("Write some of them out in one definition."),
        );
    }

    /// Works out an expression; none when it cannot be, which has been reported then.
    pub(super) fn value(&mut self, expression: &'a Expression) -> Option<Value> {
        if self.full {
            return None;
        }
        let has = |operator| expression.rest.iter().any(|(other, _)| *other == operator);
        if has(Operator::And) && has(Operator::Or) {
            self.error(
                &rules::MIXED_AND_OR,
                expression.span,
                "`and` and `or` are mixed here",
                "It could be read in two ways, and they take different needles.",
                "Give one part a name first, for example `let edges = leftmost 2 or rightmost 2`, and use the name.",
            );
            return None;
        }
        let mut rest = expression.rest.iter().peekable();
        let mut total: Option<(Operator, Value, Span)> = None;
        let mut operator = Operator::Or;
        let mut operand = &expression.first;
        let mut good = true;
        // `*` and `/` bind stronger than the others, which go from left to right: `and` and `or` never stand with `+`
        // and `-` in one expression that makes sense. A broken operand is reported and the others are looked at.
        loop {
            let mut product = self.operand(operand).map(|value| (value, operand.span));
            good &= product.is_some();
            while let Some((factor, right)) = rest.next_if(|(next, _)| matches!(next, Operator::Times | Operator::Over))
            {
                let value = self.operand(right);
                good &= value.is_some();
                product = match (product, value) {
                    (Some((left, at)), Some(value)) => self.arithmetic(*factor, (left, at), (value, right.span)),
                    _ => None,
                };
                good &= product.is_some();
            }
            if let Some((value, span)) = product {
                total = match total.take() {
                    None if good => Some((operator, value, span)),
                    Some((_, left, at)) if good => self
                        .arithmetic(operator, (left, at), (value, span))
                        .map(|(value, span)| (operator, value, span)),
                    _ => None,
                };
                good &= total.is_some();
            }
            match rest.next() {
                Some((next, right)) => (operator, operand) = (*next, right),
                None => break,
            }
        }
        total.filter(|_| good).map(|(_, value, _)| value)
    }

    /// One operator between two values.
    fn arithmetic(&mut self, operator: Operator, left: (Value, Span), right: (Value, Span)) -> Option<(Value, Span)> {
        let span = left.1.join(right.1);
        let (a, b) = match (&left.0, &right.0) {
            (Value::Amount(a), Value::Amount(b)) => (a, b),
            (Value::Selection(a, known), Value::Selection(b, both))
                if matches!(operator, Operator::And | Operator::Or) =>
            {
                let pick = super::selection::combine(operator, a, b);
                return self.small_enough(pick, span).map(|pick| (Value::Selection(pick, *known && *both), span));
            }
            _ => {
                self.mismatch(operator, &left, &right);
                return None;
            }
        };
        let result = match operator {
            Operator::Plus => a.add(b, false),
            Operator::Minus => a.add(b, true),
            Operator::Times => a.times(b),
            Operator::Over => a.over(b),
            Operator::And | Operator::Or => Err(Refused::Mismatch),
        };
        match result {
            Ok(amount) => return Some((Value::Amount(amount), span)),
            Err(Refused::Mismatch) => self.mismatch(operator, &left, &right),
            Err(Refused::ByZero) => self.error(
                &rules::DIVIDED_BY_ZERO,
                right.1,
                "something is divided by 0",
                format!("`{}` is 0, and nothing can be shared out among none.", self.words(right.1)),
                "Check the number behind the stroke.",
            ),
            Err(Refused::TooLarge) => self.number_too_large(span),
        }
        None
    }

    fn number_too_large(&mut self, span: Span) {
        self.error(
            &rules::TOO_LARGE,
            span,
            "this number is too large or too fine to be worked with",
            "Numbers go up to 1000000000000 (12 zeros) and have up to 6 decimals.",
            "Check the digits; a larger unit needs fewer of them.",
        );
    }

    fn mismatch(&mut self, operator: Operator, left: &(Value, Span), right: &(Value, Span)) {
        let (a, b) = (left.0.words(), right.0.words());
        let (verb, law) = match operator {
            Operator::Plus => ("added to", "Only what is of one kind can be added."),
            Operator::Minus => ("taken from", "Only what is of one kind can be taken from each other."),
            Operator::Times => ("multiplied with", "One side of `*` must be a plain number."),
            Operator::Over => {
                ("divided by", "The side behind `/` must be a plain number, or of the kind in front of it.")
            }
            Operator::And | Operator::Or => ("joined with", "`and` and `or` join selections of needles, not numbers."),
        };
        let what = if matches!(operator, Operator::Plus | Operator::Minus) {
            format!("{b} cannot be {verb} {a}")
        } else {
            format!("{a} cannot be {verb} {b}")
        };
        let measures = |value: &Value| match value {
            Value::Amount(amount) => Some(amount.measure),
            Value::Selection(..) => None,
        };
        let pair = (measures(&left.0), measures(&right.0));
        let among = |x: Measure, y: Measure| pair == (Some(x), Some(y)) || pair == (Some(y), Some(x));
        let needles = matches!((&left.0, &right.0), (Value::Selection(..), Value::Selection(..)));
        let mend = if needles {
            "Write `or` for needles that one of the two takes, `and` for needles that both take: `L24 or L21 or L18`."
        } else if among(Measure::Rows, Measure::Length) {
            "The gauge turns a length into rows in `work NAME for LENGTH`; work the two parts one after the other."
        } else if among(Measure::Stitches, Measure::Length) || among(Measure::Needles, Measure::Length) {
            "Count stitches over your swatch and write their number; a length is turned into rows only, in `work NAME for LENGTH`."
        } else if among(Measure::Stitches, Measure::Needles) {
            "Say both in needles, or both in stitches: a needle may carry no stitch."
        } else if matches!(operator, Operator::Plus | Operator::Minus)
            && matches!(pair, (Some(Measure::Number), Some(_)) | (Some(_), Some(Measure::Number)))
        {
            "Write the unit behind the plain number."
        } else {
            "Check the units behind the numbers and the values of the names."
        };
        if let Some(finding) = self.parted_range(operator, left.1, right.1) {
            self.report(finding);
            return;
        }
        let place = |side: &(Value, Span)| match &side.0 {
            Value::Amount(amount) if amount.exact.is_some() => match amount.measure {
                Measure::Number => format!("this is a plain number: {}", printed(amount)),
                _ => format!("this is {}", printed(amount)),
            },
            value => format!("this is {}", value.words()),
        };
        self.report(
            rules::UNIT_MISMATCH
                .finds(left.1, what)
                .marked(place(left))
                .also(right.1, place(right))
                .because(if needles {
                    "Sums are for numbers; needles are put together with `or` and `and`."
                } else {
                    law
                })
                .mend(mend),
        );
    }

    /// `L20 - R20`: the needles of a range with blanks round its dash, which would take one from the other.
    fn parted_range(&self, operator: Operator, left: Span, right: Span) -> Option<Finding> {
        let needle = |span: Span| {
            let words = self.words(span);
            let one = words.strip_prefix(['L', 'R']).is_some_and(|rest| !rest.contains(['-', ' ']));
            one.then_some(words)
        };
        let range = match operator {
            Operator::Minus => format!("{}-{}", needle(left)?, needle(right)?),
            _ => return None,
        };
        let span = Span { end: right.end, ..left };
        Some(
            rules::UNIT_MISMATCH
                .finds(span, "there are blanks round the dash of a range of needles")
                .marked(format!("write `{range}`"))
                .because("With blanks round it `-` takes one number from another, and needles are no numbers.")
                .mend(format!("Write `{range}`, without blanks."))
                // Needles cannot be taken from needles, so it can have no other meaning.
                .fix(Fix::new(format!("write `{range}`"), span, range).safe_if(true)),
        )
    }

    /// The value of an operand; none when it cannot be worked out, which has been reported then.
    pub(super) fn operand(&mut self, operand: &'a Operand) -> Option<Value> {
        match &operand.kind {
            OperandKind::Quantity(quantity) => self.quantity(quantity).map(Value::Amount),
            OperandKind::Name(name) => self.named(name),
            _ => self.selection_operand(operand),
        }
    }

    /// A written quantity in this size.
    pub(super) fn quantity(&mut self, quantity: &'a Quantity) -> Option<Amount> {
        let number = self.of_size(&quantity.values, quantity.span)?;
        let amount = Amount::read(number, quantity.unit);
        if amount.is_none() {
            self.number_too_large(quantity.span);
        }
        amount
    }

    /// What a name stands for here.
    pub(super) fn named(&mut self, name: &'a Name) -> Option<Value> {
        let text: &str = &name.text;
        if let Some((_, value)) = self.locals.iter().rev().find(|(local, _)| *local == text) {
            return Some(value.clone());
        }
        let names = self.names;
        if let Some(entry) = names.take(Sort::Let, text) {
            return self.let_value(entry);
        }
        let finding = self.unknown(name);
        self.report(finding);
        None
    }

    /// Whether a name stands for something here. One that does not is reported as what stands where needles are named.
    pub(super) fn names_needles(&mut self, name: &Name) -> bool {
        let text: &str = &name.text;
        let lets = self.names.table(Sort::Let);
        let known = lets.get(text).is_some() || self.locals.iter().any(|(local, _)| *local == text);
        if !known {
            let finding = self.unknown(name);
            // With no other name to choose from, a `let` for a number would be no help.
            let alone = lets.iter().next().is_none() && self.locals.is_empty();
            let chart = self.names.table(Sort::Chart).get(text).is_some();
            self.report(if alone && !chart {
                finding.because("Behind a bed stand needles, or the name of some.").mend(
                    "Name needles, as in `L5-R5` or `leftmost 2`, or give some a name at the top of the file: `let edges = leftmost 2 or rightmost 2`.",
                )
            } else {
                finding
            });
        }
        known
    }

    /// The finding about a name that stands for nothing here.
    fn unknown(&self, name: &Name) -> Finding {
        let nearby: Vec<&str> = self.locals.iter().map(|(local, _)| *local).collect();
        let finding = self.names.unknown(name, Sort::Let, &nearby);
        if self.names.table(Sort::Chart).get(&name.text).is_some() {
            let text = &name.text;
            return finding.mend(format!("A chart's line is a selection inside `follow {text} {{ ... }}` only."));
        }
        finding
    }

    /// A count behind `every` and the like.
    pub(super) fn count(&mut self, count: &'a Count) -> Option<(u32, bool)> {
        let (value, span) = match count {
            Count::Number(quantity) => (Value::Amount(self.quantity(quantity)?), quantity.span),
            Count::Name(name) => (self.named(name)?, name.span),
        };
        let known = !value.is_unknown();
        self.whole_value(&value, span, &NEEDLES).and_then(|count| Some((u32::try_from(count).ok()?, known)))
    }

    /// An amount of one of these kinds; reports another.
    pub(super) fn amount(&mut self, expression: &'a Expression, what: &str, measures: &[Measure]) -> Option<Amount> {
        let value = self.value(expression)?;
        self.amount_value(&value, expression.span, what, measures)
    }

    fn amount_value(&mut self, value: &Value, span: Span, what: &str, measures: &[Measure]) -> Option<Amount> {
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
    pub(super) fn whole(&mut self, expression: &'a Expression, wanted: &Wanted) -> Option<u64> {
        let value = self.value(expression)?;
        self.whole_value(&value, expression.span, wanted)
    }

    /// The same for a value that is worked out already. Of a value that is not known yet the least that makes sense.
    pub(super) fn whole_value(&mut self, value: &Value, span: Span, wanted: &Wanted) -> Option<u64> {
        let amount = self.amount_value(value, span, wanted.what, wanted.measures)?;
        let Some(exact) = amount.exact else { return Some(wanted.least.max(1)) };
        let shown = super::quantity::decimal(exact, 6);
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
    pub(super) fn hundredths(&mut self, expression: &'a Expression) -> Option<i32> {
        let amount = self.amount(expression, "a stitch size", &[Measure::Number])?;
        let Some(exact) = amount.exact else { return Some(100) };
        // Values on the way are small enough for this; see `within`.
        let scaled = exact * Exact::from(100);
        if !scaled.is_integer() {
            self.error(
                &rules::OUT_OF_RANGE,
                expression.span,
                "a stitch size has at most two decimals",
                format!("`{}` is {}.", self.words(expression.span), super::quantity::decimal(exact, 6)),
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

/// `1 needle`, `3 needles`.
pub(super) fn needles(count: u32) -> String {
    crate::words::count(count, "needle", "needles")
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

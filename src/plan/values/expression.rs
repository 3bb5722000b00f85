//! Expressions worked out: what a value is, and which kinds go together.

use crate::finding::{Finding, Fix};
use crate::plan::names::{Entry, Sort};
use crate::plan::rules;
use crate::plan::values::context::Values;
use crate::plan::values::quantity::{Amount, Measure, Refused, printed};
use crate::plan::values::value::{LetState, Value, Wanted};
use crate::source::Span;
use crate::syntax::tree::{Count, Expression, Kind, Name, Operand, OperandKind, Operator, Quantity};

/// A plain count of needles behind `every`, `leftmost`, `each side`.
const NEEDLES: Wanted = Wanted {
    what: "the number of needles",
    measures: &[Measure::Number, Measure::Needles, Measure::Stitches],
    least: 1,
    most: 256,
};

/// Words that say how something is done and are taken for names of needles where needles may stand.
const HOW: &[&str] =
    &["again", "carefully", "completely", "everywhere", "evenly", "firmly", "loosely", "slowly", "tightly", "together"];

impl<'a> Values<'a> {
    /// The value of a `let`.
    pub(in crate::plan) fn let_value(&mut self, entry: Entry<'a>) -> Option<Value> {
        let Kind::Let(name, expression) = &entry.statement.kind else { return None };
        match self.lets.get(&entry.thing) {
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
        if self.depth >= crate::plan::limits::MOST_DEPTH {
            self.too_deep(name.span);
            return None;
        }
        self.lets.insert(entry.thing, LetState::Open);
        self.depth += 1;
        // A value at the top of the file knows no parameters and no machine.
        let (locals, machine) = (std::mem::take(&mut self.locals), self.machine.take());
        let guessing = std::mem::replace(&mut self.report.guessing, false);
        let value = self.value(expression);
        (self.locals, self.machine, self.report.guessing) = (locals, machine, guessing);
        self.depth -= 1;
        self.lets.insert(entry.thing, LetState::Done(value.clone()));
        value
    }

    /// Works out an expression; none when it cannot be, which has been reported then.
    pub(in crate::plan) fn value(&mut self, expression: &'a Expression) -> Option<Value> {
        if self.report.full {
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
                let pick = crate::plan::values::selection::combine(operator, a, b);
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
    pub(in crate::plan) fn operand(&mut self, operand: &'a Operand) -> Option<Value> {
        match &operand.kind {
            OperandKind::Quantity(quantity) => self.quantity(quantity).map(Value::Amount),
            OperandKind::Name(name) => self.named(name),
            _ => self.selection_operand(operand),
        }
    }

    /// A written quantity in this size.
    pub(in crate::plan) fn quantity(&mut self, quantity: &'a Quantity) -> Option<Amount> {
        let number = self.of_size(&quantity.values, quantity.span)?;
        let amount = Amount::read(number, quantity.unit);
        if amount.is_none() {
            self.number_too_large(quantity.span);
        }
        amount
    }

    /// What a name stands for here.
    pub(in crate::plan) fn named(&mut self, name: &'a Name) -> Option<Value> {
        let meant = self.names.resolved.meant(name);
        if let Some((_, value)) = self.locals.iter().rev().find(|(local, _)| Some(*local) == meant) {
            return Some(value.clone());
        }
        if let Some(entry) = self.names.meant(name, Sort::Value) {
            return self.let_value(entry);
        }
        let finding = self.unknown(name);
        self.report(finding);
        None
    }

    /// Whether a name stands for something here. One that does not is reported as what stands where needles are named.
    pub(in crate::plan) fn names_needles(&mut self, name: &Name) -> bool {
        let known = self.names.resolved.meant(name).is_some();
        if !known {
            let finding = self.unknown(name);
            if HOW.contains(&&*name.text) {
                let before = Span { start: name.span.start.saturating_sub(1), ..name.span };
                self.report(
                    finding
                        .because(
                            "A line says what is done; how carefully is for the knitter, and is read as a name here.",
                        )
                        .mend(format!("Take `{}` out; words for the knitter stand behind `note`.", name.text))
                        .fix(Fix::new(format!("take `{}` out", name.text), before, "")),
                );
                return false;
            }
            // With no other name to choose from, a `let` for a number would be no help.
            let alone = self.names.all(Sort::Value).next().is_none() && self.locals.is_empty();
            let chart = self.names.resolved.get(Sort::Chart, &name.text).is_some();
            self.report(if alone && !chart {
                let mend = format!(
                    "Name needles, as in `L5-R5` or `leftmost 2`, or give some that name at the top of the file: `let {} = NEEDLES`, with the \
                     needles in the place of NEEDLES.",
                    name.text
                );
                finding.because("Behind a bed stand needles, or the name of some.").mend(mend)
            } else {
                finding
            });
        }
        known
    }

    /// The finding about a name that stands for nothing here.
    fn unknown(&self, name: &Name) -> Finding {
        let things = &self.names.resolved.things;
        let nearby: Vec<&str> = self.locals.iter().filter_map(|(local, _)| Some(&*things.get(*local)?.name)).collect();
        let finding = self.names.unknown(name, Sort::Value, &nearby);
        if self.names.resolved.get(Sort::Chart, &name.text).is_some() {
            let text = &name.text;
            return finding.mend(format!("A chart's line is a selection inside `follow {text} {{ ... }}` only."));
        }
        finding
    }

    /// A count behind `every` and the like.
    pub(in crate::plan) fn count(&mut self, count: &'a Count) -> Option<(u32, bool)> {
        let (value, span) = match count {
            Count::Number(quantity) => (Value::Amount(self.quantity(quantity)?), quantity.span),
            Count::Name(name) => (self.named(name)?, name.span),
        };
        let known = !value.is_unknown();
        self.whole_value(&value, span, &NEEDLES).and_then(|count| Some((u32::try_from(count).ok()?, known)))
    }
}

//! Selections of needles: pictures, every so many, ends, and what is in both or either.

use crate::beds::{Needle, NeedleSet, Pick, Tile};
use crate::finding::Fix;
use crate::plan::limits::{MOST_MARKS, MOST_PARTS};
use crate::plan::rules;
use crate::plan::values::context::Values;
use crate::plan::values::needles::{resized, span_words};
use crate::plan::values::quantity::needles;
use crate::plan::values::value::Value;
use crate::source::Span;
use crate::syntax::tree::{Expression, Operand, OperandKind, Operator};

/// What is in both, or in either; worked out at once where the needles are known.
pub(in crate::plan) fn combine(operator: Operator, a: &Pick, b: &Pick) -> Pick {
    match (operator, a, b) {
        (Operator::And, Pick::These(a), Pick::These(b)) => Pick::These(*a & *b),
        (_, Pick::These(a), Pick::These(b)) => Pick::These(*a | *b),
        _ if a == b => a.clone(),
        (Operator::And, ..) => Pick::And(Box::new((a.clone(), b.clone()))),
        _ => Pick::Or(Box::new((a.clone(), b.clone()))),
    }
}

fn parts(pick: &Pick) -> usize {
    match pick {
        Pick::And(both) | Pick::Or(both) => 1 + parts(&both.0) + parts(&both.1),
        Pick::AllBut(inner) => 1 + parts(inner),
        _ => 1,
    }
}

/// `88 needles`, `20`: the needles of which half are left of the centre.
fn counted_needles(words: &str) -> Option<String> {
    let (number, unit) = words.split_at(words.find(|letter: char| !letter.is_ascii_digit()).unwrap_or(words.len()));
    let counts = ["", "needles", "stitches"].contains(&unit.trim());
    number.parse().ok().filter(|_| counts).and_then(crate::syntax::around_the_centre)
}

impl<'a> Values<'a> {
    /// A selection, checked against the machine of this piece.
    pub(in crate::plan) fn selection(&mut self, expression: &'a Expression) -> Option<Pick> {
        if let (OperandKind::Name(name), []) = (&expression.first.kind, expression.rest.as_slice())
            && !self.names_needles(name)
        {
            return None;
        }
        match self.value(expression)? {
            Value::Selection(pick, _) => self.on_bed(&pick, expression.span).then_some(pick),
            value => {
                let words = self.words(expression.span).to_owned();
                if let Some(meant) = counted_needles(&words) {
                    let finding = rules::UNIT_MISMATCH
                        .finds(expression.span, "needles must be named here")
                        .because(format!(
                            "`{words}` says how many, and not which. That many around the centre are `{meant}`."
                        ))
                        .mend(format!("Write `{meant}`, or the needles that you mean, counted from the centre."))
                        .fix(Fix::new(format!("write `{meant}`"), expression.span, meant));
                    self.report(finding);
                    return None;
                }
                self.error(
                    &rules::UNIT_MISMATCH,
                    expression.span,
                    "needles must be named here",
                    format!("`{}` stands for {}. Wanted here: a selection of needles.", self.words(expression.span), value.words()),
                    "Name needles counted from the centre, for example `L10-R10`, or say `leftmost 5`, `every 2`, `all`.",
                );
                None
            }
        }
    }

    /// Refuses a selection that has grown out of all measure.
    pub(in crate::plan) fn small_enough(&mut self, pick: Pick, span: Span) -> Option<Pick> {
        let count = parts(&pick);
        if count <= MOST_PARTS {
            return Some(pick);
        }
        self.error(
            &rules::TOO_LARGE,
            span,
            "this selection is made of too many parts",
            format!("It has {count} parts, and up to {MOST_PARTS} are worked out."),
            "Name the needles straight away, for example `L10-R10`.",
        );
        None
    }

    /// An operand that is a selection.
    pub(in crate::plan) fn selection_operand(&mut self, operand: &'a Operand) -> Option<Value> {
        let known = |pick| Some(Value::Selection(pick, true));
        match &operand.kind {
            // `operand` looks at these itself.
            OperandKind::Quantity(_) | OperandKind::Name(_) => None,
            OperandKind::EachSide(count) => {
                let (count, known) = self.count(count)?;
                let set = NeedleSet::each_side(count);
                if !self.each_side_fits(count, operand.span) {
                    return None;
                }
                Some(Value::Selection(Pick::These(set), known))
            }
            OperandKind::Needles { first, last } => {
                let start = self.needle(first);
                let end = match last {
                    Some(last) => self.needle(last),
                    None => start,
                };
                let (start, end) = start.zip(end)?;
                known(Pick::These(NeedleSet::span(start.min(end), start.max(end))))
            }
            OperandKind::Tile { marks, over } => {
                let read = crate::plan::values::chart::marks(marks, MOST_MARKS);
                let over = match over {
                    Some(over) => Some(self.fixed_span(over)?),
                    None => None,
                };
                let marks_span = marks.span;
                let marks = match read {
                    Ok(marks) => marks,
                    Err(finding) => {
                        self.sure(*finding);
                        return None;
                    }
                };
                match over {
                    None => known(Pick::Tile(Tile { marks })),
                    Some((_, false)) => Some(Value::Selection(Pick::InWork, false)),
                    Some(((first, last), true)) => self
                        .laid(&marks, first, last, marks_span.join(operand.span))
                        .map(|set| Value::Selection(Pick::These(set), true)),
                }
            }
            OperandKind::Every { step, over } => {
                let step = self.count(step);
                let over = match over {
                    Some(over) => Some(self.fixed_span(over)?),
                    None => None,
                };
                let (step, sure) = step?;
                match over {
                    None => Some(Value::Selection(Pick::Every(step), sure)),
                    Some(((first, last), known)) => {
                        let set = (first.0..=last.0).step_by(step.max(1) as usize).map(Needle).collect();
                        Some(Value::Selection(Pick::These(set), sure && known))
                    }
                }
            }
            OperandKind::Leftmost(count) => {
                self.count(count).map(|(count, known)| Value::Selection(Pick::Leftmost(count), known))
            }
            OperandKind::Rightmost(count) => {
                self.count(count).map(|(count, known)| Value::Selection(Pick::Rightmost(count), known))
            }
            OperandKind::All => known(Pick::InWork),
            OperandKind::Loaded => known(Pick::Loaded),
            OperandKind::Empty => known(Pick::Empty),
            OperandKind::AllBut(inner) => match self.operand(inner)? {
                Value::Selection(pick, known) => {
                    let pick = self.small_enough(Pick::AllBut(Box::new(pick)), operand.span)?;
                    Some(Value::Selection(pick, known))
                }
                value => self.no_selection(&value, inner.span),
            },
        }
    }

    fn no_selection<T>(&mut self, value: &Value, span: Span) -> Option<T> {
        self.error(
            &rules::UNIT_MISMATCH,
            span,
            "needles must be named here",
            format!("`{}` stands for {}. Wanted here: a selection of needles.", self.words(span), value.words()),
            "Name needles counted from the centre, for example `L10-R10`, or a name that stands for needles.",
        );
        None
    }

    fn each_side_fits(&mut self, count: u32, span: Span) -> bool {
        let (bed, ends) = self.ends();
        let most = ends.1.counted().1;
        if count <= most {
            return true;
        }
        self.error(
            &rules::OFF_BED,
            span,
            format!("{} each side are past the ends of the bed", needles(count)),
            format!("{bed} goes from {} to {}.", ends.0, ends.1),
            format!("Use up to {most} each side."),
        );
        false
    }

    /// The ends of a span that is the same whatever the state of the beds, and whether it is known yet.
    fn fixed_span(&mut self, operand: &'a Operand) -> Option<((Needle, Needle), bool)> {
        let value = self.operand(operand)?;
        let (pick, known) = match value {
            Value::Selection(pick, known) => (pick, known),
            value => return self.no_selection(&value, operand.span),
        };
        if !self.on_bed(&pick, operand.span) {
            return None;
        }
        if !known {
            let (_, ends) = self.ends();
            return Some((ends, false));
        }
        let set = self.fixed(&pick, operand.span, "the span behind `over`")?;
        self.run(set, operand.span).map(|run| (run, true))
    }

    /// The needles of a selection that must not hang on the state of the beds.
    pub(in crate::plan) fn fixed(&mut self, pick: &Pick, span: Span, what: &str) -> Option<NeedleSet> {
        if let Pick::These(set) = pick {
            return Some(*set);
        }
        self.error(
            &rules::NOT_FIXED,
            span,
            format!("{what} must be named needle by needle"),
            format!("`{}` depends on which needles are in work when the line is reached.", self.words(span)),
            "Name the needles counted from the centre, for example `L10-R10`.",
        );
        None
    }

    /// The ends of a set without gaps.
    pub(in crate::plan) fn run(&mut self, set: NeedleSet, span: Span) -> Option<(Needle, Needle)> {
        let mut runs = set.runs();
        match (runs.next(), runs.next()) {
            (Some(run), None) => Some(run),
            (first, _) => {
                let why = if first.is_none() {
                    format!("`{}` takes no needle at all.", self.words(span))
                } else {
                    format!("`{}` takes {set}, which has gaps.", self.words(span))
                };
                self.error(
                    &rules::NOT_SIDE_BY_SIDE,
                    span,
                    "needles side by side are wanted here",
                    why,
                    "Name one span from its first needle to its last, for example `L10-R10`.",
                );
                None
            }
        }
    }

    /// A tile laid again and again over a span, which it must fit.
    fn laid(&mut self, marks: &[bool], first: Needle, last: Needle, span: Span) -> Option<NeedleSet> {
        let width = u32::from(last.0 - first.0) + 1;
        let tile = marks.len() as u32;
        if width.is_multiple_of(tile) {
            let taken = (first.0..=last.0).zip(marks.iter().cycle()).filter(|(_, taken)| **taken);
            return Some(taken.map(|(number, _)| Needle(number)).collect());
        }
        let (_, ends) = self.ends();
        let low = width / tile * tile;
        let offers: Vec<String> = [low, low + tile]
            .into_iter()
            .filter_map(|width| {
                let (first, last) = resized(first, last, width, ends)?;
                Some(format!("{} ({})", span_words(first, last), needles(width)))
            })
            .collect();
        let mend = if offers.is_empty() {
            "Make the picture narrower.".to_owned()
        } else {
            format!("Spans that fit: {}.", offers.join(" or "))
        };
        self.error(
            &rules::RAGGED_REPEAT,
            span,
            format!("a picture of {} does not fit a span of {}", needles(tile), needles(width)),
            format!(
                "{} has {}: {} and {} left over.",
                span_words(first, last),
                needles(width),
                crate::words::count(u128::from(width / tile), "picture", "pictures"),
                needles(width % tile)
            ),
            mend,
        );
        None
    }
}

//! Numbers, quantities, selections and targets.

use super::grammar::Rule;
use super::line::Line;
use super::piece::Token;
use super::tree::{
    BedWord, Count, Expression, NeedleWord, Number, Operand, OperandKind, Operator, Quantity, SideWord, Target, Unit,
};

/// The most digits behind the point that a number can hold.
const MOST_DECIMALS: u8 = 18;

/// A decimal number, exactly. One with too many digits becomes the largest number there is.
pub(super) fn number(text: &str) -> Number {
    let mut units: i64 = 0;
    let mut decimals: u8 = 0;
    let mut behind = false;
    for byte in text.bytes() {
        if byte == b'.' {
            behind = true;
            continue;
        }
        let digit = i64::from(byte.wrapping_sub(b'0'));
        let next = units.checked_mul(10).and_then(|tens| tens.checked_add(digit));
        match next {
            Some(next) if !behind || decimals < MOST_DECIMALS => units = next,
            // `1.50000000000000000000` is still 1.5.
            _ if behind && digit == 0 => continue,
            _ => return Number { units: i64::MAX, decimals: 0 },
        }
        decimals += u8::from(behind);
    }
    Number { units, decimals }
}

/// Every number of `120 (160, 180)`, and the byte behind the last of them.
fn numbers(text: &str) -> (Vec<Number>, usize) {
    let bytes = text.as_bytes();
    let mut found = Vec::with_capacity(1);
    let mut at = 0;
    let mut behind = 0;
    while let Some(&byte) = bytes.get(at) {
        if byte.is_ascii_digit() {
            let length = bytes[at..].iter().take_while(|byte| byte.is_ascii_digit() || **byte == b'.').count();
            found.push(number(&text[at..at + length]));
            at += length;
            behind = at;
        } else if matches!(byte, b' ' | b'\t' | b',' | b'(' | b')') {
            at += 1;
            if byte == b')' {
                behind = at;
            }
        } else {
            break;
        }
    }
    (found, behind)
}

fn unit(text: &str) -> Option<Unit> {
    match text {
        "needle" | "needles" => Some(Unit::Needles),
        "stitch" | "stitches" => Some(Unit::Stitches),
        "row" | "rows" => Some(Unit::Rows),
        "mm" => Some(Unit::Millimetres),
        "cm" => Some(Unit::Centimetres),
        "m" => Some(Unit::Metres),
        "in" => Some(Unit::Inches),
        "g" => Some(Unit::Grams),
        "kg" => Some(Unit::Kilograms),
        _ => None,
    }
}

/// Which side a word names.
pub(super) fn side_word(text: &str) -> SideWord {
    if text.ends_with("left") { SideWord::Left } else { SideWord::Right }
}

impl Line<'_, '_> {
    /// The quantity of a token.
    pub(super) fn quantity_of(&self, token: Token) -> Quantity {
        let text = self.words(token);
        let (values, behind) = numbers(text);
        let unit = unit(text.get(behind..).unwrap_or_default().trim_start());
        Quantity { values, unit, span: self.piece.span(token.start, token.end) }
    }

    /// `front`, `back` or `both`.
    pub(super) fn bed(&mut self) -> Option<BedWord> {
        let token = self.take(Rule::bed)?;
        Some(match self.words(token) {
            "front" => BedWord::Front,
            "back" => BedWord::Back,
            _ => BedWord::Both,
        })
    }

    /// `left` or `right`.
    pub(super) fn side(&mut self) -> Option<SideWord> {
        let token = self.take(Rule::side)?;
        Some(side_word(self.words(token)))
    }

    /// Operands with their operators.
    pub(super) fn expression(&mut self) -> Option<Expression> {
        let start = self.next_start();
        let first = self.operand()?;
        let mut rest = Vec::new();
        while let Some(Rule::operator | Rule::tight) = self.peek() {
            let token = self.next()?;
            let operator = match self.words(token) {
                "and" => Operator::And,
                "or" => Operator::Or,
                "-" => Operator::Minus,
                "+" => Operator::Plus,
                "*" => Operator::Times,
                _ => Operator::Over,
            };
            rest.push((operator, self.operand()?));
        }
        Some(Expression { first, rest, span: self.span_from(start) })
    }

    fn operand(&mut self) -> Option<Operand> {
        let start = self.next_start();
        if self.pass(Rule::all_but) {
            let but = self.value()?;
            return Some(Operand { kind: OperandKind::AllBut(Box::new(but)), span: self.span_from(start) });
        }
        self.value()
    }

    fn value(&mut self) -> Option<Operand> {
        let token = self.next()?;
        let kind = match token.rule {
            Rule::needles => self.needles_of(token)?,
            Rule::quantity => {
                let quantity = self.quantity_of(token);
                if self.pass(Rule::each_side) {
                    OperandKind::EachSide(Count::Number(quantity))
                } else {
                    OperandKind::Quantity(quantity)
                }
            }
            Rule::words => {
                let marks = self.text_of(token);
                OperandKind::Tile { marks, over: self.within()? }
            }
            Rule::every => {
                let step = self.count()?;
                OperandKind::Every { step, over: self.within()? }
            }
            Rule::edgemost => {
                let left = self.words(token) == "leftmost";
                let count = self.count()?;
                if left { OperandKind::Leftmost(count) } else { OperandKind::Rightmost(count) }
            }
            Rule::name => match self.words(token) {
                "all" => OperandKind::All,
                "loaded" => OperandKind::Loaded,
                "empty" => OperandKind::Empty,
                _ => {
                    let name = self.name_of(token);
                    if self.pass(Rule::each_side) {
                        OperandKind::EachSide(Count::Name(name))
                    } else {
                        OperandKind::Name(name)
                    }
                }
            },
            _ => return None,
        };
        Some(Operand { kind, span: self.span_from(token.start) })
    }

    /// `over L30-R30`, if it is there. The outer `Option` is whether it could be read.
    fn within(&mut self) -> Option<Option<Box<Operand>>> {
        if !self.pass(Rule::over) {
            return Some(None);
        }
        let span = self.value()?;
        Some(Some(Box::new(span)))
    }

    /// A number or a name.
    pub(super) fn count(&mut self) -> Option<Count> {
        let token = self.next()?;
        match token.rule {
            Rule::quantity => Some(Count::Number(self.quantity_of(token))),
            Rule::name => Some(Count::Name(self.name_of(token))),
            _ => None,
        }
    }

    /// A number or a name, as an expression.
    pub(super) fn count_expression(&mut self) -> Option<Expression> {
        let start = self.next_start();
        let kind = match self.count()? {
            Count::Number(quantity) => OperandKind::Quantity(quantity),
            Count::Name(name) => OperandKind::Name(name),
        };
        let span = self.span_from(start);
        Some(Expression { first: Operand { kind, span }, rest: Vec::new(), span })
    }

    /// `L30 (36)-R29 (35)` taken apart.
    fn needles_of(&self, token: Token) -> Option<OperandKind> {
        let text = self.words(token);
        let (first, behind) = self.needle(text, token.start)?;
        let dash = text[behind..].find('-');
        let last = match dash {
            None => None,
            Some(dash) => {
                let rest = &text[behind + dash + 1..];
                let at = behind + dash + 1 + (rest.len() - rest.trim_start().len());
                Some(self.needle(&text[at..], token.start + at as u32)?.0)
            }
        };
        Some(OperandKind::Needles { first, last })
    }

    fn needle(&self, text: &str, start: u32) -> Option<(NeedleWord, usize)> {
        let side = if text.starts_with('L') { SideWord::Left } else { SideWord::Right };
        let (numbers, behind) = numbers(text.get(1..)?);
        let end = behind + 1;
        Some((NeedleWord { side, numbers, span: self.piece.span(start, start + end as u32) }, end))
    }

    /// A bed and perhaps its needles.
    pub(super) fn target(&mut self) -> Option<Target> {
        let start = self.next_start();
        let bed = self.bed()?;
        let needles = if self.at_expression() { Some(self.expression()?) } else { None };
        Some(Target { bed, needles, span: self.span_from(start) })
    }

    /// Targets with commas between them, to the first thing that is none.
    pub(super) fn targets(&mut self) -> Option<Vec<Target>> {
        let mut targets = vec![self.target()?];
        while self.pass(Rule::comma) {
            targets.push(self.target()?);
        }
        Some(targets)
    }

    fn at_expression(&self) -> bool {
        matches!(
            self.peek(),
            Some(
                Rule::needles
                    | Rule::quantity
                    | Rule::name
                    | Rule::words
                    | Rule::every
                    | Rule::edgemost
                    | Rule::all_but
            )
        )
    }
}

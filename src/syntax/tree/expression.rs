//! Values as they are written: numbers with units, needles, and what is put together from them.

use super::{Name, SideWord, Text};
use crate::source::Span;

/// A decimal number exactly as written: `units / 10^decimals`. Limits are checked by `plan`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Number {
    /// The digits without the point. Saturates at `i64::MAX`, which is past every limit.
    pub units: i64,
    /// How many of the digits stand behind the point; at most 18, more is past every limit.
    pub decimals: u8,
}

/// The units that may stand behind a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Unit {
    /// `needle`, `needles`
    Needles,
    /// `stitch`, `stitches`
    Stitches,
    /// `row`, `rows`
    Rows,
    /// `mm`
    Millimetres,
    /// `cm`
    Centimetres,
    /// `m`
    Metres,
    /// `in`
    Inches,
    /// `g`
    Grams,
    /// `kg`
    Kilograms,
}

/// A number for every size, `120 (160, 180) cm`: one value for all, or the first size's and the others' in brackets.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    /// One value, or one for each size.
    pub values: Vec<Number>,
    /// The unit behind it.
    pub unit: Option<Unit>,
    /// The words.
    pub span: Span,
}

/// A quantity or a selection, as written: `length - 4 cm`, `every 2 and L10-R10`.
#[derive(Debug, Clone, PartialEq)]
pub struct Expression {
    /// The first operand.
    pub first: Operand,
    /// The operators and operands behind it, left to right, not grouped by strength.
    pub rest: Vec<(Operator, Operand)>,
    /// The words.
    pub span: Span,
}

/// What stands between two operands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Operator {
    /// `+`
    Plus,
    /// `-` with a blank on both sides
    Minus,
    /// `*`
    Times,
    /// `/`
    Over,
    /// `and`
    And,
    /// `or`
    Or,
}

/// One value in an expression.
#[derive(Debug, Clone, PartialEq)]
pub struct Operand {
    /// Which.
    pub kind: OperandKind,
    /// The words.
    pub span: Span,
}

/// The kinds of value.
#[derive(Debug, Clone, PartialEq)]
pub enum OperandKind {
    /// `12`, `12 rows`, `120 (160) cm`
    Quantity(Quantity),
    /// `length`
    Name(Name),
    /// `30 each side`, `half each side`: that many needles left and right of the centre
    EachSide(Count),
    /// `L30-R29`, `L5`; each end may have one number for each size
    Needles {
        /// The first needle written.
        first: NeedleWord,
        /// The last one; none for a single needle.
        last: Option<NeedleWord>,
    },
    /// `"|..|" over L30-R30`: a picture of needles laid again and again over a span
    Tile {
        /// The marks in quotation marks: `|` takes a needle, `.` leaves it.
        marks: Text,
        /// The span; the working width of the bed when none is named.
        over: Option<Box<Operand>>,
    },
    /// `every 3`, `every 3 over L30-R30`: the first needle from the left and every third after it
    Every {
        /// The step.
        step: Count,
        /// The span; the needles in work on the bed when none is named.
        over: Option<Box<Operand>>,
    },
    /// `leftmost 2`: of the needles in work on the bed
    Leftmost(Count),
    /// `rightmost 2`
    Rightmost(Count),
    /// `all`: every needle in work on the bed
    All,
    /// `loaded`: the needles that carry a loop
    Loaded,
    /// `empty`: the needles in work that carry none
    Empty,
    /// `all but X`
    AllBut(Box<Operand>),
}

/// A plain count: a number (one for each size) or a name that stands for one.
#[derive(Debug, Clone, PartialEq)]
pub enum Count {
    /// `3`, `3 (4)`
    Number(Quantity),
    /// `half`
    Name(Name),
}

/// `L30`, `R29 (35)`: a needle counted from the centre.
#[derive(Debug, Clone, PartialEq)]
pub struct NeedleWord {
    /// `L` or `R`.
    pub side: SideWord,
    /// The number, one for all sizes or one for each.
    pub numbers: Vec<Number>,
    /// The words.
    pub span: Span,
}

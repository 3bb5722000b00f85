//! The syntax tree: what was written, with the place of everything. It knows words, not knitting.
//!
//! Every statement of the language is one [`Statement`]; which statement may stand where is decided by `plan`, so
//! that a misplaced line gets a sentence of its own and not a parser's shrug.

mod expression;

pub use super::needles::NeedlesWord;
pub use super::speech::SpeechWord;
pub use expression::{Count, Expression, NeedleWord, Number, Operand, OperandKind, Operator, Quantity, Unit};

use crate::source::Span;
use std::collections::BTreeSet;

/// A file as it was read.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Tree {
    /// The statements of the file, outermost first.
    pub statements: Vec<Statement>,
    /// The words of lines that begin as one that gives something a name, and could not be read: any may be such a name.
    pub names_unread: BTreeSet<Box<str>>,
}

/// One line of the language, with the block that belongs to it if it opens one.
#[derive(Debug, Clone, PartialEq)]
pub struct Statement {
    /// What it says.
    pub kind: Kind,
    /// The words of the line, without the block.
    pub span: Span,
    /// The block in braces behind it.
    pub body: Option<Block>,
}

/// What stands between `{` and `}`.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    /// The opening brace.
    pub open: Span,
    /// The closing brace; none when the file ends before it (that is reported already).
    pub close: Option<Span>,
    /// The statements inside.
    pub statements: Vec<Statement>,
}

/// A name that the pattern gives to something: kebab-case, any alphabet, no capitals.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Name {
    /// The name.
    pub text: Box<str>,
    /// Where it stands.
    pub span: Span,
}

/// Words in quotation marks, without the marks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Text {
    /// The words.
    pub text: Box<str>,
    /// Where they stand, marks included.
    pub span: Span,
}

/// Left or right, as the sitter sees it, always.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SideWord {
    /// The sitter's left.
    Left,
    /// The sitter's right.
    Right,
}

/// `front`, `back`, `both`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BedWord {
    /// The bed nearer to the sitter.
    Front,
    /// The bed farther away.
    Back,
    /// Both.
    Both,
}

/// A bed and, if named, which of its needles: `front L30-R30`, `back`.
#[derive(Debug, Clone, PartialEq)]
pub struct Target {
    /// The bed.
    pub bed: BedWord,
    /// The needles; what is meant without it depends on the statement.
    pub needles: Option<Expression>,
    /// The words.
    pub span: Span,
}

/// What a needle does in a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ActionWord {
    /// Draws a new loop through what it carries.
    Knit,
    /// Takes the yarn and keeps what it carries.
    Tuck,
    /// Leaves the yarn.
    Slip,
}

/// One comma-part of a row.
#[derive(Debug, Clone, PartialEq)]
pub struct RowPart {
    /// What it says.
    pub kind: RowPartKind,
    /// The words.
    pub span: Span,
}

/// The things a row may say.
#[derive(Debug, Clone, PartialEq)]
pub enum RowPartKind {
    /// `to left`, `to right`: a claim, or the actions of that direction when both are there. A comma behind it is optional.
    Toward(SideWord),
    /// `front knit`, `back tuck on ribs`, `front knit elsewhere` (rare); a part without a bed goes on with the bed before it.
    Act {
        /// The bed named in this part.
        bed: Option<BedWord>,
        /// The action.
        action: ActionWord,
        /// `on SELECTION`; none for all needles in work or for `elsewhere`.
        on: Option<Expression>,
        /// `elsewhere`
        elsewhere: bool,
    },
    /// `loosened 3`, `loosened 3 front`: larger by that much for this row only
    Loosened(Expression, Option<BedWord>),
    /// `tightened 2`: smaller by that much for this row only
    Tightened(Expression, Option<BedWord>),
    /// `size 7`, `size 7 back`: this size for this row only
    Size(Expression, Option<BedWord>),
    /// `new loops`: the empty needles in work are meant to catch a loop
    NewLoops,
}

/// One thing that `expect` claims.
#[derive(Debug, Clone, PartialEq)]
pub struct Promise {
    /// What.
    pub kind: PromiseKind,
    /// The words.
    pub span: Span,
}

/// The kinds of promise.
#[derive(Debug, Clone, PartialEq)]
pub enum PromiseKind {
    /// `60 stitches front`, `0 back`
    Stitches(Expression, BedWord),
    /// `carriage left`
    Carriage(SideWord),
    /// `counter 48`
    Counter(Expression),
    /// `gaiting opposite`
    Gaiting(GaitingWord),
    /// `racking 1 left`, `racking centre`
    Racking(RackPlace),
    /// `tube open at left`; `tube closed`, which is open at no side
    Tube(Option<SideWord>),
}

/// `between` or `opposite`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum GaitingWord {
    /// Needles of one bed stand opposite the gaps of the other.
    Between,
    /// Needles stand face to face.
    Opposite,
}

/// A racking position.
#[derive(Debug, Clone, PartialEq)]
pub enum RackPlace {
    /// `centre`
    Centre,
    /// `2 left`
    At(Expression, SideWord),
}

/// How a work or repeat goes on.
#[derive(Debug, Clone, PartialEq)]
pub enum Extent {
    /// No extent: once.
    Once,
    /// `N times`
    Times(Expression),
    /// `for 40 rows`, `for 30 cm`, `for length`
    For(Expression),
}

/// A parameter of a stitch definition, `depth rows`.
#[derive(Debug, Clone, PartialEq)]
pub struct Parameter {
    /// Its name.
    pub name: Name,
    /// What it must be given.
    pub kind: ParameterKind,
}

/// What a parameter may stand for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ParameterKind {
    /// `number`
    Number,
    /// `rows`
    Rows,
    /// `stitches`
    Stitches,
    /// `needles`
    Needles,
    /// `length`
    Length,
    /// `selection`
    Selection,
}

/// A value given to a parameter, `depth 6 rows`.
#[derive(Debug, Clone, PartialEq)]
pub struct Argument {
    /// The parameter's name.
    pub name: Name,
    /// The value.
    pub value: Expression,
}

/// Which end of a bed: `at left`, `at right`, `at each edge`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EdgeWord {
    /// `at left`
    Left,
    /// `at right`
    Right,
    /// `at each edge`
    Each,
}

/// How a cast-on is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CastOnWord {
    /// A carriage row over both beds.
    Zigzag,
    /// Wound by hand.
    Wound,
    /// Chained by hand with a latch tool.
    Chain,
    /// An open row of the carriage over alternate or all needles, on waste yarn.
    Open,
}

/// Which way a limit of the transfer carriage is written: `to back from left`.
#[derive(Debug, Clone, PartialEq)]
pub struct CarriageWay {
    /// The bed it takes stitches to.
    pub to: BedWord,
    /// The side it starts from; either when not said.
    pub from: Option<SideWord>,
}

/// What a transfer carriage can take.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Taking {
    /// `every stitch`
    EveryStitch,
    /// `every second needle`
    EverySecond,
    /// `lone stitches`
    LoneStitches,
    /// `picked needles`
    PickedNeedles,
}

/// A line of a machine profile.
#[derive(Debug, Clone, PartialEq)]
pub enum MachineLine {
    /// `needles 88 each side`
    Needles(Expression),
    /// `pitch 4.9 mm`
    Pitch(Expression),
    /// `racking front bed, 6 left to 4 right`
    Racking {
        /// The bed that moves.
        bed: BedWord,
        /// How far to the left.
        left: Expression,
        /// How far to the right.
        right: Expression,
    },
    /// `half step with the racking handle` (`true`), `half step with a lever` (`false`)
    HalfStep(bool),
    /// `half step to the right`
    HalfStepWay(SideWord),
    /// `selectors both beds`, `selectors front bed`, `selectors none`
    Selectors(Option<BedWord>),
    /// `hold both beds`, `hold front bed`, `hold none`
    Hold(Option<BedWord>),
    /// `transfer carriage`, `transfer carriage to back from left, to front from right`; empty: both ways, either side
    TransferCarriage(Vec<CarriageWay>),
    /// `transfer carriage takes every stitch, every second needle`
    TransferTakes(Vec<Taking>),
    /// `transfer place "a quarter step right of face to face"`
    TransferPlace(Text),
    /// `transfer at size 6 to 9`
    TransferSizes(Expression, Expression),
    /// `most tucks 4`
    MostTucks(Expression),
    /// `most adjacent tucks 2`
    MostAdjacentTucks(Expression),
    /// `longest float 25 mm` or `longest float 5 needles`
    LongestFloat(Expression),
    /// `racking slack 2`
    RackingSlack(Expression),
    /// `racking step 1`
    RackingStep(Expression),
    /// `longest wait 8 rows`
    LongestWait(Expression),
    /// `widest cross 3 stitches`
    WidestCross(Expression),
    /// `stitch sizes 0 to 10`
    StitchSizes(Expression, Expression),
    /// `emptied needles stay in work` (`true`), `emptied needles go out of work` (`false`)
    EmptiedStay(bool),
}

/// How finely a yarn is spun: the systems the trade counts in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CountSystem {
    /// `Nm`, metric
    Metric,
    /// `tex`
    Tex,
    /// `dtex`
    Decitex,
    /// `denier`
    Denier,
    /// `Ne`, cotton
    Cotton,
    /// `worsted`
    Worsted,
}

/// A line of a yarn.
#[derive(Debug, Clone, PartialEq)]
pub enum YarnLine {
    /// `count 2/15 Nm`, `count 60 tex`
    Count {
        /// The number before the stroke, or the only one.
        first: Number,
        /// The number behind it.
        second: Option<Number>,
        /// The system.
        system: CountSystem,
    },
    /// `colour "grey blue"`
    Colour(Text),
    /// `fibre "wool"`
    Fibre(Text),
    /// `ball 50 g`
    Ball(Expression),
    /// `strands 2`
    Strands(Expression),
    /// `plain rows at size 5`
    PlainRows(Expression),
}

/// What a statement says. The comments show how it is written.
#[derive(Debug, Clone, PartialEq)]
pub enum Kind {
    /// A line that could not be read; it has been reported already.
    Broken,

    // -- declarations ------------------------------------------------------------------------------------------
    /// `pattern "Breakwater scarf"`
    Pattern(Text),
    /// `use "machines/club.wale"`
    Use(Text),
    /// `machine club { ... }`
    Machine(Name),
    /// a line in it
    MachineLine(MachineLine),
    /// `yarn slate { ... }`
    Yarn(Name),
    /// a line in it
    YarnLine(YarnLine),
    /// `gauge half-cardigan { ... }`
    Gauge(Name),
    /// `26 stitches and 44 rows in 10 cm, washed`
    GaugeLine {
        /// Stitches, rows, and the width they were counted over.
        stitches: Quantity,
        /// Rows.
        rows: Quantity,
        /// Over what length.
        over: Quantity,
        /// `washed`, `unwashed`, `relaxed`
        state: Option<Name>,
    },
    /// `sizes short, long`
    Sizes(Vec<Name>),
    /// `let length = 120 (160) cm`
    Let(Name, Expression),
    /// `stitch ripple (depth rows) from both to front { ... }`; `on both` is from both to both
    Stitch {
        /// Its name.
        name: Name,
        /// Its parameters.
        parameters: Vec<Parameter>,
        /// The beds with stitches before it.
        from: BedWord,
        /// The beds with stitches after it.
        to: BedWord,
    },
    /// `chart anchor { ... }`
    Chart(Name),
    /// `"|..|"`, a line of a chart
    ChartLine(Text),
    /// `fabric basket { ... }`
    Fabric(Name),
    /// `X X O O`, a line of a fabric
    FabricLine(Text),

    // -- pieces ------------------------------------------------------------------------------------------------
    /// `piece "Sleeve", make 2 on club { ... }`
    Piece {
        /// Its title.
        title: Text,
        /// How many to make.
        make: Option<Expression>,
        /// The machine, where there are several.
        machine: Option<Name>,
    },
    /// `section "Body" { ... }`
    Section(Text),

    // -- beds --------------------------------------------------------------------------------------------------
    /// `hold front leftmost 5`, `bind off front`
    Needles(NeedlesWord, Vec<Target>),
    /// `gaiting between`
    Gaiting(GaitingWord),
    /// `rack 1 left`: that many steps from where it is
    RackBy(Expression, SideWord),
    /// `rack to 2 right`, `rack to centre`
    RackTo(RackPlace),
    /// `thread slate`
    Thread(Name),
    /// `stitch size 5`, `stitch size front 5, back 4.5`
    StitchSize(Vec<(BedWord, Expression)>),
    /// `carriage left`
    Carriage(SideWord),
    /// `reset counter`
    ResetCounter,

    // -- rows --------------------------------------------------------------------------------------------------
    /// `row front knit, back tuck`
    Row(Vec<RowPart>),
    /// `rows 10 both knit`
    Rows(Expression, Vec<RowPart>),
    /// `tubular 4 rows`, `tubular 4 rows, back first`
    Tubular(Expression, BedWord),
    /// `free pass`
    FreePass,

    // -- loops -------------------------------------------------------------------------------------------------
    /// `cast on zigzag`, `cast on wound front`
    CastOn(CastOnWord, Vec<Target>),
    /// `transfer back to front, joining`
    Transfer {
        /// The bed, and which needles of it; all that are loaded when none are named.
        from: Target,
        /// The bed they go to.
        to: BedWord,
        /// How.
        manner: Manner,
    },
    /// `move front L5 1 left`
    Move {
        /// The needles.
        from: Target,
        /// How far.
        by: Expression,
        /// Which way.
        toward: SideWord,
        /// How.
        manner: Manner,
    },
    /// `move front L5 to back L6`
    MoveTo {
        /// From.
        from: Target,
        /// To.
        to: Target,
        /// How.
        manner: Manner,
    },
    /// `cross front L2-L1 over R1-R2`: the two groups change places, the first one in front
    Cross {
        /// The bed.
        bed: BedWord,
        /// The group that lies in front as the sitter sees it.
        over: Expression,
        /// The group that passes behind.
        under: Expression,
    },
    /// `increase front 1 at each edge`, `increase front 1 at left, inset 3`
    Increase(EdgeChange),
    /// `decrease front 1 at left`
    Decrease(EdgeChange),
    /// `pick up front all`, `pick up front L5-R5 from waste yarn`, `pick up front L5-R5 from "shoulder"`
    PickUp(Vec<Target>, LoopsFrom),
    /// `onto waste yarn front`, `onto waste yarn front as "shoulder"`
    OntoWaste(Vec<Target>, Option<Text>),
    /// `cut yarn`
    CutYarn,

    // -- structure ---------------------------------------------------------------------------------------------
    /// `repeat 4 times { ... }`
    Repeat(Expression),
    /// `work half-cardigan for length`, `work ripple (depth 6 rows) 4 times`
    Work {
        /// The stitch.
        name: Name,
        /// What its parameters get.
        arguments: Vec<Argument>,
        /// How long.
        extent: Extent,
    },
    /// `follow anchor 2 times { ... }`
    Follow(Name, Extent),
    /// `shape over 60 rows { ... }`
    Shape(Expression),
    /// A line in it: `decrease front 1 at left, 10 times evenly`
    Slope(EdgeChange, Expression),
    /// `arrange front "|..|", back ".||."`
    Arrange(Vec<Target>),

    // -- speech and promises -----------------------------------------------------------------------------------
    /// `note "..."`, `mark "..."`
    Say(SpeechWord, Text),
    /// `remind every 30 rows "..."`
    Remind(Expression, Text),
    /// `expect 60 stitches front, 0 back, carriage left`
    Expect(Vec<Promise>),
    /// `allow RULE because "..." { ... }`
    Allow(Name, Text),
}

/// Where loops that are picked up come from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LoopsFrom {
    /// The fabric below the needles.
    Fabric,
    /// `from waste yarn`
    Waste,
    /// `from "shoulder"`: the waste yarn of that name.
    Named(Text),
}

/// How stitches are moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Manner {
    /// `joining`: stitches may come to lie on others.
    pub joining: bool,
    /// `emptied stay in work` / `emptied go out of work`; what the profile says when not written.
    pub emptied_stay: Option<bool>,
    /// `by hand` (`true`) / `by carriage` (`false`); whichever can do it when not written.
    pub by_hand: Option<bool>,
}

/// `front 1 at each edge, inset 3`
#[derive(Debug, Clone, PartialEq)]
pub struct EdgeChange {
    /// The bed.
    pub bed: BedWord,
    /// How many stitches at each named edge.
    pub by: Expression,
    /// Which edge.
    pub edge: EdgeWord,
    /// How many stitches at the edge keep together and move in one.
    pub inset: Option<Expression>,
}

//! What `plan` makes of a pattern: for each size and piece the steps of the work, with names, units and sizes worked
//! out. Repeats stay repeats, so that a million passes cost no memory.

use crate::beds::{Gaiting, Machine, Operation, Side, StitchSize, Waste};
use crate::source::Span;
use crate::syntax::tree::SpeechWord;
use std::sync::Arc;

/// One pattern in one size.
#[derive(Debug, Clone)]
pub struct Program {
    /// The pattern's title, if it has one.
    pub title: Option<String>,
    /// The name of the size; none when the pattern has no sizes.
    pub size: Option<String>,
    /// The yarns; a [`crate::beds::Yarn`] is an index into this list.
    pub yarns: Vec<YarnInfo>,
    /// The pieces, in order.
    pub pieces: Vec<Piece>,
}

/// A yarn as the sheet needs it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct YarnInfo {
    /// Its name in the pattern.
    pub name: String,
    /// `2/15 Nm`, as written.
    pub count: Option<String>,
    /// Its colour in words.
    pub colour: Option<String>,
    /// What it is made of.
    pub fibre: Option<String>,
    /// The stitch size at which its plain rows are knitted, in hundredths.
    pub plain_size: Option<StitchSize>,
}

/// One piece.
#[derive(Debug, Clone)]
pub struct Piece {
    /// Its title.
    pub title: String,
    /// How many to make.
    pub make: u64,
    /// The machine it is made on.
    pub machine: Arc<Machine>,
    /// The line that opens it.
    pub span: Span,
    /// The closing brace, or the end of the file where it is missing.
    pub end: Span,
    /// The work.
    pub steps: Steps,
    /// The waste yarns with a name that lines of this piece are about.
    pub waste: Vec<WasteHere>,
}

/// A waste yarn with a name that lines of a piece are about, and what is known of it before the piece is played.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WasteHere {
    /// Which one.
    pub waste: Waste,
    /// Where this piece picks up from it first, if it does.
    pub picked_up: Option<Span>,
    /// How many stitches of earlier pieces are on it; none where that cannot be known because the play of one of them ends
    /// before the piece does.
    pub stitches: Option<u64>,
    /// The line of an earlier piece that took stitches onto it last.
    pub put_by: Option<Span>,
    /// Whether any piece picks up from it, this one or another.
    pub is_used: bool,
    /// Whether no later piece is about it.
    pub is_last: bool,
}

/// A list of steps that several places may share.
pub type Steps = Arc<[Step]>;

/// The name of a list of steps: that of its first step, which stands in no other list. An empty list has none.
#[must_use]
pub fn name_of(steps: &Steps) -> Option<StepId> {
    steps.first().map(|step| step.id)
}

/// Tells the steps of one program apart. Places that share a list share its steps and their names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct StepId(pub u64);

/// One step of the work.
#[derive(Debug, Clone)]
pub struct Step {
    /// Which one it is, in its program.
    pub id: StepId,
    /// What is done.
    pub kind: StepKind,
    /// The statement it comes from.
    pub span: Span,
}

/// The kinds of step.
#[derive(Debug, Clone)]
pub enum StepKind {
    /// Something done on the machine.
    Do(Operation),
    /// Steps done again and again.
    Repeat(Repeat),
    /// A section of the piece, with its title.
    Section(String, Steps),
    /// Steps in which a rule is silenced.
    Allow {
        /// The rule's name.
        rule: String,
        /// The reason given.
        because: String,
        /// The steps.
        steps: Steps,
    },
    /// Something said to the knitter.
    Say(Speech),
    /// A promise that is checked when the step is reached.
    Expect(Promise, Span),
    /// A statement that could not be understood, and has been reported: what it would have changed is not known.
    Gap(Unknown),
}

/// What is said to the knitter and changes nothing on the machine.
#[derive(Debug, Clone, PartialEq)]
pub enum Speech {
    /// What a line says that begins with that word.
    Words(SpeechWord, String),
    /// A reminder every so many rows from here to the end of the block it stands in.
    Remind {
        /// Rows between reminders, at least 1.
        every: u64,
        /// The words.
        text: String,
    },
    /// A length turned into rows: the sheet says by how much it was rounded.
    Rounded(Rounding),
}

impl Speech {
    /// The words that the pattern has for it; empty for what wale says itself.
    #[must_use]
    pub fn text(&self) -> &str {
        match self {
            Self::Words(_, text) | Self::Remind { text, .. } => text,
            Self::Rounded(_) => "",
        }
    }
}

/// What is not known after a statement that could not be understood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unknown {
    /// Which needles are in work and where the stitches are: nothing more can be said of the piece.
    Beds,
    /// How many rows were knitted and how, with which yarn and size: the needles still hold the stitches they held.
    Rows,
}

/// Steps that are worked several times.
#[derive(Debug, Clone)]
pub struct Repeat {
    /// How often, 1 at least.
    pub times: u64,
    /// What is repeated.
    pub steps: Steps,
    /// The stitch that is worked, for `work`; none for `repeat` and `rows`.
    pub stitch: Option<StitchUse>,
    /// Whether this is the one row of a `rows`, so that passes are rows.
    pub single_row: bool,
}

/// A stitch definition in use.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StitchUse {
    /// Its name.
    pub name: String,
    /// The line that defines it.
    pub defined: Span,
    /// Which beds must carry stitches before it (front, back).
    pub from: (bool, bool),
    /// Which beds carry stitches after it (front, back).
    pub to: (bool, bool),
}

/// A promise of `expect`, with its numbers worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Promise {
    /// That many stitches on the front bed, or on the back bed, or on both together.
    Stitches {
        /// How many.
        count: u64,
        /// On the front bed.
        front: bool,
        /// On the back bed.
        back: bool,
    },
    /// The carriage stands at that side.
    Carriage(Side),
    /// The row counter shows that number.
    Counter(u64),
    /// The beds stand so.
    Gaiting(Gaiting),
    /// The racking bed stands that many steps right of the centre.
    Racking(i32),
    /// What is knitted bed by bed is a tube: open at that side, or closed at both.
    Tube(Option<Side>),
}

/// How a wish in a length became a number of rows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rounding {
    /// The wish, as printed: `120 cm`.
    pub wish: String,
    /// The exact number of rows, as printed: `528` or `73.3`.
    pub exact: String,
    /// The rows chosen.
    pub rows: u64,
    /// The length of those rows and the difference in words: `0.3 cm more than asked`; empty when exact.
    pub difference: String,
}

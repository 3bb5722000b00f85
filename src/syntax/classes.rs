//! What sort of word each word of the language is, so that every editor colours it the same way.
//!
//! A class says what a word does in a line, as far as one word alone can tell. The few words that belong together and mean
//! something else than each alone are in [`PHRASES`].

/// The sort of a word. Few on purpose: a pattern in more colours than these no longer reads well.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum WordClass {
    /// Gives something a name or a title: `machine`, `stitch`, `piece`.
    Declaration,
    /// Says how often or how long: `repeat`, `times`, `follow`.
    Structure,
    /// What the hands or the carriage do in a line: `row`, `transfer`, `bind off`.
    Operation,
    /// What a needle does in a row: `knit`, `tuck`, `slip`.
    Action,
    /// A bed: `front`, `back`, `both`.
    Bed,
    /// A side or a place between the sides: `left`, `centre`, `edge`.
    Side,
    /// Chooses needles: `all`, `every`, `loaded`, `elsewhere`.
    Selection,
    /// How the beds and the carriage stand or are set: `gaiting`, `opposite`, `loosened`.
    Setting,
    /// A unit, or what a value stands for: `cm`, `stitches`, `number`.
    Unit,
    /// A line of a machine, a yarn or a gauge: `pitch`, `longest`, `fibre`.
    Profile,
    /// Speaks to the knitter: `note`, `mark`, `remind`.
    Speech,
    /// What is counted on, and what is allowed: `expect`, `allow`, `because`.
    Promise,
    /// Ties the others together: `to`, `on`, `and`.
    Link,
}

use WordClass::{
    Action, Bed, Declaration, Link, Operation, Profile, Promise, Selection, Setting, Side, Speech, Structure, Unit,
};

impl WordClass {
    /// Every class, in the order in which they stand here.
    pub const ALL: [Self; 13] = [
        Declaration,
        Structure,
        Operation,
        Action,
        Bed,
        Side,
        Selection,
        Setting,
        Unit,
        Profile,
        Speech,
        Promise,
        Link,
    ];

    /// The name of the class, one word in small letters, for the names that editors' files need.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Declaration => "declaration",
            Structure => "structure",
            Operation => "operation",
            Action => "action",
            Bed => "bed",
            Side => "side",
            Selection => "selection",
            Setting => "setting",
            Unit => "unit",
            Profile => "profile",
            Speech => "speech",
            Promise => "promise",
            Link => "link",
        }
    }
}

/// The words that no sort of line brings of its own: what many lines have in them, and what stands in rows. Those of the
/// lines stand in the table of statements.
pub(super) const SHARED: &[(WordClass, &[&str])] = &[
    (Action, &["knit", "tuck", "slip"]),
    (Bed, &["front", "back", "both", "bed", "beds"]),
    (Side, &["left", "right", "centre", "edge", "side"]),
    (
        Selection,
        &["all", "but", "each", "elsewhere", "empty", "every", "first", "leftmost", "loaded", "none", "rightmost"],
    ),
    (Unit, &["cm", "g", "kg", "m", "mm", "needle", "needles", "stitches"]),
    (Link, &["and", "at", "from", "in", "of", "on", "or", "over", "to"]),
];

/// Words that belong together, with one blank between them, and their class where it is not that of each word alone. A
/// longer one stands before a shorter one that it begins with.
pub const PHRASES: &[(&str, WordClass)] = &[
    ("cast on", Operation),
    ("in work", Operation),
    ("out of work", Operation),
    ("stitch sizes", Setting),
    ("stitch size", Setting),
    ("waste yarn", Operation),
];

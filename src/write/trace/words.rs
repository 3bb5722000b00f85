//! The words, spans and sizes of a trace.

use crate::beds::{Bed, CastOn, Gaiting, NeedleSet, Side, StitchSize, Takes, Tool};
#[cfg(test)]
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Serialize, Serializer};
#[cfg(test)]
use std::borrow::Cow;
use std::fmt;

macro_rules! word {
    ($(#[$about:meta])* $name:ident { $($(#[$doc:meta])* $word:ident = $text:literal),+ }) => {
        $(#[$about])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
        #[cfg_attr(test, derive(JsonSchema))]
        pub enum $name { $($(#[$doc])* #[serde(rename = $text)] $word),+ }
    };
}

word!(
    /// A bed, as the sitter sees it.
    BedWord {
        /// The bed nearer to the sitter.
        Front = "front",
        /// The bed farther away.
        Back = "back"
    }
);
word!(
    /// A side, the sitter's.
    SideWord {
        /// The sitter's left.
        Left = "left",
        /// The sitter's right.
        Right = "right"
    }
);
word!(
    /// How the beds are set to each other at racking centre.
    GaitingWord {
        /// Needles of one bed opposite the gaps of the other.
        Between = "between",
        /// Needles face to face.
        Opposite = "opposite"
    }
);
word!(
    /// A manner of casting on.
    CastOnWord {
        /// A row of the carriage over both beds.
        Zigzag = "zigzag",
        /// A row of the carriage on waste yarn.
        Open = "open",
        /// Wound by hand around each needle.
        Wound = "wound",
        /// Chained by hand.
        Chain = "chain"
    }
);
word!(
    /// What moves stitches from bed to bed.
    ToolWord {
        /// The hand tool.
        Hand = "hand tool",
        /// The transfer carriage.
        Carriage = "transfer carriage"
    }
);
word!(
    /// What makes the half step between the two gaitings.
    HalfStepWord {
        /// The racking handle.
        RackingHandle = "racking handle",
        /// A lever of its own.
        Lever = "lever"
    }
);
word!(
    /// What a transfer carriage takes from a bed.
    TakesWord {
        /// Every stitch at once.
        EveryStitch = "every stitch",
        /// Those of every second needle.
        EverySecond = "every second needle",
        /// Every stitch, where the yarn goes to the other bed between any two.
        LoneStitches = "lone stitches",
        /// Those of needles that the selectors pick.
        PickedNeedles = "picked needles"
    }
);
word!(
    /// Where picked-up loops come from.
    LoopsFrom {
        /// The fabric below the needles.
        Fabric = "fabric",
        /// Waste yarn.
        WasteYarn = "waste yarn"
    }
);

impl From<Bed> for BedWord {
    fn from(bed: Bed) -> Self {
        match bed {
            Bed::Front => Self::Front,
            Bed::Back => Self::Back,
        }
    }
}

impl From<Side> for SideWord {
    fn from(side: Side) -> Self {
        match side {
            Side::Left => Self::Left,
            Side::Right => Self::Right,
        }
    }
}

impl SideWord {
    /// The side of a number that counts to the right; none for 0.
    pub(super) const fn of(places: i32) -> Option<Self> {
        match places {
            0 => None,
            1.. => Some(Self::Right),
            _ => Some(Self::Left),
        }
    }
}

impl From<Gaiting> for GaitingWord {
    fn from(gaiting: Gaiting) -> Self {
        match gaiting {
            Gaiting::Between => Self::Between,
            Gaiting::Opposite => Self::Opposite,
        }
    }
}

impl From<CastOn> for CastOnWord {
    fn from(how: CastOn) -> Self {
        match how {
            CastOn::Zigzag => Self::Zigzag,
            CastOn::Open => Self::Open,
            CastOn::Wound => Self::Wound,
            CastOn::Chain => Self::Chain,
        }
    }
}

impl From<Takes> for TakesWord {
    fn from(takes: Takes) -> Self {
        match takes {
            Takes::EveryStitch => Self::EveryStitch,
            Takes::EverySecond => Self::EverySecond,
            Takes::LoneStitches => Self::LoneStitches,
            Takes::PickedNeedles => Self::PickedNeedles,
        }
    }
}

impl From<Tool> for ToolWord {
    fn from(tool: Tool) -> Self {
        match tool {
            Tool::Hand => Self::Hand,
            Tool::Carriage => Self::Carriage,
        }
    }
}

/// Needles of one bed, as a list of spans.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Spans(pub(super) NeedleSet);

impl Spans {
    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl From<NeedleSet> for Spans {
    fn from(needles: NeedleSet) -> Self {
        Self(needles)
    }
}

impl Serialize for Spans {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.runs().map(|(first, last)| Run(NeedleSet::span(first, last))))
    }
}

/// Needles without a gap, printed as one span.
struct Run(NeedleSet);

impl fmt::Display for Run {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl Serialize for Run {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

#[cfg(test)]
impl JsonSchema for Spans {
    fn schema_name() -> Cow<'static, str> {
        "Spans".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "description": "Needles of one bed from left to right, counted from the centre: `L1` is the first one left \
                            of it, `R1` the first one right of it, and there is no zero. `L3-R2` is five needles.",
            "type": "array",
            "items": { "type": "string", "pattern": "^[LR][1-9][0-9]{0,2}(-[LR][1-9][0-9]{0,2})?$" }
        })
    }
}

/// A stitch size; larger numbers are larger stitches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Size(pub(super) StitchSize);

impl Serialize for Size {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        // A whole size is written without a fraction, as the pattern has it.
        if self.0 % 100 == 0 {
            serializer.serialize_i32(self.0 / 100)
        } else {
            serializer.serialize_f64(f64::from(self.0) / 100.0)
        }
    }
}

#[cfg(test)]
impl JsonSchema for Size {
    fn schema_name() -> Cow<'static, str> {
        "Size".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "description": "A stitch size; larger numbers are larger stitches.", "type": "number" })
    }
}

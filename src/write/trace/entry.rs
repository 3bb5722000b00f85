//! One entry of a trace: what is done, said or promised, and how everything stands afterwards.

use super::parts::{Carried, Edges, Group, Handled, HandledBed, NeedlesPut, RowBed};
use super::words::{BedWord, CastOnWord, GaitingWord, LoopsFrom, SideWord, Size};
use crate::beds::{self, Both};
#[cfg(test)]
use crate::syntax::tree::SpeechWord;
#[cfg(test)]
use crate::write::operations::{self, Told};
#[cfg(test)]
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::Serialize;
#[cfg(test)]
use serde_json::{Value, json};
#[cfg(test)]
use std::borrow::Cow;

/// Where something stands in the text.
#[derive(Debug, Clone, Copy, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct Source<'a> {
    /// The name of the file.
    pub file: &'a str,
    /// The line, from 1.
    pub line: u32,
    /// The column in characters, from 1.
    pub column: u32,
}

/// One thing that is done, said or promised.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct Entry<'a> {
    /// Its number in this list, from 1.
    pub number: u64,
    /// What it is.
    #[serde(flatten)]
    pub what: What<'a>,
    /// Why nothing was done, where it could not be; a pattern without errors has none of these.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub not_done: Option<String>,
    /// The statement it comes from; left out for what is said to the knitter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub source: Option<Source<'a>>,
    /// The titles of the sections it stands in, the outermost first.
    #[serde(skip_serializing_if = "<[String]>::is_empty")]
    pub sections: &'a [String],
    /// The innermost stitch definition it comes from.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stitch: Option<&'a str>,
    /// The pass of the innermost repeat; left out outside a repeat, and where there is one pass only.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pass: Option<Pass>,
    /// How everything stands afterwards.
    pub after: After<'a>,
}

/// A pass of a repeat.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct Pass {
    /// Which one, from 1.
    pub number: u64,
    /// Out of how many.
    pub of: u64,
}

/// What an entry is about, by the word in `what`.
#[derive(Debug, Serialize)]
#[serde(untagged)]
pub enum What<'a> {
    /// Needles change their position.
    Put {
        /// The word for it.
        what: &'static str,
        /// Which needles.
        #[serde(flatten)]
        needles: NeedlesPut,
    },
    /// Needles take loops or give them.
    Handled {
        /// The word for it.
        what: &'static str,
        /// Which needles.
        #[serde(flatten)]
        needles: Handled,
    },
    /// Something is said to the knitter.
    Say {
        /// The word for it.
        what: &'static str,
        /// The words.
        text: &'a str,
    },
    /// Something with a form of its own.
    Own(Own<'a>),
}

/// What has a form of its own.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[serde(tag = "what")]
pub enum Own<'a> {
    /// The beds are set to each other.
    #[serde(rename = "gaiting")]
    Gaiting {
        /// How they are to stand.
        to: GaitingWord,
    },
    /// The racking bed is moved.
    #[serde(rename = "rack")]
    Rack {
        /// Where it is to stand.
        to: Racking,
    },
    /// A yarn is put into the feeder.
    #[serde(rename = "thread")]
    Thread {
        /// Its name.
        with: Option<&'a str>,
    },
    /// Stitch sizes are set.
    #[serde(rename = "stitch size")]
    StitchSize(Sizes),
    /// The carriage is placed before the first row.
    #[serde(rename = "carriage")]
    Carriage {
        /// At that side.
        at: SideWord,
    },
    /// The row counter is set to 0.
    #[serde(rename = "reset counter")]
    ResetCounter,
    /// One row: a pass of the carriages with yarn.
    #[serde(rename = "row")]
    Row {
        /// The way of the carriage.
        #[serde(skip_serializing_if = "Option::is_none")]
        carriage: Option<Way>,
        /// The yarn; null where there is none in the feeder.
        yarn: Option<&'a str>,
        /// What the front bed does.
        #[serde(skip_serializing_if = "RowBed::is_empty")]
        front: RowBed,
        /// What the back bed does.
        #[serde(skip_serializing_if = "RowBed::is_empty")]
        back: RowBed,
    },
    /// The carriage goes to the other side without yarn; no row is counted.
    #[serde(rename = "free pass")]
    FreePass {
        /// The way of the carriage.
        carriage: Way,
    },
    /// Loops are cast on.
    #[serde(rename = "cast on")]
    CastOn {
        /// In which manner.
        how: CastOnWord,
        /// The way of the carriage, where it makes the loops; that pass counts as a row.
        #[serde(skip_serializing_if = "Option::is_none")]
        carriage: Option<Way>,
        /// The yarn; null where there is none in the feeder.
        yarn: Option<&'a str>,
        /// The needles of the front bed.
        #[serde(skip_serializing_if = "HandledBed::is_empty")]
        front: HandledBed,
        /// The needles of the back bed.
        #[serde(skip_serializing_if = "HandledBed::is_empty")]
        back: HandledBed,
    },
    /// Stitches go to the facing needles of the other bed.
    #[serde(rename = "transfer")]
    Transfer(Carried),
    /// Stitches go to other needles by hand.
    #[serde(rename = "move")]
    Move(Carried),
    /// Two groups of one bed change places. Both are taken off before either is laid.
    #[serde(rename = "cross")]
    Cross {
        /// The bed.
        bed: BedWord,
        /// The group that lies in front, as the sitter sees it.
        #[serde(skip_serializing_if = "Option::is_none")]
        over: Option<Group>,
        /// The group behind it.
        #[serde(skip_serializing_if = "Option::is_none")]
        under: Option<Group>,
    },
    /// Stitches are added at edges.
    #[serde(rename = "increase")]
    Increase(Edges),
    /// Stitches are taken off at edges.
    #[serde(rename = "decrease")]
    Decrease(Edges),
    /// Loops are hung on needles again.
    #[serde(rename = "pick up")]
    PickUp {
        /// Where they come from.
        from: LoopsFrom,
        /// What the waste yarn is called, where it has a name.
        #[serde(skip_serializing_if = "Option::is_none")]
        name: Option<&'a str>,
        /// The needles of the front bed.
        #[serde(skip_serializing_if = "HandledBed::is_empty")]
        front: HandledBed,
        /// The needles of the back bed.
        #[serde(skip_serializing_if = "HandledBed::is_empty")]
        back: HandledBed,
    },
    /// Stitches are taken off onto waste yarn.
    #[serde(rename = "onto waste yarn")]
    OntoWasteYarn {
        /// What the waste yarn is called, where it has a name.
        #[serde(skip_serializing_if = "Option::is_none")]
        name: Option<&'a str>,
        /// The needles of the front bed.
        #[serde(skip_serializing_if = "HandledBed::is_empty")]
        front: HandledBed,
        /// The needles of the back bed.
        #[serde(skip_serializing_if = "HandledBed::is_empty")]
        back: HandledBed,
    },
    /// The yarn in the feeder is cut: its next row begins anew.
    #[serde(rename = "cut yarn")]
    CutYarn {
        /// The yarn; null where there is none in the feeder.
        yarn: Option<&'a str>,
    },
    /// A reminder, from here to the end of the block it stands in.
    #[serde(rename = "remind")]
    Remind {
        /// Rows between reminders.
        every_rows: u64,
        /// The words.
        text: &'a str,
    },
    /// A length that was turned into rows; the rows follow.
    #[serde(rename = "rounding")]
    Rounding {
        /// The wish, as printed: `120 cm`.
        wish: &'a str,
        /// The exact number of rows, as printed.
        exact: &'a str,
        /// The rows chosen.
        rows: u64,
        /// The difference in words; empty where there is none.
        difference: &'a str,
    },
    /// A promise of the pattern is reached.
    #[serde(rename = "expect")]
    Expect {
        /// What is promised.
        promise: Promise,
    },
}

#[cfg(test)]
impl JsonSchema for What<'_> {
    fn schema_name() -> Cow<'static, str> {
        "What".into()
    }

    /// Each word has a schema of its own, also where the type has many words in one.
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let mut own = match Own::json_schema(generator).remove("oneOf") {
            Some(Value::Array(own)) => own,
            _ => Vec::new(),
        };
        let (put, handled) = (generator.subschema_for::<NeedlesPut>(), generator.subschema_for::<Handled>());
        let shared = |schema: &Schema, word: &str, about: &str| {
            let mut schema = schema.clone();
            schema.insert("description".to_owned(), about.into());
            schema.insert("properties".to_owned(), json!({ "what": { "const": word, "type": "string" } }));
            schema.insert("required".to_owned(), json!(["what"]));
            schema.insert("type".to_owned(), "object".into());
            schema.to_value()
        };
        let mut all = Vec::new();
        for called in operations::ALL {
            match called.told {
                Told::Put(about) => all.push(shared(&put, called.word, about)),
                Told::Handled(about) => all.push(shared(&handled, called.word, about)),
                Told::Own => all.extend(own.extract_if(.., |own| own["properties"]["what"]["const"] == called.word)),
            }
        }
        all.extend(SpeechWord::ALL.iter().map(|word| {
            json!({
                "description": word.about(),
                "properties": {
                    "text": { "description": "The words.", "type": "string" },
                    "what": { "const": word.word(), "type": "string" },
                },
                "required": ["what", "text"],
                "type": "object",
            })
        }));
        all.extend(own);
        json_schema!({ "oneOf": all })
    }
}

/// The way of the carriage.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct Way {
    /// The side where it stood.
    pub from: SideWord,
    /// The side where it stands now.
    pub to: SideWord,
}

/// Where the racking bed stands.
#[derive(Debug, Clone, Copy, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct Racking {
    /// Steps from the centre.
    pub steps: u32,
    /// The side of the centre; null at the centre.
    pub side: Option<SideWord>,
}

impl Racking {
    /// A racking place, which counts steps to the right of the centre.
    pub(super) const fn at(place: i32) -> Self {
        Self { steps: place.unsigned_abs(), side: SideWord::of(place) }
    }
}

/// The stitch sizes of the beds.
#[derive(Debug, Clone, Copy, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub struct Sizes {
    /// That of the front bed; left out where it is not set.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub front: Option<Size>,
    /// That of the back bed; left out where it is not set.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub back: Option<Size>,
}

impl From<&Both<Option<i32>>> for Sizes {
    fn from(sizes: &Both<Option<i32>>) -> Self {
        Self { front: sizes.front.map(Size), back: sizes.back.map(Size) }
    }
}

/// A number for each bed.
#[derive(Debug, Clone, Copy, Default, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct Counts {
    /// On the front bed.
    pub front: u64,
    /// On the back bed.
    pub back: u64,
}

impl From<Both<u64>> for Counts {
    fn from(counts: Both<u64>) -> Self {
        Self { front: counts.front, back: counts.back }
    }
}

/// How everything stands after an entry.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct After<'a> {
    /// Rows of the piece so far.
    pub row: u64,
    /// What the row counter shows.
    pub counter: u64,
    /// The side where the carriage stands.
    pub carriage: SideWord,
    /// How the beds are set to each other.
    pub gaiting: GaitingWord,
    /// Where the racking bed stands.
    pub racking: Racking,
    /// The yarn in the feeder; null before the first.
    pub yarn: Option<&'a str>,
    /// The stitch sizes that are set.
    pub stitch_size: Sizes,
    /// Needles that carry a stitch: a loop that was cast on, or has been knitted at least once. One with two stitches
    /// on it counts once.
    pub stitches: Counts,
    /// Where every loop is.
    pub ledger: Ledger,
}

/// Where every loop that was ever made is. `made` and `brought` together are the sum of all the others.
#[derive(Debug, Clone, Copy, Default, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct Ledger {
    /// Loops made, by the carriage or by hand.
    pub made: u64,
    /// Loops of earlier pieces that came to this one on waste yarn; left out where there are none.
    #[serde(skip_serializing_if = "is_none")]
    pub brought: u64,
    /// Loops on the needles.
    pub on_needles: u64,
    /// Loops through which another loop was drawn.
    pub knitted_through: u64,
    /// Loops bound off.
    pub bound_off: u64,
    /// Loops let fall on purpose.
    pub dropped: u64,
    /// Loops taken off onto waste yarn.
    pub on_waste: u64,
    /// Loops lost by a mistake.
    pub lost: u64,
}

/// Whether there are none.
const fn is_none(count: &u64) -> bool {
    *count == 0
}

impl From<&beds::Ledger> for Ledger {
    fn from(ledger: &beds::Ledger) -> Self {
        let beds::Ledger { made, brought, on_needles, knitted_through, bound_off, dropped, on_waste, lost } = *ledger;
        Self { made, brought, on_needles, knitted_through, bound_off, dropped, on_waste, lost }
    }
}

/// What a pattern promises at a place, by the word in `about`.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[serde(tag = "about", rename_all = "lowercase")]
pub enum Promise {
    /// A number of stitches, on all the beds named together.
    Stitches {
        /// The beds.
        beds: Vec<BedWord>,
        /// How many.
        count: u64,
    },
    /// The side where the carriage stands.
    Carriage {
        /// That side.
        at: SideWord,
    },
    /// The row counter.
    Counter {
        /// What it shows.
        shows: u64,
    },
    /// How the beds are set to each other.
    Gaiting {
        /// That way.
        is: GaitingWord,
    },
    /// Where the racking bed stands.
    Racking {
        /// There.
        at: Racking,
    },
    /// How the yarn goes between the beds that are knitted in turn.
    Tube {
        /// The side where it turns back on the same bed, so that the tube is open; null where it is closed.
        open_at: Option<SideWord>,
    },
}

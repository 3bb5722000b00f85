//! What changed, as plain data. These types are also the JSON form: they change only together with
//! [`Comparison::VERSION`], whatever happens inside the compiler.

use crate::syntax::tree::SpeechWord;
#[cfg(test)]
use schemars::{JsonSchema, Schema};
use serde::{Serialize, Serializer};
#[cfg(test)]
use serde_json::{Value, json};

/// What changed from one pattern to another.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct Comparison {
    /// The version of this format; it is raised when a reader of the version before would misread it.
    pub comparison_version: u32,
    /// Whether the same is worked.
    pub verdict: Verdict,
    /// The pattern as it was.
    pub old: Pattern,
    /// The pattern as it is now.
    pub new: Pattern,
    /// What is worked otherwise: pieces, sizes, yarns, rows, settings, repeats.
    pub knitting: Vec<Change>,
    /// What is written otherwise and changes nothing that is worked by itself: titles, names, values, gauges, the
    /// machine's profile, notes, reminders, promises.
    pub words: Vec<Change>,
    /// Totals of the pieces that are not what they were.
    pub totals: Vec<Total>,
    /// What was not compared place by place because there is too much of it, in sentences. The verdict and the totals hold
    /// all the same.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub left_out: Vec<String>,
}

impl Comparison {
    /// The version of the format.
    pub const VERSION: u32 = 1;

    /// Whether the same is worked.
    #[must_use]
    pub fn is_same(&self) -> bool {
        self.verdict == Verdict::Same
    }
}

/// Whether two patterns are the same work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub enum Verdict {
    /// Every piece of every size is worked in the same way.
    #[serde(rename = "the same knitting")]
    Same,
    /// Something is worked otherwise.
    #[serde(rename = "other knitting")]
    Other,
}

/// One of the two patterns.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct Pattern {
    /// The name of its file.
    pub file: String,
    /// How many errors it has. Lines that are not understood are compared as they are written.
    pub errors: usize,
    /// How many warnings it has.
    pub warnings: usize,
}

/// What a change is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, schemars(transform = with_each_word))]
pub enum About {
    /// A line that is not understood.
    UnreadLine,
    /// The title of the pattern.
    Title,
    /// A file that is used.
    Use,
    /// A machine's profile.
    Machine,
    /// A yarn.
    Yarn,
    /// A gauge.
    Gauge,
    /// The sizes.
    Size,
    /// A value named with `let`.
    Value,
    /// A stitch.
    Stitch,
    /// A chart.
    Chart,
    /// A piece.
    Piece,
    /// A section of a piece.
    Section,
    /// Needles that are put in work, out of work, to hold or back.
    Needles,
    /// Stitch size, gaiting, racking, yarn in the feeder, carriage, counter.
    Setting,
    /// A row.
    Row,
    /// How often something is worked.
    Repeat,
    /// Stitches that are cast on, moved, added or taken off.
    Stitches,
    /// What a row or a transfer only claims or permits.
    Claim,
    /// A length that is asked for.
    Length,
    /// A reminder.
    Reminder,
    /// A promise.
    Promise,
    /// A rule that is allowed.
    Allow,
    /// What is said to the knitter with that word.
    #[serde(untagged, serialize_with = "said")]
    #[cfg_attr(test, schemars(with = "String"))]
    Said(SpeechWord),
}

fn said<S: Serializer>(word: &SpeechWord, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(word.word())
}

/// The schema has each word for what is said to the knitter, before the reminders, where the type has all of them in one.
#[cfg(test)]
fn with_each_word(schema: &mut Schema) {
    let Some(Value::Array(mut all)) = schema.remove("anyOf") else { return };
    all.pop();
    let at = all.iter().position(|about| about["const"] == "reminder").unwrap_or(all.len());
    let about = |word: &SpeechWord| json!({ "const": word.word(), "description": word.about(), "type": "string" });
    all.splice(at..at, SpeechWord::ALL.iter().map(about));
    schema.insert("oneOf".to_owned(), all.into());
}

/// What happened to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum How {
    /// It is new.
    Added,
    /// It is gone.
    Removed,
    /// It is another one.
    Changed,
    /// It is the same under another name.
    Renamed,
    /// It is the same at another place.
    Moved,
}

impl How {
    /// The same seen from the other side.
    #[must_use]
    pub const fn turned(self) -> Self {
        match self {
            Self::Added => Self::Removed,
            Self::Removed => Self::Added,
            other => other,
        }
    }
}

/// One change.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct Change {
    /// What it is about.
    pub about: About,
    /// What happened.
    pub how: How,
    /// The same in a sentence, without a full stop.
    pub what: String,
    /// The title of the piece, if it is in one; as it is now, where there are two.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub piece: Option<String>,
    /// The section of the piece, if it is in one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub section: Option<String>,
    /// The repeats it stands in, the outermost first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub repeats: Vec<InRepeat>,
    /// How it was; none for what is new.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub old: Option<Written>,
    /// How it is; none for what is gone.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub new: Option<Written>,
    /// Where in the knitting.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub rows: Vec<AtRow>,
    /// The sizes it holds for; empty when it holds for all that the two patterns share.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub sizes: Vec<String>,
    /// Sizes in which it is the same change with other needles or numbers.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub other_numbers_in: Vec<String>,
}

/// A repeat that a change stands in.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct InRepeat {
    /// The stitch that is worked, if it is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stitch: Option<String>,
    /// How often, in the new pattern where both have it: one number, or those of the sizes where they differ.
    pub times: Vec<u64>,
}

/// Something where it is written.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct Written {
    /// The file.
    pub file: String,
    /// The line, from 1.
    pub line: u32,
    /// What it is, in the words of the row sheet or of the pattern, one sentence each.
    pub text: Vec<String>,
}

/// Where in the knitting a change is, in one size. Rows are those of the piece, from 1.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct AtRow {
    /// The size; none where the pattern has no sizes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub size: Option<String>,
    /// Whether it is the row itself, the first time it comes, or what follows after it.
    pub after: bool,
    /// The row as it was.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub old: Option<u64>,
    /// The row as it is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub new: Option<u64>,
}

/// A number of a piece that is not what it was.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
#[cfg_attr(test, schemars(deny_unknown_fields))]
pub struct Total {
    /// The title of the piece.
    pub piece: String,
    /// The size; none where the pattern has no sizes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub size: Option<String>,
    /// What is counted.
    pub what: Counted,
    /// As it was.
    pub old: u64,
    /// As it is.
    pub new: u64,
}

/// What is counted of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[cfg_attr(test, derive(JsonSchema))]
pub enum Counted {
    /// Rows of the piece.
    #[serde(rename = "rows")]
    Rows,
    /// Stitches of both beds where there are most.
    #[serde(rename = "stitches at the widest")]
    Widest,
    /// Stitches of both beds after the last row.
    #[serde(rename = "stitches after the last row")]
    LastRow,
    /// Stitches left on the needles.
    #[serde(rename = "stitches left on the needles")]
    Left,
}

impl Counted {
    /// What it is called on a page.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Rows => "rows",
            Self::Widest => "stitches at the widest",
            Self::LastRow => "stitches after the last row",
            Self::Left => "stitches left on the needles",
        }
    }
}

/// The JSON Schema of a comparison (draft 2020-12), made from the types that are written; what programs are given of it is
/// `grammar/compare.schema.json`.
#[cfg(test)]
pub(crate) fn schema() -> serde_json::Value {
    let settings = schemars::generate::SchemaSettings::draft2020_12().for_serialize();
    settings.into_generator().into_root_schema_for::<Comparison>().to_value()
}

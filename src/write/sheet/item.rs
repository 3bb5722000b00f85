//! What a sheet says, before it is laid out: rows, things to do between them, counts, repeats.
//!
//! Items can be [`alike`](Item::alike): they say the same but for row numbers, counters and the carriage's side. That is
//! how passes of a repeat are found to be the same work.

use super::row::RowText;
use crate::beds::{Both, Side};
use crate::knitted::Stood;

/// Where the work stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Mark {
    /// Rows so far.
    pub(super) row: u64,
    /// What the counter shows.
    pub(super) counter: u64,
    /// Where the carriage stands.
    pub(super) carriage: Side,
}

impl Mark {
    pub(super) const fn of(stood: &Stood) -> Self {
        Self { row: stood.row, counter: stood.counter, carriage: stood.carriage }
    }
}

/// A reminder that falls due in some rows of an item.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Due {
    /// Its words.
    pub(super) text: String,
    /// How many rows into the item it is due first, from 1.
    pub(super) first: u64,
    /// Rows from one time to the next.
    pub(super) every: u64,
    /// How often.
    pub(super) times: u64,
}

/// What is to be remembered with an item.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Reminders {
    /// In rows of the item.
    pub(super) due: Vec<Due>,
    /// In the row after it.
    pub(super) ahead: Vec<String>,
}

impl Reminders {
    pub(super) fn is_empty(&self) -> bool {
        self.due.is_empty() && self.ahead.is_empty()
    }
}

/// Rows in a run, all of the same work, or of two works in turn.
#[derive(Debug, Clone)]
pub(super) struct Rows {
    /// The one work, or the two.
    pub(super) texts: Vec<RowText>,
    /// How many rows.
    pub(super) count: u64,
    /// Before the first of them.
    pub(super) before: Mark,
    /// After the last of them.
    pub(super) after: Mark,
    /// What to remember.
    pub(super) reminders: Reminders,
}

/// A sentence between two rows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Something to be done on the machine.
    Change,
    /// A note, a named place, a rounding.
    Note,
    /// A promise to be checked.
    Check,
}

/// Work that comes several times.
#[derive(Debug, Clone)]
pub(super) struct Loop {
    /// The stitch, if it is one.
    pub(super) name: Option<String>,
    /// The work of the first time.
    pub(super) items: Vec<Item>,
    /// How often in all.
    pub(super) times: u64,
    /// Before the first time.
    pub(super) before: Mark,
    /// After the first time.
    pub(super) first_after: Mark,
    /// After the last time.
    pub(super) after: Mark,
    /// What to remember on the way.
    pub(super) reminders: Reminders,
}

impl Loop {
    /// Whether something is done on the machine before its first row, each time.
    pub(super) fn begins_with_a_change(&self) -> bool {
        let first =
            self.items.iter().find(|item| !matches!(item, Item::Section(_) | Item::Say(Kind::Note | Kind::Check, ..)));
        match first {
            Some(Item::Say(..) | Item::FreePass { .. }) => true,
            Some(Item::Loop(inner)) => inner.begins_with_a_change(),
            _ => false,
        }
    }
}

/// Rows written before that come again.
#[derive(Debug, Clone)]
pub(super) struct Again {
    /// Before the rows that come again.
    pub(super) from: Mark,
    /// After them.
    pub(super) to: Mark,
    /// How often they come again.
    pub(super) times: u64,
    /// Before they come again.
    pub(super) before: Mark,
    /// After they came again for the last time.
    pub(super) after: Mark,
    /// What to remember on the way.
    pub(super) reminders: Reminders,
}

/// One thing that the sheet says.
#[derive(Debug, Clone)]
pub(super) enum Item {
    /// Rows.
    Rows(Rows),
    /// A sentence; where the work stands.
    Say(Kind, String, Mark),
    /// The carriage goes across without yarn.
    FreePass {
        /// Before it.
        before: Mark,
        /// After it.
        after: Mark,
    },
    /// How many stitches there are now.
    Counts(Both<u64>, Mark),
    /// A section begins.
    Section(String),
    /// A section ends, with how many stitches there are then.
    SectionEnd(String, Both<u64>, Mark),
    /// A repeat.
    Loop(Loop),
    /// A reference to rows above.
    Again(Again),
}

impl Item {
    /// Whether the two say the same but for row numbers, counters and sides.
    pub(super) fn alike(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Rows(one), Self::Rows(two)) => {
                one.texts == two.texts && one.count == two.count && one.reminders == two.reminders
            }
            (Self::Say(kind, text, _), Self::Say(other_kind, other_text, _)) => {
                kind == other_kind && text == other_text
            }
            (Self::FreePass { .. }, Self::FreePass { .. }) => true,
            (Self::Counts(one, _), Self::Counts(two, _)) => one == two,
            (Self::Section(one), Self::Section(two)) => one == two,
            (Self::SectionEnd(one, counts, _), Self::SectionEnd(two, other_counts, _)) => {
                one == two && counts == other_counts
            }
            (Self::Loop(one), Self::Loop(two)) => {
                one.name == two.name
                    && one.times == two.times
                    && one.reminders == two.reminders
                    && all_alike(&one.items, &two.items)
            }
            // These name rows by their numbers, so each stands for itself.
            _ => false,
        }
    }

    /// The rows it is about: from after the first number up to the second. None for what is said between rows.
    pub(super) const fn row_range(&self) -> Option<(u64, u64)> {
        let (before, after) = match self {
            Self::Rows(rows) => (rows.before.row, rows.after.row),
            Self::Loop(repeat) => (repeat.before.row, repeat.after.row),
            Self::Again(again) => (again.before.row, again.after.row),
            _ => return None,
        };
        if after > before { Some((before, after)) } else { None }
    }

    /// Where the work stands after it, if it says so.
    pub(super) const fn after(&self) -> Option<Mark> {
        match self {
            Self::Rows(rows) => Some(rows.after),
            Self::Loop(repeat) => Some(repeat.after),
            Self::Again(again) => Some(again.after),
            Self::Say(_, _, mark)
            | Self::Counts(_, mark)
            | Self::SectionEnd(_, _, mark)
            | Self::FreePass { after: mark, .. } => Some(*mark),
            Self::Section(_) => None,
        }
    }

    /// What to remember with it, where rows are.
    pub(super) const fn reminders_mut(&mut self) -> Option<&mut Reminders> {
        match self {
            Self::Rows(rows) => Some(&mut rows.reminders),
            Self::Loop(repeat) => Some(&mut repeat.reminders),
            Self::Again(again) => Some(&mut again.reminders),
            _ => None,
        }
    }

    /// Whether something is to be done on the machine before its first row.
    pub(super) fn wants_a_stop(&self) -> bool {
        match self {
            Self::Say(kind, ..) => *kind != Kind::Note,
            Self::FreePass { .. } => true,
            Self::Rows(rows) => rows.texts.first().is_some_and(|text| text.size.is_some() || !text.is_plain()),
            Self::Loop(repeat) => repeat.items.first().is_some_and(Self::wants_a_stop),
            Self::Counts(..) | Self::Section(_) | Self::SectionEnd(..) | Self::Again(_) => false,
        }
    }
}

/// Whether two lists of items say the same but for row numbers, counters and sides.
pub(super) fn all_alike(one: &[Item], two: &[Item]) -> bool {
    one.len() == two.len() && one.iter().zip(two).all(|(one, two)| one.alike(two))
}

//! What the sheet says of one operation, for those who say it elsewhere: the same work is said with the same words.

pub(crate) use super::spoken::{promise, speech};

use super::change;
use super::row::RowText;
use crate::beds::{Operation, Outcome};
use crate::knitted::Done;

/// One operation in the words of the sheet.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Said {
    /// Whether it is a row.
    pub(crate) is_row: bool,
    /// What kind of row it is, if it is no plain one: `zigzag cast-on`.
    pub(crate) title: Option<&'static str>,
    /// A size for this row only: `loosen both beds to stitch size 8`.
    pub(crate) size: Option<String>,
    /// Whole sentences: what the beds do, or what is done between two rows, without the advice that goes with it every
    /// time. Empty where nothing changes.
    pub(crate) lines: Vec<String>,
}

/// An operation in the words of the sheet.
pub(crate) fn said(done: Done<'_>) -> Said {
    let of_row = |text: RowText| {
        let lines = std::iter::once(text.work).chain(text.also).collect();
        Said { is_row: true, title: text.title, size: text.size.map(|size| size.set), lines }
    };
    match (done.operation(), done.outcome()) {
        // The sheet is for patterns in which there is something to do.
        (operation, Outcome::Handled(handled)) if handled.made.is_empty() && handled.taken.is_empty() => {
            let is_row = handled.by_carriage && matches!(operation, Operation::CastOn(..));
            Said { is_row, ..Said::default() }
        }
        (Operation::Row(row), Outcome::Row(worked)) => of_row(RowText::of_row(row, worked, done.after)),
        (Operation::CastOn(how, _), Outcome::Handled(handled)) if handled.by_carriage => {
            // How the comb is hung goes with every cast-on, and tells none from another.
            of_row(RowText { also: Vec::new(), ..RowText::of_cast_on(*how, handled) })
        }
        (_, Outcome::FreePass) => {
            let to = done.after.carriage;
            Said { lines: vec![format!("Free pass: the carriage goes to the {to} without yarn.")], ..Said::default() }
        }
        _ => {
            let mut lines = change::told(done).0;
            lines.retain(|line| !change::ADVICE.contains(&line.as_str()));
            Said { lines, ..Said::default() }
        }
    }
}

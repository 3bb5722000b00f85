//! How the beds stand right after a row, and how to get back to it: for a piece that was left, or that came off.

mod follow;
mod loops;
mod picture;
#[cfg(test)]
mod tests;
mod text;

use crate::clean;
use crate::plan::program::{Piece, Program};
use crate::play::{Manner, Stop, Watcher, play};
use crate::source::{Sources, Span};
use crate::words::{count, list};
use follow::Follower;

/// The state of the beds after a row, as text. The spans of the programs must be of `sources`.
///
/// Rows are those of the piece, from 1. Passes that are known are counted and not played, so that the last row of a
/// billion costs no more than the tenth.
///
/// # Errors
/// A sentence for the knitter, with what there is instead: where the piece has no such row, and where it is not clear
/// which piece or size is meant.
pub fn write(programs: &[&Program], sources: &Sources, piece: Option<&str>, row: u64) -> Result<String, String> {
    let (program, piece) = the_one(programs, piece)?;
    if row == 0 {
        let what_there_is = what_there_is(piece, rows_of(piece)?);
        return Err(format!("row 0 is before the first row, where nothing is set up yet. {what_there_is}"));
    }
    let mut here = Follower::default();
    let (state, stop) = play(piece, up_to(row), &mut here);
    let made = match (stop, here.last_row) {
        (Some(Stop::RowReached), Some(made)) => made,
        (None, _) => return Err(format!("there is no row {row}. {}", what_there_is(piece, state.row))),
        (Some(stop), _) => return Err(ended_early(piece, stop, state.row)),
    };
    Ok(text::text(&Place {
        program,
        piece,
        sources,
        state: &state,
        made,
        sections: &here.sections,
        passes: here.passes(),
        next: next(piece, row),
    }))
}

/// How the beds stand, in words and as a picture, without a row that led there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Standing {
    /// Each setting of the machine with its name, and what each bed carries.
    pub settings: Vec<(&'static str, String)>,
    /// One sentence for the needles that carry more than one fresh stitch.
    pub waiting: Vec<String>,
    /// Both beds drawn in text, a part for every so many needles; empty where no needle is in use.
    pub picture: Vec<String>,
    /// What the marks of the picture mean.
    pub marks: String,
}

/// How the beds of a piece stand. The state must be one of its play.
#[must_use]
pub fn standing(program: &Program, piece: &Piece, state: &crate::beds::State) -> Standing {
    let picture = picture::parts(&piece.machine, state);
    Standing {
        settings: text::settings(program, state),
        waiting: loops::waiting(state),
        marks: picture::marks(&picture),
        picture,
    }
}

/// A row that was reached, and everything to be told of it.
struct Place<'a> {
    program: &'a Program,
    piece: &'a Piece,
    sources: &'a Sources,
    /// The beds after it.
    state: &'a crate::beds::State,
    /// The statement that made it.
    made: Span,
    /// The sections it stands in, the outermost first.
    sections: &'a [String],
    /// The passes of the repeats it stands in, in words, the innermost first.
    passes: Vec<String>,
    /// What follows; none where it cannot be told.
    next: Option<Next>,
}

/// What follows a row.
struct Next {
    /// The statements between it and the next row, or the end.
    between: Vec<Span>,
    /// The statement that makes the next row; none after the last one.
    row: Option<Span>,
}

/// Plays on to the next row, from the start again: that costs little, and a state cannot be taken up in the middle.
fn next(piece: &Piece, row: u64) -> Option<Next> {
    let mut ahead = Follower::default();
    match play(piece, up_to(row.checked_add(1)?), &mut ahead).1 {
        Some(Stop::RowReached) => Some(Next { between: ahead.before_the_last_row, row: ahead.last_row }),
        None => Some(Next { between: ahead.since_the_last_row, row: None }),
        Some(_) => None,
    }
}

/// The one piece that is meant.
fn the_one<'p>(programs: &[&'p Program], piece: Option<&str>) -> Result<(&'p Program, &'p Piece), String> {
    let fitting: Vec<(&Program, &Piece)> = programs
        .iter()
        .flat_map(|program| program.pieces.iter().map(move |piece| (*program, piece)))
        .filter(|(_, known)| piece.is_none_or(|title| known.title == title))
        .collect();
    if let [one] = fitting.as_slice() {
        return Ok(*one);
    }
    let mut titles: Vec<String> = Vec::new();
    let mut sizes: Vec<String> = Vec::new();
    for (program, piece) in &fitting {
        let title = format!("\"{}\"", clean::line(&piece.title));
        if !titles.contains(&title) {
            titles.push(title);
        }
        let size = program.size.as_deref().map(|size| clean::line(size).into_owned());
        sizes.extend(size.filter(|size| !sizes.contains(size)));
    }
    let choice = |what: &str, option: &str, all: &[String]| {
        (all.len() > 1).then(|| format!("The pattern has {what} {}: name one with {option}.", list(all)))
    };
    let choices = [choice("the sizes", "--size", &sizes), choice("the pieces", "--piece", &titles)];
    let choices: Vec<String> = choices.into_iter().flatten().collect();
    Err(match (fitting.is_empty(), choices.is_empty()) {
        (true, _) => "there is no piece to look at. Add one to the pattern, or name one that it has.".to_owned(),
        (false, false) => format!("the row of one piece can be shown. {}", choices.join(" ")),
        (false, true) => {
            format!("the pattern has {} pieces {}. Give each a title of its own.", fitting.len(), list(&titles))
        }
    })
}

/// How to play up to a row.
const fn up_to(row: u64) -> Manner {
    Manner { until_row: Some(row), ..Manner::TELL }
}

/// How many rows a piece has.
fn rows_of(piece: &Piece) -> Result<u64, String> {
    struct Nobody;
    impl Watcher for Nobody {}
    let (state, stop) = play(piece, Manner::CHECK, &mut Nobody);
    stop.map_or(Ok(state.row), |stop| Err(ended_early(piece, stop, state.row)))
}

fn what_there_is(piece: &Piece, rows: u64) -> String {
    let title = clean::line(&piece.title);
    match rows {
        0 => format!("The piece \"{title}\" has no rows."),
        1 => format!("The piece \"{title}\" has one row: ask for row 1."),
        rows => format!("The piece \"{title}\" has {rows} rows: ask for one from 1 to {rows}."),
    }
}

fn ended_early(piece: &Piece, stop: Stop, row: u64) -> String {
    let title = clean::line(&piece.title);
    let followed = format!("the piece \"{title}\" can be followed for {} only", count(row, "row", "rows"));
    match stop {
        Stop::Jammed => format!(
            "{followed}: a needle carries more loops there than any machine could knit. Mend what `wale check` finds \
             first."
        ),
        Stop::TooLong => format!(
            "{followed}: that far it takes {} operations, and no more are played. Ask for an earlier row.",
            Manner::MOST_OPERATIONS
        ),
        Stop::NotUnderstood => {
            format!("{followed}: the line after that could not be understood. Mend what `wale check` finds first.")
        }
        Stop::RowReached | Stop::Enough => format!("{followed}. Ask for one of these."),
    }
}

//! How the beds stand right after a row, and how to get back to it: for a piece that was left, or that came off.

mod find;
mod loops;
mod picture;
#[cfg(test)]
mod tests;
mod text;

use crate::beds::State;
use crate::clean;
use crate::knitted::{Asked, follow};
use crate::plan::program::{Piece, Program};
use crate::play::{Flow, Manner, Stop};
use crate::source::{Sources, Span};
use crate::tell::Screen;
use crate::words::{count, list};
use find::{Finder, Reached};

/// The state of the beds after a row, as text, as wide as can be. The spans of the programs must be of `sources`.
///
/// Rows are those of the piece, from 1; 0 is right before the first one. Passes that are known are counted and not played, so that the last row of a
/// billion costs no more than the tenth.
///
/// # Errors
/// A sentence for the knitter, with what there is instead: where the piece has no such row, and where it is not clear
/// which piece or size is meant.
pub fn write(programs: &[&Program], sources: &Sources, piece: Option<&str>, row: u64) -> Result<String, String> {
    write_on(programs, sources, piece, row, Screen::default())
}

/// The same on a screen.
///
/// # Errors
/// As those of [`write()`].
pub fn write_on(
    programs: &[&Program],
    sources: &Sources,
    piece: Option<&str>,
    row: u64,
    screen: Screen,
) -> Result<String, String> {
    let (program, piece) = the_one(programs, piece)?;
    // To the row after it, so that what follows is known as well.
    let manner = Manner { until_row: Some(row.saturating_add(1)), ..Manner::TELL };
    let mut finder = Finder::of(row);
    let ended = follow(piece, Asked { manner, state_after: Some(row), ..Asked::TELL }, &mut |part| {
        finder.add(&part.entries);
        Flow::Continue(())
    });
    let (before, since) = (finder.before_the_last_row, finder.since_the_last_row);
    let (set_up, next) = match ended.stop {
        Some(Stop::RowReached) if row == 0 => (before, Some(Next { between: Vec::new(), row: finder.last_row })),
        Some(Stop::RowReached) => (Vec::new(), Some(Next { between: before, row: finder.last_row })),
        None => (Vec::new(), Some(Next { between: since, row: None })),
        Some(_) => (Vec::new(), None),
    };
    match (finder.reached, ended.kept, ended.stop) {
        (Some(reached), Some(state), _) => {
            Ok(text::text(&Place { program, piece, sources, reached, state: &state, set_up, next }, screen))
        }
        (_, _, None) if row == 0 => {
            Err(format!("there is no first row to stand before. {}", what_there_is(piece, ended.end.row)))
        }
        (_, _, None) => Err(format!("there is no row {row}. {}", what_there_is(piece, ended.end.row))),
        (_, _, Some(stop)) => Err(ended_early(piece, stop, ended.end.row)),
    }
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
pub fn standing(program: &Program, piece: &Piece, state: &State) -> Standing {
    let picture = picture::parts(&piece.machine, state, Screen::WIDEST);
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
    /// What is to be known of the row itself.
    reached: Reached,
    /// The beds after it.
    state: &'a State,
    /// The statements before the first row, each once, where that is asked for; else none.
    set_up: Vec<Span>,
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
            "{followed}: that far it takes {}, and no more are played. Ask for an earlier row.",
            crate::words::total_of(Manner::MOST_OPERATIONS, "operation", "operations")
        ),
        Stop::NotUnderstood => {
            format!("{followed}: the line after that could not be understood. Mend what `wale check` finds first.")
        }
        Stop::RowReached | Stop::Enough => format!("{followed}. Ask for one of these."),
    }
}

//! `wale at`: the state of the beds at a row, to find the way back to it.

use super::streams::Streams;
use super::{EXIT_CODES, Outcome, PartArguments, read, work};
use std::ffi::{OsStr, OsString};
use std::io;
use std::path::Path;
use wale::Checked;
use wale::clean;
use wale::write::at;

/// Shows how the beds stand after a row, and how to get back to it.
///
/// For a piece that was left, or that came off the needles: which needles are in work, what each one carries, where the
/// carriage stands and what the row counter shows. Row 0 shows how everything stands before the first row.
#[derive(Debug, clap::Args)]
#[command(after_long_help = EXIT_CODES)]
pub(crate) struct Arguments {
    /// The row of the piece, from 1, or 0 for before the first one, and the pattern file, in either order; `-` is standard input.
    #[arg(required = true, num_args = 1.., value_names = ["ROW", "FILE"], allow_negative_numbers = true)]
    words: Vec<OsString>,
    #[command(flatten)]
    part: PartArguments,
}

/// Reads the pattern and writes the state at the row, or why there is no such row.
///
/// # Errors
/// Those of the streams.
pub(crate) fn run(arguments: &Arguments, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    let read = row_and_file(&arguments.words)
        .and_then(|(row, file)| work::checked(file, streams).map(|checked| (row, checked)));
    match read {
        Ok((row, checked)) => write(&checked, row, &arguments.part, streams),
        Err(said) => work::refuse(&said, streams),
    }
}

/// Which of the words is the row, and which the file. A file may have a number for its name; then the row comes first, unless
/// only that can be read as a file.
///
/// # Errors
/// A sentence for the knitter.
fn row_and_file(words: &[OsString]) -> Result<(u64, &Path), String> {
    const SAMPLE: &str = "such as `wale at 48 scarf.wale`";
    let [one, other] = words else {
        return Err(match words {
            [only] if number(only).is_some() => {
                format!("row {} of which pattern? Give the file as well, {SAMPLE}.", shown(only))
            }
            [only] => format!("which row of {} is meant? Give it as well, {SAMPLE}.", quoted(only)),
            _ => format!("one row of one pattern is shown at a time, {SAMPLE}. These are {} words.", words.len()),
        });
    };
    let there = |word: &OsString| word == read::DASH || Path::new(word).exists();
    match (number(one), number(other)) {
        (Some(row), None) => Ok((row, Path::new(other))),
        (None, Some(row)) => Ok((row, Path::new(one))),
        (Some(_), Some(row)) if there(one) && !there(other) => Ok((row, Path::new(one))),
        (Some(row), Some(_)) => Ok((row, Path::new(other))),
        (None, None) => {
            let is_file = |word: &OsString| there(word) || word.to_string_lossy().ends_with(".wale");
            let row = if is_file(one) && !is_file(other) { other } else { one };
            let why = match row.to_str() {
                Some(digits) if !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit()) => {
                    "is more than the rows of any pattern: give a smaller one"
                }
                _ => "is no row: a row is a whole number, written in digits alone",
            };
            Err(format!("{} {why}, {SAMPLE}.", quoted(row)))
        }
    }
}

/// A row; none where the word is no number that one can have.
fn number(word: &OsStr) -> Option<u64> {
    // The library takes a sign before the number; a row has none.
    word.to_str().filter(|word| word.bytes().all(|byte| byte.is_ascii_digit()))?.parse().ok()
}

fn shown(word: &OsStr) -> String {
    clean::line(&word.to_string_lossy()).into_owned()
}

fn quoted(word: &OsStr) -> String {
    format!("`{}`", shown(word))
}

fn write(checked: &Checked, row: u64, part: &PartArguments, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    let screen = streams.output_screen;
    work::write(checked, part, streams, |chosen| {
        at::write_on(&chosen.programs, &checked.sources, chosen.piece, row, screen)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::streams::tried;
    use crate::command::work::tests::two_sizes;

    #[test]
    fn a_file_that_is_not_there_is_named() {
        let arguments = Arguments { words: vec!["3".into(), "no-such.wale".into()], part: PartArguments::default() };
        let (outcome, output, report) = tried("", |streams| run(&arguments, streams));
        assert_eq!((outcome, output.as_str()), (Outcome::WrongUse, ""));
        assert!(report.starts_with("wale: there is no file `no-such.wale`."), "{report}");
    }

    #[test]
    fn the_row_and_the_file_come_in_either_order() {
        let told = |words: &[&str]| {
            let words: Vec<OsString> = words.iter().map(OsString::from).collect();
            row_and_file(&words).map(|(row, file)| (row, file.to_string_lossy().into_owned()))
        };
        let scarf = || Ok((48, "scarf.wale".to_owned()));
        assert_eq!((told(&["48", "scarf.wale"]), told(&["scarf.wale", "48"])), (scarf(), scarf()));
        assert_eq!((told(&["-", "0"]), told(&["7", "12"])), (Ok((0, "-".to_owned())), Ok((7, "12".to_owned()))));
        for (words, row) in [
            (&["scarf.wale", "fourty"][..], "fourty"),
            (&["4 8", "scarf.wale"], "4 8"),
            (&["Cargo.toml", "+48"], "+48"),
            (&["-1", "scarf.wale"], "-1"),
            (&["1.5", "scarf.wale"], "1.5"),
            (&["", "scarf.wale"], ""),
        ] {
            let said = told(words).expect_err("it is no row");
            let expected = format!(
                "`{row}` is no row: a row is a whole number, written in digits alone, such as `wale at 48 scarf.wale`."
            );
            assert_eq!(said, expected);
        }
        let said = told(&["scarf.wale", "18446744073709551616"]).expect_err("there is no such row");
        assert!(
            said.starts_with(
                "`18446744073709551616` is more than the rows of any pattern: give a smaller one, such as"
            ),
            "{said}"
        );
        let said = told(&["scarf.wale"]).expect_err("there is no row");
        assert_eq!(said, "which row of `scarf.wale` is meant? Give it as well, such as `wale at 48 scarf.wale`.");
        let said = told(&["48"]).expect_err("there is no file");
        assert_eq!(said, "row 48 of which pattern? Give the file as well, such as `wale at 48 scarf.wale`.");
        assert!(told(&["row", "48", "scarf.wale"]).is_err_and(|said| said.contains("These are 3 words")));
    }

    #[test]
    fn a_row_that_there_is_not_is_wrong_use() {
        let part = PartArguments { size: Some("long".into()), piece: Some("Sleeve".into()) };
        let (outcome, output, report) = tried("", |streams| write(&two_sizes(), 3, &part, streams));
        assert_eq!((outcome, output.as_str()), (Outcome::WrongUse, ""));
        assert_eq!(report, "wale: there is no row 3. The piece \"Sleeve\" has no rows.\n");
        let (outcome, _, report) = tried("", |streams| write(&two_sizes(), 3, &PartArguments::default(), streams));
        assert_eq!(outcome, Outcome::WrongUse);
        assert!(report.contains("the sizes short and long: name one with --size"), "{report}");
        assert!(report.contains("the pieces \"Back\" and \"Sleeve\": name one with --piece"), "{report}");
    }
}

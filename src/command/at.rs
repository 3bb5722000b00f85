//! `wale at`: the state of the beds at a row, to find the way back to it.

use super::streams::Streams;
use super::work::{self, Chosen};
use super::{EXIT_CODES, Outcome, PartArguments};
use std::io;
use std::path::PathBuf;

/// Shows how the beds stand after a row, and how to get back to it.
///
/// For a piece that was left, or that came off the needles: which needles are in work, what each one carries, where the
/// carriage stands and what the row counter shows.
#[derive(Debug, clap::Args)]
#[command(after_long_help = EXIT_CODES)]
pub(crate) struct Arguments {
    /// The row of the piece; 0 is before the first one.
    #[arg(value_name = "ROW")]
    row: u64,
    /// The pattern file; `-` is standard input.
    #[arg(value_name = "FILE")]
    file: PathBuf,
    #[command(flatten)]
    part: PartArguments,
}

/// Reads the pattern and writes the state at the row with `at`, the writer of the library, which refuses in a sentence a
/// row that there is not.
///
/// # Errors
/// Those of the streams.
pub(crate) fn run(
    arguments: &Arguments,
    streams: &mut Streams<'_>,
    at: impl FnOnce(&Chosen<'_>, u64) -> Result<String, String>,
) -> io::Result<Outcome> {
    match work::checked(&arguments.file, streams) {
        Ok(checked) => work::write(&checked, &arguments.part, streams, |chosen| at(chosen, arguments.row)),
        Err(said) => work::refuse(&said, streams),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::streams::tried;

    #[test]
    fn a_file_that_is_not_there_is_named() {
        let arguments = Arguments { row: 3, file: "no-such.wale".into(), part: PartArguments::default() };
        let (outcome, output, report) = tried("", |streams| run(&arguments, streams, |_, _| Ok(String::new())));
        assert_eq!((outcome, output.as_str()), (Outcome::WrongUse, ""));
        assert!(report.starts_with("wale: there is no file `no-such.wale`."), "{report}");
    }
}

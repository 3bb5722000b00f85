//! `wale at`: the state of the beds at a row, to find the way back to it.

use super::streams::Streams;
use super::{EXIT_CODES, Outcome, PartArguments, work};
use std::io;
use std::path::PathBuf;
use wale::Checked;
use wale::write::at;

/// Shows how the beds stand after a row, and how to get back to it.
///
/// For a piece that was left, or that came off the needles: which needles are in work, what each one carries, where the
/// carriage stands and what the row counter shows.
#[derive(Debug, clap::Args)]
#[command(after_long_help = EXIT_CODES)]
pub(crate) struct Arguments {
    /// The row of the piece, from 1.
    #[arg(value_name = "ROW")]
    row: u64,
    /// The pattern file; `-` is standard input.
    #[arg(value_name = "FILE")]
    file: PathBuf,
    #[command(flatten)]
    part: PartArguments,
}

/// Reads the pattern and writes the state at the row, or why there is no such row.
///
/// # Errors
/// Those of the streams.
pub(crate) fn run(arguments: &Arguments, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    match work::checked(&arguments.file, streams) {
        Ok(checked) => write(&checked, arguments.row, &arguments.part, streams),
        Err(said) => work::refuse(&said, streams),
    }
}

fn write(checked: &Checked, row: u64, part: &PartArguments, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    work::write(checked, part, streams, |chosen| at::write(&chosen.programs, &checked.sources, chosen.piece, row))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::streams::tried;
    use crate::command::work::tests::two_sizes;

    #[test]
    fn a_file_that_is_not_there_is_named() {
        let arguments = Arguments { row: 3, file: "no-such.wale".into(), part: PartArguments::default() };
        let (outcome, output, report) = tried("", |streams| run(&arguments, streams));
        assert_eq!((outcome, output.as_str()), (Outcome::WrongUse, ""));
        assert!(report.starts_with("wale: there is no file `no-such.wale`."), "{report}");
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

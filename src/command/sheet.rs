//! `wale sheet`: the row sheet that a knitter works from.

use super::streams::{self, Streams};
use super::work;
use super::{EXIT_CODES, Outcome, PartArguments};
use std::io;
use std::path::PathBuf;
use wale::write::sheet;

/// Writes the row sheet of a pattern, to be worked from at the machine.
///
/// The sheet says in plain words what to do in every row. Nothing is written while the pattern has errors. The sheet does
/// not replace the manual of the machine, which always comes first.
#[derive(Debug, clap::Args)]
#[command(after_long_help = EXIT_CODES)]
pub(crate) struct Arguments {
    /// The pattern file; `-` is standard input.
    #[arg(value_name = "FILE")]
    file: PathBuf,
    #[command(flatten)]
    part: PartArguments,
}

/// Reads the pattern and writes its sheet.
///
/// # Errors
/// Those of the streams.
pub(crate) fn run(arguments: &Arguments, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    match work::checked(&arguments.file, streams) {
        Ok(checked) => work::stream(&checked, &arguments.part, streams, |chosen, output, _| {
            streams::until_left(output, |out| sheet::write(out, &chosen.programs, chosen.piece)).map(Ok)
        }),
        Err(said) => work::refuse(&said, streams),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::streams::tried;

    #[test]
    fn a_file_that_is_not_there_is_named() {
        let arguments = Arguments { file: "no-such.wale".into(), part: PartArguments::default() };
        let (outcome, output, report) = tried("", |streams| run(&arguments, streams));
        assert_eq!((outcome, output.as_str()), (Outcome::WrongUse, ""));
        assert!(report.starts_with("wale: there is no file `no-such.wale`."), "{report}");
    }

    #[test]
    fn a_pattern_without_a_piece_has_no_sheet() {
        let arguments = Arguments { file: "-".into(), part: PartArguments::default() };
        let (outcome, output, report) = tried("pattern \"Breakwater\"\n", |streams| run(&arguments, streams));
        assert_eq!((outcome, output.as_str()), (Outcome::WrongUse, ""));
        assert!(report.contains("has no piece"), "{report}");
    }
}

//! `wale sheet`: the row sheet that a knitter works from.

use super::streams::Streams;
use super::work::{self, Chosen};
use super::{EXIT_CODES, Outcome, PartArguments};
use std::io;
use std::path::PathBuf;

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

/// Reads the pattern and writes its sheet with `sheet`, the writer of the library.
///
/// # Errors
/// Those of the streams.
pub(crate) fn run(
    arguments: &Arguments,
    streams: &mut Streams<'_>,
    sheet: impl FnOnce(&Chosen<'_>) -> String,
) -> io::Result<Outcome> {
    match work::checked(&arguments.file, streams) {
        Ok(checked) => work::write(&checked, &arguments.part, streams, |chosen| Ok(sheet(chosen))),
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
        let (outcome, output, report) = tried("", |streams| run(&arguments, streams, |_| String::new()));
        assert_eq!((outcome, output.as_str()), (Outcome::WrongUse, ""));
        assert!(report.starts_with("wale: there is no file `no-such.wale`."), "{report}");
    }
}

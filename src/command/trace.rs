//! `wale trace`: every operation, for programs.

use super::streams::Streams;
use super::work::{self, Chosen};
use super::{EXIT_CODES, Outcome, PartArguments};
use std::io;
use std::path::PathBuf;

/// Writes every operation of a pattern as JSON, for programs.
///
/// Nothing is written while the pattern has errors.
#[derive(Debug, clap::Args)]
#[command(after_long_help = EXIT_CODES)]
pub(crate) struct Arguments {
    /// The pattern file; `-` is standard input.
    #[arg(value_name = "FILE")]
    file: PathBuf,
    #[command(flatten)]
    part: PartArguments,
}

/// Reads the pattern and writes its trace with `trace`, the writer of the library.
///
/// # Errors
/// Those of the streams.
pub(crate) fn run(
    arguments: &Arguments,
    streams: &mut Streams<'_>,
    trace: impl FnOnce(&Chosen<'_>) -> String,
) -> io::Result<Outcome> {
    match work::checked(&arguments.file, streams) {
        Ok(checked) => work::write(&checked, &arguments.part, streams, |chosen| Ok(trace(chosen))),
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

//! `wale trace`: every operation, for programs.

use super::streams::{self, Streams};
use super::{EXIT_CODES, Outcome, PartArguments, work};
use std::io;
use std::path::PathBuf;
use wale::Checked;
use wale::write::trace;

/// Writes every operation of a pattern as JSON, for programs.
///
/// One operation stands on one line: what is done with which needles, where in the pattern that is written, and how
/// everything stands afterwards. Repeats are played out. Nothing is written while the pattern has errors.
#[derive(Debug, clap::Args)]
#[command(after_long_help = EXIT_CODES)]
pub(crate) struct Arguments {
    /// The pattern file; `-` is standard input.
    #[arg(value_name = "FILE")]
    file: PathBuf,
    #[command(flatten)]
    part: PartArguments,
}

/// Reads the pattern and writes its trace, operation by operation.
///
/// # Errors
/// Those of the streams.
pub(crate) fn run(arguments: &Arguments, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    match work::checked(&arguments.file, streams) {
        Ok(checked) => write(&checked, &arguments.part, streams),
        Err(said) => work::refuse(&said, streams),
    }
}

fn write(checked: &Checked, part: &PartArguments, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    work::stream(checked, part, streams, |chosen, output, report| {
        if let Some(said) = trace::warning(&chosen.programs, chosen.piece) {
            writeln!(report, "wale: {said}")?;
        }
        streams::until_left(output, |out| trace::write(out, &chosen.programs, &checked.sources, chosen.piece)).map(Ok)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::streams::tried;
    use crate::command::work::tests::two_sizes;

    #[test]
    fn a_file_that_is_not_there_is_named() {
        let arguments = Arguments { file: "no-such.wale".into(), part: PartArguments::default() };
        let (outcome, output, report) = tried("", |streams| run(&arguments, streams));
        assert_eq!((outcome, output.as_str()), (Outcome::WrongUse, ""));
        assert!(report.starts_with("wale: there is no file `no-such.wale`."), "{report}");
    }

    #[test]
    fn the_chosen_part_is_written() {
        let part = PartArguments { size: Some("long".into()), piece: Some("Sleeve".into()) };
        let (outcome, output, report) = tried("", |streams| write(&two_sizes(), &part, streams));
        assert_eq!((outcome, report.as_str()), (Outcome::Clean, ""));
        let read: serde_json::Value = serde_json::from_str(&output).expect("a trace is JSON");
        assert_eq!(read["sizes"].as_array().map(Vec::len), Some(1));
        assert_eq!(read["sizes"][0]["size"], "long");
        assert_eq!(read["sizes"][0]["pieces"].as_array().map(Vec::len), Some(1));
        assert_eq!(read["sizes"][0]["pieces"][0]["piece"], "Sleeve");
    }
}

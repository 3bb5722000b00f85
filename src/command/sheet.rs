//! `wale sheet`: the row sheet that a knitter works from.

use super::streams::Streams;
use super::work;
use super::{EXIT_CODES, Outcome, PartArguments};
use std::io;
use std::path::PathBuf;
use wale::plan::program::Program;
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
    let checked = match work::checked(&arguments.file, streams) {
        Ok(checked) => checked,
        Err(said) => return work::refuse(&said, streams),
    };
    let part = &arguments.part;
    // The sheet goes out line by line and is never held as a whole, so the choice is made first and the text follows.
    let mut allowed = false;
    let outcome = work::write(&checked, part, streams, |_| {
        allowed = true;
        Ok(String::new())
    })?;
    if allowed {
        let fits = |program: &&Program| part.size.is_none() || program.size == part.size;
        let programs: Vec<&Program> = checked.programs.iter().filter(fits).collect();
        sheet::write(&mut streams.output, &programs, part.piece.as_deref())?;
    }
    Ok(outcome)
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

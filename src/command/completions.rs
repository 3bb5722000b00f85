//! `wale completions`: what a shell needs to complete the arguments of `wale`.

use super::Outcome;
use super::streams::Streams;
use clap::CommandFactory;
use std::io;

/// Writes the completions for a shell.
///
/// Send them to the file from which your shell reads them; the page editors/README.md says which that is.
#[derive(Debug, clap::Args)]
pub(crate) struct Arguments {
    /// The shell.
    #[arg(value_name = "SHELL")]
    shell: clap_complete::Shell,
}

/// Writes them.
///
/// # Errors
/// Those of the streams.
pub(crate) fn run(arguments: &Arguments, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    // The generator cannot give an error back, so it writes to memory.
    let mut script = Vec::new();
    clap_complete::generate(arguments.shell, &mut super::Arguments::command(), "wale", &mut script);
    streams.output.write_all(&script)?;
    Ok(Outcome::Clean)
}

//! The command line: the arguments of `wale`, and one file per command.

mod at;
mod check;
mod compare;
mod completions;
mod difference;
mod explain;
mod implied;
mod kind;
mod library;
mod manual;
mod mend;
mod progress;
mod read;
mod save;
mod serve;
mod sheet;
mod streams;
mod tidy;
mod trace;
mod watch;
mod work;

use clap::{CommandFactory, FromArgMatches, Parser, Subcommand, ValueEnum};
use progress::Progress;
use std::io::{self, IsTerminal, Write};
use std::process::ExitCode;
use streams::{Patient, Streams};
use wale::tell::{Colour, Screen};

/// What every help text ends with.
const EXIT_CODES: &str = "\
Exit codes:
  0  nothing to mend
  1  there are findings: errors, warnings or both; of `tidy --check`, a file that is not tidy
  2  wrong use, or a file that cannot be read or has no pattern in it yet

Colour is left out where the output is no terminal and where the environment variable NO_COLOR is set; the option \
--color goes before both. The single dash `-` in place of a file stands for standard input. \
Lines are as wide as the terminal, from 40 to 100 columns.";

/// Checks patterns for knitting by hand on a machine with two needle beds.
///
/// A pattern is a text file. wale knits every row of it in its head, needle by needle, and says which row would lose a
/// stitch, hurt a needle or strain the yarn, why, and what to do. It does not replace the manual of the machine, which
/// always comes first.
///
/// With a pattern in place of a command, such as `wale scarf.wale`, that pattern is checked.
#[derive(Debug, Parser)]
#[command(
    name = "wale",
    version,
    after_long_help = EXIT_CODES,
    max_term_width = 100,
    override_usage = "wale [OPTIONS] <COMMAND>\n       wale [OPTIONS] <FILE>..."
)]
struct Arguments {
    /// When to use colour.
    #[arg(long, global = true, visible_alias = "colour", value_name = "WHEN", default_value = "auto")]
    color: When,
    #[command(subcommand)]
    command: Command,
}

/// When there is colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum When {
    /// On a terminal, unless NO_COLOR is set.
    Auto,
    /// Always, in files and pipes too.
    Always,
    /// Never.
    Never,
}

#[derive(Debug, Subcommand)]
enum Command {
    Check(check::Arguments),
    Tidy(tidy::Arguments),
    Sheet(sheet::Arguments),
    At(at::Arguments),
    Compare(compare::Arguments),
    Explain(explain::Arguments),
    Trace(trace::Arguments),
    Serve(serve::Arguments),
    Completions(completions::Arguments),
    Manual(manual::Arguments),
}

/// The options that say which part of a pattern is meant.
#[derive(Debug, Clone, Default, clap::Args)]
struct PartArguments {
    /// Only this size, as the pattern names it, in small or capital letters; without it, all sizes.
    #[arg(long, value_name = "NAME")]
    size: Option<String>,
    /// Only this piece, as the pattern titles it, in small or capital letters; without it, all pieces.
    #[arg(long, value_name = "NAME")]
    piece: Option<String>,
}

/// How a run ended; the worse one counts where there are several.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Outcome {
    /// Nothing to mend.
    Clean,
    /// There are findings.
    Findings,
    /// Wrong use or an unreadable file.
    WrongUse,
}

impl From<Outcome> for ExitCode {
    fn from(outcome: Outcome) -> Self {
        Self::from(match outcome {
            Outcome::Clean => 0,
            Outcome::Findings => 1,
            Outcome::WrongUse => 2,
        })
    }
}

/// Runs `wale` with the arguments and streams of this process.
pub(crate) fn main() -> ExitCode {
    let command = Arguments::command();
    let given = match implied::with_command(std::env::args_os().collect(), &command) {
        Ok(given) => given,
        Err(said) => {
            // Nothing is left to be told where the error output fails.
            let _ = writeln!(io::stderr(), "wale: {said}");
            return Outcome::WrongUse.into();
        }
    };
    let parsed = command.try_get_matches_from(given).and_then(|matches| Arguments::from_arg_matches(&matches));
    let arguments = match parsed {
        Ok(arguments) => arguments,
        Err(error) => {
            // Help and version come this way too. Whoever closed the pipe does not want to read them.
            let _ = error.print();
            return ExitCode::from(u8::try_from(error.exit_code()).unwrap_or(2));
        }
    };
    // The server reads and writes on threads of its own.
    if let Command::Serve(arguments) = &arguments.command {
        return serve::run(arguments);
    }
    let colour = |is_terminal| colour_for(arguments.color, is_terminal, |name| std::env::var_os(name));
    let output_screen = Screen::new(colour(io::stdout().is_terminal()), columns_of(io::stdout()));
    let report_screen = Screen::new(colour(io::stderr().is_terminal()), columns_of(io::stderr()));
    let progress = if io::stderr().is_terminal() { Progress::on_terminal() } else { Progress::none() };
    let mut output = Patient::new(io::BufWriter::new(progress.beside(io::stdout().lock())));
    let mut report = Patient::new(progress.beside(io::stderr()));
    let (ended, done) = {
        let mut streams = Streams {
            input: &mut io::stdin().lock(),
            output: &mut output,
            report: &mut report,
            output_screen,
            report_screen,
            progress,
            done: Vec::new(),
        };
        (run(arguments.command, &mut streams), streams.done)
    };
    let outcome = match ended.and_then(|outcome| output.flush().map(|()| outcome)) {
        Ok(outcome) => outcome,
        Err(error) => {
            // Nothing is left to be told where the error output fails as well.
            let _ = writeln!(report, "wale: the output cannot be written: {error}. Make room or choose another place.");
            if !done.is_empty() {
                let _ = writeln!(report, "wale: what was done to files stays done: {}.", listed(&done));
            }
            Outcome::WrongUse
        }
    };
    outcome.into()
}

/// What was done to files, in one line.
fn listed(done: &[String]) -> String {
    const MOST: usize = 10;
    let shown = done.iter().take(MOST).map(String::as_str).collect::<Vec<_>>().join(", ");
    match done.len().saturating_sub(MOST) {
        0 => shown,
        more => format!("{shown}, and {more} more"),
    }
}

/// Runs one command.
fn run(command: Command, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    match command {
        Command::Check(arguments) => check::run(&arguments, streams),
        Command::Sheet(arguments) => sheet::run(&arguments, streams),
        Command::Trace(arguments) => trace::run(&arguments, streams),
        Command::At(arguments) => at::run(&arguments, streams),
        Command::Compare(arguments) => compare::run(&arguments, streams),
        Command::Explain(arguments) => {
            let rules: Vec<_> = wale::rules::ALL.iter().map(|rule| (*rule).into()).collect();
            explain::run(&arguments, &rules, streams)
        }
        Command::Completions(arguments) => completions::run(&arguments, streams),
        Command::Manual(arguments) => manual::run(&arguments, streams),
        Command::Tidy(arguments) => tidy::run(&arguments, streams),
        // It has been run already, and does not come here.
        Command::Serve(_) => Ok(Outcome::WrongUse),
    }
}

/// The columns of a terminal; none of anything else, and of a terminal that does not say.
#[cfg(unix)]
fn columns_of(stream: impl std::os::fd::AsFd) -> Option<usize> {
    columns(terminal_size::terminal_size_of(stream))
}

/// The columns of a terminal; none of anything else, and of a terminal that does not say.
#[cfg(windows)]
fn columns_of(stream: impl std::os::windows::io::AsHandle) -> Option<usize> {
    columns(terminal_size::terminal_size_of(stream))
}

/// The columns of a terminal; none where nothing is known of terminals.
#[cfg(not(any(unix, windows)))]
fn columns_of<T>(_: T) -> Option<usize> {
    None
}

#[cfg(any(unix, windows))]
fn columns(size: Option<(terminal_size::Width, terminal_size::Height)>) -> Option<usize> {
    size.map(|(width, _)| usize::from(width.0)).filter(|width| *width > 0)
}

/// Whether there is colour, from the option, the kind of output and the environment.
fn colour_for(when: When, is_terminal: bool, variable: impl Fn(&str) -> Option<std::ffi::OsString>) -> Colour {
    let coloured = match when {
        When::Always => true,
        When::Never => false,
        When::Auto => {
            let refused = variable("NO_COLOR").is_some_and(|value| !value.is_empty());
            let plain_terminal = variable("TERM").is_some_and(|value| value == "dumb");
            is_terminal && !refused && !plain_terminal
        }
    };
    if coloured { Colour::Coloured } else { Colour::Plain }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_arguments_hold_together() {
        Arguments::command().debug_assert();
    }

    #[test]
    fn the_option_goes_before_the_environment() {
        let with = |name: &'static str, value: &'static str| move |asked: &str| (asked == name).then(|| value.into());
        assert_eq!(colour_for(When::Auto, true, |_| None), Colour::Coloured);
        assert_eq!(colour_for(When::Auto, false, |_| None), Colour::Plain);
        assert_eq!(colour_for(When::Auto, true, with("NO_COLOR", "1")), Colour::Plain);
        assert_eq!(colour_for(When::Auto, true, with("NO_COLOR", "")), Colour::Coloured);
        assert_eq!(colour_for(When::Auto, true, with("TERM", "dumb")), Colour::Plain);
        assert_eq!(colour_for(When::Always, false, with("NO_COLOR", "1")), Colour::Coloured);
        assert_eq!(colour_for(When::Never, true, |_| None), Colour::Plain);
    }
}

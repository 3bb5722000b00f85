//! `wale check`: what there is to mend in some patterns.

use super::streams::Streams;
use super::{EXIT_CODES, Outcome, read, work};
use std::io;
use std::path::PathBuf;
use wale::finding::Finding;
use wale::source::Sources;
use wale::tell::json::Report;
use wale::tell::summary::{self, Count};
use wale::tell::{short, terminal};

/// Checks patterns, row by row and needle by needle.
///
/// Each file is a pattern of its own, together with the files that it uses from its folder. Errors mean that a stitch
/// would be lost, a needle hurt, or that the pattern cannot be understood; warnings are about strain, looks and habit.
#[derive(Debug, clap::Args)]
#[command(after_long_help = EXIT_CODES)]
pub(crate) struct Arguments {
    /// The pattern files; `-` is standard input.
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// How the findings are written.
    #[arg(long, value_name = "FORMAT", default_value = "terminal")]
    format: Format,
    /// Only what holds for this size, as the pattern names it.
    #[arg(long, value_name = "NAME")]
    size: Option<String>,
}

/// How findings are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum Format {
    /// In full, with the line of the pattern, for reading at the screen.
    Terminal,
    /// One line for each, for editors and lists.
    Short,
    /// JSON, for programs.
    Json,
}

/// Checks the files and writes what there is to mend. Files that cannot be read are told of and passed over.
///
/// # Errors
/// Those of the streams.
pub(crate) fn run(arguments: &Arguments, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    let mut outcome = Outcome::Clean;
    let mut counts: Vec<(String, Count)> = Vec::new();
    let mut patterns: Vec<(Sources, Vec<Finding>)> = Vec::new();
    let mut has_read_input = false;
    for path in &arguments.files {
        let is_input = path.as_os_str() == read::DASH;
        if is_input && has_read_input {
            outcome = work::refuse("standard input can be read once only. Leave out the second `-`.", streams)?;
            continue;
        }
        has_read_input |= is_input;
        let result = work::checked(path, streams).and_then(|checked| {
            if let Some(size) = &arguments.size {
                work::known_size(&checked.programs, size)?;
            }
            Ok(checked)
        });
        let checked = match result {
            Ok(checked) => checked,
            Err(said) => {
                outcome = work::refuse(&said, streams)?;
                continue;
            }
        };
        let findings = work::of_size(&checked.findings, arguments.size.as_deref());
        if !findings.is_empty() {
            outcome = outcome.max(Outcome::Findings);
        }
        let name = if is_input { read::STANDARD_INPUT.into() } else { path.to_string_lossy() };
        counts.push((name.into_owned(), Count::of(&findings)));
        match arguments.format {
            Format::Terminal => {
                terminal::write(&mut streams.output, &checked.sources, &findings, streams.output_colour)?;
            }
            Format::Short => short::write(&mut streams.output, &checked.sources, &findings)?,
            Format::Json => patterns.push((checked.sources, findings)),
        }
    }
    match arguments.format {
        Format::Terminal if !counts.is_empty() => {
            let counts: Vec<(&str, Count)> = counts.iter().map(|(name, count)| (name.as_str(), *count)).collect();
            writeln!(streams.output, "{}", summary::line(&counts))?;
        }
        Format::Terminal | Format::Short => {}
        Format::Json => {
            let all: Vec<(&Sources, &[Finding])> =
                patterns.iter().map(|(sources, findings)| (sources, findings.as_slice())).collect();
            Report::new(&all).write(&mut streams.output)?;
        }
    }
    Ok(outcome)
}

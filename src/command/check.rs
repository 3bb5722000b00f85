//! `wale check`: what there is to mend in some patterns.

use super::library::Folder;
use super::streams::Streams;
use super::watch::{self, Watch};
use super::{EXIT_CODES, Outcome, mend, read, work};
use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;
use wale::Checked;
use wale::clean;
use wale::finding::Finding;
use wale::source::Sources;
use wale::tell::json::Report;
use wale::tell::summary::{self, Count};
use wale::tell::{Colour, annotation, plain, sarif, short, terminal};

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
    /// Only what holds for this size, as the pattern names it, in small or capital letters.
    #[arg(long, value_name = "NAME")]
    size: Option<String>,
    /// Mend what can be mended without asking, in the files themselves, and show what was changed.
    ///
    /// A finding that says "can be mended" has a change that leaves no choice: a misspelt word of the language, a
    /// character that looks like another, a gaiting that a transfer cannot do without. Only these are made; all else
    /// in the file stays as it is, and the files that it uses are not changed. What is told afterwards is what is
    /// left, and the exit code is of that. What was changed goes to the output, and with the other formats than
    /// `terminal` to the error output.
    #[arg(long)]
    mend: bool,
    /// Check again whenever one of the files, or a file that they use, is saved. Ends with Ctrl-C.
    #[arg(long, conflicts_with = "mend")]
    watch: bool,
}

/// How findings are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum Format {
    /// In full, with the line of the pattern, for reading at the screen.
    Terminal,
    /// In full, in whole sentences without frames or drawings, for screen readers.
    Plain,
    /// One line for each, with what to do, for editors and lists.
    Short,
    /// JSON, for programs.
    Json,
    /// SARIF 2.1.0, an interchange format that code forges read.
    Sarif,
    /// A line for each that the runners of code forges turn into a mark on the line of a change.
    Annotation,
}

/// Checks the files and writes what there is to mend. Files that cannot be read are told of and passed over.
///
/// # Errors
/// Those of the streams.
pub(crate) fn run(arguments: &Arguments, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    if arguments.watch {
        return again_and_again(arguments, streams);
    }
    if !arguments.mend {
        return run_with(arguments, streams, |path, streams| Ok(work::checked(path, streams)));
    }
    run_with(arguments, streams, |path, streams| match mend::file(path) {
        Ok((mended, shown)) => {
            if !shown.is_empty() {
                streams.done.push(format!("`{}` is mended", clean::line(&path.to_string_lossy())));
            }
            match arguments.format {
                Format::Terminal => streams.output.write_all(shown.as_bytes())?,
                _ => streams.report.write_all(shown.as_bytes())?,
            }
            Ok(Ok(mended.checked))
        }
        Err(said) => Ok(Err(said)),
    })
}

/// Checks, and checks again after each change, until the reader of the output has left.
fn again_and_again(arguments: &Arguments, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    /// So often it is looked whether there is still somebody to read.
    const LOOK: Duration = Duration::from_secs(1);
    if arguments.files.iter().any(|path| path.as_os_str() == read::DASH) {
        return work::refuse(
            "standard input cannot be watched. Save the pattern to a file and give its name.",
            streams,
        );
    }
    let mut watch = Watch::default();
    let mut watched = arguments.files.clone();
    loop {
        // What is saved while the check goes on is not missed: the files of the last check have been seen before it.
        watch.set(std::mem::take(&mut watched));
        let mut files = arguments.files.clone();
        let outcome = run_with(arguments, streams, |path, streams| {
            let folder = Folder::of(path);
            let checked = work::checked_beside(path, &folder, streams);
            // Also those that could not be read: they may come.
            files.extend(folder.asked());
            Ok(checked)
        })?;
        watched.clone_from(&files);
        watch.set(files);
        streams.output.flush()?;
        streams.progress.say("waiting for the next save; Ctrl-C ends");
        let changed = loop {
            if streams.output.is_left() {
                return Ok(outcome);
            }
            if let Some(changed) = watch.changed(LOOK) {
                break changed;
            }
        };
        if streams.output_screen.colour == Colour::Coloured {
            // The screen is cleared, so that what is mended is no longer to be seen.
            streams.output.write_all(b"\x1b[2J\x1b[3J\x1b[H")?;
        }
        let name = changed.file_name().unwrap_or(changed.as_os_str()).to_string_lossy().into_owned();
        let what = watch::what_became_of(&changed, &clean::line(&name));
        writeln!(streams.report, "wale: {what}. Checking again.")?;
    }
}

/// [`run`] with another way from a path to a checked pattern.
fn run_with(
    arguments: &Arguments,
    streams: &mut Streams<'_>,
    mut check: impl FnMut(&Path, &mut Streams<'_>) -> io::Result<Result<Checked, String>>,
) -> io::Result<Outcome> {
    let mut outcome = Outcome::Clean;
    let mut counts: Vec<(String, Count)> = Vec::new();
    let mut patterns: Vec<(Sources, Vec<Finding>)> = Vec::new();
    let mut has_read_input = false;
    for (number, path) in arguments.files.iter().enumerate() {
        if arguments.files.len() > 1 {
            streams.progress.say(format!("checking file {} of {}", number + 1, arguments.files.len()));
        }
        let is_input = path.as_os_str() == read::DASH;
        if is_input && has_read_input {
            outcome = work::refuse("standard input can be read once only. Leave out the second `-`.", streams)?;
            continue;
        }
        has_read_input |= is_input;
        let result = check(path, streams)?.and_then(|checked| {
            let size = arguments.size.as_deref().map(|size| work::known_size(&checked.programs, size));
            Ok((size.transpose()?, checked))
        });
        let (size, checked) = match result {
            Ok(known) => known,
            Err(said) => {
                outcome = work::refuse(&said, streams)?;
                continue;
            }
        };
        let findings = work::of_size(&checked.findings, size.as_deref());
        if !findings.is_empty() {
            outcome = outcome.max(Outcome::Findings);
        }
        let name = if is_input { read::STANDARD_INPUT.into() } else { path.to_string_lossy() };
        counts.push((name.into_owned(), Count::of(&findings)));
        let (output, sources) = (&mut streams.output, &checked.sources);
        match arguments.format {
            Format::Terminal => terminal::write(output, sources, &findings, streams.output_screen)?,
            Format::Plain => plain::write(output, sources, &findings)?,
            Format::Short => short::write(output, sources, &findings)?,
            Format::Annotation => annotation::write(output, sources, &findings)?,
            Format::Json | Format::Sarif => patterns.push((checked.sources, findings)),
        }
    }
    match arguments.format {
        Format::Terminal | Format::Plain if !counts.is_empty() => {
            let counts: Vec<(&str, Count)> = counts.iter().map(|(name, count)| (name.as_str(), *count)).collect();
            let end = if arguments.format == Format::Plain { "." } else { "" };
            writeln!(streams.output, "{}{end}", summary::line(&counts))?;
        }
        Format::Terminal | Format::Plain | Format::Short | Format::Annotation => {}
        Format::Json => Report::new(&all(&patterns)).write(&mut streams.output)?,
        Format::Sarif => sarif::write(&mut streams.output, &all(&patterns))?,
    }
    Ok(outcome)
}

fn all(patterns: &[(Sources, Vec<Finding>)]) -> Vec<(&Sources, &[Finding])> {
    patterns.iter().map(|(sources, findings)| (sources, findings.as_slice())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::streams::tried;
    use wale::source::Span;

    /// Checks files of which `bad.wale` has an error in size long and a warning, `gone.wale` cannot be read, and all
    /// others are clean.
    fn checked(files: &[&str], format: Format, size: Option<&str>) -> (Outcome, String, String) {
        let arguments = Arguments {
            files: files.iter().map(PathBuf::from).collect(),
            format,
            size: size.map(str::to_owned),
            mend: false,
            watch: false,
        };
        tried("", |streams| {
            run_with(&arguments, streams, |path, _| {
                let mut checked = Checked::default();
                let file = checked.sources.add(path.to_string_lossy(), "row front knit\n");
                let span = Span { file, start: 4, end: 9 };
                if path == Path::new("gone.wale") {
                    return Ok(Err("there is no file".to_owned()));
                }
                if path == Path::new("bad.wale") {
                    let mut error = wale::rules::find("off-bed").expect("a rule").finds(span, "too wide");
                    error.sizes = vec!["long".to_owned()];
                    checked.findings =
                        vec![error, wale::rules::find("edge-tuck").expect("a rule").finds(span, "frays")];
                }
                Ok(Ok(checked))
            })
        })
    }

    #[test]
    fn findings_of_any_kind_end_with_1_and_go_to_the_output() {
        let (outcome, output, report) = checked(&["bad.wale", "good.wale"], Format::Short, None);
        assert_eq!(outcome, Outcome::Findings);
        assert_eq!(
            output,
            "bad.wale:1:5: error: too wide (size long) [off-bed]\nbad.wale:1:5: warning: frays [edge-tuck]\n"
        );
        assert_eq!(report, "");
        let (outcome, output, _) = checked(&["bad.wale"], Format::Terminal, Some("short"));
        assert_eq!(outcome, Outcome::Findings);
        assert!(output.ends_with("\n1 warning in bad.wale\n") && !output.contains("off-bed"), "{output}");
    }

    #[test]
    fn the_worst_file_decides_in_any_order() {
        for files in [["gone.wale", "bad.wale", "good.wale"], ["good.wale", "bad.wale", "gone.wale"]] {
            let (outcome, output, report) = checked(&files, Format::Terminal, None);
            assert_eq!(outcome, Outcome::WrongUse);
            assert!(output.ends_with("\n1 error, 1 warning in 1 of 2 files\n"), "{output}");
            assert_eq!(report, "wale: there is no file\n");
        }
    }

    #[test]
    fn json_is_one_text_for_all_files() {
        let (_, output, _) = checked(&["good.wale", "bad.wale"], Format::Json, None);
        let read: serde_json::Value = serde_json::from_str(&output).expect("it is JSON");
        assert_eq!(read["files"], serde_json::json!(["good.wale", "bad.wale"]));
        assert_eq!((&read["errors"], &read["warnings"]), (&1.into(), &1.into()));
        assert_eq!(read["findings"][0]["at"]["start"], serde_json::json!({"line": 1, "column": 5, "byte": 4}));
    }
}

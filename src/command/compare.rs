//! `wale compare`: what changed between two patterns.

use super::library::Folder;
use super::streams::Streams;
use super::{Outcome, PartArguments, read, work};
use std::borrow::Cow;
use std::io;
use std::path::{Path, PathBuf};
use wale::Checked;
use wale::clean;
use wale::compare::form::{Comparison, How};
use wale::compare::{compare, listing, text};
use wale::tell::json;

/// What the help text ends with.
const EXIT_CODES: &str = "\
Exit codes:
  0  the same knitting
  1  something is knitted otherwise
  2  wrong use, or a file that cannot be read

With --git and --rows the exit code is 0 whatever there is to say, so that git goes on.

The single dash `-` in place of one of the files stands for standard input.";

/// Says what changed between two patterns: in the knitting, and in the words.
///
/// Two patterns are the same knitting when every row of every piece is worked in the same way in every size, however that is
/// written: names, comments, the order of declarations, and a repeat that is written out make no difference. Where they
/// differ, each changed line is one change, with its line in both files and the row of the piece.
#[derive(Debug, clap::Args)]
#[command(after_long_help = EXIT_CODES)]
pub(crate) struct Arguments {
    /// The pattern as it was and as it is now; `-` is standard input.
    #[arg(required_unless_present = "git", num_args = 1.., value_names = ["OLD", "NEW"])]
    files: Vec<String>,
    #[command(flatten)]
    part: PartArguments,
    /// How the changes are written.
    #[arg(long, value_name = "FORMAT", default_value = "terminal")]
    format: Format,
    /// Take the arguments that git gives to an external diff command. The exit code is 0 then.
    #[arg(long, num_args = 1.., value_name = "PATH", allow_hyphen_values = true, conflicts_with_all = ["files", "rows", "size", "piece"])]
    git: Vec<String>,
    /// Write one pattern as rows, one a line, for git to compare (textconv). A pattern with errors is written as it is.
    #[arg(long, conflicts_with_all = ["size", "piece", "format"])]
    rows: bool,
    /// With --rows: the folder in which files that the pattern uses are looked for when they are not beside it.
    #[arg(long = "in", value_name = "FOLDER", requires = "rows", default_value = ".")]
    folder: PathBuf,
}

/// How changes are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum Format {
    /// For reading at the screen.
    Terminal,
    /// JSON, for programs.
    Json,
}

/// Compares, or does what git asks for.
///
/// # Errors
/// Those of the streams.
pub(crate) fn run(arguments: &Arguments, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    if !arguments.git.is_empty() {
        let given: Vec<&str> = arguments.git.iter().map(String::as_str).collect();
        return for_git(&given, arguments.format, streams);
    }
    let files: Vec<&str> = arguments.files.iter().map(String::as_str).collect();
    if arguments.rows {
        return match files.as_slice() {
            [file] => rows(Path::new(file), &arguments.folder, streams),
            _ => work::refuse("--rows takes one pattern. Leave out the others.", streams),
        };
    }
    let [old, new] = files.as_slice() else {
        let said = match files.len() {
            1 => "there is one pattern, and comparing takes two: the old one and the new one.".to_owned(),
            count => format!("there are {count} patterns, and two can be compared: the old one and the new one."),
        };
        return work::refuse(&said, streams);
    };
    if *old == read::DASH && *new == read::DASH {
        return work::refuse("standard input can be read once only. Give a file for one of the two.", streams);
    }
    let checked = [old, new].map(|path| work::checked(Path::new(path), streams));
    let [old, new] = match checked {
        [Ok(old), Ok(new)] => [old, new],
        [Err(said), _] | [_, Err(said)] => return work::refuse(&said, streams),
    };
    let part = match known_part(&old, &new, &arguments.part) {
        Ok(part) => part,
        Err(said) => return work::refuse(&said, streams),
    };
    let comparison = compare(&old, &new, part.size.as_deref(), part.piece.as_deref());
    write(&comparison, arguments.format, streams)?;
    Ok(if comparison.is_same() { Outcome::Clean } else { Outcome::Findings })
}

fn write(comparison: &Comparison, format: Format, streams: &mut Streams<'_>) -> io::Result<()> {
    match format {
        Format::Terminal => streams.output.write_all(text::text(comparison, streams.output_screen).as_bytes()),
        Format::Json => json::write_value(&mut streams.output, comparison),
    }
}

/// What the arguments name, as the patterns write it: the size, which both of them must have, and the piece, which one must.
fn known_part(old: &Checked, new: &Checked, part: &PartArguments) -> Result<PartArguments, String> {
    let size = match &part.size {
        None => None,
        Some(asked) => {
            let size = work::known_size(&old.programs, asked)?;
            // The one that is written alike if there is one.
            let other = work::known_size(&new.programs, &size).or_else(|_| work::known_size(&new.programs, asked))?;
            if size != other && !old.programs.is_empty() && !new.programs.is_empty() {
                return Err(format!(
                    "the size is `{}` in the old pattern and `{}` in the new one, and sizes are compared by their names. \
                     Write it the same in both.",
                    clean::line(&size),
                    clean::line(&other)
                ));
            }
            Some(if old.programs.is_empty() { other } else { size })
        }
    };
    let Some(asked) = &part.piece else { return Ok(PartArguments { size, piece: None }) };
    let titles = work::titles(old.programs.iter().chain(&new.programs));
    if titles.is_empty() {
        let asked = clean::line(asked);
        return Err(format!("neither pattern has a piece, so there is no piece \"{asked}\". Leave out --piece."));
    }
    let piece = work::known_piece(&titles, asked, ("neither pattern", "Their"))?;
    Ok(PartArguments { size, piece: Some(piece) })
}

/// Writes a pattern as rows. git hands over a copy of an old version in a folder of its own, so that what it uses is not
/// beside it.
fn rows(path: &Path, folder: &Path, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    let source =
        if path.as_os_str() == read::DASH { read::text(streams.input, read::STANDARD_INPUT) } else { read::file(path) };
    let source = match source {
        Ok(source) => source,
        Err(said) => {
            // What is there but is no text is handed on as far as it can be read: git stops at any other exit code.
            let Ok(bytes) = std::fs::read(path) else { return work::refuse(&said, streams) };
            writeln!(streams.report, "wale: {said}")?;
            streams.output.write_all(clean::block(&String::from_utf8_lossy(&bytes)).as_bytes())?;
            return Ok(Outcome::Clean);
        }
    };
    let name = path.to_string_lossy();
    let beside = wale::check(&name, &source, &Folder::of(path));
    let listed = listing::rows(&beside).or_else(|| {
        let inside = folder.join(path.file_name().unwrap_or_default());
        listing::rows(&wale::check(&inside.to_string_lossy(), &source, &Folder::of(&inside)))
    });
    // git hands this on to a terminal, so that the text too may hold nothing that moves its cursor.
    let text = listed.map_or_else(|| clean::block(&source), Cow::Owned);
    streams.output.write_all(text.as_bytes())?;
    Ok(Outcome::Clean)
}

/// The name that git gives to a side that is not there.
const NOTHING: &str = "/dev/null";

/// Does what git asks of an external diff command: the path, then for the old and the new version a file, the object and
/// the mode, and where the file was renamed the new path and what is to be said of that. One argument alone is a path that
/// is not merged yet. (As the manual of git describes `GIT_EXTERNAL_DIFF`; from memory.)
fn for_git(arguments: &[&str], format: Format, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    let (path, old_file, new_file, new_path) = match arguments {
        [path] => {
            let path = clean::line(path);
            let said = format!("{path} is not merged yet. `wale check {path}` shows the places.");
            writeln!(streams.output, "{said}")?;
            return Ok(Outcome::Clean);
        }
        [path, old_file, _, _, new_file, _, _] => (path, old_file, new_file, path),
        [path, old_file, _, _, new_file, _, _, new_path, ..] => (path, old_file, new_file, new_path),
        _ => {
            let said = format!(
                "--git is for git, which gives 7 arguments, 9 for a renamed file or 1 for an unmerged one; these are {}. \
                 Set it up with `git config diff.wale.command \"wale compare --git\"`.",
                arguments.len()
            );
            return work::refuse(&said, streams);
        }
    };
    let renamed = if path == new_path { String::new() } else { format!(", which was {}", clean::line(path)) };
    if format == Format::Terminal {
        writeln!(streams.output, "wale compare: {}{renamed}", clean::line(new_path))?;
    }
    let was = format!("{path} as it was");
    match (read_for_git(old_file, &was, path), read_for_git(new_file, new_path, new_path)) {
        (Err(said), _) | (_, Err(said)) => writeln!(streams.output, "wale: {said}")?,
        (Ok(Some(old)), Ok(Some(new))) => write(&compare(&old, &new, None, None), format, streams)?,
        (Ok(None), Ok(Some(new))) => one_sided(&new, How::Added, streams)?,
        (Ok(Some(old)), Ok(None)) => one_sided(&old, How::Removed, streams)?,
        (Ok(None), Ok(None)) => {}
    }
    writeln!(streams.output)?;
    Ok(Outcome::Clean)
}

/// One version, checked under the name of its path: what it uses is looked for beside that.
fn read_for_git(file: &str, name: &str, path: &str) -> Result<Option<Checked>, String> {
    if file == NOTHING {
        return Ok(None);
    }
    let text = read::file(Path::new(file))?;
    Ok(Some(wale::check(name, &text, &Folder::of(Path::new(path)))))
}

/// What is to be said of a pattern that only one version has.
fn one_sided(pattern: &Checked, how: How, streams: &mut Streams<'_>) -> io::Result<()> {
    let what = if how == How::Added { "A new pattern" } else { "The pattern is gone" };
    let mut titles: Vec<String> = Vec::new();
    for piece in pattern.programs.iter().flat_map(|program| &program.pieces) {
        let title = format!("\"{}\"", clean::line(&piece.title));
        if !titles.contains(&title) {
            titles.push(title);
        }
    }
    let pieces = match titles.as_slice() {
        [] => "It has no piece".to_owned(),
        [one] => format!("Its piece is {one}"),
        many => format!("Its pieces are {}", many.join(", ")),
    };
    writeln!(streams.output, "{what}. {pieces}.")
}

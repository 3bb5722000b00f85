//! `wale tidy`: writes pattern files with the same blanks everywhere.

use super::streams::Streams;
use super::{EXIT_CODES, Outcome, difference, read, save, work};
use std::borrow::Cow;
use std::io;
use std::path::{Path, PathBuf};
use wale::clean;
use wale::source::Sources;
use wale::syntax;
use wale::tell::{Screen, terminal};

/// The most lines of changes that are shown of one file.
const MOST_LINES: usize = 40;

/// Gives patterns one look: indentation, blanks and empty lines.
///
/// Only what stands between the words is changed, never a word, a number or a comment, so the knitting stays the same.
/// Two patterns in the same look can be compared line by line, and a difference is a difference of the knitting.
///
/// Each file is written anew in its place, and the files that it uses are not changed. A file with braces that do not
/// fit is left as it is, because nobody can tell which block its lines belong to.
#[derive(Debug, clap::Args)]
#[command(after_long_help = EXIT_CODES)]
pub(crate) struct Arguments {
    /// The pattern files; `-` tidies standard input and writes it to the output.
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// Change nothing; name the files that are not tidy, each with its first such line, and show what would change.
    #[arg(long)]
    check: bool,
}

/// How a file was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum State {
    Tidy,
    /// It was not tidy; now it is, if it was to be changed.
    Untidy,
    /// It cannot be tidied for what stands in it.
    Left,
}

/// What became of one file.
struct Done {
    state: State,
    /// The tidy text, if it goes to the output.
    text: String,
    /// What is said of it beside that.
    said: String,
    /// What there is to be warned of.
    warning: String,
}

/// Tidies the files, or says which of them are not tidy. Files that cannot be read or written are told of and passed
/// over.
///
/// # Errors
/// Those of the streams.
pub(crate) fn run(arguments: &Arguments, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    let is_input = |path: &PathBuf| path.as_os_str() == read::DASH;
    // What is said of other files does not get into a text that somebody reads from the output.
    let writes_text = !arguments.check && arguments.files.iter().any(is_input);
    let mut outcome = Outcome::Clean;
    let mut seen: Vec<(Cow<'_, str>, State)> = Vec::new();
    let mut has_read_input = false;
    for path in &arguments.files {
        let name = if is_input(path) { read::STANDARD_INPUT.into() } else { path.to_string_lossy() };
        let before = match (is_input(path), has_read_input) {
            (true, true) => Err("standard input can be read once only. Leave out the second `-`.".to_owned()),
            (true, false) => read::text(streams.input, read::STANDARD_INPUT),
            (false, _) => read::file(path),
        };
        has_read_input |= is_input(path);
        let target = match (arguments.check, is_input(path)) {
            (true, _) => Target::Nothing,
            (false, true) => Target::Output,
            (false, false) => Target::File(path),
        };
        match before.and_then(|before| one(&name, &before, target, streams.report_screen)) {
            Ok(done) => {
                if let (Target::File(_), State::Untidy) = (target, done.state) {
                    streams.done.push(format!("`{}` is tidied", clean::line(&name)));
                }
                streams.report.write_all(done.warning.as_bytes())?;
                streams.output.write_all(done.text.as_bytes())?;
                if writes_text {
                    streams.report.write_all(done.said.as_bytes())?;
                } else {
                    streams.output.write_all(done.said.as_bytes())?;
                }
                if done.state == State::Left || arguments.check && done.state == State::Untidy {
                    outcome = outcome.max(Outcome::Findings);
                }
                seen.push((name, done.state));
            }
            Err(said) => outcome = work::refuse(&said, streams)?,
        }
    }
    if !writes_text {
        streams.output.write_all(summary(&seen, arguments.check).as_bytes())?;
    }
    Ok(outcome)
}

/// Where a tidy text goes.
#[derive(Debug, Clone, Copy)]
enum Target<'p> {
    /// It is only compared.
    Nothing,
    Output,
    File(&'p Path),
}

/// Tidies one text.
///
/// # Errors
/// A sentence for the knitter, when the file cannot be written; it is then as it was.
fn one(name: &str, before: &str, target: Target<'_>, screen: Screen) -> Result<Done, String> {
    let mut sources = Sources::default();
    let file = sources.add(name, before);
    let tidied = syntax::tidy(file, before);
    let shown = clean::line(name);
    let quoted = if name == read::STANDARD_INPUT { name.to_owned() } else { format!("`{shown}`") };
    let mut done = Done { state: State::Tidy, text: String::new(), said: String::new(), warning: String::new() };
    if matches!(target, Target::Output) {
        // Also what could not be tidied, so that an editor that puts the output in place of its text loses nothing.
        done.text.push_str(&tidied.text);
    }
    if !tidied.findings.is_empty() {
        done.state = State::Left;
        done.warning = tidied.findings.iter().map(|finding| terminal::text(&sources, finding, screen)).collect();
        let belongs = ": until that is mended, nobody can tell which lines belong together";
        done.warning
            .push_str(&format!("wale: {quoted} is left as it is{}.\n", if tidied.is_muddled() { belongs } else { "" }));
        return Ok(done);
    }
    if tidied.text == before {
        return Ok(done);
    }
    done.state = State::Untidy;
    match target {
        Target::Nothing => done.said = untidy(name, before, &tidied.text),
        Target::Output => {}
        Target::File(path) => {
            save::replace(path, before, &tidied.text, "tidied")?;
            done.said = format!("tidied: {shown}\n");
        }
    }
    if tidied.unread > 0 && !matches!(target, Target::Nothing) {
        let (places, they) = match tidied.unread {
            1 => ("a place that cannot be read. It was".to_owned(), "it"),
            more => (format!("{more} places that cannot be read. They were"), "them"),
        };
        done.warning =
            format!("wale: {quoted} has {places} only indented. `wale check` says what is wrong with {they}.\n");
    }
    Ok(done)
}

/// The first line of a text that is not tidy, and what would change.
fn untidy(name: &str, before: &str, after: &str) -> String {
    let first = difference::first_line(before, after).unwrap_or(1);
    let mut said = format!("{}:{first}: this is the first line that is not tidy\n", clean::line(name));
    let changes = difference::lines(name, before, after, "tidied");
    if changes.is_empty() {
        said.push_str("Its words stand as they should, but its lines do not all end alike.\n");
    }
    changes.lines().take(MOST_LINES).for_each(|line| {
        said.push_str(line);
        said.push('\n');
    });
    match changes.lines().skip(MOST_LINES).count() {
        0 => {}
        1 => said.push_str("... and 1 more line\n"),
        more => said.push_str(&format!("... and {more} more lines\n")),
    }
    said.push('\n');
    said
}

/// The last line; empty when there were no files, or one of which all is said.
fn summary(seen: &[(Cow<'_, str>, State)], check: bool) -> String {
    let count = |wanted| seen.iter().filter(|(_, state)| *state == wanted).count();
    let (untidy, left) = (count(State::Untidy), count(State::Left));
    let left_alone = match left {
        0 => String::new(),
        1 => ", 1 left as it is".to_owned(),
        _ => format!(", {left} left as they are"),
    };
    match (seen, untidy, check) {
        ([], _, _) => String::new(),
        ([(name, State::Tidy)], ..) => format!("{}: tidy\n", clean::line(name)),
        ([(name, State::Untidy)], _, true) => {
            format!("{} is not tidy. Without --check, `wale tidy` makes it so.\n", clean::line(name))
        }
        ([_], ..) => String::new(),
        (all, 0, _) if left == 0 => format!("{} files: tidy\n", all.len()),
        (all, 0, _) => {
            let tidy = all.len() - left;
            format!("{tidy} of {} files {} tidy{left_alone}\n", all.len(), if tidy == 1 { "is" } else { "are" })
        }
        (all, 1, true) => {
            format!("1 of {} files is not tidy{left_alone}. Without --check, `wale tidy` makes it so.\n", all.len())
        }
        (all, _, true) => {
            format!(
                "{untidy} of {} files are not tidy{left_alone}. Without --check, `wale tidy` makes them so.\n",
                all.len()
            )
        }
        (all, _, false) => format!("{untidy} of {} files tidied{left_alone}\n", all.len()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use State::{Left, Tidy, Untidy};

    #[test]
    fn the_last_line_counts_the_files() {
        let summary = |states: &[State], check| {
            let seen: Vec<_> = states.iter().map(|&state| ("scarf.wale".into(), state)).collect();
            summary(&seen, check)
        };
        for (states, tidied, checked) in [
            (&[][..], "", ""),
            (&[Tidy], "scarf.wale: tidy\n", "scarf.wale: tidy\n"),
            (&[Untidy], "", "scarf.wale is not tidy. Without --check, `wale tidy` makes it so.\n"),
            (&[Left], "", ""),
            (&[Tidy, Tidy], "2 files: tidy\n", "2 files: tidy\n"),
            (
                &[Tidy, Untidy],
                "1 of 2 files tidied\n",
                "1 of 2 files is not tidy. Without --check, `wale tidy` makes it so.\n",
            ),
            (
                &[Untidy, Left, Untidy],
                "2 of 3 files tidied, 1 left as it is\n",
                "2 of 3 files are not tidy, 1 left as it is. Without --check, `wale tidy` makes them so.\n",
            ),
            (
                &[Left, Left, Tidy],
                "1 of 3 files is tidy, 2 left as they are\n",
                "1 of 3 files is tidy, 2 left as they are\n",
            ),
        ] {
            assert_eq!(
                (summary(states, false).as_str(), summary(states, true).as_str()),
                (tidied, checked),
                "{states:?}"
            );
        }
    }
}

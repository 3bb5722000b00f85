//! The command that is meant where none is named: `wale scarf.wale` checks the pattern.

use super::read;
use clap::Command;
use std::ffi::{OsStr, OsString};
use std::path::Path;
use wale::clean;

/// The command that is put in.
const MEANT: &str = "check";

/// The arguments of a run, the name of the program first, with the command that is meant if the first word that is no
/// option is a pattern instead of one. A word that is neither stays, and is told to be no command.
///
/// # Errors
/// A sentence for the knitter, where a command follows behind the pattern.
pub(super) fn with_command(arguments: Vec<OsString>, all: &Command) -> Result<Vec<OsString>, String> {
    let Some(at) = first_word(&arguments, all) else { return Ok(arguments) };
    let word = &arguments[at];
    if is_command(word, all) || !is_pattern(word) {
        return Ok(arguments);
    }
    let is_misplaced = |word: &&OsString| is_command(word, all) && !Path::new(word).exists();
    if let Some(command) = arguments.iter().skip(at + 1).find(is_misplaced) {
        let others = arguments.iter().skip(1).filter(|word| *word != command);
        let words: Vec<String> = std::iter::once(command).chain(others).map(|word| quoted(word)).collect();
        return Err(format!("the command comes before the pattern: `wale {}`.", words.join(" ")));
    }
    let mut arguments = arguments;
    arguments.insert(1, MEANT.into());
    Ok(arguments)
}

/// The place of the first word that is neither an option nor the value of one.
fn first_word(arguments: &[OsString], all: &Command) -> Option<usize> {
    let mut at = 1;
    while let Some(word) = arguments.get(at) {
        match word.to_str() {
            Some("--") => return Some(at + 1).filter(|next| *next < arguments.len()),
            Some(option) if option.starts_with('-') && option != read::DASH => {
                at += if takes_value(option, all) { 2 } else { 1 };
            }
            _ => return Some(at),
        }
    }
    None
}

/// Whether the next word is the value of an option, of `wale` itself or of the command that may be meant.
fn takes_value(option: &str, all: &Command) -> bool {
    let Some(name) = option.strip_prefix("--") else { return false };
    let own = all.find_subcommand(MEANT).into_iter().flat_map(Command::get_arguments);
    all.get_arguments().chain(own).any(|argument| {
        let is_named = argument.get_long_and_visible_aliases().is_some_and(|names| names.contains(&name));
        is_named && argument.get_action().takes_values()
    })
}

fn is_command(word: &OsStr, all: &Command) -> bool {
    word.to_str().is_some_and(|word| word == "help" || all.find_subcommand(word).is_some())
}

/// Whether a word can only be a pattern.
fn is_pattern(word: &OsStr) -> bool {
    let path = Path::new(word);
    word == read::DASH || path.extension().is_some_and(|ending| ending == "wale") || (path.exists() && !path.is_dir())
}

/// A word as it can be typed again.
fn quoted(word: &OsStr) -> String {
    let word = word.to_string_lossy();
    let word = clean::line(&word);
    if word.contains(char::is_whitespace) { format!("\"{word}\"") } else { word.into_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    fn told(words: &[&str]) -> Result<Vec<OsString>, String> {
        let arguments = std::iter::once("wale").chain(words.iter().copied()).map(OsString::from).collect();
        with_command(arguments, &super::super::Arguments::command())
    }

    #[test]
    fn a_pattern_alone_is_checked() {
        for words in [
            &["scarf.wale"][..],
            &["a.wale", "b.wale"],
            &["-"],
            &["--color", "never", "scarf.wale"],
            &["--colour", "never", "scarf.wale"],
            &["--color=never", "scarf.wale"],
            &["--format", "short", "scarf.wale"],
            &["--watch", "scarf.wale", "--size", "long"],
            &["--", "scarf.wale"],
            &["Cargo.toml"],
        ] {
            let meant: Vec<OsString> = ["wale", "check"].iter().chain(words).map(OsString::from).collect();
            assert_eq!(told(words), Ok(meant), "{words:?}");
        }
    }

    #[test]
    fn what_names_a_command_or_no_pattern_stays() {
        for words in [
            &[][..],
            &["--color"],
            &["--help"],
            &["check", "scarf.wale"],
            &["help", "check"],
            &["chekc", "scarf.wale"],
            &["chekc"],
            &["src"],
            &["--color", "scarf.wale", "sheet"],
            &["--"],
        ] {
            let same: Vec<OsString> = ["wale"].iter().chain(words).map(OsString::from).collect();
            assert_eq!(told(words), Ok(same), "{words:?}");
        }
    }

    #[test]
    fn a_command_behind_the_pattern_is_put_before_it() {
        let said = |words: &[&str]| told(words).expect_err("the command stands behind");
        assert_eq!(said(&["scarf.wale", "sheet"]), "the command comes before the pattern: `wale sheet scarf.wale`.");
        assert_eq!(
            said(&["my scarf.wale", "at", "48"]),
            "the command comes before the pattern: `wale at \"my scarf.wale\" 48`."
        );
    }
}

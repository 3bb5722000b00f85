//! `wale check --mend`: makes the safe fixes in a pattern file.
//!
//! A pattern is the work of days. The mended text goes to a new file beside it, which takes its place only when it is
//! complete: whatever happens on the way, one of the two is there in full.

use super::library::Folder;
use super::read;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use wale::mend::Mended;
use wale::tell::clean;

/// Mends the pattern file at `path`, and says what was changed as lines to be shown.
///
/// # Errors
/// A sentence for the knitter; the file is then as it was.
pub(crate) fn file(path: &Path) -> Result<(Mended, String), String> {
    if path.as_os_str() == read::DASH {
        return Err(
            "standard input cannot be mended, because there is no file to write to. Save the pattern to a file \
                    and give its name."
                .to_owned(),
        );
    }
    let before = read::file(path)?;
    let name = path.to_string_lossy();
    let mended = wale::mend::mend(&before, |text| wale::check(&name, text, &Folder::of(path)));
    if mended.text != before {
        replace(path, &before, &mended.text)?;
    }
    let mut shown = difference(&name, &before, &mended.text);
    if mended.count > 0 {
        let places = if mended.count == 1 { "1 finding" } else { &format!("{} findings", mended.count) };
        shown.push_str(&format!("\nmended: {places} in {}\n\n", clean::line(&name)));
    }
    Ok((mended, shown))
}

/// What was changed, in the form in which changes of texts are usually shown; empty if nothing was.
fn difference(name: &str, before: &str, after: &str) -> String {
    if before == after {
        return String::new();
    }
    // The ends of lines stay as they are, and a sign for them behind every line would only be in the way.
    let (before, after) = (before.replace("\r\n", "\n"), after.replace("\r\n", "\n"));
    let name = clean::line(name);
    let difference = similar::TextDiff::from_lines(before.as_str(), after.as_str());
    let text = difference.unified_diff().context_radius(2).header(&name, &format!("{name}, mended")).to_string();
    clean::block(&text).into_owned()
}

/// Puts `after` in the place of the file, which must still hold `before`.
fn replace(path: &Path, before: &str, after: &str) -> Result<(), String> {
    let shown = path.to_string_lossy();
    let shown = clean::line(&shown);
    let failed = |error: io::Error| {
        format!("`{shown}` cannot be mended: {error}. It is as it was. Check its folder and the room on the disk.")
    };
    // A link stays a link: what it leads to is mended.
    let path = path.canonicalize().map_err(failed)?;
    let permissions = fs::metadata(&path).map_err(failed)?.permissions();
    if permissions.readonly() {
        return Err(format!(
            "`{shown}` may be read only, so it is not mended. Change its permissions, or work on a copy."
        ));
    }
    let (new, file) = beside(&path).map_err(failed)?;
    let written = write(file, after, permissions);
    let unchanged = || read::file(&path).is_ok_and(|now| now == before);
    let replaced = match written {
        Ok(()) if !unchanged() => {
            Err(format!("`{shown}` was changed while it was being checked, so it is not mended. Check it again."))
        }
        Ok(()) => fs::rename(&new, &path).map_err(failed),
        Err(error) => Err(failed(error)),
    };
    if replaced.is_err() {
        // What cannot be removed either is no more than a file too many.
        let _ = fs::remove_file(&new);
    }
    replaced
}

/// A new empty file in the folder of `path`.
fn beside(path: &Path) -> io::Result<(PathBuf, File)> {
    const MOST_TRIES: u32 = 16;
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let mut tried = 0;
    loop {
        let new = path.with_file_name(format!(".{name}.mended-{}-{tried}", std::process::id()));
        match OpenOptions::new().write(true).create_new(true).open(&new) {
            Ok(file) => return Ok((new, file)),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists && tried < MOST_TRIES => tried += 1,
            Err(error) => return Err(error),
        }
    }
}

/// Writes a text down to the disk.
fn write(mut file: File, text: &str, permissions: fs::Permissions) -> io::Result<()> {
    file.write_all(text.as_bytes())?;
    file.set_permissions(permissions)?;
    file.sync_all()
}

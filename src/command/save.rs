//! Puts a new text in the place of a pattern file, for all commands that change files.
//!
//! A pattern is the work of days. The new text goes to a file beside the old one, which takes its place only when it is
//! complete and on the disk: whatever happens on the way, one of the two is there in full.

use super::read;
use std::fs::{self, File, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use wale::clean;

/// Puts `after` in the place of the file at `path`, which must still hold `before`. Permissions stay; of a link, the
/// file that it leads to is replaced. `done` is what a message calls it: `mended`, `tidied`.
///
/// # Errors
/// A sentence for the knitter; the file is then as it was, and none is left beside it.
pub(crate) fn replace(path: &Path, before: &str, after: &str, done: &str) -> Result<(), String> {
    let shown = path.to_string_lossy();
    let shown = clean::line(&shown);
    let failed = |error: io::Error| why_not(&shown, done, &error);
    let path = path.canonicalize().map_err(failed)?;
    let old = fs::metadata(&path).map_err(failed)?;
    if old.permissions().readonly() {
        return Err(format!(
            "`{shown}` may be read only, so it is not {done}. Change its permissions, or work on a copy."
        ));
    }
    let (new, file) = beside(&path).map_err(|error| match error.kind() {
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => format!(
            "`{shown}` is not {done}, because nothing can be written in its folder ({error}). It is as it was. Change the \
             permissions of the folder, or work on a copy elsewhere."
        ),
        _ => failed(error),
    })?;
    let replaced = match write(file, after, &old) {
        Ok(()) if !read::file(&path).is_ok_and(|now| now == before) => Err(format!(
            "`{shown}` was changed by somebody else just now, so it is not {done}. Look at it, and try again."
        )),
        Ok(()) => fs::rename(&new, &path).map_err(failed),
        Err(error) => Err(failed(error)),
    };
    if replaced.is_err() {
        // What cannot be removed either is no more than a file too many.
        let _ = fs::remove_file(&new);
    } else if cfg!(unix) {
        // The new name is on the disk when its folder is. Where a folder cannot be written down by itself, the system
        // does it in its own time; until then the old file is there, in full.
        let _ = path.parent().map(|folder| File::open(folder).and_then(|folder| folder.sync_all()));
    }
    replaced
}

/// Why the file could not be written.
fn why_not(shown: &str, done: &str, error: &io::Error) -> String {
    let what_to_do = match error.kind() {
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge => {
            "Make room on the disk and try again."
        }
        ErrorKind::ReadOnlyFilesystem => "Its disk may be read only: work on a copy elsewhere.",
        ErrorKind::PermissionDenied => "Change the permissions of the file and its folder, or work on a copy.",
        _ => "Check its folder and the room on the disk.",
    };
    format!("`{shown}` cannot be {done}: {error}. It is as it was. {what_to_do}")
}

/// A new empty file in the folder of `path`, which nobody else may read until it is complete.
fn beside(path: &Path) -> io::Result<(PathBuf, File)> {
    const MOST_TRIES: u32 = 16;
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let mut tried = 0;
    loop {
        // Not made from the name of the file, which may be as long as names can be.
        let new = path.with_file_name(format!(".wale-{}-{tried}.new", std::process::id()));
        match options.open(&new) {
            Ok(file) => return Ok((new, file)),
            Err(error) if error.kind() == ErrorKind::AlreadyExists && tried < MOST_TRIES => tried += 1,
            Err(error) => return Err(error),
        }
    }
}

/// Writes a text down to the disk, in a file that belongs to whom the old one belongs.
fn write(mut file: File, text: &str, old: &fs::Metadata) -> io::Result<()> {
    file.write_all(text.as_bytes())?;
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        let new = file.metadata()?;
        if (new.uid(), new.gid()) != (old.uid(), old.gid()) {
            // Only the keeper of the machine may give files away; for all others the new file is their own.
            let _ = std::os::unix::fs::fchown(&file, Some(old.uid()), Some(old.gid()));
        }
    }
    file.set_permissions(old.permissions())?;
    file.sync_all()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Somebody may save the same file from an editor in this very moment.
    #[test]
    fn what_was_changed_meanwhile_is_not_replaced() {
        let folder = std::env::temp_dir().join(format!("wale-save-{}", std::process::id()));
        fs::create_dir_all(&folder).expect("a folder for the test");
        let path = folder.join("scarf.wale");
        fs::write(&path, "row front knit\n").expect("a file for the test");
        let said = replace(&path, "row both knit\n", "row back knit\n", "tidied").expect_err("it holds something else");
        assert!(said.ends_with("so it is not tidied. Look at it, and try again."), "{said}");
        assert_eq!(fs::read_to_string(&path).expect("it is there"), "row front knit\n");
        assert_eq!(replace(&path, "row front knit\n", "row back knit\n", "tidied"), Ok(()));
        assert_eq!(fs::read_to_string(&path).expect("it is there"), "row back knit\n");
        assert_eq!(fs::read_dir(&folder).expect("it is there").count(), 1);
        let _ = fs::remove_dir_all(&folder);
    }
}

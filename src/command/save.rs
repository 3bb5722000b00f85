//! Puts a new text in the place of a pattern file, for all commands that change files.
//!
//! A pattern is the work of days. The new text goes to a file beside the old one, which takes its place only when it is
//! complete and on the disk: whatever happens on the way, one of the two is there in full. What the new file could not be
//! like the old one in (whose it is, which other names it has) is refused before anything is changed.

mod system;

use super::read;
use std::fs::{self, File, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use system::Keeps;
use wale::clean;

/// What stands in the way of a new text.
#[derive(Debug)]
enum Trouble {
    /// A sentence for the knitter.
    Said(String),
    /// What the system says.
    Failed(io::Error),
    /// Another program has saved the file meanwhile.
    Changed,
    /// The same, and what it saved could not be given its name back: it is in this file.
    Kept(PathBuf, io::Error),
}

impl From<io::Error> for Trouble {
    fn from(error: io::Error) -> Self {
        Self::Failed(error)
    }
}

/// Puts `after` in the place of the file at `path`, which must still hold `before`. Owner, group, permissions and what
/// else the system keeps of a file stay; of a link, the file that it leads to is replaced. `done` is what a message calls
/// it: `mended`, `tidied`.
///
/// # Errors
/// A sentence for the knitter; the file is then as it was, and none is left beside it.
pub(crate) fn replace(path: &Path, before: &str, after: &str, done: &str) -> Result<(), String> {
    let shown = path.to_string_lossy();
    let shown = clean::line(&shown);
    let replaced = path.canonicalize().map_err(Trouble::from).and_then(|path| {
        let old = open(&path, &shown, done)?;
        let (new, file) = beside(&path).map_err(|error| no_place(&shown, done, error))?;
        let replaced = write(&file, after, &old, &shown, done)
            .and_then(|()| still(&path, before))
            .and_then(|()| swap(&new, &path, before, after));
        match &replaced {
            Err(Trouble::Kept(..)) => {}
            // What cannot be removed is no more than a file too many.
            _ => drop(fs::remove_file(&new)),
        }
        // The two files are held until nothing is left beside: who holds neither may take the name for a rest.
        drop((old, file));
        // The new name is on the disk when its folder is. Where a folder cannot be written down by itself, the system
        // does it in its own time; until then the old file is there, in full.
        if replaced.is_ok() && cfg!(unix) {
            let _ = path.parent().map(|folder| File::open(folder).and_then(|folder| folder.sync_all()));
        }
        replaced
    });
    replaced.map_err(|trouble| match trouble {
        Trouble::Said(said) => said,
        Trouble::Failed(error) => why_not(&shown, done, &error),
        Trouble::Changed => {
            format!("`{shown}` was changed by another program just now, so it is not {done}. Look at it, and try again.")
        }
        Trouble::Kept(new, error) => format!(
            "`{shown}` was changed by another program while it was {done}, and what that saved is now in `{}`, because it \
             could not be put back: {error}. Compare the two, and keep the one you want.",
            clean::line(&new.to_string_lossy())
        ),
    })
}

/// The file, opened so that it could be written: a file that its user may not write is not replaced either, though the
/// permissions of its folder would let a new one take its name.
fn open(path: &Path, shown: &str, done: &str) -> Result<File, Trouble> {
    if fs::metadata(path)?.permissions().readonly() {
        return Err(Trouble::Said(format!(
            "`{shown}` may be read only, so it is not {done}. Change its permissions, or work on a copy."
        )));
    }
    let old = OpenOptions::new().read(true).write(true).open(path).map_err(|error| match error.kind() {
        ErrorKind::PermissionDenied => Trouble::Said(format!(
            "`{shown}` may not be written by you, so it is not {done}. Ask whom it belongs to, or work on a copy of your own."
        )),
        _ => Trouble::Failed(error),
    })?;
    let names = system::names_of(&old.metadata()?);
    if names > 1 {
        return Err(Trouble::Said(format!(
            "`{shown}` is not {done}, because the same file has {names} names (hard links), and a new file would take the \
             place of this one only. Work on a copy; `cp` makes one."
        )));
    }
    if !system::hold(&old) {
        return Err(Trouble::Said(format!(
            "`{shown}` is held by another program just now, perhaps another wale, so it is not {done}. Try again when that \
             has ended."
        )));
    }
    Ok(old)
}

/// Why there can be no file beside the old one.
fn no_place(shown: &str, done: &str, error: io::Error) -> Trouble {
    match error.kind() {
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => Trouble::Said(format!(
            "`{shown}` is not {done}, because nothing can be written in its folder ({error}). It is as it was. Change the \
             permissions of the folder, or work on a copy elsewhere."
        )),
        _ => Trouble::Failed(error),
    }
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

/// A new empty file in the folder of `path`, which nobody else may read until it is complete, and which is held as long as
/// it is open. What a run left there that was ended in the middle is held by nobody, and makes room.
fn beside(path: &Path) -> io::Result<(PathBuf, File)> {
    const MOST_TRIES: u32 = 1000;
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let mut tried = 0;
    loop {
        // Not made from the name of the file, which may be as long as names can be.
        let new = path.with_file_name(format!(".wale-{tried}.new"));
        match options.open(&new) {
            // Between making and holding it another run may have taken it for a rest.
            Ok(file) if system::hold(&file) && system::names_of(&file.metadata()?) == 1 => return Ok((new, file)),
            Ok(_) => tried += 1,
            Err(error) if error.kind() == ErrorKind::AlreadyExists && tried < MOST_TRIES => {
                if !is_removed(&new) {
                    tried += 1;
                }
            }
            Err(error) => return Err(error),
        }
    }
}

/// Removes a file that an earlier run has left, and says whether it is gone.
fn is_removed(rest: &Path) -> bool {
    fs::symlink_metadata(rest).is_ok_and(|rest| rest.is_file())
        && OpenOptions::new()
            .read(true)
            .write(true)
            .open(rest)
            .is_ok_and(|file| system::is_let_go(&file) && fs::remove_file(rest).is_ok())
}

/// Writes a text down to the disk, in a file that is like the old one in all but its text.
fn write(mut file: &File, text: &str, old: &File, shown: &str, done: &str) -> Result<(), Trouble> {
    file.write_all(text.as_bytes())?;
    let refused = |why: &str| Trouble::Said(format!("`{shown}` is not {done}, because {why}."));
    match system::make_like(file, old)? {
        Keeps::All => {}
        Keeps::NotOwner => {
            return Err(refused(
                "it belongs to somebody else, and the new file in its place would be yours. Ask its owner to do it, or work \
                 on a copy of your own",
            ));
        }
        Keeps::NotGroup => {
            return Err(refused(
                "its group is none of yours, and the new file in its place could not keep it. Give the file one of your \
                 groups with `chgrp`, or work on a copy",
            ));
        }
        Keeps::NotRights => {
            return Err(refused(
                "the rights that are written down for it beside its permissions cannot be kept on a new file. Work on a copy",
            ));
        }
    }
    file.set_permissions(old.metadata()?.permissions())?;
    file.sync_all()?;
    Ok(())
}

/// Whether the file holds what it held.
fn still(path: &Path, before: &str) -> Result<(), Trouble> {
    if read::file(path).is_ok_and(|now| now == before) { Ok(()) } else { Err(Trouble::Changed) }
}

/// Puts the file `new`, which holds `after`, in the place of the one at `path`.
///
/// Another program may save between the last look and this. So the two files change names, in one step, and what is now
/// under the name `new` is looked at again: a save is seen there, and gets its name back. Where the system cannot exchange
/// names, a save within these few microseconds is lost; there it is looked at once more and no better way is known.
fn swap(new: &Path, path: &Path, before: &str, after: &str) -> Result<(), Trouble> {
    if system::exchange(new, path).is_err() {
        still(path, before)?;
        return Ok(fs::rename(new, path)?);
    }
    if still(new, before).is_ok() {
        return Ok(());
    }
    let kept = |error| Trouble::Kept(new.to_owned(), error);
    system::exchange(new, path).map_err(kept)?;
    // It may have been saved a second time, into the file that was there for a moment. The last save is the one that counts.
    if still(new, after).is_err() {
        system::exchange(new, path).map_err(kept)?;
    }
    Err(Trouble::Changed)
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

    /// Here it is saved after the last look.
    #[test]
    #[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
    fn what_was_saved_in_the_last_moment_gets_its_name_back() {
        let folder = std::env::temp_dir().join(format!("wale-swap-{}", std::process::id()));
        fs::create_dir_all(&folder).expect("a folder for the test");
        let (path, new) = (folder.join("scarf.wale"), folder.join(".wale-0.new"));
        for (saved, holds) in [("row front knit\n", "row front knit\n"), ("row both knit\n", "row back knit\n")] {
            fs::write(&path, saved).expect("a file for the test");
            fs::write(&new, "row back knit\n").expect("a file for the test");
            if system::exchange(&new, &path).and_then(|()| system::exchange(&new, &path)).is_err() {
                // This disk cannot; there it is only looked at, and `tests/save.rs` tells what came of it.
                break;
            }
            let swapped = swap(&new, &path, "row both knit\n", "row back knit\n");
            assert_eq!(matches!(swapped, Err(Trouble::Changed)), saved == holds, "{swapped:?}");
            assert_eq!(fs::read_to_string(&path).expect("it is there"), holds);
        }
        let _ = fs::remove_dir_all(&folder);
    }
}

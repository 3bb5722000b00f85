//! The files that a pattern `use`s, read from the folder of the pattern and never from outside it: a pattern from
//! somebody else must not be able to look round the disk.

use super::read;
use std::cell::{Cell, RefCell};
use std::path::{Component, Path, PathBuf};
use wale::clean;
use wale::source::{Library, Sources};

/// The folder of one pattern file.
#[derive(Debug)]
pub(crate) struct Folder {
    /// How the folder is written in the names of files; empty for the current one.
    shown: String,
    /// The folder itself.
    path: PathBuf,
    /// How many bytes may still be read for this pattern.
    left: Cell<usize>,
    /// The files that were asked for.
    asked: RefCell<Vec<PathBuf>>,
}

impl Folder {
    /// The folder that the file at `path` is in.
    pub(crate) fn of(path: &Path) -> Self {
        let parent = path.parent().unwrap_or(Path::new(""));
        Self {
            shown: parent.to_string_lossy().into_owned(),
            path: if parent.as_os_str().is_empty() { PathBuf::from(".") } else { parent.to_owned() },
            left: Cell::new(Sources::LONGEST_TEXT),
            asked: RefCell::default(),
        }
    }

    /// The current folder, for a pattern from standard input.
    pub(crate) fn current() -> Self {
        Self::of(Path::new(read::STANDARD_INPUT))
    }

    /// The files that were asked for, those that could not be read with them.
    pub(crate) fn asked(self) -> Vec<PathBuf> {
        self.asked.into_inner()
    }

    /// The name to print of a file inside the folder.
    fn name_of(&self, inside: &str) -> String {
        match self.shown.as_str() {
            "" => inside.to_owned(),
            shown if shown.ends_with('/') => format!("{shown}{inside}"),
            shown => format!("{shown}/{inside}"),
        }
    }

    /// The name to print of a file, and where it is. It need not be there.
    fn place(&self, from: &str, path: &str) -> Result<(String, PathBuf), String> {
        let mut inside = self.parts_before(from);
        inside.extend(parts_of(path)?);
        let inside = inside.join("/");
        Ok((self.name_of(&inside), self.path.join(&inside)))
    }

    /// The folder, inside this one, of a file that has been read; its parts from outside to inside.
    fn parts_before<'f>(&self, from: &'f str) -> Vec<&'f str> {
        let inside = from.strip_prefix(self.shown.as_str()).unwrap_or_default().trim_start_matches('/');
        inside.rsplit_once('/').map_or_else(Vec::new, |(folder, _)| folder.split('/').collect())
    }
}

impl Library for Folder {
    fn read(&self, from: &str, path: &str) -> Result<(String, String), String> {
        let written = clean::line(path);
        let (name, file) = self.place(from, path)?;
        self.asked.borrow_mut().push(file.clone());
        // Links are followed before the place is judged.
        let leads_out = match (self.path.canonicalize(), file.canonicalize()) {
            (Ok(folder), Ok(target)) => !target.starts_with(folder),
            (Err(_), Ok(_)) => true,
            // Reading says why there is nothing.
            (_, Err(_)) => false,
        };
        if leads_out {
            return Err(format!(
                "`{written}` is a link that leads out of the pattern's folder, and nothing outside it is read. Put a copy of \
                 the file beside the pattern and use that."
            ));
        }
        let text = read::file(&file)?;
        let Some(left) = self.left.get().checked_sub(text.len()) else {
            return Err(format!(
                "with `{written}` the files that this pattern uses are longer than {} MiB together, the most that is read. \
                 Check that they are the right files.",
                Sources::LONGEST_TEXT >> 20
            ));
        };
        self.left.set(left);
        Ok((name, text))
    }

    fn name(&self, from: &str, path: &str) -> Option<String> {
        self.place(from, path).ok().map(|(name, _)| name)
    }

    fn beside(&self, from: &str) -> Vec<String> {
        let inside = self.parts_before(from).join("/");
        let mut found = Vec::new();
        let mut open = vec![(self.path.join(&inside), String::new(), 0)];
        let mut left = MOST_LISTED;
        while let Some((folder, before, depth)) = open.pop() {
            // A folder that cannot be read has nothing to offer.
            for entry in std::fs::read_dir(folder).into_iter().flatten().flatten() {
                let Some(rest) = left.checked_sub(1) else { break };
                left = rest;
                let Ok(name) = entry.file_name().into_string() else { continue };
                let (path, is_folder) = (entry.path(), entry.file_type().is_ok_and(|kind| kind.is_dir()));
                if name.starts_with('.') || name.contains(clean::is_hidden) || name.contains('"') {
                    continue;
                }
                if is_folder && depth < DEEPEST_LISTED {
                    open.push((path, format!("{before}{name}/"), depth + 1));
                } else if !is_folder && path.extension().is_some_and(|ending| ending == "wale") {
                    found.push(format!("{before}{name}"));
                }
            }
        }
        found.retain(|path| self.name(from, path).is_some_and(|name| name != from));
        found.sort();
        found
    }
}

/// Files and folders that are looked at when the files beside a pattern are listed, and how deep.
const MOST_LISTED: usize = 2000;
const DEEPEST_LISTED: usize = 4;

/// The parts of a path as written in a pattern.
fn parts_of(path: &str) -> Result<Vec<&str>, String> {
    let written = clean::line(path);
    if path.contains('\\') {
        return Err(format!("`{written}` has a backslash in it. Write `/` between a folder and a file."));
    }
    if path.contains(clean::is_hidden) {
        return Err(format!("`{written}` has a character in it that cannot be seen. Type the name again."));
    }
    let mut parts = Vec::new();
    for component in Path::new(path).components() {
        match component {
            Component::Normal(part) => parts.extend(part.to_str()),
            Component::CurDir => {}
            Component::ParentDir => {
                return Err(format!(
                    "`{written}` goes up with `..`, and nothing above the pattern's folder is read. Put the file beside the \
                     pattern, or in a folder beside it."
                ));
            }
            Component::RootDir | Component::Prefix(_) => {
                return Err(format!(
                    "`{written}` starts at the root of the disk, and only the pattern's folder is read. Put the file beside \
                     the pattern and give its name alone."
                ));
            }
        }
    }
    if parts.is_empty() || path.ends_with('/') {
        return Err(format!("`{written}` is not the name of a file. Give one, such as \"yarns.wale\"."));
    }
    Ok(parts)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs;

    /// A folder of its own for one test, removed at the end.
    struct Place(PathBuf);

    impl Place {
        fn new(name: &str) -> Self {
            let path = std::env::temp_dir().join(format!("wale-library-{name}-{}", std::process::id()));
            let _ = fs::remove_dir_all(&path);
            fs::create_dir_all(path.join("pattern/yarns")).expect("a folder for the test");
            fs::write(path.join("outside.wale"), "secret").expect("a file for the test");
            fs::write(path.join("pattern/hat.wale"), "hat").expect("a file for the test");
            fs::write(path.join("pattern/yarns/wool.wale"), "wool").expect("a file for the test");
            fs::write(path.join("pattern/yarns/base.wale"), "base").expect("a file for the test");
            Self(path)
        }

        fn main(&self) -> PathBuf {
            self.0.join("pattern/hat.wale")
        }
    }

    impl Drop for Place {
        fn drop(&mut self) {
            let _ = fs::remove_dir_all(&self.0);
        }
    }

    #[test]
    fn a_path_is_taken_from_the_file_that_uses_it() {
        let place = Place::new("from");
        let folder = Folder::of(&place.main());
        let main = place.main().to_string_lossy().into_owned();
        let (name, text) = folder.read(&main, "./yarns//wool.wale").expect("it is there");
        assert_eq!(text, "wool");
        assert_eq!(name, place.0.join("pattern/yarns/wool.wale").to_string_lossy());
        let (name, text) = folder.read(&name, "base.wale").expect("it is beside");
        assert_eq!(
            (name, text),
            (place.0.join("pattern/yarns/base.wale").to_string_lossy().into_owned(), "base".into())
        );
        let said = folder.read(&main, "base.wale").expect_err("it is not here");
        assert!(said.starts_with("there is no file"), "{said}");
    }

    #[test]
    fn files_beside_are_listed_as_they_would_be_written() {
        let place = Place::new("beside");
        let folder = Folder::of(&place.main());
        let main = place.main().to_string_lossy().into_owned();
        assert_eq!(folder.beside(&main), ["yarns/base.wale", "yarns/wool.wale"]);
        let name = folder.name(&main, "yarns/new.wale");
        assert_eq!(name, Some(place.0.join("pattern/yarns/new.wale").to_string_lossy().into_owned()));
        assert_eq!(folder.name(&main, "../outside.wale"), None);
        let wool = place.0.join("pattern/yarns/wool.wale").to_string_lossy().into_owned();
        assert_eq!(folder.beside(&wool), ["base.wale"]);
    }

    #[test]
    fn nothing_outside_the_folder_is_read() {
        let place = Place::new("outside");
        let folder = Folder::of(&place.main());
        let main = place.main().to_string_lossy().into_owned();
        let absolute = place.0.join("outside.wale").to_string_lossy().into_owned();
        for (path, words) in [
            ("../outside.wale", "goes up with `..`"),
            ("yarns/../../outside.wale", "goes up with `..`"),
            ("yarns/../hat.wale", "goes up with `..`"),
            (absolute.as_str(), "starts at the root"),
            ("/etc/passwd", "starts at the root"),
            ("..\\outside.wale", "backslash"),
            ("", "not the name of a file"),
            (".", "not the name of a file"),
            ("yarns/", "not the name of a file"),
            ("yarns", "is a folder"),
            ("hat\0.wale", "cannot be seen"),
        ] {
            let said = folder.read(&main, path).expect_err("it must be refused");
            assert!(said.contains(words), "{path}: {said}");
        }
    }

    #[cfg(unix)]
    #[test]
    fn links_are_followed_inside_the_folder_only() {
        let place = Place::new("links");
        let link = |to: &str, name: &str| {
            std::os::unix::fs::symlink(to, place.0.join("pattern").join(name)).expect("a link for the test");
        };
        link("../outside.wale", "out.wale");
        link("..", "up");
        link("yarns/wool.wale", "in.wale");
        let folder = Folder::of(&place.main());
        let main = place.main().to_string_lossy().into_owned();
        for path in ["out.wale", "up/outside.wale"] {
            let said = folder.read(&main, path).expect_err("it leads outside");
            assert!(said.contains("leads out of the pattern's folder"), "{path}: {said}");
        }
        assert_eq!(folder.read(&main, "in.wale").map(|(_, text)| text), Ok("wool".to_owned()));
    }

    #[test]
    fn names_in_the_current_folder_have_no_folder() {
        let folder = Folder::current();
        assert_eq!(folder.name_of("yarns/wool.wale"), "yarns/wool.wale");
        assert_eq!(folder.parts_before("yarns/wool.wale"), ["yarns"]);
        assert_eq!(folder.parts_before(read::STANDARD_INPUT), [""; 0]);
        let here = Folder::of(Path::new("patterns/hat.wale"));
        assert_eq!(here.name_of("wool.wale"), "patterns/wool.wale");
        assert_eq!(here.parts_before("patterns/yarns/wool.wale"), ["yarns"]);
        assert_eq!(here.parts_before("patterns/hat.wale"), [""; 0]);
    }
}

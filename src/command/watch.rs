//! Waits until one of some files changes.
//!
//! They are looked at several times a second. That is the same on every system and every disk, also on those of other
//! computers, which tell nobody of changes; and to ask for the dates of a few files costs nothing that can be felt.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant, SystemTime};

/// How often the files are looked at. An editor saves in several steps: what is seen here has to be the same at the next
/// look as well, and then the file is whole.
const LOOK: Duration = Duration::from_millis(100);

/// What is known of a file without reading it; of none where there is none.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Seen {
    modified: Option<SystemTime>,
    length: u64,
    /// Another file of the same name may be as long and as old; it has another number, where files have numbers.
    number: u64,
}

/// The files, and how they were seen last.
#[derive(Debug, Default)]
pub(crate) struct Watch {
    files: BTreeMap<PathBuf, Option<Seen>>,
}

impl Watch {
    /// Sets the files to be watched; they need not be there. Those that were watched already are compared with what was
    /// seen of them before.
    pub(crate) fn set(&mut self, files: impl IntoIterator<Item = PathBuf>) {
        let mut known = std::mem::take(&mut self.files);
        self.files = files
            .into_iter()
            .map(|file| std::path::absolute(&file).unwrap_or(file))
            .map(|file| {
                let seen = known.remove(&file).unwrap_or_else(|| seen(&file));
                (file, seen)
            })
            .collect();
    }

    /// Waits for a change, at most for `patience`. Gives the file, or the folder that is gone with it, or nothing when the
    /// time is up.
    pub(crate) fn changed(&mut self, patience: Duration) -> Option<PathBuf> {
        let until = Instant::now() + patience;
        let mut changed: Option<PathBuf> = None;
        loop {
            let now = self.look();
            if now.is_none() && (changed.is_some() || Instant::now() >= until) {
                // A folder goes file by file, and is looked at once it is gone.
                return changed.map(|file| if file.exists() { file } else { topmost_gone(&file) });
            }
            changed = now.or(changed);
            std::thread::sleep(LOOK);
        }
    }

    /// The first file that is not as it was seen last. All are seen anew.
    fn look(&mut self) -> Option<PathBuf> {
        let mut changed = None;
        for (file, was) in &mut self.files {
            let now = seen(file);
            if std::mem::replace(was, now) != now && changed.is_none() {
                changed = Some(file.clone());
            }
        }
        changed
    }
}

/// What is seen of a file; of a link, of the file that it leads to.
fn seen(file: &Path) -> Option<Seen> {
    let there = file.metadata().ok()?;
    #[cfg(unix)]
    let number = std::os::unix::fs::MetadataExt::ino(&there);
    #[cfg(not(unix))]
    let number = 0;
    Some(Seen { modified: there.modified().ok(), length: there.len(), number })
}

/// The outermost of the folders that went with a file; the file itself where its folder is there.
fn topmost_gone(file: &Path) -> PathBuf {
    file.ancestors().take_while(|path| !path.exists()).last().unwrap_or(file).to_owned()
}

/// What has become of a file or folder that [`Watch::changed`] gave, as a sentence without its end.
pub(crate) fn what_became_of(path: &Path, name: &str) -> String {
    if path.exists() { format!("{name} was saved") } else { format!("{name} is gone") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs;

    #[test]
    fn a_change_is_seen_once_and_told_of_the_outermost_folder() {
        const SOON: Duration = Duration::from_millis(1);
        let folder = std::env::temp_dir().join(format!("wale-watch-{}", std::process::id()));
        let inner = folder.join("yarns");
        let file = inner.join("wool.wale");
        fs::create_dir_all(&inner).expect("a folder for the test");
        let mut watch = Watch::default();
        watch.set([file.clone()]);
        assert_eq!(watch.changed(SOON), None);
        fs::write(&file, "wool").expect("a file for the test");
        // What changes while other work is done is not missed, though the files are set again.
        watch.set([file.clone()]);
        assert_eq!(watch.changed(SOON).as_ref(), Some(&file));
        assert_eq!(watch.changed(SOON), None);
        // As long, and another file.
        fs::write(folder.join("new"), "silk").expect("a file for the test");
        fs::rename(folder.join("new"), &file).expect("it is ours");
        assert_eq!(watch.changed(SOON).as_ref(), Some(&file));
        fs::remove_dir_all(&inner).expect("it is ours");
        let gone = watch.changed(SOON);
        assert_eq!(gone.as_ref(), Some(&inner));
        assert_eq!(what_became_of(&inner, "yarns"), "yarns is gone");
        let _ = fs::remove_dir_all(&folder);
    }
}

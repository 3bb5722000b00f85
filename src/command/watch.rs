//! Waits until one of some files changes.

use notify::event::ModifyKind;
use notify::{Config, Event, EventKind, PollWatcher, RecommendedWatcher, RecursiveMode, Watcher};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver};
use std::time::Duration;

/// An editor saves in several steps; this long after the last of them the file is whole.
const SETTLED: Duration = Duration::from_millis(120);
/// How often files are looked at where the system does not tell of changes.
const POLL: Duration = Duration::from_secs(1);

/// Watches files, through the folders in which they stand: editors often put a new file in the place of the old one.
pub(crate) struct Watch {
    watcher: Box<dyn Watcher + Send>,
    events: Receiver<notify::Result<Event>>,
    folders: BTreeSet<PathBuf>,
    files: BTreeSet<PathBuf>,
}

impl Watch {
    /// Watches nothing yet.
    ///
    /// # Errors
    /// A sentence, where files cannot be watched at all.
    pub(crate) fn new() -> Result<Self, String> {
        let (sender, events) = mpsc::channel();
        let again = sender.clone();
        let watcher: Box<dyn Watcher + Send> = match RecommendedWatcher::new(sender, Config::default()) {
            Ok(watcher) => Box::new(watcher),
            Err(_) => Box::new(
                PollWatcher::new(again, Config::default().with_poll_interval(POLL))
                    .map_err(|error| format!("files cannot be watched here: {error}. Run the check again by hand."))?,
            ),
        };
        Ok(Self { watcher, events, folders: BTreeSet::new(), files: BTreeSet::new() })
    }

    /// Sets the files to be watched; they need not be there. Of a file whose folder is not there the nearest folders
    /// above it are watched. A folder that cannot be watched is passed over: the others still are.
    pub(crate) fn set(&mut self, files: impl IntoIterator<Item = PathBuf>) {
        // What a link leads to is watched as well as the link.
        let both = |file: PathBuf| [Some(absolute(&file)), file.canonicalize().ok()];
        self.files = files.into_iter().flat_map(both).flatten().collect();
        // The folder above is told when the folder itself goes, and when there is another one of its name.
        let nearest = |file: &PathBuf| {
            file.ancestors().skip(1).filter(|folder| folder.is_dir()).take(2).map(Path::to_owned).collect::<Vec<_>>()
        };
        let folders: BTreeSet<PathBuf> = self.files.iter().flat_map(nearest).collect();
        for gone in self.folders.difference(&folders) {
            // It may have been removed; then there is nothing to stop watching.
            let _ = self.watcher.unwatch(gone);
        }
        self.folders = folders
            .into_iter()
            .filter(|folder| {
                self.folders.contains(folder) || self.watcher.watch(folder, RecursiveMode::NonRecursive).is_ok()
            })
            .collect();
    }

    /// Waits for a change, at most for `patience`. Gives the file, or the folder in which one is or should be, or nothing
    /// when the time is up.
    pub(crate) fn changed(&mut self, patience: Duration) -> Option<PathBuf> {
        let mut seen = None;
        loop {
            let wait = if seen.is_some() { SETTLED } else { patience };
            let event = self.events.recv_timeout(wait);
            match event {
                Ok(Ok(event)) if matters(event.kind) => {
                    for path in event.paths.iter().map(|path| absolute(path)) {
                        let holds_one = || self.files.iter().any(|file| file.starts_with(&path));
                        if self.files.contains(&path) {
                            seen = Some(path);
                        } else if comes_or_goes(event.kind) && holds_one() {
                            self.forget(&path);
                            seen = Some(path);
                        }
                    }
                }
                Ok(_) => {}
                Err(_) => return seen,
            }
        }
    }

    /// Watches a folder and those in it no longer: one of the same name that comes later is another folder.
    fn forget(&mut self, folder: &Path) {
        let (gone, kept): (BTreeSet<_>, _) =
            std::mem::take(&mut self.folders).into_iter().partition(|known| known.starts_with(folder));
        self.folders = kept;
        for gone in gone {
            // Mostly it is not watched any more, because it is not there.
            let _ = self.watcher.unwatch(&gone);
        }
    }
}

/// What has become of a file or folder that [`Watch::changed`] gave, as a sentence without its end.
pub(crate) fn what_became_of(path: &Path, name: &str) -> String {
    match path.symlink_metadata() {
        Err(_) => format!("{name} is gone"),
        Ok(there) if there.is_dir() => format!("the folder {name} is there now"),
        Ok(_) => format!("{name} was saved"),
    }
}

/// Whether a folder may be another one after it, or none.
const fn comes_or_goes(kind: EventKind) -> bool {
    matches!(
        kind,
        EventKind::Create(_) | EventKind::Remove(_) | EventKind::Modify(ModifyKind::Name(_)) | EventKind::Any
    )
}

/// Whether a file may hold something else after it. Reading a file is told of, too, and would never end.
const fn matters(kind: EventKind) -> bool {
    !matches!(kind, EventKind::Access(_))
}

/// The path from the root, with the links in its folder followed; neither the file nor its folder need be there.
fn absolute(path: &Path) -> PathBuf {
    let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
    let real = path.ancestors().skip(1).find_map(|folder| Some((folder, folder.canonicalize().ok()?)));
    match real.and_then(|(folder, real)| Some(real.join(path.strip_prefix(folder).ok()?))) {
        Some(real) => real,
        None => path,
    }
}

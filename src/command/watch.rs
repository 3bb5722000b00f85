//! Waits until one of some files changes.

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

    /// Sets the files to be watched. A folder that cannot be watched is passed over: the others still are.
    pub(crate) fn set(&mut self, files: impl IntoIterator<Item = PathBuf>) {
        // What a link leads to is watched as well as the link.
        let both = |file: PathBuf| [Some(absolute(&file)), file.canonicalize().ok()];
        self.files = files.into_iter().flat_map(both).flatten().collect();
        let folders: BTreeSet<PathBuf> =
            self.files.iter().filter_map(|file| file.parent().map(Path::to_owned)).collect();
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

    /// Waits for a change, at most for `patience`. Gives the file, or nothing when the time is up.
    pub(crate) fn changed(&self, patience: Duration) -> Option<PathBuf> {
        let mut seen = None;
        loop {
            let wait = if seen.is_some() { SETTLED } else { patience };
            let event = self.events.recv_timeout(wait);
            match event {
                Ok(Ok(event)) if matters(event.kind) => {
                    seen = event.paths.into_iter().find(|path| self.files.contains(&absolute(path))).or(seen);
                }
                Ok(_) => {}
                Err(_) => return seen,
            }
        }
    }
}

/// Whether a file may hold something else after it. Reading a file is told of, too, and would never end.
const fn matters(kind: EventKind) -> bool {
    !matches!(kind, EventKind::Access(_))
}

/// The path from the root, with the links in its folder followed; the file itself need not be there.
fn absolute(path: &Path) -> PathBuf {
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let folder = folder.canonicalize().unwrap_or_else(|_| folder.to_owned());
    path.file_name().map_or_else(|| folder.clone(), |name| folder.join(name))
}

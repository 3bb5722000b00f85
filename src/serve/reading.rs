//! What is known of the open texts: each is read, worked out and checked once, whoever asks for it first.

use super::knit::{self, Known};
use super::texts::{Asked, Libraries, OnDisk, Overlay, Texts};
use crate::compile::{Planned, Read};
use crate::finding::Finding;
use crate::names::Names;
use crate::plan::program::Program;
use crate::plan::rules::TOO_LARGE;
use crate::plan::{self, NamedValue};
use crate::source::{FileId, SourceFile, Sources, Span};
use crate::syntax::tree::Tree;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};

/// An open text with everything it uses. What is more than read is found out when it is first asked for, and kept.
#[derive(Debug)]
pub(super) struct Reading {
    pub(super) root: String,
    asked: Asked,
    on_disk: Vec<OnDisk>,
    read: Read,
    /// The number of bytes of a text that is too long to be read; it is then read as an empty one.
    too_long: Option<usize>,
    planned: OnceLock<Planned>,
    findings: OnceLock<Vec<Finding>>,
    values: OnceLock<Vec<NamedValue>>,
    rows: OnceLock<Known>,
}

impl Reading {
    /// None where the text is not open.
    fn new(root: &str, texts: &Texts, libraries: &Libraries) -> Option<Self> {
        let open = texts.get(root)?;
        let overlay = Overlay::new(texts, root, libraries);
        let too_long = Some(open.text.len()).filter(|length| *length > Sources::LONGEST_TEXT);
        let read = Read::new(root, if too_long.is_some() { "" } else { &open.text }, &overlay);
        let (asked, on_disk) = overlay.asked();
        Some(Self {
            root: root.to_owned(),
            asked,
            on_disk,
            read,
            too_long,
            planned: OnceLock::new(),
            findings: OnceLock::new(),
            values: OnceLock::new(),
            rows: OnceLock::new(),
        })
    }

    /// Whether all that was read is still as it was.
    pub(super) fn is_current(&self, texts: &Texts) -> bool {
        self.asked.iter().all(|(name, stamp)| texts.stamp(name) == *stamp)
    }

    /// Whether the files that are not open still hold what was read of them. Not every editor tells when one changes.
    fn is_as_on_disk(&self, libraries: &Libraries) -> bool {
        let library = libraries(&self.root);
        self.on_disk.iter().all(|(from, path, name)| match (library.read(from, path), name) {
            (Ok((now, text)), Some(name)) => now == *name && self.text(name) == Some(&text),
            (Err(_), None) => true,
            _ => false,
        })
    }

    /// Whether it was asked for the text of that name on the way.
    pub(super) fn hangs_on(&self, name: &str) -> bool {
        self.asked.contains_key(name)
    }

    pub(super) const fn sources(&self) -> &Sources {
        &self.read.sources
    }

    pub(super) fn trees(&self) -> &[(FileId, Tree)] {
        &self.read.trees
    }

    /// The text of the file of that name.
    fn text(&self, name: &str) -> Option<&str> {
        self.sources().iter().find(|file| file.name() == name).map(SourceFile::text)
    }

    /// The number of the file of that name, and its tree.
    pub(super) fn file(&self, name: &str) -> Option<(FileId, &Tree)> {
        self.trees().iter().find(|(file, _)| self.sources().get(*file).name() == name).map(|(file, tree)| (*file, tree))
    }

    /// Whether nothing is known of the text but that it is too long.
    pub(super) const fn is_too_long(&self) -> bool {
        self.too_long.is_some()
    }

    fn planned(&self) -> &Planned {
        self.planned.get_or_init(|| self.read.plan())
    }

    /// The programs, one for each size.
    pub(super) fn programs(&self) -> &[Program] {
        &self.planned().programs
    }

    /// The values that have names.
    pub(super) fn values(&self) -> &[NamedValue] {
        self.values.get_or_init(|| plan::values(self.sources(), self.trees(), self.names()))
    }

    /// The names and where they stand.
    pub(super) const fn names(&self) -> &Names {
        &self.read.names
    }

    /// What is found in it; none when that is not wanted any more before it is known.
    pub(super) fn findings(&self, wanted: &dyn Fn() -> bool) -> Option<&[Finding]> {
        known(&self.findings, || match self.too_long {
            Some(length) => Some(vec![too_long(length)]),
            None if wanted() => self.read.play(self.planned(), wanted),
            None => None,
        })
        .map(Vec::as_slice)
    }

    /// What is found in it, where it has been checked.
    pub(super) fn found(&self) -> Option<&[Finding]> {
        self.findings.get().map(Vec::as_slice)
    }

    /// The rows that each line makes; none when that is not wanted any more before it is known.
    pub(super) fn rows(&self, wanted: &dyn Fn() -> bool) -> Option<&Known> {
        known(&self.rows, || Some(knit::known(self.programs(), wanted)).filter(|_| wanted()))
    }
}

/// What is kept, found out now if it is not known yet. Two who ask at the same time do not wait for each other, because one
/// of them may give up; what the first has found is kept.
fn known<T>(kept: &OnceLock<T>, find: impl FnOnce() -> Option<T>) -> Option<&T> {
    if kept.get().is_none() {
        let _ = kept.set(find()?);
    }
    kept.get()
}

/// What there is to say of a text that is too long to be read.
fn too_long(length: usize) -> Finding {
    let span = Span { file: FileId::default(), start: 0, end: 0 };
    TOO_LARGE
        .finds(span, "this text is too long to be a pattern")
        .because(format!("It has {length} bytes; texts of up to {} MiB are read.", Sources::LONGEST_TEXT >> 20))
        .mend("Check that this is the file you mean. If it is, put some of it into files of their own, and `use` them.")
}

/// The reading of one text, made by whoever asks first while the others wait.
#[derive(Debug)]
struct Slot {
    /// The moment of the texts that it was first asked for.
    clock: u64,
    /// The stamp of the text itself.
    stamp: u64,
    reading: OnceLock<Option<Arc<Reading>>>,
}

impl Slot {
    fn holds(&self, texts: &Texts, root: &str) -> bool {
        self.reading.get().map_or_else(
            || self.stamp == texts.stamp(root),
            |made| made.as_ref().is_some_and(|reading| reading.is_current(texts)),
        )
    }
}

/// The last reading of each open text: what one question or check has read, worked out or found serves all others. A copy is
/// the same shelf.
#[derive(Debug, Clone, Default)]
pub struct Shelf {
    slots: Arc<Mutex<BTreeMap<String, Arc<Slot>>>>,
}

impl Shelf {
    /// Nothing is left half done in it when somebody ends amid his work.
    fn slots(&self) -> MutexGuard<'_, BTreeMap<String, Arc<Slot>>> {
        self.slots.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The reading of an open text; none where it is not open.
    pub(super) fn reading(&self, root: &str, texts: &Texts, libraries: &Libraries) -> Option<Arc<Reading>> {
        texts.get(root)?;
        let slot = {
            let mut slots = self.slots();
            match slots.get(root) {
                Some(slot) if slot.holds(texts, root) => Arc::clone(slot),
                known => {
                    let reading = OnceLock::new();
                    let slot = Arc::new(Slot { clock: texts.clock, stamp: texts.stamp(root), reading });
                    // Whoever is behind with the texts does not take away what the others need.
                    if known.is_none_or(|known| known.clock <= texts.clock) {
                        slots.retain(|root, slot| slot.clock > texts.clock || texts.get(root).is_some());
                        slots.insert(root.to_owned(), Arc::clone(&slot));
                    }
                    slot
                }
            }
        };
        let read = || Reading::new(root, texts, libraries).map(Arc::new);
        let made = slot.reading.get_or_init(read).as_ref();
        // A file that it uses may have changed while somebody else read it.
        made.filter(|made| made.is_current(texts)).cloned().or_else(read)
    }

    /// Puts away what was read of files that have changed since, also where nobody has told of it. To be asked before an
    /// answer that names places in files that are not open.
    pub(super) fn look_at_files(&self, libraries: &Libraries) {
        let made: Vec<(String, Arc<Slot>)> =
            self.slots().iter().map(|(root, slot)| (root.clone(), Arc::clone(slot))).collect();
        for (root, slot) in made {
            let reading = slot.reading.get().and_then(Option::as_ref);
            if reading.is_some_and(|reading| !reading.is_as_on_disk(libraries)) {
                let mut slots = self.slots();
                if slots.get(&root).is_some_and(|now| Arc::ptr_eq(now, &slot)) {
                    slots.remove(&root);
                }
            }
        }
    }
}

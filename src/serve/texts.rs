//! The texts as they are at one moment: those that are open in the editor, and below them the files.

use crate::source::Library;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Gives the files beside a text, by the name of that text.
pub type Libraries = dyn Fn(&str) -> Box<dyn Library> + Send + Sync;

/// One text that is open.
#[derive(Debug, Clone)]
pub(super) struct Open {
    /// Its address as the editor writes it.
    pub(super) address: String,
    /// Its version, as the editor counts.
    pub(super) version: i32,
    pub(super) text: Arc<str>,
    /// Another number after each change.
    stamp: u64,
}

/// The texts at one moment. A copy costs nothing and stays as it is.
#[derive(Debug, Clone, Default)]
pub struct Texts {
    open: Arc<BTreeMap<String, Open>>,
    /// The stamps of files that are known to have changed while they were not open.
    outside: Arc<BTreeMap<String, u64>>,
    /// The last of the stamps.
    pub(super) clock: u64,
}

impl Texts {
    fn tick(&mut self) -> u64 {
        self.clock += 1;
        self.clock
    }

    /// Opens a text, or gives it anew.
    pub(super) fn put(&mut self, name: &str, address: &str, version: i32, text: &str) {
        let open = Open { address: address.to_owned(), version, text: text.into(), stamp: self.tick() };
        Arc::make_mut(&mut self.open).insert(name.to_owned(), open);
    }

    /// Takes a text away; from now on the file counts.
    pub(super) fn take(&mut self, name: &str) -> bool {
        let stamp = self.tick();
        Arc::make_mut(&mut self.outside).insert(name.to_owned(), stamp);
        Arc::make_mut(&mut self.open).remove(name).is_some()
    }

    /// A file has changed on the disk.
    pub(super) fn changed_outside(&mut self, name: &str) {
        let stamp = self.tick();
        Arc::make_mut(&mut self.outside).insert(name.to_owned(), stamp);
    }

    pub(super) fn get(&self, name: &str) -> Option<&Open> {
        self.open.get(name)
    }

    /// The names of all open texts.
    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        self.open.keys().map(String::as_str)
    }

    /// A number that is another one whenever the text, or the file where none is open, is known to be another one.
    pub(super) fn stamp(&self, name: &str) -> u64 {
        self.open.get(name).map_or_else(|| self.outside.get(name).copied().unwrap_or(0), |open| open.stamp)
    }

    /// The address of a text, as the editor writes it where it is open.
    pub(super) fn address(&self, name: &str) -> String {
        self.open.get(name).map_or_else(|| super::place::address_of(name), |open| open.address.clone())
    }
}

/// What was asked for while a text was read, each name with its stamp.
pub(super) type Asked = BTreeMap<String, u64>;

/// A file that was asked for on the disk: from which file, with which path, and the name under which it was read; none
/// where it could not be.
pub(super) type OnDisk = (String, String, Option<String>);

/// The open texts over the files; it remembers what was asked for.
pub(super) struct Overlay<'d> {
    texts: &'d Texts,
    below: Box<dyn Library>,
    asked: RefCell<Asked>,
    on_disk: RefCell<Vec<OnDisk>>,
}

impl<'d> Overlay<'d> {
    pub(super) fn new(texts: &'d Texts, root: &str, libraries: &Libraries) -> Self {
        let asked = RefCell::new(Asked::from([(root.to_owned(), texts.stamp(root))]));
        Self { texts, below: libraries(root), asked, on_disk: RefCell::default() }
    }

    fn note(&self, name: &str) {
        self.asked.borrow_mut().insert(name.to_owned(), self.texts.stamp(name));
    }

    /// What was asked for, and what of it on the disk.
    pub(super) fn asked(self) -> (Asked, Vec<OnDisk>) {
        (self.asked.into_inner(), self.on_disk.into_inner())
    }
}

impl Library for Overlay<'_> {
    fn read(&self, from: &str, path: &str) -> Result<(String, String), String> {
        if let Some(name) = self.below.name(from, path) {
            self.note(&name);
            if let Some(open) = self.texts.get(&name) {
                return Ok((name, open.text.to_string()));
            }
        }
        let read = self.below.read(from, path);
        let name = read.as_ref().ok().map(|(name, _)| name.clone());
        self.on_disk.borrow_mut().push((from.to_owned(), path.to_owned(), name));
        let (name, text) = read?;
        self.note(&name);
        Ok((name, text))
    }
}

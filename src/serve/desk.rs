//! The texts as they are at one moment: those that are open in the editor, and below them the files.

use super::text::Encoding;
use crate::plan;
use crate::plan::program::Program;
use crate::source::{FileId, Library, SourceFile, Sources};
use crate::syntax;
use crate::syntax::tree::Tree;
use std::cell::{OnceCell, RefCell};
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
    clock: u64,
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
type OnDisk = (String, String, Option<String>);

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

    pub(super) fn asked(self) -> Asked {
        self.asked.into_inner()
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

/// A text that was read with everything it uses, without being checked.
pub(super) struct Reading {
    pub(super) root: String,
    asked: Asked,
    on_disk: Vec<OnDisk>,
    pub(super) sources: Sources,
    pub(super) trees: Vec<(FileId, Tree)>,
    programs: OnceCell<Vec<Program>>,
    names: OnceCell<crate::names::Names>,
    rows: OnceCell<super::hints::Known>,
}

impl Reading {
    pub(super) fn new(root: &str, texts: &Texts, libraries: &Libraries) -> Option<Self> {
        let open = texts.get(root).filter(|open| open.text.len() <= Sources::LONGEST_TEXT)?;
        let overlay = Overlay::new(texts, root, libraries);
        let mut sources = Sources::default();
        let main = sources.add(root, &*open.text);
        let (trees, _) = plan::gather(&mut sources, main, &overlay, syntax::read);
        let on_disk = overlay.on_disk.take();
        let asked = overlay.asked();
        Some(Self {
            root: root.to_owned(),
            asked,
            on_disk,
            sources,
            trees,
            programs: OnceCell::new(),
            names: OnceCell::new(),
            rows: OnceCell::new(),
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

    /// The text of the file of that name.
    pub(super) fn text(&self, name: &str) -> Option<&str> {
        self.sources.iter().find(|file| file.name() == name).map(SourceFile::text)
    }

    /// The programs, one for each size.
    pub(super) fn programs(&self) -> &[Program] {
        self.programs.get_or_init(|| plan::plan(&self.sources, &self.trees).0)
    }

    /// The names and where they stand.
    pub(super) fn names(&self) -> &crate::names::Names {
        self.names.get_or_init(|| crate::names::Names::of(&self.trees))
    }

    /// The rows that each line makes; none when that is not wanted any more before it is known.
    pub(super) fn rows(&self, wanted: &dyn Fn() -> bool) -> Option<&super::hints::Known> {
        if self.rows.get().is_none() {
            let known = super::hints::known(self.programs(), wanted);
            if !wanted() {
                return None;
            }
            // Nobody else has set it meanwhile.
            let _ = self.rows.set(known);
        }
        self.rows.get()
    }

    /// The number of the file of that name, and its tree.
    pub(super) fn file(&self, name: &str) -> Option<(FileId, &Tree)> {
        self.trees.iter().find(|(file, _)| self.sources.get(*file).name() == name).map(|(file, tree)| (*file, tree))
    }
}

/// Keeps what was read last, so that one question after the other about the same texts reads them once.
#[derive(Default)]
pub struct Shelf {
    kept: RefCell<Vec<std::rc::Rc<Reading>>>,
}

impl Shelf {
    /// Readings that are kept.
    const MOST: usize = 64;

    /// The reading of an open text; none where it is not open, or too long.
    pub(super) fn reading(&self, root: &str, texts: &Texts, libraries: &Libraries) -> Option<std::rc::Rc<Reading>> {
        let mut kept = self.kept.borrow_mut();
        kept.retain(|reading| reading.is_current(texts));
        if let Some(known) = kept.iter().find(|reading| reading.root == root) {
            return Some(std::rc::Rc::clone(known));
        }
        let reading = std::rc::Rc::new(Reading::new(root, texts, libraries)?);
        kept.insert(0, std::rc::Rc::clone(&reading));
        kept.truncate(Self::MOST);
        Some(reading)
    }
}

impl Shelf {
    /// Puts away what was read of files that have changed since, also where nobody has told of it. To be asked before an
    /// answer that names places in files that are not open.
    pub(super) fn look_at_files(&self, texts: &Texts, libraries: &Libraries) {
        self.kept.borrow_mut().retain(|reading| reading.is_current(texts) && reading.is_as_on_disk(libraries));
    }
}

/// Everything that an answer is made from.
pub(super) struct Desk<'d> {
    /// The texts.
    pub(super) texts: &'d Texts,
    /// How columns are counted.
    pub(super) encoding: Encoding,
    /// The files.
    pub(super) libraries: &'d Libraries,
    /// What was read before.
    pub(super) shelf: &'d Shelf,
    /// What was found in the texts as they are.
    pub(super) results: &'d [Arc<super::workspace::Looked>],
    /// Whether edits may name the version that they are made for.
    pub(super) versioned: bool,
    /// Whether somebody still wants the answer.
    pub(super) wanted: &'d dyn Fn() -> bool,
}

impl Desk<'_> {
    pub(super) fn reading(&self, root: &str) -> Option<std::rc::Rc<Reading>> {
        self.shelf.reading(root, self.texts, self.libraries)
    }

    /// The readings in which a text plays a part, its own first.
    pub(super) fn readings_with(&self, name: &str) -> Vec<std::rc::Rc<Reading>> {
        let others = self.texts.names().filter(|other| *other != name);
        let own = std::iter::once(name).chain(others);
        own.filter_map(|root| self.reading(root)).filter(|reading| reading.file(name).is_some()).collect()
    }
}

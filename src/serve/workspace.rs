//! The open texts, what has to be checked, and what was found.
//!
//! Every open text is checked as a pattern of its own. A result counts only while every text that was asked for on the
//! way is still as it was; else the check is made anew. So what is shown was found in the texts as they are.

use super::diagnose;
use super::place;
use super::reading::{Reading, Shelf};
use super::text::{self, Encoding};
use super::texts::{Libraries, Texts};
use gen_lsp_types::{Diagnostic, PublishDiagnosticsParams, TextDocumentContentChangeEvent};
use std::collections::{BTreeMap, BTreeSet, HashMap, VecDeque};
use std::sync::Arc;

/// What was found in one text and in those that it uses.
#[derive(Debug)]
pub struct Looked {
    reading: Arc<Reading>,
    diagnostics: BTreeMap<String, Vec<Diagnostic>>,
}

/// A check that is to be made: of one text, with all texts as they were when it was asked for.
#[derive(Debug, Clone)]
pub struct Job {
    /// The name of the text.
    pub root: String,
    texts: Texts,
    encoding: Encoding,
    shelf: Shelf,
}

impl Job {
    /// Makes the check. None when it is not wanted any more, or the text is not open.
    #[must_use]
    pub fn run(&self, libraries: &Libraries, wanted: &dyn Fn() -> bool) -> Option<Looked> {
        let reading = self.shelf.reading(&self.root, &self.texts, libraries)?;
        let findings = reading.findings(wanted)?;
        let diagnostics = diagnose::diagnostics(reading.sources(), findings, &self.texts, self.encoding);
        Some(Looked { reading, diagnostics })
    }
}

/// What was last shown of a file: the version, and the diagnostics.
type Shown = (Option<i32>, Vec<Diagnostic>);

/// The open texts and everything that is known of them.
#[derive(Debug, Default)]
pub struct Workspace {
    texts: Texts,
    encoding: Encoding,
    shelf: Shelf,
    /// What was last found in each open text, and is shown while it holds.
    results: BTreeMap<String, Looked>,
    due: VecDeque<String>,
    shown: BTreeMap<String, Shown>,
}

impl Workspace {
    /// A workspace without texts.
    #[must_use]
    pub fn new(encoding: Encoding) -> Self {
        Self { encoding, ..Self::default() }
    }

    /// The texts as they are.
    #[must_use]
    pub fn texts(&self) -> Texts {
        self.texts.clone()
    }

    /// How columns are counted.
    #[must_use]
    pub const fn encoding(&self) -> Encoding {
        self.encoding
    }

    /// What is known of the texts, for those who answer questions about them.
    #[must_use]
    pub fn shelf(&self) -> Shelf {
        self.shelf.clone()
    }

    /// A number that changes whenever the text at that address does.
    #[must_use]
    pub fn stamp(&self, address: &str) -> u64 {
        self.texts.stamp(&place::name_of(address))
    }

    /// A text was opened.
    pub fn open(&mut self, address: &str, version: i32, text: &str) {
        let name = place::name_of(address);
        self.texts.put(&name, address, version, text);
        self.changed(&name);
    }

    /// A text was edited. Nothing happens where it is not open; that is said with `false`.
    pub fn change(&mut self, address: &str, version: i32, changes: &[TextDocumentContentChangeEvent]) -> bool {
        let name = place::name_of(address);
        let Some(open) = self.texts.get(&name) else { return false };
        let mut text = open.text.to_string();
        for change in changes {
            match change {
                TextDocumentContentChangeEvent::TextDocumentContentChangePartial(part) => {
                    text::change(&mut text, part.range, &part.text, self.encoding);
                }
                TextDocumentContentChangeEvent::TextDocumentContentChangeWholeDocument(whole) => {
                    text.clone_from(&whole.text);
                }
            }
        }
        self.texts.put(&name, address, version, &text);
        self.changed(&name);
        true
    }

    /// A text was closed: what was found in it is taken back, and from now on the file counts.
    pub fn close(&mut self, address: &str) -> Vec<PublishDiagnosticsParams> {
        let name = place::name_of(address);
        if !self.texts.take(&name) {
            return Vec::new();
        }
        let files = self.results.remove(&name).map(|looked| files_of(&looked)).unwrap_or_default();
        self.due.retain(|due| *due != name);
        self.changed(&name);
        let mut published: Vec<_> =
            files.iter().filter(|file| **file != name).filter_map(|file| self.publish(file)).collect();
        // The editor shows the closed text no more, under the address by which it knew it.
        if let Some((_, shown)) = self.shown.remove(&name)
            && !shown.is_empty()
        {
            published.push(PublishDiagnosticsParams { uri: address.into(), version: None, diagnostics: Vec::new() });
        }
        published
    }

    /// A file has changed on the disk. An open text goes before its file, so that nothing changes for it.
    pub fn changed_outside(&mut self, address: &str) {
        let name = place::name_of(address);
        if self.texts.get(&name).is_none() {
            self.texts.changed_outside(&name);
            self.changed(&name);
        }
    }

    /// Puts down to be checked whatever hangs on a text.
    fn changed(&mut self, name: &str) {
        let hangs =
            |root: &&str| *root == name || self.results.get(*root).is_some_and(|looked| looked.reading.hangs_on(name));
        let roots: Vec<String> = self.texts.names().filter(hangs).map(str::to_owned).collect();
        // What is being edited is checked first.
        let (own, others): (Vec<_>, Vec<_>) = roots.into_iter().partition(|root| root == name);
        for root in own.into_iter().chain(others) {
            self.put_down(root);
        }
    }

    fn put_down(&mut self, root: String) {
        if !self.due.contains(&root) {
            self.due.push_back(root);
        }
    }

    /// Whether a check of that text is to be made, so that one under way is not worth finishing.
    #[must_use]
    pub fn is_due(&self, root: &str) -> bool {
        self.due.iter().any(|due| due == root) || self.texts.get(root).is_none()
    }

    /// The next check to be made.
    pub fn next_job(&mut self) -> Option<Job> {
        let root = self.due.pop_front()?;
        Some(Job { root, texts: self.texts.clone(), encoding: self.encoding, shelf: self.shelf.clone() })
    }

    /// Takes a result, and gives what is to be shown because of it. A result that was overtaken is put down again.
    pub fn looked(&mut self, looked: Looked) -> Vec<PublishDiagnosticsParams> {
        let root = looked.reading.root.clone();
        if self.texts.get(&root).is_none() {
            return Vec::new();
        }
        if !looked.reading.is_current(&self.texts) {
            // What it asked for says what to wait for, also when there has been no result yet.
            self.put_down(root);
            return Vec::new();
        }
        let mut files = files_of(&looked);
        files.extend(self.results.insert(root, looked).iter().flat_map(files_of));
        files.iter().filter_map(|file| self.publish(file)).collect()
    }

    /// What is to be shown of a file now; none when that is what is shown.
    fn publish(&mut self, file: &str) -> Option<PublishDiagnosticsParams> {
        let mut diagnostics: Vec<Diagnostic> = Vec::new();
        // What several patterns find in a file that they share is shown once. Only what begins at one place can be one.
        let mut at: HashMap<(u32, u32), Vec<usize>> = HashMap::new();
        let current = self.results.values().filter(|looked| looked.reading.is_current(&self.texts));
        for found in current.filter_map(|looked| looked.diagnostics.get(file)) {
            for diagnostic in found {
                let start = diagnostic.range.start;
                let here = at.entry((start.line, start.character)).or_default();
                if here.iter().all(|known| diagnostics[*known] != *diagnostic) {
                    here.push(diagnostics.len());
                    diagnostics.push(diagnostic.clone());
                }
            }
        }
        let version = self.texts.get(file).map(|open| open.version);
        let shown = (version, diagnostics);
        let nothing = version.is_none() && shown.1.is_empty();
        match self.shown.get(file) {
            Some(before) if *before == shown => return None,
            None if nothing => return None,
            _ => {}
        }
        if nothing {
            self.shown.remove(file);
        } else {
            self.shown.insert(file.to_owned(), shown.clone());
        }
        Some(PublishDiagnosticsParams { uri: self.texts.address(file).into(), version: shown.0, diagnostics: shown.1 })
    }
}

/// The files that a result is about.
fn files_of(looked: &Looked) -> BTreeSet<String> {
    looked.reading.sources().iter().map(|file| file.name().to_owned()).collect()
}

//! Files that use each other.

use super::{Page, rules, said};
use crate::finding::Finding;
use crate::plan::{allowed_rules, gather, plan};
use crate::source::{FileId, Library, Sources, Span};
use crate::syntax::tree::{Kind, Statement, Text, Tree};

/// Files by name; a text is a list of the files it uses, one to a line.
struct Shelf(Vec<(String, String)>);

impl Library for Shelf {
    fn read(&self, _from: &str, path: &str) -> Result<(String, String), String> {
        let found = self.0.iter().find(|(name, _)| name == path).cloned();
        found.ok_or_else(|| format!("there is no `{path}` on the shelf"))
    }
}

fn read(file: FileId, text: &str) -> (Tree, Vec<Finding>) {
    let span = Span { file, start: 0, end: 0 };
    let statements = text
        .lines()
        .map(|line| Statement { kind: Kind::Use(Text { text: line.into(), span }), span, body: None })
        .collect();
    (Tree { statements, ..Tree::default() }, Vec::new())
}

fn gathered(files: &[(&str, &str)]) -> (Vec<String>, Vec<Finding>) {
    let shelf = Shelf(files.iter().map(|&(name, text)| (name.to_owned(), text.to_owned())).collect());
    let mut sources = Sources::default();
    let main = sources.add(files[0].0, files[0].1);
    let (trees, findings) = gather(&mut sources, main, &shelf, read);
    (trees.iter().map(|(file, _)| sources.get(*file).name().to_owned()).collect(), findings)
}

#[test]
fn each_file_is_read_once_and_before_the_one_that_uses_it() {
    let (files, findings) = gathered(&[("main", "a\nb\na"), ("a", "c"), ("b", "c"), ("c", "")]);
    assert_eq!(files, ["c", "a", "b", "main"]);
    assert_eq!(rules(&findings), Vec::<&str>::new());
}

#[test]
fn a_cycle_is_named_and_harmless() {
    let (files, findings) = gathered(&[("main", "a"), ("a", "b"), ("b", "a\nb\nmain")]);
    assert_eq!(files, ["b", "a", "main"]);
    assert_eq!(rules(&findings), ["circular-use"; 3]);
    assert!(said(&findings[0]).contains("a, then b and back"), "{:?}", findings[0]);
}

#[test]
fn a_file_that_cannot_be_read_is_named() {
    let (files, findings) = gathered(&[("main", "a\nlost"), ("a", "")]);
    assert_eq!(files, ["a", "main"]);
    assert_eq!(rules(&findings), ["unreadable-file"]);
    assert!(said(&findings[0]).contains("There is no `lost` on the shelf."));
}

#[test]
fn there_is_a_limit_to_files() {
    let names: Vec<String> = (0..300).map(|at| format!("f{at}")).collect();
    let files: Vec<(&str, &str)> = names
        .iter()
        .enumerate()
        .map(|(at, name)| (name.as_str(), names.get(at + 1).map_or("", String::as_str)))
        .collect();
    let (files, findings) = gathered(&files);
    assert_eq!(files.len(), Sources::MOST_FILES);
    assert_eq!(rules(&findings), ["too-large"]);
}

#[test]
fn used_files_declare_and_the_last_one_knits() {
    let page = Page::new();
    let used =
        vec![page.machine("mooring", "90"), page.piece(vec![]), page.line(Kind::Pattern(page.quoted("Lantern")))];
    let main = vec![page.line(Kind::Pattern(page.quoted("Breakwater"))), page.piece(vec![])];
    let mut sources = Sources::default();
    sources.add("used", page.text.borrow().as_str());
    let trees = [
        (FileId(0), Tree { statements: used, ..Tree::default() }),
        (FileId(0), Tree { statements: main, ..Tree::default() }),
    ];
    let (programs, findings) = plan(&sources, &trees);
    assert_eq!(rules(&findings), ["misplaced-line"; 2]);
    assert_eq!(programs[0].title.as_deref(), Some("Breakwater"));
    assert_eq!(programs[0].pieces.len(), 1);
}

#[test]
fn allowed_rules_are_listed_in_order() {
    let page = Page::new();
    let inner = page.block(Kind::Allow(page.name("long-float"), page.quoted("wanted")), vec![]);
    let outer = page.block(Kind::Allow(page.name("edge-tuck"), page.quoted("wanted")), vec![inner]);
    let last = page.block(Kind::Allow(page.name("odd-one"), page.quoted("wanted")), vec![]);
    let trees = [(FileId(0), Tree { statements: vec![page.piece(vec![outer, last])], ..Tree::default() })];
    let names: Vec<&str> = allowed_rules(&trees).iter().map(|name| name.text.as_ref()).collect();
    assert_eq!(names, ["edge-tuck", "long-float", "odd-one"]);
}

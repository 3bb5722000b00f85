//! The corpus: patterns with the tree that they have, in the form that the tools of tree-sitter read. With `WALE_REWRITE=1`
//! in the environment the trees are written anew.

use std::path::PathBuf;
use std::{env, fs};
use tree_sitter::Node;
use wale_tree_sitter_test::{grammar, parse, read};

struct Entry {
    name: String,
    text: String,
    tree: String,
}

/// The entries of a file: a name between two lines of `=`, a pattern, a line of `-`, and the tree.
fn entries(file: &str) -> Vec<Entry> {
    let is_line_of = |line: &str, mark: char| line.len() >= 3 && line.chars().all(|character| character == mark);
    let mut found: Vec<Entry> = Vec::new();
    let mut lines = file.lines().peekable();
    while let Some(line) = lines.next() {
        assert!(is_line_of(line, '='), "an entry begins: {line}");
        let name = lines.next().expect("a name").to_owned();
        assert!(is_line_of(lines.next().unwrap_or_default(), '='), "{name}");
        let mut text = String::new();
        let mut tree = String::new();
        for line in lines.by_ref() {
            if is_line_of(line, '-') {
                break;
            }
            text.push_str(line);
            text.push('\n');
        }
        while lines.peek().is_some_and(|line| !is_line_of(line, '=')) {
            tree.push_str(lines.next().unwrap_or_default());
            tree.push('\n');
        }
        found.push(Entry { name, text: text.trim_matches('\n').to_owned() + "\n", tree: tree.trim().to_owned() });
    }
    found
}

/// A tree as the corpus has it: named nodes with their fields, two blanks a level.
fn written(node: Node, field: Option<&str>, depth: usize, out: &mut String) {
    let field = field.map(|name| format!("{name}: ")).unwrap_or_default();
    out.push_str(&format!("{}{field}({}", "  ".repeat(depth), node.kind()));
    let mut cursor = node.walk();
    if cursor.goto_first_child() {
        loop {
            if cursor.node().is_named() {
                out.push('\n');
                written(cursor.node(), cursor.field_name(), depth + 1, out);
            }
            if !cursor.goto_next_sibling() {
                break;
            }
        }
    }
    out.push(')');
}

fn files() -> Vec<PathBuf> {
    let folder = grammar().join("test/corpus");
    let mut found: Vec<PathBuf> =
        fs::read_dir(folder).expect("the corpus is there").map(|entry| entry.expect("a file").path()).collect();
    found.sort();
    assert!(found.len() >= 4);
    found
}

#[test]
fn every_tree_of_the_corpus_is_the_one_that_is_parsed() {
    let rewrite = env::var_os("WALE_REWRITE").is_some();
    for path in files() {
        let mut file = String::new();
        for Entry { name, text, tree } in entries(&read(&path)) {
            let mut found = String::new();
            written(parse(&text).root_node(), None, 0, &mut found);
            assert!(rewrite || found == tree, "{}: {name}\n{found}", path.display());
            let line = "=".repeat(name.len().max(3));
            file.push_str(&format!("{line}\n{name}\n{line}\n\n{text}\n---\n\n{found}\n\n"));
        }
        if rewrite {
            fs::write(&path, file.trim_end().to_owned() + "\n").expect("the corpus can be written");
        }
    }
}

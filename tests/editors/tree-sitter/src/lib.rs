//! The tree-sitter grammar of the project as a language for tree-sitter, and the patterns that it must be able to parse.

use std::fs;
use std::path::{Path, PathBuf};
use tree_sitter::{Language, Node, Parser, Tree};
use tree_sitter_language::LanguageFn;

unsafe extern "C" {
    fn tree_sitter_wale() -> *const ();
}

/// The language, from the generated parser.
pub fn language() -> Language {
    // SAFETY: the function is the one that the generator of tree-sitter writes into `parser.c`. It takes nothing and gives a
    // pointer to a language that lives as long as the program, which is what `from_raw` asks for.
    unsafe { LanguageFn::from_raw(tree_sitter_wale) }.into()
}

/// The tree of a text.
pub fn parse(text: &str) -> Tree {
    let mut parser = Parser::new();
    parser.set_language(&language()).expect("tree-sitter reads languages of this version");
    parser.parse(text, None).expect("no time limit is set")
}

/// The places, line and column from 1 with the words there, at which the parser did not know what to do.
pub fn troubles(text: &str) -> Vec<String> {
    let tree = parse(text);
    let mut found = Vec::new();
    visit(tree.root_node(), &mut |node| {
        if node.is_error() || node.is_missing() {
            let at = node.start_position();
            found.push(format!("{}:{}: {}", at.row + 1, at.column + 1, &text[node.byte_range()]));
        }
    });
    found
}

/// Calls for a node and all nodes in it, from the first to the last.
pub fn visit<'t>(node: Node<'t>, see: &mut impl FnMut(Node<'t>)) {
    see(node);
    let mut cursor = node.walk();
    for child in node.children(&mut cursor) {
        visit(child, see);
    }
}

/// The folder of the project.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../..")
}

/// The folder of the tree-sitter grammar.
pub fn grammar() -> PathBuf {
    root().join("editors/tree-sitter-wale")
}

/// A file of the project.
pub fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// Every pattern that must be parsed without trouble, with a name for it: the examples and the machines that they use,
/// every sample of the README and of the language reference, and the good example of every rule.
pub fn patterns() -> Vec<(String, String)> {
    let mut found = Vec::new();
    for folder in ["examples", "examples/machines"] {
        for entry in fs::read_dir(root().join(folder)).expect("the examples are there") {
            let path = entry.expect("a file of the examples").path();
            if path.extension().is_some_and(|ending| ending == "wale") {
                found.push((path.display().to_string(), read(&path)));
            }
        }
    }
    for page in ["README.md", "grammar/README.md"] {
        let mut open: Option<(usize, String)> = None;
        for (at, line) in read(&root().join(page)).lines().enumerate() {
            if let Some((start, mut text)) = open.take() {
                if line == "```" {
                    found.push((format!("{page}:{start}"), text));
                } else {
                    text.push_str(line);
                    text.push('\n');
                    open = Some((start, text));
                }
            } else if line.starts_with("```wale") {
                open = Some((at + 1, String::new()));
            }
        }
    }
    for rule in wale::rules::ALL.iter().filter(|rule| !rule.good.is_empty()) {
        found.push((format!("the good example of {}", rule.name), wale::catalogue::Rule::whole(rule.good)));
    }
    found
}

//! The parser in the folder is the one that its grammar gives. With `WALE_REWRITE=1` in the environment it is written anew.

use std::path::Path;
use std::{env, fs};
use tree_sitter_generate::{OptLevel, generate_parser_in_directory};
use wale_tree_sitter_test::grammar;

/// The version of the tables: the newest one that editors of the year 2022 read too.
const VERSION: usize = 14;

/// What the generator writes.
const FILES: [&str; 6] = [
    "parser.c",
    "grammar.json",
    "node-types.json",
    "tree_sitter/parser.h",
    "tree_sitter/alloc.h",
    "tree_sitter/array.h",
];

#[test]
fn the_parser_is_the_one_of_the_grammar() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("generated");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(folder.join("src")).expect("a folder for the test");
    for file in ["grammar.js", "tree-sitter.json"] {
        fs::copy(grammar().join(file), folder.join(file)).expect("the grammar is there");
    }
    generate_parser_in_directory(
        &folder,
        None::<&str>,
        None::<&str>,
        VERSION,
        None,
        Some("node"),
        true,
        OptLevel::default(),
    )
    .expect("a parser can be made from the grammar");
    for file in FILES {
        let written = fs::read_to_string(folder.join("src").join(file)).expect("the generator writes it");
        let path = grammar().join("src").join(file);
        if env::var_os("WALE_REWRITE").is_some() {
            fs::create_dir_all(path.parent().expect("it is in a folder")).expect("a folder for the parser");
            fs::write(&path, &written).expect("the parser can be written");
        } else {
            let kept = fs::read_to_string(&path).unwrap_or_default();
            assert!(
                kept == written,
                "editors/tree-sitter-wale/src/{file} is not what the grammar gives now. If that is meant, write it anew: \
                 WALE_REWRITE=1 bash tests/editors/run"
            );
        }
    }
}

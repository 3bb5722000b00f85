//! Compiles the parser that is generated from the tree-sitter grammar.

use std::path::Path;

fn main() {
    let folder = Path::new("../../../editors/tree-sitter-wale/src");
    println!("cargo:rerun-if-changed={}", folder.display());
    // Before it is generated for the first time there is nothing to compile; `tests/generated.rs` needs none of it.
    if folder.join("parser.c").exists() {
        cc::Build::new().include(folder).file(folder.join("parser.c")).std("c11").warnings(false).compile("wale");
    }
}

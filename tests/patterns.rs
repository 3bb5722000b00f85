//! Single patterns: what is found in them, what is said of it, and what is written of them.
mod advice;
mod causes;
mod common;
mod editors;
mod examples;
mod known_mistakes;
mod mend;
mod mistakes;
mod outside;
mod readd;
mod recovery;
mod reference;
mod rules;
mod sheet;
mod trace;

/// A file that no program names is never compiled, and nobody sees that its tests are not run.
#[test]
fn every_file_of_the_tests_belongs_to_a_program() {
    let tests = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    let programs = ["always", "patterns", "program"];
    let named: String = programs
        .iter()
        .map(|name| std::fs::read_to_string(tests.join(name).with_extension("rs")).expect("a program"))
        .collect();
    let mut seen = 0;
    for entry in std::fs::read_dir(&tests).expect("the tests") {
        let path = entry.expect("a file").path();
        let name = path.file_stem().and_then(std::ffi::OsStr::to_str).expect("a plain name").to_owned();
        let is_code = path.extension().is_some_and(|extension| extension == "rs") || path.join("mod.rs").exists();
        if is_code && !programs.contains(&name.as_str()) {
            assert!(named.lines().any(|line| line == format!("mod {name};")), "no program has `mod {name};`");
            seen += 1;
        }
    }
    assert!(seen > 20, "only {seen} files");
}

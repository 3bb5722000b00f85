//! The files of `editors/`, as far as they can be tried without an editor: every word of the language stands in each of them
//! with its class, and what they offer is right. With `WALE_REWRITE=1` the parts about words are written anew.
//!
//! The editors themselves are asked by `tests/editors/run`.
#![allow(missing_docs, clippy::unwrap_used)]

use crate::common::{Examples, kept};
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use wale::syntax::{PHRASES, WordClass, keywords};

fn file(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("editors").join(name)
}

fn read(name: &str) -> String {
    fs::read_to_string(file(name)).unwrap_or_else(|error| panic!("editors/{name}: {error}"))
}

/// How a class is called where names are agreed upon: the names of scopes that TextMate grammars use, the groups of Vim, the
/// captures that the queries of tree-sitter use, and those of Helix. From memory of the manuals of each. The faces of Emacs
/// stand in `wale-mode.el`.
struct Look {
    scope: &'static str,
    /// Nothing for words that stay plain.
    group: Option<&'static str>,
    capture: &'static str,
    helix: &'static str,
}

fn look(class: WordClass) -> Look {
    let (scope, group, capture, helix) = match class {
        WordClass::Declaration => ("storage.type", Some("Define"), "keyword.type", "keyword.storage.type"),
        WordClass::Structure => ("keyword.control", Some("Repeat"), "keyword.repeat", "keyword.control.repeat"),
        WordClass::Operation => ("support.function", Some("Function"), "function.builtin", "function.builtin"),
        WordClass::Action => ("keyword.other", Some("Keyword"), "keyword", "keyword"),
        WordClass::Bed => ("support.type", Some("Type"), "type.builtin", "type.builtin"),
        WordClass::Side => ("constant.language", Some("Constant"), "constant.builtin", "constant.builtin"),
        WordClass::Selection => ("keyword.operator", Some("Operator"), "keyword.operator", "keyword.operator"),
        WordClass::Setting => ("support.type.property-name", Some("Special"), "attribute", "attribute"),
        WordClass::Unit => ("keyword.other.unit", Some("Type"), "type", "type"),
        WordClass::Profile => ("support.type.property-name", Some("Identifier"), "property", "variable.other.member"),
        WordClass::Speech => ("keyword.other", Some("SpecialComment"), "keyword.directive", "keyword.directive"),
        WordClass::Promise => ("keyword.control", Some("Exception"), "keyword.exception", "keyword.control.exception"),
        WordClass::Link => ("keyword.operator.word", None, "operator", "operator"),
    };
    Look { scope, group, capture, helix }
}

/// The text with everything between the two lines that have these words in them replaced.
fn with_part(text: &str, first: &str, last: &str, part: &str) -> String {
    let mut written = String::new();
    let mut lines = text.lines();
    let mut put = |line: &str| {
        written.push_str(line);
        written.push('\n');
    };
    for line in lines.by_ref() {
        put(line);
        if line.contains(first) {
            break;
        }
    }
    part.lines().for_each(&mut put);
    let closing = lines.by_ref().find(|line| line.contains(last)).unwrap_or_else(|| panic!("`{last}` stands in it"));
    put(closing);
    lines.for_each(&mut put);
    written
}

fn kept_part(name: &str, first: &str, last: &str, part: &str) {
    kept(&file(name), &with_part(&read(name), first, last, part));
}

/// Words one behind the other, broken before the line gets longer than `width`.
fn filled(words: impl IntoIterator<Item = String>, indent: &str, width: usize) -> String {
    let mut lines = vec![String::new()];
    for word in words {
        let line = lines.last_mut().unwrap();
        if line.is_empty() {
            *line = format!("{indent}{word}");
        } else if line.len() + 1 + word.len() <= width {
            line.push(' ');
            line.push_str(&word);
        } else {
            lines.push(format!("{indent}{word}"));
        }
    }
    lines.join("\n")
}

fn phrases(class: WordClass) -> Vec<&'static str> {
    PHRASES.iter().filter(|(_, of)| *of == class).map(|(phrase, _)| *phrase).collect()
}

// ---- the words ----------------------------------------------------------------------------------------------------

#[test]
fn the_text_mate_grammar_has_the_words() {
    const NO_LETTER: &str = r"[\\p{L}\\p{M}\\p{N}-]";
    let line = |class: WordClass, words: String| {
        let (scope, name) = (look(class).scope, class.name());
        format!(
            "        {{ \"name\": \"{scope}.{name}.wale\", \"match\": \"(?<!{NO_LETTER})(?:{words})(?!{NO_LETTER})\" }},\n"
        )
    };
    let mut part = String::new();
    for class in WordClass::ALL {
        let phrases = phrases(class);
        if !phrases.is_empty() {
            part.push_str(&line(class, phrases.join("|").replace(' ', r"[ \\t]+")));
        }
    }
    for class in WordClass::ALL {
        part.push_str(&line(class, class.words().join("|")));
    }
    let part = part.trim_end().trim_end_matches(',');
    kept_part("vscode/syntaxes/wale.tmLanguage.json", "\"comment\": \"Written by tests/editors.rs", "      ]", part);
}

#[test]
fn the_syntax_of_vim_has_the_words() {
    let begins = |word: &str| PHRASES.iter().any(|(phrase, _)| phrase.split(' ').next() == Some(word));
    let group = |class: WordClass| {
        let name = class.name();
        format!("wale{}{}", name[..1].to_uppercase(), &name[1..])
    };
    let mut part = String::new();
    let mut links = String::new();
    for class in WordClass::ALL {
        let group = group(class);
        let words = class.words().iter().filter(|word| !begins(word)).map(|word| (*word).to_owned());
        for line in filled(words, "", 90).lines() {
            part.push_str(&format!("syntax keyword {group} {line}\n"));
        }
        if let Some(standard) = look(class).group {
            links.push_str(&format!("highlight default link {group} {standard}\n"));
        }
    }
    // A keyword would go before any match, so words with which a phrase begins are matches, and stand before the phrases.
    for word in keywords().iter().filter(|word| begins(word)) {
        part.push_str(&format!("syntax match {} /\\<{word}\\>/\n", group(wale::syntax::class(word).unwrap())));
    }
    for (phrase, class) in PHRASES.iter().rev() {
        part.push_str(&format!("syntax match {} /\\<{}\\>/\n", group(*class), phrase.replace(' ', "\\s\\+")));
    }
    kept_part("vim/syntax/wale.vim", "\" Words: written", "\" End of the words", &(part + &links));
}

#[test]
fn the_mode_of_emacs_has_the_words() {
    let quoted = |words: &[&str]| -> Vec<String> { words.iter().map(|word| format!("\"{word}\"")).collect() };
    let mut part = String::from("(defconst wale--words\n  '(");
    for (at, class) in WordClass::ALL.into_iter().enumerate() {
        let words = filled(quoted(class.words()), "     ", 100);
        let blank = if at == 0 { "" } else { "\n    " };
        part.push_str(&format!("{blank}({}\n{words})", class.name()));
    }
    part.push_str(")\n  \"Every word of the language, by class.\")\n\n(defconst wale--phrases\n  '(");
    for (at, class) in WordClass::ALL.into_iter().filter(|class| !phrases(*class).is_empty()).enumerate() {
        let blank = if at == 0 { "" } else { "\n    " };
        part.push_str(&format!("{blank}({} {})", class.name(), quoted(&phrases(class)).join(" ")));
    }
    part.push_str(")\n  \"Words that belong together, by class.\")");
    kept_part("emacs/wale-mode.el", ";; Words: written", ";; End of the words", &part);
}

#[test]
fn the_queries_of_tree_sitter_have_the_words() {
    let mut part = String::new();
    for class in WordClass::ALL {
        let words = filled(class.words().iter().map(|word| format!("\"{word}\"")), "  ", 100);
        part.push_str(&format!("; {}\n[\n{words}\n] @{}\n", class.name(), look(class).capture));
    }
    kept_part("tree-sitter-wale/queries/highlights.scm", "; Words: written", "; End of the words", &part);
    other_editors_have_the_same_queries();
}

/// The same queries for the editors that have a folder of their own for them: Neovim as they are, Helix with its names.
fn other_editors_have_the_same_queries() {
    for name in ["highlights", "folds", "indents", "locals"] {
        kept(&file(&format!("vim/queries/wale/{name}.scm")), &read(&format!("tree-sitter-wale/queries/{name}.scm")));
    }
    let queries = read("tree-sitter-wale/queries/highlights.scm");
    let mut renamed = String::from("; Written by tests/editors.rs from tree-sitter-wale/queries/highlights.scm.\n\n");
    for line in queries.lines() {
        let line = match line.rsplit_once('@') {
            Some((before, capture)) if !line.starts_with(';') => {
                let name = capture.trim_end_matches(')');
                let helix =
                    WordClass::ALL.into_iter().map(look).find(|look| look.capture == name).map(|look| look.helix);
                let other = (name == "number").then_some("constant.numeric");
                format!("{before}@{}{}", helix.or(other).unwrap_or(name), &capture[name.len()..])
            }
            _ => line.to_owned(),
        };
        renamed.push_str(&line);
        renamed.push('\n');
    }
    kept(&file("helix/queries/highlights.scm"), &renamed);
}

// ---- what they offer ----------------------------------------------------------------------------------------------

fn json(name: &str) -> Value {
    serde_json::from_str(&read(name)).unwrap_or_else(|error| panic!("editors/{name}: {error}"))
}

/// A snippet as it stands when every place to fill in keeps what it proposes.
fn proposed(body: &Value) -> String {
    let mut text = match body {
        Value::Array(lines) => lines.iter().map(|line| line.as_str().unwrap()).collect::<Vec<_>>().join("\n"),
        body => body.as_str().unwrap().to_owned(),
    };
    text = text.replace('\t', "    ").replace("$0", "");
    while let Some(at) = text.find("${") {
        let end = at + text[at..].find('}').unwrap();
        let inside = text[at + 2..end].to_owned();
        let words = match (inside.split_once(':'), inside.split_once('|')) {
            (_, Some((_, choices))) => choices.trim_end_matches('|').split(',').next().unwrap(),
            (Some((_, words)), None) => words,
            (None, None) => "",
        };
        text.replace_range(at..=end, words);
    }
    text + "\n"
}

#[test]
fn the_snippets_are_right_as_they_are_proposed() {
    let snippets = json("vscode/snippets.json");
    let snippets = snippets.as_object().unwrap();
    let mut prefixes = BTreeSet::new();
    let mut whole = 0;
    for (name, snippet) in snippets {
        assert!(prefixes.insert(snippet["prefix"].as_str().unwrap()), "{name}: another has its prefix");
        let text = proposed(&snippet["body"]);
        let (_, findings) = wale::syntax::read(wale::source::FileId(0), &text);
        assert_eq!(findings, [], "{name}:\n{text}");
        if text.starts_with("pattern") {
            whole += 1;
            let checked = wale::check("new.wale", &text, &Examples);
            assert_eq!(checked.findings, [], "{name}:\n{text}");
        }
    }
    assert!(whole > 0 && snippets.len() >= 6, "there are snippets, and one is a new pattern");
}

#[test]
fn the_extension_names_files_that_are_there() {
    let manifest = json("vscode/package.json");
    let mut named = vec![manifest["contributes"]["languages"][0]["configuration"].clone()];
    named.push(manifest["contributes"]["grammars"][0]["path"].clone());
    named.push(manifest["contributes"]["snippets"][0]["path"].clone());
    for path in &named {
        let path = path.as_str().unwrap();
        assert!(file("vscode").join(path).exists(), "{path}");
        let packed = manifest["files"].as_array().unwrap();
        assert!(
            packed.iter().any(|other| other.as_str().unwrap() == path.trim_start_matches("./")),
            "{path} is packed"
        );
    }
    assert_eq!(manifest["contributes"]["languages"][0]["id"], "wale");
    assert_eq!(manifest["version"], env!("CARGO_PKG_VERSION"));
    assert_eq!(json("tree-sitter-wale/tree-sitter.json")["metadata"]["version"], env!("CARGO_PKG_VERSION"));
    let grammar = json("vscode/syntaxes/wale.tmLanguage.json");
    assert_eq!(grammar["scopeName"], manifest["contributes"]["grammars"][0]["scopeName"]);
}

/// Lock files name versions and checksums only: where packages come from is the business of whoever installs them.
#[test]
fn lock_files_name_no_addresses_of_packages() {
    let lock = json("vscode/package-lock.json");
    let packages = lock["packages"].as_object().unwrap();
    assert!(packages.len() > 5);
    assert!(packages.values().all(|package| package.get("resolved").is_none()));
}

/// The guide shows what is seen.
#[test]
fn the_pattern_of_the_guide_is_found_out_as_it_says() {
    let guide = read("README.md");
    let block = |info: &str| {
        let start = guide.find(&format!("```{info}\n")).unwrap_or_else(|| panic!("the guide has `{info}`"));
        let inside = guide[start..].split_once('\n').unwrap().1;
        inside[..inside.find("```").unwrap()].to_owned()
    };
    let checked = wale::check("strap.wale", &block("wale whole finds misspelt-word"), &Examples);
    let lines: String =
        checked.findings.iter().map(|finding| wale::tell::short::line(&checked.sources, finding) + "\n").collect();
    assert_eq!(lines, block("text short"));
    assert!(guide.contains("marks `knitt` in line 8"));
}

#[test]
fn the_settings_for_helix_are_read() {
    let settings: toml::Table = read("helix/languages.toml").parse().unwrap();
    let language = &settings["language"][0];
    assert_eq!(language["file-types"][0].as_str(), Some("wale"));
    let server = language["language-servers"][0].as_str().unwrap();
    assert_eq!(settings["language-server"][server]["args"][0].as_str(), Some("serve"));
    assert_eq!(settings["grammar"][0]["source"]["path"].as_str(), Some("WALE/editors/tree-sitter-wale"));
}

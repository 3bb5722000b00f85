//! The files that a pattern is made of.

use crate::catalogue::Rule;
use crate::finding::Finding;
use crate::plan::rules;
use crate::source::{FileId, Library, Sources, Span};
use crate::syntax::tree::{Kind, Tree};
use std::collections::HashMap;

/// A file whose `use` lines are being followed.
struct Open {
    file: FileId,
    tree: Tree,
    /// What it uses, last line first.
    uses: Vec<(String, Span)>,
}

/// Reads the files that `main` uses, and those that they use, each once.
///
/// `read` makes a tree of a text; its findings are handed on. The trees come with used files before the file that
/// uses them and `main` last. A file that uses itself, straight away or through others, is a `circular-use` warning and
/// does no harm, because files hold declarations and these may stand in any order. Findings: `unreadable-file`,
/// `circular-use`, `too-large`, and those of `read`.
pub fn gather(
    sources: &mut Sources,
    main: FileId,
    library: &dyn Library,
    read: impl Fn(FileId, &str) -> (Tree, Vec<Finding>),
) -> (Vec<(FileId, Tree)>, Vec<Finding>) {
    let mut findings = Vec::new();
    let mut done: Vec<(FileId, Tree)> = Vec::new();
    let mut by_name: HashMap<String, FileId> = HashMap::from([(sources.get(main).name().to_owned(), main)]);
    let mut asked: HashMap<(FileId, String), FileId> = HashMap::new();
    let mut open = vec![start(sources, main, &read, &mut findings)];
    while let Some(top) = open.last_mut() {
        let from = top.file;
        let Some((path, span)) = top.uses.pop() else {
            done.extend(open.pop().map(|closed| (closed.file, closed.tree)));
            continue;
        };
        let known = asked.get(&(from, path.clone())).copied();
        let file = match known {
            Some(file) => file,
            None => match fetch(sources, library, &mut by_name, from, &path, span) {
                Ok((file, fresh)) => {
                    asked.insert((from, path.clone()), file);
                    if fresh {
                        open.push(start(sources, file, &read, &mut findings));
                        continue;
                    }
                    file
                }
                Err(finding) => {
                    findings.push(*finding);
                    continue;
                }
            },
        };
        if let Some(at) = open.iter().position(|waiting| waiting.file == file) {
            let way: Vec<&str> = open[at..].iter().map(|waiting| sources.get(waiting.file).name()).collect();
            let name = sources.get(file).name();
            let what = match way.as_slice() {
                [_] => format!("`{name}` uses itself"),
                _ => format!("`{name}` is used by a file that it uses itself"),
            };
            let why = match way.as_slice() {
                [_] => "Each file is read once, so nothing is lost.".to_owned(),
                way => {
                    format!(
                        "The way round is {} and back. Each file is read once, so nothing is lost.",
                        way.join(", then ")
                    )
                }
            };
            findings.push(
                rules::CIRCULAR_USE
                    .finds(span, what)
                    .because(why)
                    .mend("Take this `use` line out; what two files both need goes into a third one."),
            );
        }
    }
    (done, findings)
}

/// Reads the tree of a file and lists what it uses.
fn start(
    sources: &Sources,
    file: FileId,
    read: &impl Fn(FileId, &str) -> (Tree, Vec<Finding>),
    findings: &mut Vec<Finding>,
) -> Open {
    let (tree, found) = read(file, sources.get(file).text());
    findings.extend(found);
    let uses = tree.statements.iter().rev().filter_map(|statement| match &statement.kind {
        Kind::Use(path) => Some((path.text.to_string(), path.span)),
        _ => None,
    });
    Open { file, uses: uses.collect(), tree }
}

/// Finds the file behind a path, and says whether it was not read before.
fn fetch(
    sources: &mut Sources,
    library: &dyn Library,
    by_name: &mut HashMap<String, FileId>,
    from: FileId,
    path: &str,
    span: Span,
) -> Result<(FileId, bool), Box<Finding>> {
    let refuse = |rule: &'static Rule, what: String| rule.finds(span, what);
    let (name, text) = library.read(sources.get(from).name(), path).map_err(|why| {
        Box::new(
            refuse(&rules::UNREADABLE_FILE, format!("the file `{path}` cannot be read"))
                .because(sentence(&why))
                .mend("Write the path as it leads from the folder of the file that uses it, for example `use \"machines/club.wale\"`."),
        )
    })?;
    if let Some(&file) = by_name.get(&name) {
        return Ok((file, false));
    }
    if text.len() > Sources::LONGEST_TEXT {
        return Err(Box::new(
            refuse(&rules::TOO_LARGE, format!("the file `{path}` is too long to be a pattern"))
                .because(format!(
                    "It has {} bytes; texts of up to {} MiB are read.",
                    text.len(),
                    Sources::LONGEST_TEXT >> 20
                ))
                .mend("Check that this is the file you mean."),
        ));
    }
    if sources.iter().count() >= Sources::MOST_FILES {
        return Err(Box::new(
            refuse(&rules::TOO_LARGE, format!("`{path}` is one file too many"))
                .because(format!("A pattern may be made of {} files.", Sources::MOST_FILES))
                .mend("Put several of the used files into one."),
        ));
    }
    let file = sources.add(name.clone(), text);
    by_name.insert(name, file);
    Ok((file, true))
}

/// Words as a sentence: with a capital at the start and a full stop.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first: String = letters.next().into_iter().flat_map(char::to_uppercase).collect();
    format!("{first}{}.", letters.as_str().trim_end_matches('.'))
}

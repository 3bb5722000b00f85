//! Holds what the compiler says of a pattern against what the judge says.

use super::read::{beyond, read};
use super::verdict::{First, verdict};
use crate::laws::programs::seen;
use crate::laws::two_models::same;
use std::collections::BTreeSet;
use wale::catalogue::Severity;
use wale::finding::Finding;
use wale::plan::program::Piece;
use wale::play::{Manner, Watcher, play};
use wale::source::{NoLibrary, Sources};

/// Warnings that are a matter of fact, which the judge gives too.
const WARNINGS: &[&str] = &["hold-left-on", "no-selector", "no-way-back", "nothing-to-do", "yarn-not-at-this-side"];

/// A warning that is said instead of one of those, and is none of the judge's.
const INSTEAD: &str = "eyelet-becomes-ladder";

struct Nobody;
impl Watcher for Nobody {}

/// What both say.
#[derive(Debug)]
pub(crate) struct Agreed {
    pub(crate) error: First,
    pub(crate) warning: First,
}

/// In what they differ: a short name, and everything about it.
#[derive(Debug)]
pub(crate) struct Differ {
    pub(crate) what: String,
    pub(crate) told: String,
}

fn the_piece(text: &str) -> (Piece, Vec<Finding>) {
    let mut sources = Sources::default();
    let main = sources.add("swatch.wale", text);
    let (trees, mut findings) = wale::plan::gather(&mut sources, main, &NoLibrary, wale::syntax::read);
    let (programs, found) = wale::plan::plan(&sources, &trees);
    findings.extend(found.into_iter().filter(|finding| finding.rule.name != "unused-name"));
    let piece = programs.into_iter().flat_map(|program| program.pieces).next();
    (piece.unwrap_or_else(|| panic!("one piece:\n{text}")), findings)
}

/// The first of these findings, with all that are said at the same moment.
fn first<'a>(text: &str, findings: impl Iterator<Item = &'a Finding>) -> First {
    let mut first = None;
    let mut rules = BTreeSet::new();
    for finding in findings {
        let place = finding.place.as_ref().map(|place| (place.row, place.pass));
        let moment = (finding.at.span, place);
        if *first.get_or_insert(moment) == moment {
            rules.insert(finding.rule.name);
        }
    }
    first.map(|(span, _)| (text[..span.start as usize].matches('\n').count() + 1, rules))
}

fn errors(text: &str, findings: &[Finding]) -> First {
    first(text, findings.iter().filter(|finding| finding.rule.severity == Severity::Error))
}

/// Whether a repeat stands in a repeat.
fn is_nested(text: &str) -> bool {
    let mut open = Vec::new();
    for line in text.lines() {
        match line.split_whitespace().next() {
            Some("repeat") if open.contains(&true) => return true,
            Some(word) if line.ends_with('{') => open.push(word == "repeat"),
            Some("}") => drop(open.pop()),
            _ => {}
        }
    }
    false
}

fn written(first: &First) -> String {
    match first {
        None => "nothing".to_owned(),
        Some((_, rules)) => rules.iter().copied().collect::<Vec<_>>().join(" "),
    }
}

pub(crate) fn compare(text: &str) -> Result<Agreed, Differ> {
    let differ = |what: String, told: String| Differ { what, told: format!("{told}\n{text}") };
    let (piece, reading) = the_piece(text);
    let pattern = read(text);
    // Needles that the machine does not have are found in reading, wherever they stand.
    if let Some(finding) = reading.iter().find(|finding| finding.rule.name != "off-bed") {
        return Err(differ(format!("reading finds {}", finding.rule.name), finding.what.clone()));
    }
    let line = |finding: &Finding| text[..finding.at.span.start as usize].matches('\n').count() + 1;
    let off_bed: BTreeSet<usize> = reading.iter().map(line).collect();
    let beyond: BTreeSet<usize> = beyond(text, pattern.profile.each_side).into_iter().collect();
    if off_bed != beyond {
        return Err(differ(
            "needles off the bed".to_owned(),
            format!("the compiler {off_bed:?}, the judge {beyond:?}"),
        ));
    }
    if let Some(&line) = off_bed.first() {
        return Ok(Agreed { error: Some((line, BTreeSet::from(["off-bed"]))), warning: None });
    }
    let findings = wale::rules::check_piece_in(&piece, Manner::EVERY);
    let judge = verdict(&pattern);

    let error = errors(text, &findings);
    // A finding names the pass of the innermost repeat only. So what a line does wrong in the first pass of a repeat, and
    // what else it does wrong when that repeat comes again, may look like one moment if no row lies in between.
    let part = |(line, rules): &(usize, BTreeSet<&str>)| {
        error.as_ref().is_some_and(|(at, all)| at == line && rules.is_subset(all))
    };
    let agree = error == judge.error || is_nested(text) && judge.error.as_ref().is_some_and(part);
    if !agree {
        let what = format!("first error: the compiler {}, the judge {}", written(&error), written(&judge.error));
        return Err(differ(what, format!("the compiler {error:?}, the judge {:?}", judge.error)));
    }
    // Where nothing comes again there is nothing to count.
    let comes_again = ["repeat", "rows"].iter().any(|word| text.contains(word));
    let counted = || errors(text, &wale::rules::check_piece_in(&piece, Manner::CHECK));
    if comes_again && counted() != error {
        let what = format!("counted {}, played {}", written(&counted()), written(&error));
        return Err(differ(what, format!("counted {:?}, played {error:?}", counted())));
    }

    // The warnings before the first error, as far as they are the judge's.
    let before = findings.iter().take_while(|finding| finding.rule.severity == Severity::Warning);
    let warning =
        first(text, before.filter(|finding| WARNINGS.contains(&finding.rule.name) || finding.rule.name == INSTEAD));
    let with_error = |warning: &First| match (warning, &error) {
        (Some((line, _)), Some((wrong, _))) => line == wrong,
        _ => false,
    };
    let instead = warning.as_ref().is_some_and(|(_, rules)| rules.contains(INSTEAD));
    if warning != judge.warning && !instead && !with_error(&warning) && !with_error(&judge.warning) {
        let what = format!("warning: the compiler {}, the judge {}", written(&warning), written(&judge.warning));
        return Err(differ(what, format!("the compiler {warning:?}, the judge {:?}", judge.warning)));
    }

    let (state, _) = play(&piece, Manner::EVERY, &mut Nobody);
    if let Err(error) = same(&state, &judge.bench.model) {
        return Err(differ("the beds at the end".to_owned(), error.to_string()));
    }
    if comes_again && seen(&play(&piece, Manner::CHECK, &mut Nobody).0) != seen(&state) {
        return Err(differ("the beds at the end, counted and played".to_owned(), String::new()));
    }
    Ok(Agreed { error: judge.error, warning: warning.filter(|_| !instead) })
}

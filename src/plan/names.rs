//! What the files of a pattern declare, with what there is to say against it, and of names that nothing has.

use crate::finding::{Finding, Fix};
pub(super) use crate::names::Sort;
use crate::names::{Thing, declared};
use crate::plan::limits::MOST_SIZES;
use crate::plan::rules;
use crate::plan::say::{clipped, listed, nearest, twice};
use crate::source::{FileId, Sources};
use crate::syntax::tree::{Kind, Name, Statement, Text, Tree};
use std::collections::BTreeSet;

/// A line that gives something of that sort a name, with what only the knitter knows in capitals.
fn example(sort: Sort, name: &str) -> String {
    match sort {
        Sort::Machine => format!("machine {name} {{ needles NUMBER each side }}"),
        Sort::Yarn => format!("yarn {name} {{}}"),
        Sort::Value => format!("let {name} = VALUE"),
        Sort::Stitch => format!("stitch {name} on BED {{ ... }}"),
        Sort::Chart => format!("chart {name} {{ ... }}"),
        // These are asked for nowhere by their names alone.
        Sort::Gauge | Sort::Fabric | Sort::Size | Sort::Parameter => String::new(),
    }
}

/// The number that a word says, where the language has numbers in digits only.
fn number(word: &str) -> Option<u8> {
    const WORDS: &[(&str, u8)] = &[
        ("second", 2),
        ("other", 2),
        ("third", 3),
        ("fourth", 4),
        ("fifth", 5),
        ("sixth", 6),
        ("one", 1),
        ("two", 2),
        ("three", 3),
        ("four", 4),
        ("five", 5),
        ("six", 6),
        ("seven", 7),
        ("eight", 8),
        ("nine", 9),
        ("ten", 10),
        ("twelve", 12),
        ("twenty", 20),
        ("thirty", 30),
        ("forty", 40),
        ("fifty", 50),
    ];
    WORDS.iter().find(|(known, _)| *known == word).map(|(_, number)| *number)
}

/// Something with a name, and the statement that gives it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Entry<'a> {
    /// Its number among the things that have names.
    pub(super) thing: usize,
    /// The name.
    pub(super) name: &'a Name,
    /// The statement.
    pub(super) statement: &'a Statement,
}

/// Everything that is declared in the files of a pattern.
pub(super) struct Names<'a> {
    /// The texts, for messages.
    pub(super) sources: &'a Sources,
    trees: &'a [(FileId, Tree)],
    /// What each name means where it stands.
    pub(super) resolved: &'a crate::names::Names,
    /// The sizes; empty when the pattern has none.
    pub(super) sizes: Vec<&'a Name>,
    /// The title.
    pub(super) title: Option<&'a str>,
    /// The pieces of the last file.
    pub(super) pieces: Vec<&'a Statement>,
    /// The names of waste yarns that lines take stitches onto.
    wastes: BTreeSet<&'a str>,
}

impl<'a> Names<'a> {
    /// Looks over what the files declare. `resolved` are the names in them. Findings: `duplicate-name`, `reserved-word`,
    /// `said-twice`, `too-large`.
    pub(super) fn collect(
        sources: &'a Sources,
        trees: &'a [(FileId, Tree)],
        resolved: &'a crate::names::Names,
        findings: &mut Vec<Finding>,
    ) -> Self {
        let mut names = Self {
            sources,
            trees,
            resolved,
            sizes: Vec::new(),
            title: None,
            pieces: Vec::new(),
            wastes: BTreeSet::new(),
        };
        for statement in trees.iter().flat_map(|(_, tree)| tree.each()) {
            if let Kind::OntoWaste(_, Some(name)) = &statement.kind {
                names.wastes.insert(&name.text);
            }
        }
        let mut titled = None;
        let mut sized = None;
        for (at, (_, tree)) in trees.iter().enumerate() {
            let main = at + 1 == trees.len();
            for statement in &tree.statements {
                match &statement.kind {
                    Kind::Pattern(title) if main => {
                        if let Some(first) = titled.replace(statement.span) {
                            findings.push(twice("the pattern's title", statement.span, first));
                        } else {
                            names.title = Some(&title.text);
                        }
                    }
                    Kind::Sizes(sizes) => {
                        if let Some(first) = sized.replace(statement.span) {
                            findings.push(twice("the list of sizes", statement.span, first));
                        } else {
                            names.add_sizes(sizes, findings);
                        }
                    }
                    Kind::Piece { .. } if main => names.pieces.push(statement),
                    kind => {
                        if let Some((_, name)) = declared(kind) {
                            findings.extend(reserved(name));
                            findings.extend(names.given_before(name).map(|first| {
                                rules::DUPLICATE_NAME
                                    .finds(name.span, format!("the name `{}` is given twice", name.text))
                                    .also(first.declared, format!("here it is a {} already", first.sort.word()))
                                    .because("A name that stands for two things would leave open which one is meant.")
                                    .mend("Give one of the two another name.")
                            }));
                        }
                    }
                }
            }
        }
        names
    }

    /// What has the name already that is given here.
    pub(super) fn given_before(&self, name: &Name) -> Option<&'a Thing> {
        let first = self.resolved.things.get(self.resolved.meant(name)?)?;
        (first.declared != name.span).then_some(first)
    }

    fn add_sizes(&mut self, sizes: &'a [Name], findings: &mut Vec<Finding>) {
        for name in sizes {
            findings.extend(reserved(name));
            if let Some(first) = self.given_before(name) {
                findings.push(
                    rules::DUPLICATE_NAME
                        .finds(name.span, format!("the size `{}` stands twice in the list", name.text))
                        .also(first.declared, "here it is the first time")
                        .mend("Give each size a name of its own, or take one of the two out."),
                );
            } else if self.sizes.len() >= MOST_SIZES {
                findings.push(
                    rules::TOO_LARGE
                        .finds(name.span, "there are too many sizes")
                        .because(format!("A pattern may have {MOST_SIZES} sizes; the list has {}.", sizes.len()))
                        .mend("Split the pattern into several."),
                );
                return;
            } else {
                self.sizes.push(name);
            }
        }
    }

    /// What is declared of a sort, in the order in which it is given.
    pub(super) fn all(&self, sort: Sort) -> impl Iterator<Item = Entry<'a>> {
        let things = self.resolved.things.iter().enumerate().filter(move |(_, thing)| thing.sort == sort);
        things.filter_map(|(number, _)| self.entry(number))
    }

    fn entry(&self, thing: usize) -> Option<Entry<'a>> {
        let statement = self.resolved.statement(self.resolved.things.get(thing)?, self.trees)?;
        let (_, name) = declared(&statement.kind)?;
        Some(Entry { thing, name, statement })
    }

    /// What a name means where it stands, if it is of that sort.
    pub(super) fn meant(&self, name: &Name, sort: Sort) -> Option<Entry<'a>> {
        let thing = self.resolved.meant(name)?;
        self.resolved.things.get(thing).filter(|thing| thing.sort == sort).and_then(|_| self.entry(thing))
    }

    /// How many are given before what a name means where it stands, if it is of that sort; for yarns and machines.
    pub(super) fn number(&self, name: &Name, sort: Sort) -> Option<usize> {
        let thing = self.resolved.things.get(self.resolved.meant(name)?)?;
        (thing.sort == sort).then_some(thing.number)
    }

    /// A finding about a name that nothing of the right sort has: the nearest one, or all if they are few.
    /// `nearby` are names that hold only here, such as parameters.
    pub(super) fn unknown(&self, name: &Name, sort: Sort, nearby: &[&str]) -> Finding {
        let text: &str = &name.text;
        let mut known: Vec<&str> = nearby.to_vec();
        known.extend(self.resolved.all(sort).map(|thing| &*thing.name));
        let (one, many) = (sort.word(), if sort == Sort::Stitch { "es" } else { "s" });
        let mut finding = rules::UNKNOWN_NAME.finds(name.span, format!("there is no {one} called `{}`", clipped(text)));
        let others = self.resolved.things.iter().filter(|thing| *thing.name == *text && thing.sort != sort);
        if let Some(other) = others.filter(|other| other.sort < Sort::Size).min_by_key(|other| other.sort) {
            let is = other.sort.word();
            finding = finding
                .because(format!("`{text}` is a {is}, and here a {one} is needed."))
                .also(other.declared, format!("here it is a {is}"));
        }
        if let Some(number) = number(text).filter(|_| sort == Sort::Value) {
            return finding
                .because("Numbers are written in digits, `every 2` for every second one too; another word is read as a name.")
                .mend(format!("Write `{number}`."))
                .fix(Fix::new(format!("write `{number}`"), name.span, number.to_string()));
        }
        let mend = match nearest(text, &known) {
            Some(near) => format!("Perhaps `{near}` is meant."),
            None if known.is_empty() => {
                let value = if sort == Sort::Value {
                    ", with a number and its unit, or needles, in the place of VALUE"
                } else {
                    ""
                };
                format!(
                    "There are no {one}{many} yet. Write one at the top of the file: `{}`{value}.",
                    example(sort, text)
                )
            }
            None if known.len() <= 8 => format!("The {one}{many} there are: {}.", listed(&known)),
            None => format!("Check the spelling, or write `{}`.", example(sort, text)),
        };
        finding.mend(mend)
    }

    /// A finding when no line takes stitches onto a waste yarn of that name: the nearest one, or all if they are few.
    pub(super) fn unknown_waste(&self, name: &Text) -> Option<Finding> {
        let text: &str = &name.text;
        if self.wastes.contains(text) {
            return None;
        }
        let known: Vec<&str> = self.wastes.iter().copied().collect();
        let quoted = |name: &str| format!("`\"{}\"`", clipped(name));
        let mend = match nearest(text, &known) {
            Some(near) => format!("Perhaps {} is meant.", quoted(near)),
            None if known.is_empty() || known.len() > 8 => format!(
                "Take the stitches off under that name where they are knitted, for example `onto waste yarn front as \"{}\"`.",
                clipped(text)
            ),
            None => format!("The names there are: {}.", known.into_iter().map(quoted).collect::<Vec<_>>().join(", ")),
        };
        let what = format!("no line takes stitches onto a waste yarn called \"{}\"", clipped(text));
        let why = "Stitches are picked up from the waste yarn onto which a line has taken them, in this piece or in one \
                   before it, and both lines give it the same name.";
        Some(rules::UNKNOWN_NAME.finds(name.span, what).because(why).mend(mend))
    }
}

/// Words of the language that may be names all the same: they stand only where no name can, in the lines of a machine
/// or a yarn, say.
const MAY_BE_NAMES: &[&str] = &[
    "a",
    "adjacent",
    "as",
    "ball",
    "bed",
    "beds",
    "chain",
    "colour",
    "count",
    "denier",
    "dtex",
    "edge",
    "emptied",
    "evenly",
    "fibre",
    "first",
    "float",
    "go",
    "half",
    "hand",
    "handle",
    "length",
    "lever",
    "longest",
    "make",
    "most",
    "none",
    "number",
    "of",
    "off",
    "open",
    "pass",
    "pitch",
    "plain",
    "racking",
    "relaxed",
    "selection",
    "selectors",
    "side",
    "slack",
    "stay",
    "step",
    "strands",
    "tex",
    "the",
    "tucks",
    "unwashed",
    "up",
    "washed",
    "waste",
    "with",
    "worsted",
    "wound",
    "zigzag",
];

/// A finding when the name is a word of the language.
pub(super) fn reserved(name: &Name) -> Option<Finding> {
    let word = name.text.as_ref();
    let reserved = crate::syntax::is_keyword(word) && !MAY_BE_NAMES.contains(&word);
    reserved.then(|| {
        rules::RESERVED_WORD
            .finds(name.span, format!("`{}` is a word of the language and cannot be a name", name.text))
            .because("A line with this name in it could be read in two ways.")
            .mend(format!("Add a word to it with a dash, for example `my-{}`.", name.text))
    })
}

#[cfg(test)]
mod tests {
    use super::MAY_BE_NAMES;

    #[test]
    fn words_that_may_be_names_are_words() {
        assert!(MAY_BE_NAMES.is_sorted());
        assert!(MAY_BE_NAMES.iter().all(|word| crate::syntax::keywords().contains(word)));
    }
}

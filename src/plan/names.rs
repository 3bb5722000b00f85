//! What a pattern gives names to, and where each name was given.

use crate::finding::Finding;
pub(super) use crate::names::Sort;
use crate::names::declared;
use crate::plan::limits::MOST_SIZES;
use crate::plan::rules;
use crate::plan::say::{clipped, listed, nearest, twice};
use crate::source::{FileId, Sources};
use crate::syntax::tree::{Kind, Name, Statement, Tree};
use std::collections::HashMap;

/// The sorts of what a file declares with a statement of its own, in the order in which a name is looked for.
const SORTS: [Sort; 7] = [Sort::Machine, Sort::Yarn, Sort::Gauge, Sort::Value, Sort::Stitch, Sort::Chart, Sort::Fabric];

const fn many(sort: Sort) -> &'static str {
    match sort {
        Sort::Machine => "machines",
        Sort::Yarn => "yarns",
        Sort::Gauge => "gauges",
        Sort::Value => "values",
        Sort::Stitch => "stitches",
        Sort::Chart => "charts",
        Sort::Fabric => "fabrics",
        Sort::Size => "sizes",
        Sort::Parameter => "parameters",
    }
}

const fn example(sort: Sort) -> &'static str {
    match sort {
        Sort::Machine => "machine NAME { needles 90 each side }",
        Sort::Yarn => "yarn NAME { count 2/15 Nm }",
        Sort::Gauge => "gauge NAME { 26 stitches and 44 rows in 10 cm }",
        Sort::Value => "let NAME = 40 rows",
        Sort::Stitch => "stitch NAME on both { row both knit }",
        Sort::Chart => "chart NAME { ... }",
        Sort::Fabric => "fabric NAME { ... }",
        Sort::Size => "sizes NAME, NAME",
        Sort::Parameter => "stitch NAME (NAME rows) on both { rows NAME both knit }",
    }
}

/// Something with a name, and the statement that gives it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Entry<'a> {
    /// The name.
    pub(super) name: &'a Name,
    /// The statement.
    pub(super) statement: &'a Statement,
}

/// The names of one sort, in the order in which they are given.
#[derive(Debug, Default)]
pub(super) struct Table<'a> {
    entries: Vec<Entry<'a>>,
    index: HashMap<&'a str, usize>,
}

impl<'a> Table<'a> {
    /// What has that name.
    pub(super) fn get(&self, name: &str) -> Option<Entry<'a>> {
        self.index.get(name).and_then(|&at| self.entries.get(at)).copied()
    }

    /// All of them, in order.
    pub(super) fn iter(&self) -> impl Iterator<Item = Entry<'a>> + '_ {
        self.entries.iter().copied()
    }

    /// Where it stands in the list.
    pub(super) fn position(&self, name: &str) -> Option<usize> {
        self.index.get(name).copied()
    }

    fn add(&mut self, entry: Entry<'a>) {
        self.index.insert(&entry.name.text, self.entries.len());
        self.entries.push(entry);
    }
}

/// Everything that is declared in the files of a pattern.
pub(super) struct Names<'a> {
    /// The texts, for messages.
    pub(super) sources: &'a Sources,
    tables: [Table<'a>; 9],
    /// The sizes; empty when the pattern has none.
    pub(super) sizes: Vec<&'a Name>,
    /// The title.
    pub(super) title: Option<&'a str>,
    /// The pieces of the last file.
    pub(super) pieces: Vec<&'a Statement>,
}

impl<'a> Names<'a> {
    /// Lists what the files declare. Findings: `duplicate-name`, `reserved-word`, `said-twice`, `too-large`.
    pub(super) fn collect(sources: &'a Sources, trees: &'a [(FileId, Tree)], findings: &mut Vec<Finding>) -> Self {
        let mut names =
            Self { sources, tables: Default::default(), sizes: Vec::new(), title: None, pieces: Vec::new() };
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
                    Kind::Piece { .. } if main => {
                        names.pieces.push(statement);
                    }
                    _ => {
                        if let Some((sort, name)) = declared(statement) {
                            names.add(sort, Entry { name, statement }, findings);
                        }
                    }
                }
            }
        }
        names
    }

    fn add(&mut self, sort: Sort, entry: Entry<'a>, findings: &mut Vec<Finding>) {
        if let Some(finding) = reserved(entry.name) {
            findings.push(finding);
        }
        let earlier = sort.rivals().iter().find_map(|&rival| Some((rival, self.table(rival).get(&entry.name.text)?)));
        if let Some((rival, first)) = earlier {
            findings.push(
                rules::DUPLICATE_NAME
                    .finds(entry.name.span, format!("the name `{}` is given twice", entry.name.text))
                    .also(first.name.span, format!("here it is {} already", rival.words()))
                    .because("A name that stands for two things would leave open which one is meant.")
                    .mend("Give one of the two another name."),
            );
            return;
        }
        if let Some(table) = self.tables.get_mut(sort as usize) {
            table.add(entry);
        }
    }

    fn add_sizes(&mut self, sizes: &'a [Name], findings: &mut Vec<Finding>) {
        for name in sizes {
            findings.extend(reserved(name));
            if let Some(first) = self.sizes.iter().find(|first| first.text == name.text) {
                findings.push(
                    rules::DUPLICATE_NAME
                        .finds(name.span, format!("the size `{}` stands twice in the list", name.text))
                        .also(first.span, "here it is the first time")
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

    /// The names of one sort.
    pub(super) fn table(&self, sort: Sort) -> &Table<'a> {
        // The tables stand in the order of the sorts.
        &self.tables[sort as usize]
    }

    /// A finding about a name that nothing of the right sort has: the nearest one, or all if they are few.
    /// `nearby` are names that hold only here, such as parameters.
    pub(super) fn unknown(&self, name: &Name, sort: Sort, nearby: &[&str]) -> Finding {
        let text: &str = &name.text;
        let mut known: Vec<&str> = nearby.to_vec();
        known.extend(self.table(sort).iter().map(|entry| entry.name.text.as_ref()));
        let other = SORTS.into_iter().find(|&other| other != sort && self.table(other).get(text).is_some());
        let mut finding =
            rules::UNKNOWN_NAME.finds(name.span, format!("there is no {} called `{}`", sort.word(), clipped(text)));
        if let Some((other, entry)) = other.and_then(|other| Some((other, self.table(other).get(text)?))) {
            finding = finding
                .because(format!("`{text}` is {}, and here {} is needed.", other.words(), sort.words()))
                .also(entry.name.span, format!("here it is {}", other.words()));
        }
        let mend = match nearest(text, &known) {
            Some(near) => format!("Perhaps `{near}` is meant."),
            None if known.is_empty() => {
                format!("There are no {} yet. Write one at the top of the file: `{}`.", many(sort), example(sort))
            }
            None if known.len() <= 8 => format!("The {} there are: {}.", many(sort), listed(&known)),
            None => format!("Check the spelling, or write `{}`.", example(sort)),
        };
        finding.mend(mend)
    }
}

/// Words of the language that may be names all the same: they stand only where no name can, in the lines of a machine
/// or a yarn, say.
const MAY_BE_NAMES: &[&str] = &[
    "a",
    "adjacent",
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

//! What a pattern gives names to, and where each name was given.

use crate::finding::Finding;
use crate::plan::limits::MOST_SIZES;
use crate::plan::rules;
use crate::plan::say::{clipped, listed, nearest, twice};
use crate::source::{FileId, Sources, Span};
use crate::syntax::tree::{Kind, Name, Statement, Tree};
use std::cell::RefCell;
use std::collections::{HashMap, HashSet};

/// The sorts of things that have names. Each sort has names of its own, so a stitch and its gauge may share one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sort {
    /// A machine profile.
    Machine,
    /// A yarn.
    Yarn,
    /// A gauge.
    Gauge,
    /// A value named with `let`.
    Let,
    /// A stitch definition.
    Stitch,
    /// A chart.
    Chart,
    /// A fabric.
    Fabric,
}

impl Sort {
    const ALL: [Self; 7] = [Self::Machine, Self::Yarn, Self::Gauge, Self::Let, Self::Stitch, Self::Chart, Self::Fabric];

    /// The word for it, with its article.
    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::Machine => "a machine",
            Self::Yarn => "a yarn",
            Self::Gauge => "a gauge",
            Self::Let => "a value",
            Self::Stitch => "a stitch",
            Self::Chart => "a chart",
            Self::Fabric => "a fabric",
        }
    }

    const fn many(self) -> &'static str {
        match self {
            Self::Machine => "machines",
            Self::Yarn => "yarns",
            Self::Gauge => "gauges",
            Self::Let => "values",
            Self::Stitch => "stitches",
            Self::Chart => "charts",
            Self::Fabric => "fabrics",
        }
    }

    const fn example(self) -> &'static str {
        match self {
            Self::Machine => "machine NAME { needles 90 each side }",
            Self::Yarn => "yarn NAME { count 2/15 Nm }",
            Self::Gauge => "gauge NAME { 26 stitches and 44 rows in 10 cm }",
            Self::Let => "let NAME = 40 rows",
            Self::Stitch => "stitch NAME on both { row both knit }",
            Self::Chart => "chart NAME { ... }",
            Self::Fabric => "fabric NAME { ... }",
        }
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
    tables: [Table<'a>; 7],
    /// The sizes; empty when the pattern has none.
    pub(super) sizes: Vec<&'a Name>,
    /// The title.
    pub(super) title: Option<&'a str>,
    /// The pieces of the last file.
    pub(super) pieces: Vec<&'a Statement>,
    /// Where the names stand that some line has used.
    used: RefCell<HashSet<Span>>,
}

impl<'a> Names<'a> {
    /// Lists what the files declare. Findings: `duplicate-name`, `reserved-word`, `said-twice`, `too-large`.
    pub(super) fn collect(sources: &'a Sources, trees: &'a [(FileId, Tree)], findings: &mut Vec<Finding>) -> Self {
        let mut names = Self {
            sources,
            tables: Default::default(),
            sizes: Vec::new(),
            title: None,
            pieces: Vec::new(),
            used: RefCell::default(),
        };
        let mut titled = None;
        let mut sized = None;
        for (at, (_, tree)) in trees.iter().enumerate() {
            let main = at + 1 == trees.len();
            for statement in &tree.statements {
                let (sort, name) = match &statement.kind {
                    Kind::Machine(name) => (Sort::Machine, name),
                    Kind::Yarn(name) => (Sort::Yarn, name),
                    Kind::Gauge(name) => (Sort::Gauge, name),
                    Kind::Let(name, _) => (Sort::Let, name),
                    Kind::Stitch { name, .. } => (Sort::Stitch, name),
                    Kind::Chart(name) => (Sort::Chart, name),
                    Kind::Fabric(name) => (Sort::Fabric, name),
                    Kind::Pattern(title) if main => {
                        if let Some(first) = titled.replace(statement.span) {
                            findings.push(twice("the pattern's title", statement.span, first));
                        } else {
                            names.title = Some(&title.text);
                        }
                        continue;
                    }
                    Kind::Sizes(sizes) => {
                        if let Some(first) = sized.replace(statement.span) {
                            findings.push(twice("the list of sizes", statement.span, first));
                        } else {
                            names.add_sizes(sizes, findings);
                        }
                        continue;
                    }
                    Kind::Piece { .. } if main => {
                        names.pieces.push(statement);
                        continue;
                    }
                    _ => continue,
                };
                names.add(sort, Entry { name, statement }, findings);
            }
        }
        names
    }

    fn add(&mut self, sort: Sort, entry: Entry<'a>, findings: &mut Vec<Finding>) {
        if let Some(finding) = reserved(entry.name) {
            findings.push(finding);
        }
        // Inside `follow` a chart's name is a selection, so it must not be the name of a value as well.
        let rivals: &[Sort] = match sort {
            Sort::Let | Sort::Chart => &[Sort::Let, Sort::Chart],
            _ => std::slice::from_ref(&sort),
        };
        let earlier = rivals.iter().find_map(|&rival| Some((rival, self.table(rival).get(&entry.name.text)?)));
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

    /// What has that name, for a line that uses it.
    pub(super) fn take(&self, sort: Sort, name: &str) -> Option<Entry<'a>> {
        let entry = self.table(sort).get(name)?;
        self.used.borrow_mut().insert(entry.name.span);
        Some(entry)
    }

    /// Whether some line has used it.
    pub(super) fn is_used(&self, entry: Entry<'_>) -> bool {
        self.used.borrow().contains(&entry.name.span)
    }

    /// A finding about a name that nothing of the right sort has: the nearest one, or all if they are few.
    /// `nearby` are names that hold only here, such as parameters.
    pub(super) fn unknown(&self, name: &Name, sort: Sort, nearby: &[&str]) -> Finding {
        let text: &str = &name.text;
        let mut known: Vec<&str> = nearby.to_vec();
        known.extend(self.table(sort).iter().map(|entry| entry.name.text.as_ref()));
        let other = Sort::ALL.into_iter().find(|&other| other != sort && self.table(other).get(text).is_some());
        let mut finding = rules::UNKNOWN_NAME
            .finds(name.span, format!("there is no {} called `{}`", &sort.words()[2..], clipped(text)));
        if let Some((other, entry)) = other.and_then(|other| Some((other, self.table(other).get(text)?))) {
            finding = finding
                .because(format!("`{text}` is {}, and here {} is needed.", other.words(), sort.words()))
                .also(entry.name.span, format!("here it is {}", other.words()));
        }
        let mend = match nearest(text, &known) {
            Some(near) => format!("Perhaps `{near}` is meant."),
            None if known.is_empty() => {
                format!("There are no {} yet. Write one at the top of the file: `{}`.", sort.many(), sort.example())
            }
            None if known.len() <= 8 => format!("The {} there are: {}.", sort.many(), listed(&known)),
            None => format!("Check the spelling, or write `{}`.", sort.example()),
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
    let reserved = crate::syntax::keywords().contains(&word) && !MAY_BE_NAMES.contains(&word);
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

//! What a pattern gives names to, and every place where a name stands, with what it means there.
//!
//! The one place where scopes are known. Declarations stand at the top of a file and hold in all files of a pattern. Inside a
//! stitch its parameters go before them, and inside `follow` the name of the chart does.

mod uses;

use crate::source::{FileId, Span};
use crate::syntax::tree::{Kind, Name, Statement, Tree};
use std::collections::{HashMap, HashSet};

/// The sorts of things that have names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Sort {
    Machine,
    Yarn,
    Gauge,
    Value,
    Stitch,
    Chart,
    Fabric,
    Size,
    Parameter,
}

impl Sort {
    /// The word for it.
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Self::Machine => "machine",
            Self::Yarn => "yarn",
            Self::Gauge => "gauge",
            Self::Value => "value",
            Self::Stitch => "stitch",
            Self::Chart => "chart",
            Self::Fabric => "fabric",
            Self::Size => "size",
            Self::Parameter => "parameter",
        }
    }

    /// The sort under which its names are kept. Inside `follow` a chart's name is a selection, so that no value has it.
    const fn kept_as(self) -> Self {
        if matches!(self, Self::Chart) { Self::Value } else { self }
    }
}

/// Something with a name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Thing {
    pub(crate) sort: Sort,
    pub(crate) name: Box<str>,
    /// Where its name was given first.
    pub(crate) declared: Span,
    /// The stitch that a parameter belongs to.
    pub(crate) of: Option<usize>,
    /// How many are given before it, of those that share their names with it.
    pub(crate) number: usize,
    /// Its statement: the number of the tree, and of the statement in it.
    statement: (usize, usize),
}

/// A place where a name stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Use {
    pub(crate) span: Span,
    /// What is meant; none where nothing has that name.
    pub(crate) thing: Option<usize>,
    /// Whether the name is given here.
    pub(crate) declares: bool,
}

/// All names of a pattern.
#[derive(Debug, Default)]
pub(crate) struct Names {
    pub(crate) things: Vec<Thing>,
    /// By place.
    pub(crate) uses: Vec<Use>,
    /// A stitch or a chart that is worked for a length, and the gauge that has its name: these keep the same name.
    pub(crate) pairs: Vec<(usize, usize)>,
    /// What has which name, by the sort that it is kept as; parameters by the stitch that they belong to.
    tables: HashMap<(Sort, Option<usize>), HashMap<Box<str>, usize>>,
}

impl Names {
    /// The names in trees that belong together.
    pub(crate) fn of(trees: &[(FileId, Tree)]) -> Self {
        let mut names = Self::default();
        for (in_tree, (_, tree)) in trees.iter().enumerate() {
            for (at, statement) in tree.statements.iter().enumerate() {
                names.declare(statement, (in_tree, at));
            }
        }
        uses::find(&mut names, trees);
        names.uses.sort_by_key(|at| at.span);
        names.pairs.sort_unstable();
        names.pairs.dedup();
        names
    }

    fn declare(&mut self, statement: &Statement, at: (usize, usize)) {
        match &statement.kind {
            // The first list of sizes counts.
            Kind::Sizes(sizes) if !self.tables.contains_key(&(Sort::Size, None)) => {
                for name in sizes {
                    self.add(Sort::Size, name, at, None);
                }
            }
            kind => {
                let Some((sort, name)) = declared(kind) else { return };
                let added = self.add(sort, name, at, None);
                if let (Kind::Stitch { parameters, .. }, Some(stitch)) = (kind, added) {
                    for parameter in parameters {
                        self.add(Sort::Parameter, &parameter.name, at, Some(stitch));
                    }
                }
            }
        }
    }

    /// Adds a thing. Of several with one name the first counts, and there is none for the others.
    fn add(&mut self, sort: Sort, name: &Name, statement: (usize, usize), of: Option<usize>) -> Option<usize> {
        if self.taken(sort, of, &name.text).is_some() {
            return None;
        }
        let table = self.tables.entry((sort.kept_as(), of)).or_default();
        let number = table.len();
        table.insert(name.text.clone(), self.things.len());
        self.things.push(Thing { sort, name: name.text.clone(), declared: name.span, of, number, statement });
        Some(self.things.len() - 1)
    }

    /// What has that name, of the sort or of one that shares its names with it. `of` is the stitch of a parameter.
    pub(crate) fn taken(&self, sort: Sort, of: Option<usize>, name: &str) -> Option<usize> {
        self.tables.get(&(sort.kept_as(), of))?.get(name).copied()
    }

    /// The thing of that sort and name; no parameters.
    pub(crate) fn get(&self, sort: Sort, name: &str) -> Option<usize> {
        self.taken(sort, None, name).filter(|&thing| self.things.get(thing).is_some_and(|thing| thing.sort == sort))
    }

    /// The gauge of what is worked or followed under that name.
    pub(crate) fn gauge_of(&self, worked: &Name) -> Option<usize> {
        self.get(Sort::Gauge, &worked.text)
    }

    /// What a name means where it stands.
    pub(crate) fn meant(&self, name: &Name) -> Option<usize> {
        let at = self.uses.binary_search_by_key(&name.span, |used| used.span).ok()?;
        self.uses.get(at)?.thing
    }

    /// The statement that gives something its name; `trees` are those of the names.
    pub(crate) fn statement<'t>(&self, thing: &Thing, trees: &'t [(FileId, Tree)]) -> Option<&'t Statement> {
        let (tree, at) = thing.statement;
        trees.get(tree)?.1.statements.get(at)
    }

    /// All things of a sort, in the order in which they are given; parameters are those of all stitches.
    pub(crate) fn all(&self, sort: Sort) -> impl Iterator<Item = &Thing> {
        self.things.iter().filter(move |thing| thing.sort == sort)
    }

    /// The parameters of a stitch.
    #[cfg(feature = "serve")]
    pub(crate) fn parameters(&self, stitch: usize) -> impl Iterator<Item = &Thing> {
        self.things.iter().filter(move |thing| thing.of == Some(stitch))
    }

    /// The name that stands at a byte, or ends there.
    #[cfg(feature = "serve")]
    pub(crate) fn at(&self, file: FileId, at: usize) -> Option<&Use> {
        self.uses
            .iter()
            .find(|used| used.span.file == file && used.span.start as usize <= at && at <= used.span.end as usize)
    }

    /// The things that some line names, beyond those lines that give the name.
    pub(crate) fn used(&self) -> HashSet<usize> {
        self.uses.iter().filter(|used| !used.declares).filter_map(|used| used.thing).collect()
    }

    /// What every name means, without the names themselves and without where they stand: it is the same after a change
    /// of names that changes no meaning.
    #[cfg(feature = "serve")]
    pub(crate) fn meaning(&self) -> Meaning {
        let used = |used: &Use| (used.span.file, used.thing, used.declares);
        (self.things.iter().map(|thing| thing.sort).collect(), self.uses.iter().map(used).collect(), self.pairs.clone())
    }
}

/// The sorts of all things, what every name means, and the pairs.
#[cfg(feature = "serve")]
pub(crate) type Meaning = (Vec<Sort>, Vec<(FileId, Option<usize>, bool)>, Vec<(usize, usize)>);

/// What a statement gives a name to, and the name; none for sizes, which have many.
pub(crate) const fn declared(kind: &Kind) -> Option<(Sort, &Name)> {
    Some(match kind {
        Kind::Machine(name) => (Sort::Machine, name),
        Kind::Yarn(name) => (Sort::Yarn, name),
        Kind::Gauge(name) => (Sort::Gauge, name),
        Kind::Let(name, _) => (Sort::Value, name),
        Kind::Stitch { name, .. } => (Sort::Stitch, name),
        Kind::Chart(name) => (Sort::Chart, name),
        Kind::Fabric(name) => (Sort::Fabric, name),
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn meant(text: &str) -> Vec<(String, Option<(Sort, u32)>)> {
        let file = FileId::default();
        let (tree, findings) = crate::syntax::read(file, text);
        assert_eq!(findings, []);
        let names = Names::of(&[(file, tree)]);
        let thing = |thing: usize| {
            let thing = &names.things[thing];
            let line = text[..thing.declared.start as usize].matches('\n').count() as u32 + 1;
            (thing.sort, line)
        };
        names.uses.iter().map(|used| (text[used.span.range()].to_owned(), used.thing.map(thing))).collect()
    }

    #[test]
    fn parameters_and_followed_charts_go_before_values() {
        let text = "let depth = 3\n\
                    chart net {\n\"|.\"\n}\n\
                    stitch welt (depth rows) on both {\nrows depth both knit\n}\n\
                    piece \"P\" {\n\
                    follow net {\nrow front knit on net\n}\n\
                    work welt (depth depth rows)\n\
                    row front knit on net\n}\n";
        // In the argument the first `depth` is the parameter; its value would be read as one name with the unit apart.
        let text = &text.replace("(depth depth rows)", "(depth 2 rows)");
        let value = Some((Sort::Value, 1));
        let chart = Some((Sort::Chart, 2));
        let stitch = Some((Sort::Stitch, 5));
        let parameter = Some((Sort::Parameter, 5));
        let wanted = [
            ("depth", value),
            ("net", chart),
            ("welt", stitch),
            ("depth", parameter),
            ("depth", parameter),
            ("net", chart),
            ("net", chart),
            ("welt", stitch),
            ("depth", parameter),
            // Outside its `follow` a chart is no value.
            ("net", None),
        ];
        assert_eq!(meant(text), wanted.map(|(name, thing)| (name.to_owned(), thing)));
    }

    /// As `plan` has it, which works the first stitch and reports the second.
    #[test]
    fn a_second_stitch_of_a_name_gives_the_first_nothing() {
        let text = "stitch rib (depth rows) on both {\nrows depth both knit\n}\n\
                    stitch rib (width needles) on both {\nrow both knit\n}\n\
                    piece \"P\" {\nwork rib (width 2 needles)\nwork rib (depth 2 rows)\n}\n";
        let stitch = Some((Sort::Stitch, 1));
        let parameter = Some((Sort::Parameter, 1));
        let wanted = [
            ("rib", stitch),
            ("depth", parameter),
            ("depth", parameter),
            ("rib", stitch),
            ("width", None),
            ("rib", stitch),
            ("width", None),
            ("rib", stitch),
            ("depth", parameter),
        ];
        assert_eq!(meant(text), wanted.map(|(name, thing)| (name.to_owned(), thing)));
        let rules: Vec<&str> = crate::check("a.wale", text, &crate::source::NoLibrary)
            .findings
            .iter()
            .map(|finding| finding.rule.name)
            .collect();
        assert_eq!(rules.iter().filter(|rule| **rule == "wrong-details").count(), 2, "{rules:?}");
    }

    #[test]
    fn what_is_worked_for_a_length_and_its_gauge_are_a_pair() {
        let text = "gauge rib { 20 stitches and 30 rows in 10 cm }\nstitch rib on both { row both knit }\n";
        let pairs = |text: &str| {
            let file = FileId::default();
            Names::of(&[(file, crate::syntax::read(file, text).0)]).pairs.len()
        };
        assert_eq!(pairs(&format!("{text}piece \"P\" {{\nwork rib 2 times\n}}\n")), 0);
        assert_eq!(pairs(&format!("{text}piece \"P\" {{\nwork rib for 10 cm\nwork rib for 2 cm\n}}\n")), 1);
    }
}

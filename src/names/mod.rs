//! What a pattern gives names to, and every place where a name stands, with what it means there.
//!
//! The one place where scopes are known. Declarations stand at the top of a file and hold in all files of a pattern. Inside a
//! stitch its parameters go before them, and inside `follow` the name of the chart does.

use crate::source::{FileId, Span};
use crate::syntax::tree::{
    Count, EdgeChange, Expression, Extent, Kind, MachineLine, Name, Operand, OperandKind, PromiseKind, RackPlace,
    RowPartKind, Statement, Target, Tree, YarnLine,
};
use std::collections::{HashMap, HashSet};

/// The sorts of things that have names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
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

    /// The word for it, with its article.
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::Machine => "a machine",
            Self::Yarn => "a yarn",
            Self::Gauge => "a gauge",
            Self::Value => "a value",
            Self::Stitch => "a stitch",
            Self::Chart => "a chart",
            Self::Fabric => "a fabric",
            Self::Size => "a size",
            Self::Parameter => "a parameter",
        }
    }

    /// The sorts that share their names with it. Inside `follow` a chart's name is a selection, so that no value has it.
    pub(crate) const fn rivals(self) -> &'static [Self] {
        match self {
            Self::Machine => &[Self::Machine],
            Self::Yarn => &[Self::Yarn],
            Self::Gauge => &[Self::Gauge],
            Self::Value | Self::Chart => &[Self::Value, Self::Chart],
            Self::Stitch => &[Self::Stitch],
            Self::Fabric => &[Self::Fabric],
            Self::Size => &[Self::Size],
            Self::Parameter => &[Self::Parameter],
        }
    }
}

/// Something with a name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Thing {
    pub(crate) sort: Sort,
    pub(crate) name: Box<str>,
    /// Where its name was given first.
    pub(crate) declared: Span,
    /// The statement, with its block.
    pub(crate) whole: Span,
    /// The stitch that a parameter belongs to.
    pub(crate) of: Option<usize>,
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
    tables: HashMap<Sort, HashMap<Box<str>, usize>>,
}

impl Names {
    /// The names in trees that belong together.
    pub(crate) fn of(trees: &[(FileId, Tree)]) -> Self {
        let mut names = Self::default();
        for statement in trees.iter().flat_map(|(_, tree)| &tree.statements) {
            names.declare(statement);
        }
        let mut walk = Walk { names: &mut names, locals: Vec::new() };
        for statement in trees.iter().flat_map(|(_, tree)| &tree.statements) {
            walk.statement(statement);
        }
        names.uses.sort_by_key(|at| at.span);
        names.pairs.sort_unstable();
        names.pairs.dedup();
        names
    }

    fn declare(&mut self, statement: &Statement) {
        if let Kind::Sizes(sizes) = &statement.kind {
            // The first list of sizes counts.
            if !self.things.iter().any(|thing| thing.sort == Sort::Size) {
                for name in sizes {
                    self.add(Sort::Size, name, whole(statement), None);
                }
            }
            return;
        }
        let Some((sort, name)) = declared(statement) else { return };
        let thing = self.add(sort, name, whole(statement), None);
        if let Kind::Stitch { parameters, .. } = &statement.kind {
            for parameter in parameters {
                let of =
                    self.things.iter().position(|known| known.of == Some(thing) && known.name == parameter.name.text);
                if of.is_none() {
                    self.things.push(Thing {
                        sort: Sort::Parameter,
                        name: parameter.name.text.clone(),
                        declared: parameter.name.span,
                        whole: parameter.name.span,
                        of: Some(thing),
                    });
                }
            }
        }
    }

    /// Adds a thing; of several with one name the first counts.
    fn add(&mut self, sort: Sort, name: &Name, whole: Span, of: Option<usize>) -> usize {
        if let Some(known) = sort.rivals().iter().find_map(|&rival| self.get(rival, &name.text)) {
            return known;
        }
        self.things.push(Thing { sort, name: name.text.clone(), declared: name.span, whole, of });
        self.tables.entry(sort).or_default().insert(name.text.clone(), self.things.len() - 1);
        self.things.len() - 1
    }

    /// The thing of that sort and name; no parameters.
    pub(crate) fn get(&self, sort: Sort, name: &str) -> Option<usize> {
        self.tables.get(&sort)?.get(name).copied()
    }

    /// All things of a sort, in the order in which they are given; parameters are those of all stitches.
    #[cfg(feature = "serve")]
    pub(crate) fn all(&self, sort: Sort) -> impl Iterator<Item = &Thing> {
        self.things.iter().filter(move |thing| thing.sort == sort)
    }

    /// The parameters of a stitch.
    #[cfg(feature = "serve")]
    pub(crate) fn parameters(&self, stitch: usize) -> impl Iterator<Item = &Thing> {
        self.things.iter().filter(move |thing| thing.of == Some(stitch))
    }

    fn parameter(&self, stitch: usize, name: &str) -> Option<usize> {
        self.things.iter().position(|thing| thing.of == Some(stitch) && &*thing.name == name)
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
pub(crate) const fn declared(statement: &Statement) -> Option<(Sort, &Name)> {
    Some(match &statement.kind {
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

/// A statement with its block.
pub(crate) fn whole(statement: &Statement) -> Span {
    let Some(body) = &statement.body else { return statement.span };
    let last = || body.statements.last().map_or(body.open, whole);
    statement.span.join(body.close.unwrap_or_else(last))
}

/// What a name stands for in a block.
type Local = (Box<str>, Option<usize>);

struct Walk<'n> {
    names: &'n mut Names,
    locals: Vec<Local>,
}

impl Walk<'_> {
    fn found(&mut self, name: &Name, thing: Option<usize>, declares: bool) {
        self.names.uses.push(Use { span: name.span, thing, declares });
    }

    fn named(&mut self, name: &Name, sort: Sort, declares: bool) -> Option<usize> {
        // A second one of that name is a mistake of its own; it is taken for the first.
        let rivals = if declares { sort.rivals() } else { &[] };
        let thing = self.names.get(sort, &name.text);
        let thing = thing.or_else(|| rivals.iter().find_map(|&rival| self.names.get(rival, &name.text)));
        self.found(name, thing, declares);
        thing
    }

    fn given(&mut self, name: &Name, sort: Sort) {
        self.named(name, sort, true);
    }

    /// Every kind is named here, so that a new one is not forgotten.
    fn statement(&mut self, statement: &Statement) {
        let locals = self.locals.len();
        match &statement.kind {
            Kind::Broken
            | Kind::Pattern(_)
            | Kind::Use(_)
            | Kind::GaugeLine { .. }
            | Kind::ChartLine(_)
            | Kind::FabricLine(_)
            | Kind::Section(_)
            | Kind::Gaiting(_)
            | Kind::RackTo(RackPlace::Centre)
            | Kind::Carriage(_)
            | Kind::ResetCounter
            | Kind::FreePass
            | Kind::Say(..)
            | Kind::Allow(..) => {}
            Kind::Machine(name) => self.given(name, Sort::Machine),
            Kind::Yarn(name) => self.given(name, Sort::Yarn),
            Kind::Gauge(name) => self.given(name, Sort::Gauge),
            Kind::Chart(name) => self.given(name, Sort::Chart),
            Kind::Fabric(name) => self.given(name, Sort::Fabric),
            Kind::Sizes(sizes) => sizes.iter().for_each(|name| self.given(name, Sort::Size)),
            Kind::Let(name, value) => {
                self.named(name, Sort::Value, true);
                self.expression(value);
            }
            Kind::Stitch { name, parameters, .. } => {
                let stitch = self.named(name, Sort::Stitch, true);
                for parameter in parameters {
                    let thing = stitch.and_then(|stitch| self.names.parameter(stitch, &parameter.name.text));
                    self.found(&parameter.name, thing, true);
                    self.locals.push((parameter.name.text.clone(), thing));
                }
            }
            Kind::Piece { make, machine, .. } => {
                make.iter().for_each(|make| self.expression(make));
                if let Some(name) = machine {
                    self.named(name, Sort::Machine, false);
                }
            }
            Kind::Thread(name) => {
                self.named(name, Sort::Yarn, false);
            }
            Kind::Work { name, arguments, extent } => {
                let sort = if self.names.get(Sort::Stitch, &name.text).is_some() { Sort::Stitch } else { Sort::Fabric };
                let stitch = self.named(name, sort, false);
                for argument in arguments {
                    let thing = stitch.and_then(|stitch| self.names.parameter(stitch, &argument.name.text));
                    self.found(&argument.name, thing, false);
                    self.expression(&argument.value);
                }
                self.extent(extent, stitch, name);
            }
            Kind::Follow(name, extent) => {
                let chart = self.named(name, Sort::Chart, false);
                self.extent(extent, chart, name);
                self.locals.push((name.text.clone(), chart));
            }
            Kind::MachineLine(line) => self.machine_line(line),
            Kind::YarnLine(YarnLine::Ball(value) | YarnLine::Strands(value)) => self.expression(value),
            Kind::YarnLine(YarnLine::Count { .. } | YarnLine::Colour(_) | YarnLine::Fibre(_)) => {}
            Kind::InWork(targets)
            | Kind::OutOfWork(targets)
            | Kind::Hold(targets)
            | Kind::Release(targets)
            | Kind::CastOn(_, targets)
            | Kind::NewLoops(targets)
            | Kind::Drop(targets)
            | Kind::PickUp(targets, _)
            | Kind::BindOff(targets)
            | Kind::OntoWaste(targets)
            | Kind::Arrange(targets) => targets.iter().for_each(|target| self.target(target)),
            Kind::RackBy(value, _)
            | Kind::RackTo(RackPlace::At(value, _))
            | Kind::Tubular(value, _)
            | Kind::Repeat(value)
            | Kind::Shape(value)
            | Kind::Remind(value, _) => self.expression(value),
            Kind::StitchSize(sizes) => sizes.iter().for_each(|(_, size)| self.expression(size)),
            Kind::Row(parts) => self.row(parts),
            Kind::Rows(count, parts) => {
                self.expression(count);
                self.row(parts);
            }
            Kind::Transfer { from, .. } => self.target(from),
            Kind::Move { from, by, .. } => {
                self.target(from);
                self.expression(by);
            }
            Kind::MoveTo { from, to, .. } => {
                self.target(from);
                self.target(to);
            }
            Kind::Cross { over, under, .. } => {
                self.expression(over);
                self.expression(under);
            }
            Kind::Increase(change) | Kind::Decrease(change) => self.edge(change),
            Kind::Slope(change, times) => {
                self.edge(change);
                self.expression(times);
            }
            Kind::Expect(promises) => {
                for promise in promises {
                    match &promise.kind {
                        PromiseKind::Stitches(value, _)
                        | PromiseKind::Counter(value)
                        | PromiseKind::Racking(RackPlace::At(value, _)) => self.expression(value),
                        PromiseKind::Carriage(_)
                        | PromiseKind::Gaiting(_)
                        | PromiseKind::Racking(RackPlace::Centre) => {}
                    }
                }
            }
        }
        if let Some(body) = &statement.body {
            body.statements.iter().for_each(|inner| self.statement(inner));
        }
        self.locals.truncate(locals);
    }

    fn row(&mut self, parts: &[crate::syntax::tree::RowPart]) {
        for part in parts {
            match &part.kind {
                RowPartKind::Act { on: Some(value), .. }
                | RowPartKind::Loosened(value, _)
                | RowPartKind::Tightened(value, _)
                | RowPartKind::Size(value, _) => self.expression(value),
                RowPartKind::Act { on: None, .. } | RowPartKind::Toward(_) | RowPartKind::NewLoops => {}
            }
        }
    }

    fn machine_line(&mut self, line: &MachineLine) {
        match line {
            MachineLine::Needles(value)
            | MachineLine::Pitch(value)
            | MachineLine::MostTucks(value)
            | MachineLine::MostAdjacentTucks(value)
            | MachineLine::LongestFloat(value)
            | MachineLine::RackingSlack(value)
            | MachineLine::RackingStep(value)
            | MachineLine::LongestWait(value)
            | MachineLine::WidestCross(value) => self.expression(value),
            MachineLine::Racking { left: one, right: other, .. } | MachineLine::StitchSizes(one, other) => {
                self.expression(one);
                self.expression(other);
            }
            MachineLine::HalfStep(_)
            | MachineLine::Selectors(_)
            | MachineLine::Hold(_)
            | MachineLine::TransferCarriage(_)
            | MachineLine::EmptiedStay(_) => {}
        }
    }

    fn extent(&mut self, extent: &Extent, thing: Option<usize>, name: &Name) {
        match extent {
            Extent::Once => {}
            Extent::Times(value) => self.expression(value),
            Extent::For(value) => {
                self.expression(value);
                let gauge = self.names.get(Sort::Gauge, &name.text);
                self.names.pairs.extend(thing.zip(gauge));
            }
        }
    }

    fn edge(&mut self, change: &EdgeChange) {
        self.expression(&change.by);
        change.inset.iter().for_each(|inset| self.expression(inset));
    }

    fn target(&mut self, target: &Target) {
        target.needles.iter().for_each(|needles| self.expression(needles));
    }

    fn expression(&mut self, expression: &Expression) {
        self.operand(&expression.first);
        expression.rest.iter().for_each(|(_, operand)| self.operand(operand));
    }

    fn operand(&mut self, operand: &Operand) {
        match &operand.kind {
            OperandKind::Quantity(_)
            | OperandKind::Needles { .. }
            | OperandKind::All
            | OperandKind::Loaded
            | OperandKind::Empty => {}
            OperandKind::Name(name) => self.value(name),
            OperandKind::EachSide(count) | OperandKind::Leftmost(count) | OperandKind::Rightmost(count) => {
                self.count(count);
            }
            OperandKind::Tile { over, .. } => over.iter().for_each(|over| self.operand(over)),
            OperandKind::Every { step, over } => {
                self.count(step);
                over.iter().for_each(|over| self.operand(over));
            }
            OperandKind::AllBut(inner) => self.operand(inner),
        }
    }

    fn count(&mut self, count: &Count) {
        if let Count::Name(name) = count {
            self.value(name);
        }
    }

    /// A name that stands for a value: a parameter or a followed chart, the innermost first, or else a `let`.
    fn value(&mut self, name: &Name) {
        let local = self.locals.iter().rev().find(|(local, _)| *local == name.text);
        let thing = local.map_or_else(|| self.names.get(Sort::Value, &name.text), |(_, thing)| *thing);
        self.found(name, thing, false);
    }
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

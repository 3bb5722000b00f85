//! Every place where a name stands, and what it means there.

use super::{Names, Sort, Use, declared};
use crate::source::FileId;
use crate::syntax::tree::{
    Count, EdgeChange, Expression, Extent, Kind, MachineLine, Name, Operand, OperandKind, PromiseKind, RackPlace,
    RowPart, RowPartKind, Statement, Target, Tree, YarnLine,
};
use std::collections::HashMap;

/// Adds all places where a name stands, once everything is declared.
pub(super) fn find(names: &mut Names, trees: &[(FileId, Tree)]) {
    let mut walk = Walk { names, locals: HashMap::new() };
    trees.iter().flat_map(|(_, tree)| &tree.statements).for_each(|statement| walk.statement(statement));
}

struct Walk<'n, 't> {
    names: &'n mut Names,
    /// What names stand for in the blocks that are open, the innermost last.
    locals: HashMap<&'t str, Vec<Option<usize>>>,
}

impl<'t> Walk<'_, 't> {
    fn found(&mut self, name: &Name, thing: Option<usize>, declares: bool) {
        self.names.uses.push(Use { span: name.span, thing, declares });
    }

    /// A name that is given. A second one of that name is a mistake of its own; it is taken for the first.
    fn given(&mut self, name: &Name, sort: Sort) -> Option<usize> {
        let thing = self.names.taken(sort, None, &name.text);
        self.found(name, thing, true);
        thing
    }

    fn parameter(&mut self, stitch: Option<usize>, name: &Name, declares: bool) -> Option<usize> {
        let thing = stitch.and_then(|_| self.names.taken(Sort::Parameter, stitch, &name.text));
        self.found(name, thing, declares);
        thing
    }

    fn named(&mut self, name: &Name, sort: Sort) -> Option<usize> {
        let thing = self.names.get(sort, &name.text);
        self.found(name, thing, false);
        thing
    }

    /// Every kind is named here, so that a new one is not forgotten.
    fn statement(&mut self, statement: &'t Statement) {
        let given = declared(&statement.kind).and_then(|(sort, name)| self.given(name, sort));
        // What names stand for in its block only.
        let mut inside: Vec<(&'t str, Option<usize>)> = Vec::new();
        match &statement.kind {
            Kind::Broken
            | Kind::Pattern(_)
            | Kind::Use(_)
            | Kind::Machine(_)
            | Kind::Yarn(_)
            | Kind::Gauge(_)
            | Kind::Chart(_)
            | Kind::Fabric(_)
            | Kind::GaugeLine { .. }
            | Kind::ChartLine(_)
            | Kind::FabricLine(_)
            | Kind::Section(_)
            | Kind::Gaiting(_)
            | Kind::RackTo(RackPlace::Centre)
            | Kind::Carriage(_)
            | Kind::ResetCounter
            | Kind::FreePass
            | Kind::CutYarn
            | Kind::Say(..)
            | Kind::Allow(..) => {}
            Kind::Sizes(sizes) => {
                for name in sizes {
                    self.given(name, Sort::Size);
                }
            }
            Kind::Let(_, value) => self.expression(value),
            Kind::Stitch { parameters, .. } => {
                for parameter in parameters {
                    let thing = self.parameter(given, &parameter.name, true);
                    inside.push((&parameter.name.text, thing));
                }
            }
            Kind::Piece { make, machine, .. } => {
                make.iter().for_each(|make| self.expression(make));
                if let Some(name) = machine {
                    self.named(name, Sort::Machine);
                }
            }
            Kind::Thread(name) => {
                self.named(name, Sort::Yarn);
            }
            Kind::Work { name, arguments, extent } => {
                let sort = if self.names.get(Sort::Stitch, &name.text).is_some() { Sort::Stitch } else { Sort::Fabric };
                let stitch = self.named(name, sort);
                for argument in arguments {
                    self.parameter(stitch, &argument.name, false);
                    self.expression(&argument.value);
                }
                self.extent(extent, stitch, name);
            }
            Kind::Follow(name, extent) => {
                let chart = self.named(name, Sort::Chart);
                self.extent(extent, chart, name);
                inside.push((&name.text, chart));
            }
            Kind::MachineLine(line) => self.machine_line(line),
            Kind::YarnLine(YarnLine::Ball(value) | YarnLine::Strands(value) | YarnLine::PlainRows(value)) => {
                self.expression(value);
            }
            Kind::YarnLine(YarnLine::Count { .. } | YarnLine::Colour(_) | YarnLine::Fibre(_)) => {}
            Kind::Needles(_, targets)
            | Kind::CastOn(_, targets)
            | Kind::PickUp(targets, _)
            | Kind::OntoWaste(targets, _)
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
                        | PromiseKind::Tube(_)
                        | PromiseKind::Racking(RackPlace::Centre) => {}
                    }
                }
            }
        }
        for &(name, thing) in &inside {
            self.locals.entry(name).or_default().push(thing);
        }
        statement.inner().iter().for_each(|inner| self.statement(inner));
        for (name, _) in inside {
            self.locals.entry(name).or_default().pop();
        }
    }

    fn row(&mut self, parts: &[RowPart]) {
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
            MachineLine::Racking { left: one, right: other, .. }
            | MachineLine::StitchSizes(one, other)
            | MachineLine::TransferSizes(one, other) => {
                self.expression(one);
                self.expression(other);
            }
            MachineLine::HalfStep(_)
            | MachineLine::HalfStepWay(_)
            | MachineLine::Selectors(_)
            | MachineLine::Hold(_)
            | MachineLine::TransferCarriage(_)
            | MachineLine::TransferTakes(_)
            | MachineLine::TransferPlace(_)
            | MachineLine::EmptiedStay(_) => {}
        }
    }

    fn extent(&mut self, extent: &Extent, thing: Option<usize>, name: &Name) {
        match extent {
            Extent::Once => {}
            Extent::Times(value) => self.expression(value),
            Extent::For(value) => {
                self.expression(value);
                self.names.pairs.extend(thing.zip(self.names.gauge_of(name)));
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
        let local = self.locals.get(&*name.text).and_then(|meanings| meanings.last());
        let thing = local.map_or_else(|| self.names.get(Sort::Value, &name.text), |thing| *thing);
        self.found(name, thing, false);
    }
}

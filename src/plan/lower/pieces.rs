//! One size of a pattern lowered: what is declared first, then each piece.

use crate::beds::{Machine, Yarn};
use crate::plan::lower::draft::Draft;
use crate::plan::lower::lowering::Lowering;
use crate::plan::names::Sort;
use crate::plan::program::{Piece, Program};
use crate::plan::rules;
use crate::plan::values::machine::stand_in;
use crate::source::Span;
use crate::syntax::tree::{Kind, Name, Statement};
use std::sync::Arc;

impl<'a> Lowering<'a> {
    /// Works out everything that is declared and every piece.
    pub(in crate::plan) fn program(&mut self) -> Program {
        let names = self.values.names;
        for entry in names.all(Sort::Value) {
            self.values.let_value(entry);
        }
        for entry in names.all(Sort::Gauge) {
            let gauge = self.values.read_gauge(entry);
            self.gauges.insert(entry.thing, gauge);
        }
        let yarns = self.values.read_yarns();
        let machines: Vec<Arc<Machine>> =
            names.all(Sort::Machine).map(|entry| Arc::new(self.values.read_machine(entry))).collect();
        self.plain_sizes =
            (0..).zip(&yarns).filter_map(|(number, yarn)| Some((Yarn(number), yarn.plain_size?))).collect();
        self.check_definitions(&machines);
        let mut pieces: Vec<Piece> = names.pieces.iter().filter_map(|piece| self.piece(piece, &machines)).collect();
        if self.values.report.full {
            // What is only the beginning of a piece would be found to end with its stitches on the needles, and what is put
            // on waste yarn for a piece that is missing to be left there.
            pieces.clear();
        }
        Program {
            title: names.title.map(str::to_owned),
            size: names.sizes.get(self.values.size).map(|name| name.text.to_string()),
            yarns,
            pieces,
        }
    }

    fn piece(&mut self, statement: &'a Statement, machines: &[Arc<Machine>]) -> Option<Piece> {
        let Kind::Piece { title, make, machine } = &statement.kind else { return None };
        let make = match make {
            Some(count) => self.values.whole(count, &crate::plan::values::value::MAKE).unwrap_or(1),
            None => 1,
        };
        let mut machine = self.machine_of(statement, machine.as_ref(), machines);
        if !self.plain_sizes.is_empty() {
            Arc::make_mut(&mut machine).plain_sizes = self.plain_sizes.clone();
        }
        let body = statement.body.as_ref()?;
        self.values.machine = Some(Arc::clone(&machine));
        let mut draft = Draft::default();
        self.block(&mut draft, body);
        self.values.machine = None;
        let end = body.close.unwrap_or_else(|| {
            let file = statement.span.file;
            let end = self.values.names.sources.get(file).text().len() as u32;
            Span { file, start: end, end }
        });
        Some(Piece {
            title: title.text.to_string(),
            make,
            machine,
            span: statement.span,
            end,
            steps: draft.steps.into(),
            waste: Vec::new(),
        })
    }

    fn machine_of(
        &mut self,
        statement: &'a Statement,
        named: Option<&'a Name>,
        machines: &[Arc<Machine>],
    ) -> Arc<Machine> {
        let names = self.values.names;
        if let Some(name) = named {
            if let Some(machine) = names.number(name, Sort::Machine).and_then(|at| machines.get(at)) {
                return Arc::clone(machine);
            }
            self.values.report(names.unknown(name, Sort::Machine, &[]));
            return Arc::new(stand_in());
        }
        match machines {
            [only] => Arc::clone(only),
            [] => {
                self.values.report(
                    rules::NO_MACHINE.finds(statement.span,
                        "the pattern does not say which machine it is for",
                    )
                    .because("Without its needles and its racking nobody can tell whether a row can be knitted.")
                    .mend(
                        "Write your machine's numbers at the top, for example `machine mine {`, `needles 74 each side`, \
                         `pitch 5.2 mm`, `}`, each on a line of its own, or `use` a file that has them.",
                    ),
                );
                Arc::new(stand_in())
            }
            [first, ..] => {
                let known: Vec<&str> = names.all(Sort::Machine).map(|entry| entry.name.text.as_ref()).collect();
                self.values.report(
                    rules::NO_MACHINE
                        .finds(statement.span, "the piece does not say which machine it is for")
                        .because(format!("There are {} machines: {}.", known.len(), crate::plan::say::listed(&known)))
                        .mend(format!("Write `on` and the machine behind the title, for example `on {}`.", first.name)),
                );
                Arc::clone(first)
            }
        }
    }
}

//! Promises and reminders.

use crate::plan::lower::draft::Draft;
use crate::plan::lower::lowering::Lowering;
use crate::plan::program::{Promise, Speech, StepKind};
use crate::plan::values::quantity::Measure;
use crate::plan::values::sides::{gaiting, side};
use crate::plan::values::value::Wanted;
use crate::syntax::tree::{self, BedWord, Expression, PromiseKind, RackPlace, Statement, Text};

const STITCHES: Wanted = Wanted {
    what: "the number of stitches",
    measures: &[Measure::Number, Measure::Stitches],
    least: 0,
    most: 1_000_000,
};
const COUNTER: Wanted = Wanted {
    what: "the row counter",
    measures: &[Measure::Number, Measure::Rows],
    least: 0,
    most: 1_000_000_000_000_000,
};
const EVERY: Wanted = Wanted {
    what: "the rows between reminders",
    measures: &[Measure::Number, Measure::Rows],
    least: 1,
    most: 1_000_000_000_000,
};
const RACK: Wanted =
    Wanted { what: "the number of racking steps", measures: &[Measure::Number], least: 0, most: 1_000 };

impl<'a> Lowering<'a> {
    /// `expect 60 stitches front, 0 back`: a step for each promise.
    pub(super) fn expect(&mut self, draft: &mut Draft, statement: &'a Statement, promises: &'a [tree::Promise]) {
        for promise in promises {
            if let Some(found) = self.promise(promise) {
                self.push(draft, StepKind::Expect(found, promise.span), statement.span);
            }
        }
    }

    fn promise(&mut self, promise: &'a tree::Promise) -> Option<Promise> {
        Some(match &promise.kind {
            PromiseKind::Stitches(count, bed) => Promise::Stitches {
                count: self.values.whole(count, &STITCHES)?,
                front: *bed != BedWord::Back,
                back: *bed != BedWord::Front,
            },
            PromiseKind::Carriage(word) => Promise::Carriage(side(*word)),
            PromiseKind::Counter(count) => Promise::Counter(self.values.whole(count, &COUNTER)?),
            PromiseKind::Gaiting(word) => Promise::Gaiting(gaiting(*word)),
            PromiseKind::Racking(place) => Promise::Racking(self.rack_place(place)?),
            PromiseKind::Tube(open) => Promise::Tube(open.map(side)),
        })
    }

    /// Steps right of the centre.
    pub(super) fn rack_place(&mut self, place: &'a RackPlace) -> Option<i32> {
        match place {
            RackPlace::Centre => Some(0),
            RackPlace::At(count, word) => self.rack_steps(count).map(|count| Self::toward(count, *word)),
        }
    }

    /// A number of racking steps.
    pub(super) fn rack_steps(&mut self, count: &'a Expression) -> Option<i32> {
        self.values.whole(count, &RACK).and_then(|count| i32::try_from(count).ok())
    }

    /// `remind every 30 rows "..."`
    pub(super) fn remind(
        &mut self,
        draft: &mut Draft,
        statement: &'a Statement,
        every: &'a Expression,
        text: &'a Text,
    ) {
        if let Some(every) = self.values.whole(every, &EVERY) {
            let reminder = Speech::Remind { every, text: text.text.to_string() };
            self.push(draft, StepKind::Say(reminder), statement.span);
        }
    }
}

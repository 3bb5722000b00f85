//! One statement of a piece or a definition turned into steps.

use crate::beds::{Both, Operation, Pick, StitchSize, Targets, Yarn};
use crate::plan::lower::draft::Draft;
use crate::plan::lower::lowering::Lowering;
use crate::plan::names::Sort;
use crate::plan::program::{Speech, StepKind};
use crate::plan::values::sides::gaiting;
use crate::plan::values::yarn::MOST_YARNS;
use crate::source::Span;
use crate::syntax::tree::{BedWord, Expression, Kind, Name, NeedlesWord, Statement, Target};

impl<'a> Lowering<'a> {
    /// Adds what a statement says; one that cannot be understood is reported and left out.
    pub(super) fn statement(&mut self, draft: &mut Draft, statement: &'a Statement) {
        let span = statement.span;
        match &statement.kind {
            Kind::Section(title) => self.section(draft, statement, title),
            Kind::Needles(word, targets) => self.on_needles(draft, span, *word, targets),
            Kind::Gaiting(word) => self.push_do(draft, Operation::Gaiting(gaiting(*word)), span),
            Kind::RackBy(count, word) => {
                if let Some(count) = self.rack_steps(count) {
                    self.push_do(draft, Operation::RackBy(Self::toward(count, *word)), span);
                }
            }
            Kind::RackTo(place) => {
                if let Some(place) = self.rack_place(place) {
                    self.push_do(draft, Operation::RackTo(place), span);
                }
            }
            Kind::Thread(name) => self.thread(draft, span, name),
            Kind::StitchSize(sizes) => self.stitch_size(draft, span, sizes),
            Kind::Carriage(word) => {
                self.push_do(draft, Operation::Carriage(crate::plan::values::sides::side(*word)), span);
            }
            Kind::ResetCounter => self.push_do(draft, Operation::ResetCounter, span),
            Kind::Row(parts) => self.one_row(draft, statement, parts),
            Kind::Rows(count, parts) => self.rows(draft, statement, count, parts),
            Kind::Tubular(count, first) => self.tubular(draft, statement, count, *first),
            Kind::FreePass => self.push_do(draft, Operation::FreePass, span),
            Kind::CastOn(manner, targets) => self.cast_on(draft, statement, *manner, targets),
            Kind::Transfer { from, to, manner } => self.transfer(draft, statement, from, *to, *manner),
            Kind::Move { from, by, toward, manner } => self.move_by(draft, statement, from, by, *toward, *manner),
            Kind::MoveTo { from, to, manner } => self.move_to(draft, statement, from, to, *manner),
            Kind::Cross { bed, over, under } => self.cross(draft, statement, *bed, over, under),
            Kind::Increase(change) => self.edge_change(draft, statement, change, Operation::Increase),
            Kind::Decrease(change) => self.edge_change(draft, statement, change, Operation::Decrease),
            Kind::PickUp(targets, from) => self.pick_up(draft, statement, targets, from),
            Kind::OntoWaste(targets, name) => self.onto_waste(draft, span, targets, name.as_ref()),
            Kind::CutYarn => self.push_do(draft, Operation::CutYarn, span),
            Kind::Repeat(times) => self.repeat(draft, statement, times),
            Kind::Work { name, arguments, extent } => self.work(draft, statement, name, arguments, extent),
            Kind::Follow(name, extent) => self.follow(draft, statement, name, extent),
            Kind::Say(word, text) => self.push(draft, StepKind::Say(Speech::Words(*word, text.text.to_string())), span),
            Kind::Remind(every, text) => self.remind(draft, statement, every, text),
            Kind::Expect(promises) => self.expect(draft, statement, promises),
            Kind::Allow(rule, because) => self.allow(draft, statement, rule, because),
            // Not worked out yet, and reported by `layout`.
            Kind::Shape(_) | Kind::Slope(..) | Kind::Arrange(_) => {}
            // Out of place, and reported by `layout`; or broken, and reported by whoever read it.
            Kind::Broken
            | Kind::Pattern(_)
            | Kind::Use(_)
            | Kind::Machine(_)
            | Kind::MachineLine(_)
            | Kind::Yarn(_)
            | Kind::YarnLine(_)
            | Kind::Gauge(_)
            | Kind::GaugeLine { .. }
            | Kind::Sizes(_)
            | Kind::Let(..)
            | Kind::Stitch { .. }
            | Kind::Chart(_)
            | Kind::ChartLine(_)
            | Kind::Fabric(_)
            | Kind::FabricLine(_)
            | Kind::Piece { .. } => {}
        }
    }

    /// What a line does to the needles that it names; a bare bed means those that it can be about.
    fn on_needles(&mut self, draft: &mut Draft, span: Span, word: NeedlesWord, targets: &'a [Target]) {
        let why = "New loops are wound on by hand, one to a needle, so it matters which.";
        let (bare, make): (_, fn(Targets) -> Operation) = match word {
            NeedlesWord::InWork => return self.in_work(draft, span, targets),
            // Those that still carry stitches are found while playing.
            NeedlesWord::OutOfWork => (Some(&Pick::InWork), Operation::OutOfWork),
            NeedlesWord::Hold => (Some(&Pick::InWork), Operation::Hold),
            // The beds read a release over held needles and needles in work, so a bare bed means all that are held.
            NeedlesWord::Release => (Some(&Pick::InWork), Operation::Release),
            NeedlesWord::NewLoops => (None, Operation::NewLoops),
            NeedlesWord::Drop => (Some(&Pick::Loaded), Operation::Drop),
            NeedlesWord::BindOff => (Some(&Pick::Loaded), Operation::BindOff),
        };
        if let Some(targets) = self.values.targets(targets, bare, why) {
            self.push_do(draft, make(targets), span);
        }
    }

    fn in_work(&mut self, draft: &mut Draft, span: Span, targets: &'a [Target]) {
        let why = "Needles are brought into work one by one, so it matters which.";
        let Some(found) = self.values.targets(targets, None, why) else { return };
        // `all` is every needle in work already, so nothing would be brought into work.
        let nothing = |target: &&'a Target| {
            let named = |pick: Option<&Pick>| pick == Some(&Pick::InWork);
            match target.bed {
                BedWord::Back => named(found.back.as_ref()),
                _ => named(found.front.as_ref()),
            }
        };
        if !self.values.report.guessing
            && let Some(target) = targets.iter().find(nothing)
        {
            self.values.missing_needles(
                target.span,
                "`all` means the needles that are in work already, so none would be brought into work.",
            );
            return;
        }
        self.push_do(draft, Operation::InWork(found), span);
    }

    fn thread(&mut self, draft: &mut Draft, span: Span, name: &'a Name) {
        let names = self.values.names;
        match names.number(name, Sort::Yarn) {
            Some(at) if at < MOST_YARNS => {
                // `MOST_YARNS` fits in 16 bits.
                self.push_do(draft, Operation::Thread(Yarn(at as u16)), span);
            }
            // Too many yarns are reported where they are declared.
            Some(_) => {}
            None => self.values.report(names.unknown(name, Sort::Yarn, &[])),
        }
    }

    fn stitch_size(&mut self, draft: &mut Draft, span: Span, sizes: &'a [(BedWord, Expression)]) {
        let mut found: Both<Option<StitchSize>> = Both::same(None);
        let mut first: Both<Option<Span>> = Both::same(None);
        let mut good = true;
        for (word, expression) in sizes {
            let size = self.values.hundredths(expression);
            good &= size.is_some();
            for bed in crate::plan::values::sides::beds(*word) {
                if let Some(first) = first[bed].replace(expression.span) {
                    self.values.sure(crate::plan::say::twice(
                        &format!("the stitch size of the {bed} bed"),
                        expression.span,
                        first,
                    ));
                    good = false;
                }
                found[bed] = size;
            }
        }
        if good {
            self.push_do(draft, Operation::StitchSize(found), span);
        }
    }
}

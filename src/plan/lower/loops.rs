//! Statements that move, add and take off stitches.

use crate::beds::{CastOn, EdgeChange, NeedleSet, Operation, Pick, Tool, Waste};
use crate::plan::lower::draft::Draft;
use crate::plan::lower::lowering::Lowering;
use crate::plan::rules;
use crate::plan::values::quantity::Measure;
use crate::plan::values::sides::{beds, side};
use crate::plan::values::value::Wanted;
use crate::source::Span;
use crate::syntax::tree::{
    self, BedWord, CastOnWord, EdgeWord, Expression, LoopsFrom, Manner, SideWord, Statement, Target, Text,
};

const PLACES: Wanted =
    Wanted { what: "how far stitches are moved", measures: &[Measure::Number, Measure::Needles], least: 1, most: 255 };
const BY: Wanted = Wanted {
    what: "the number of stitches at an edge",
    measures: &[Measure::Number, Measure::Stitches, Measure::Needles],
    least: 0,
    most: 256,
};
const INSET: Wanted = Wanted {
    what: "the number of edge stitches that keep together",
    measures: &[Measure::Number, Measure::Stitches, Measure::Needles],
    least: 0,
    most: 256,
};

impl<'a> Lowering<'a> {
    /// `cast on zigzag`
    pub(super) fn cast_on(
        &mut self,
        draft: &mut Draft,
        statement: &'a Statement,
        manner: CastOnWord,
        targets: &'a [Target],
    ) {
        let way = match manner {
            CastOnWord::Zigzag => CastOn::Zigzag,
            CastOnWord::Open => CastOn::Open,
            CastOnWord::Wound => CastOn::Wound,
            CastOnWord::Chain => CastOn::Chain,
        };
        if targets.is_empty() && matches!(way, CastOn::Wound | CastOn::Chain) {
            self.values.error(
                &rules::MISSING_BED,
                statement.span,
                "this cast-on does not say on which bed",
                "Loops that are wound or chained by hand go onto the needles of one bed.",
                "Add the bed, for example `cast on wound front`.",
            );
            return;
        }
        let found = if targets.is_empty() {
            Some(crate::beds::Both { front: Some(Pick::InWork), back: Some(Pick::InWork) })
        } else {
            self.values.targets(targets, Some(&Pick::InWork), "")
        };
        if let Some(targets) = found {
            self.push_do(draft, Operation::CastOn(way, targets), statement.span);
        }
    }

    /// `transfer back to front, joining`
    pub(super) fn transfer(
        &mut self,
        draft: &mut Draft,
        statement: &'a Statement,
        from: &'a Target,
        to: BedWord,
        manner: Manner,
    ) {
        let pick = match &from.needles {
            Some(needles) => self.values.selection(needles).map(Some),
            None => Some(None),
        };
        let start = self.values.one_bed(from.bed, from.span, "a transfer");
        let end = self.values.one_bed(to, statement.span, "a transfer");
        let (Some(pick), Some(start), Some(end)) = (pick, start, end) else { return };
        if start == end {
            self.values.error(
                &rules::ONE_BED,
                statement.span,
                format!("a transfer from the {start} bed cannot end on the {start} bed"),
                "A transfer takes stitches to the facing needles of the other bed.",
                format!("Write `to {}`, or `move` for needles of the same bed.", start.other()),
            );
            return;
        }
        let tool = manner.by_hand.map(|hand| if hand { Tool::Hand } else { Tool::Carriage });
        let Manner { joining, emptied_stay, .. } = manner;
        let transfer = Operation::Transfer { from: start, pick, joining, emptied_stay, tool };
        self.push_do(draft, transfer, statement.span);
    }

    /// `move front L5 1 left`
    pub(super) fn move_by(
        &mut self,
        draft: &mut Draft,
        statement: &'a Statement,
        from: &'a Target,
        by: &'a Expression,
        toward: SideWord,
        manner: Manner,
    ) {
        let places = self.values.whole(by, &PLACES).and_then(|places| i32::try_from(places).ok());
        let bed = self.values.one_bed(from.bed, from.span, "a move");
        let pick = match &from.needles {
            Some(needles) => self.values.selection(needles),
            None => {
                self.values.missing_needles(from.span, "A move takes some stitches along their bed.");
                None
            }
        };
        if !self.by_hand(manner, statement.span) {
            return;
        }
        let (Some(places), Some(bed), Some(pick)) = (places, bed, pick) else { return };
        let by = if toward == SideWord::Left { -places } else { places };
        let Manner { joining, emptied_stay, .. } = manner;
        self.push_do(draft, Operation::Move { from: bed, pick, to: bed, by, joining, emptied_stay }, statement.span);
    }

    /// `move front L5 to back L6`
    pub(super) fn move_to(
        &mut self,
        draft: &mut Draft,
        statement: &'a Statement,
        from: &'a Target,
        to: &'a Target,
        manner: Manner,
    ) {
        let start = self.values.one_bed(from.bed, from.span, "a move");
        let end = self.values.one_bed(to.bed, to.span, "a move");
        let mut ends = [None, None];
        for (set, target) in ends.iter_mut().zip([from, to]) {
            match &target.needles {
                Some(needles) => *set = self.values.fixed_selection(needles, "each end of a move"),
                None => {
                    self.values.missing_needles(target.span, "A move goes from some needles to others, both named.");
                }
            }
        }
        if !self.by_hand(manner, statement.span) {
            return;
        }
        let (Some(start), Some(end), [Some(sources), Some(receivers)]) = (start, end, ends) else { return };
        let Some(by) = self.shift(sources, receivers, statement.span) else { return };
        let Manner { joining, emptied_stay, .. } = manner;
        let pick = Pick::These(sources);
        self.push_do(draft, Operation::Move { from: start, pick, to: end, by, joining, emptied_stay }, statement.span);
    }

    /// How far to the right needles must move to come to lie on others; reports when no one distance does it.
    fn shift(&mut self, from: NeedleSet, to: NeedleSet, span: Span) -> Option<i32> {
        if let Some((first, other)) = from.first().zip(to.first()) {
            let by = i32::from(other.0) - i32::from(first.0);
            if from.len() == to.len() && from.shifted(by) == to {
                return Some(by);
            }
        }
        self.values.error(
            &rules::UNEVEN_MOVE,
            span,
            "these needles cannot go to those in one move",
            format!(
                "{from} has {} and {to} has {}, and every stitch of a move goes the same way by the same number.",
                crate::plan::values::quantity::needles(from.len()),
                crate::plan::values::quantity::needles(to.len())
            ),
            "Write one `move` for each group of stitches that goes the same way.",
        );
        None
    }

    fn by_hand(&mut self, manner: Manner, span: Span) -> bool {
        if manner.by_hand != Some(false) {
            return true;
        }
        self.values.error(
            &rules::HAND_ONLY,
            span,
            "a move is made with the hand tool",
            "The transfer carriage takes stitches to the facing needles only.",
            "Take `by carriage` out, or write a `transfer`.",
        );
        false
    }

    /// `cross front L2-L1 over R1-R2`
    pub(super) fn cross(
        &mut self,
        draft: &mut Draft,
        statement: &'a Statement,
        bed: BedWord,
        over: &'a Expression,
        under: &'a Expression,
    ) {
        let bed = self.values.one_bed(bed, statement.span, "a cross");
        let mut run = |expression: &'a Expression| {
            let set = self.values.fixed_selection(expression, "each group of a cross")?;
            self.values.run(set, expression.span).map(|run| (set, run))
        };
        let (first, second) = (run(over), run(under));
        let (Some(bed), Some((over_set, a)), Some((under_set, b))) = (bed, first, second) else { return };
        let neighbours = |left: (_, crate::beds::Needle), right: (crate::beds::Needle, _)| {
            u16::from(left.1.0) + 1 == u16::from(right.0.0)
        };
        if !neighbours(a, b) && !neighbours(b, a) {
            let why = if over_set.meets(&under_set) {
                format!("{over_set} and {under_set} have needles in common: {}.", over_set & under_set)
            } else {
                format!("There are needles between {over_set} and {under_set}.")
            };
            self.values.error(
                &rules::NOT_SIDE_BY_SIDE,
                statement.span,
                "the two groups of a cross must stand side by side",
                why,
                "Name two groups next to each other, for example `cross front L2-L1 over R1-R2`.",
            );
            return;
        }
        self.push_do(draft, Operation::Cross { bed, over: over_set, under: under_set }, statement.span);
    }

    /// `increase front 1 at each edge`, `decrease both 1 at left`: one operation for each bed.
    pub(super) fn edge_change(
        &mut self,
        draft: &mut Draft,
        statement: &'a Statement,
        change: &'a tree::EdgeChange,
        make: fn(EdgeChange) -> Operation,
    ) {
        let by = self.values.whole(&change.by, &BY);
        let inset = match &change.inset {
            Some(inset) => self.values.whole(inset, &INSET),
            None => Some(0),
        };
        let small = |count: Option<u64>| count.and_then(|count| u32::try_from(count).ok());
        let (Some(by), Some(inset)) = (small(by), small(inset)) else { return };
        // A size that changes nothing here writes 0.
        if by == 0 {
            self.left_out = true;
            return;
        }
        let (left, right) = (change.edge != EdgeWord::Right, change.edge != EdgeWord::Left);
        for bed in beds(change.bed) {
            self.push_do(draft, make(EdgeChange { bed, by, left, right, inset }), statement.span);
        }
    }

    /// `pick up front L5-R5 from waste yarn`
    pub(super) fn pick_up(
        &mut self,
        draft: &mut Draft,
        statement: &'a Statement,
        targets: &'a [Target],
        from: &'a LoopsFrom,
    ) {
        let from_waste = match from {
            LoopsFrom::Fabric => None,
            LoopsFrom::Waste => Some(Waste::PLAIN),
            LoopsFrom::Named(name) => {
                if let Some(finding) = self.values.names.unknown_waste(name) {
                    self.values.report(finding);
                    return;
                }
                Some(Waste::named(&name.text))
            }
        };
        let why = "Loops are hung on needles one by one, so it matters which; `all` means every needle in work.";
        if let Some(targets) = self.values.targets(targets, None, why) {
            self.push_do(draft, Operation::PickUp { targets, from_waste }, statement.span);
        }
    }

    /// `onto waste yarn front as "shoulder"`
    pub(super) fn onto_waste(&mut self, draft: &mut Draft, span: Span, targets: &'a [Target], name: Option<&'a Text>) {
        if let Some(targets) = self.values.targets(targets, Some(&Pick::Loaded), "") {
            let waste = name.map_or(Waste::PLAIN, |name| Waste::named(&name.text));
            self.push_do(draft, Operation::OntoWaste(targets, waste), span);
        }
    }

    /// Right positive.
    pub(super) fn toward(count: i32, word: SideWord) -> i32 {
        if side(word) == crate::beds::Side::Left { -count } else { count }
    }
}

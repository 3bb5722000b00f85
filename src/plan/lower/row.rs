//! Rows: what each bed does in one pass of the carriages.

use crate::beds::{Action, Bed, BedWork, Both, Operation, Pick, Row, RowSize, Side, Work};
use crate::finding::Way;
use crate::plan::lower::draft::Draft;
use crate::plan::lower::lowering::Lowering;
use crate::plan::program::{Repeat, StepKind};
use crate::plan::rules;
use crate::plan::say::twice;
use crate::plan::values::quantity::Measure;
use crate::plan::values::sides::{beds, side};
use crate::plan::values::value::Wanted;
use crate::source::Span;
use crate::syntax::tree::{ActionWord, BedWord, Expression, RowPart, RowPartKind, Statement};

/// How many rows.
pub(super) const ROWS: Wanted = Wanted {
    what: "the number of rows",
    measures: &[Measure::Number, Measure::Rows],
    least: 0,
    most: 1_000_000_000_000,
};

/// What the parts of a row have said of one bed so far.
#[derive(Debug, Clone, Default)]
struct BedSaid {
    picked: Vec<(Action, Pick)>,
    /// The action of all other needles, where it was said, and whether it was said for the whole bed.
    rest: Option<(Action, Span, bool)>,
    first_pick: Option<Span>,
}

impl BedSaid {
    fn work(self) -> BedWork {
        BedWork { picked: self.picked, elsewhere: self.rest.map_or(Action::Slip, |(action, ..)| action) }
    }

    const fn is_silent(&self) -> bool {
        self.first_pick.is_none() && self.rest.is_none()
    }
}

const fn action(word: ActionWord) -> Action {
    match word {
        ActionWord::Knit => Action::Knit,
        ActionWord::Tuck => Action::Tuck,
        ActionWord::Slip => Action::Slip,
    }
}

impl<'a> Lowering<'a> {
    /// `row ...`
    pub(super) fn one_row(&mut self, draft: &mut Draft, statement: &'a Statement, parts: &'a [RowPart]) {
        if let Some(row) = self.row(parts, statement.span) {
            self.push_do(draft, Operation::Row(row), statement.span);
        }
    }

    /// `rows N ...`
    pub(super) fn rows(
        &mut self,
        draft: &mut Draft,
        statement: &'a Statement,
        count: &'a Expression,
        parts: &'a [RowPart],
    ) {
        let times = self.values.whole(count, &ROWS);
        let row = self.row(parts, statement.span);
        let (Some(times), Some(row)) = (times, row) else { return };
        self.left_out |= times == 0;
        if times == 1 {
            self.push_do(draft, Operation::Row(row), statement.span);
        } else if times > 1 {
            let mut inner = Draft { beds: draft.beds, ..Draft::default() };
            self.push_do(&mut inner, Operation::Row(row), statement.span);
            self.push_repeat(draft, inner, times, true, statement.span);
        }
    }

    /// `tubular N rows`: each bed on its own, in turns.
    pub(super) fn tubular(
        &mut self,
        draft: &mut Draft,
        statement: &'a Statement,
        count: &'a Expression,
        first: BedWord,
    ) {
        let Some(rows) = self.values.whole(count, &ROWS) else { return };
        self.left_out |= rows == 0;
        let first = if first == BedWord::Back { Bed::Back } else { Bed::Front };
        let row = |bed: Bed| {
            let work = Both::from_fn(|other| BedWork::whole(if other == bed { Action::Knit } else { Action::Slip }));
            Operation::Row(Row { work: Work::Same(work), sizes: Both::same(None), toward: None, new_loops: false })
        };
        if rows >= 2 {
            let mut inner = Draft { beds: draft.beds, ..Draft::default() };
            self.push_do(&mut inner, row(first), statement.span);
            self.push_do(&mut inner, row(first.other()), statement.span);
            self.push_repeat(draft, inner, rows / 2, false, statement.span);
        }
        if rows % 2 == 1 {
            self.push_do(draft, row(first), statement.span);
        }
    }

    /// Puts the steps of a block into a repeat.
    pub(super) fn push_repeat(&mut self, draft: &mut Draft, inner: Draft, times: u64, single_row: bool, span: Span) {
        let beds = match (draft.beds, inner.beds) {
            (Some(before), Some(after)) if times > 1 => Some(before.either(after)),
            (_, after) => after,
        };
        let (rows, height) = (inner.rows, inner.height);
        draft.gap |= inner.gap;
        let repeat = Repeat { times, steps: inner.steps.into(), stitch: None, single_row };
        self.push_nested(draft, StepKind::Repeat(repeat), (rows, times, height), span);
        draft.beds = beds;
    }

    /// The parts of a row put together; none when one of them cannot be read.
    fn row(&mut self, parts: &'a [RowPart], span: Span) -> Option<Row> {
        // What is said before a direction holds in both.
        let mut said: [Both<BedSaid>; 2] = Default::default();
        let mut directions: Both2<Option<Span>> = [None, None];
        let mut now: Option<Side> = None;
        let mut bed: Option<BedWord> = None;
        let mut sizes: Both<Option<RowSize>> = Both::same(None);
        let mut sized: Both<Option<Span>> = Both::same(None);
        let mut new_loops = None;
        let mut good = true;
        for part in parts {
            match &part.kind {
                RowPartKind::Toward(word) => {
                    let toward = side(*word);
                    if let Some(first) = directions[toward as usize].replace(part.span) {
                        self.values.sure(twice(&format!("the direction to the {toward}"), part.span, first));
                        good = false;
                    }
                    now = Some(toward);
                    bed = None;
                }
                RowPartKind::Act { bed: named, action: word, on, elsewhere } => {
                    bed = named.or(bed);
                    let pick = match on {
                        Some(on) => match self.values.selection(on) {
                            Some(pick) => Some(pick),
                            None => {
                                good = false;
                                continue;
                            }
                        },
                        None => None,
                    };
                    let Some(bed) = bed else {
                        let before = Span { end: part.span.start, ..part.span };
                        let words = self.values.words(part.span);
                        self.values.report(
                            rules::MISSING_BED
                                .finds(part.span, "this part of the row names no bed")
                                .because(
                                    "A part without a bed goes on with the bed before it, and there is none before it.",
                                )
                                .mend(format!(
                                    "Write the bed before it: `BED {words}`, with `front`, `back` or `both` for BED."
                                ))
                                .way(Way::new(before, "BED ", "")),
                        );
                        good = false;
                        continue;
                    };
                    for bed in beds(bed) {
                        for way in [Side::Left, Side::Right] {
                            if now.is_none_or(|now| now == way) {
                                let said = &mut said[way as usize][bed];
                                good &= self.act(said, bed, action(*word), pick.as_ref(), *elsewhere, part.span);
                            }
                        }
                    }
                }
                RowPartKind::Loosened(by, named) | RowPartKind::Tightened(by, named) | RowPartKind::Size(by, named) => {
                    let Some(value) = self.values.hundredths(by) else {
                        good = false;
                        continue;
                    };
                    let size = match &part.kind {
                        RowPartKind::Loosened(..) => RowSize::By(value),
                        RowPartKind::Tightened(..) => RowSize::By(-value),
                        _ => RowSize::To(value),
                    };
                    for bed in beds(named.unwrap_or(BedWord::Both)) {
                        if let Some(first) = sized[bed].replace(part.span) {
                            self.values.sure(twice(
                                &format!("the size of the {bed} bed for this row"),
                                part.span,
                                first,
                            ));
                            good = false;
                        }
                        sizes[bed] = Some(size);
                    }
                }
                RowPartKind::NewLoops => {
                    if let Some(first) = new_loops.replace(part.span) {
                        self.values.sure(twice("`new loops`", part.span, first));
                        good = false;
                    }
                }
            }
        }
        let [left, right] = said;
        let both = directions.iter().all(Option::is_some);
        for (way, side) in [(&left, Side::Left), (&right, Side::Right)] {
            // With one direction only what is said for it counts.
            let counts = both || now.is_none_or(|now| now == side);
            if good && counts && way.iter().all(|(_, said)| said.is_silent()) {
                self.empty_row(directions[side as usize].filter(|_| both), span);
                return None;
            }
        }
        if !good {
            return None;
        }
        let beds = |said: Both<BedSaid>| Both { front: said.front.work(), back: said.back.work() };
        let (work, toward) = match (directions[0], directions[1], now) {
            (Some(_), Some(_), _) => (Work::ByDirection { to_left: beds(left), to_right: beds(right) }, None),
            (_, _, Some(Side::Right)) => (Work::Same(beds(right)), Some(Side::Right)),
            (_, _, toward) => (Work::Same(beds(left)), toward),
        };
        Some(Row { work, sizes, toward, new_loops: new_loops.is_some() })
    }

    /// Takes down what a part says of a bed; reports what contradicts an earlier part.
    fn act(
        &mut self,
        said: &mut BedSaid,
        bed: Bed,
        action: Action,
        pick: Option<&Pick>,
        elsewhere: bool,
        span: Span,
    ) -> bool {
        let whole = pick.is_none() && !elsewhere;
        let clash = match (pick, &said.rest) {
            (Some(_), Some((_, first, true))) => Some(*first),
            (None, Some((_, first, _))) => Some(*first),
            (None, None) if whole => said.first_pick,
            _ => None,
        };
        if let Some(first) = clash {
            self.values.sure(
                rules::SAID_TWICE.finds(span, format!("the {bed} bed is told two things for the same needles"))
                    .also(first, "here it is told the first one")
                    .because("A part without `on` and without `elsewhere` means every needle of the bed in work.")
                    .mend("Say what the picked needles do with `on`, and what the others do with `elsewhere`: `front tuck on ribs, knit elsewhere`."),
            );
            return false;
        }
        match pick {
            Some(pick) => {
                said.first_pick.get_or_insert(span);
                said.picked.push((action, pick.clone()));
            }
            None => said.rest = Some((action, span, whole)),
        }
        true
    }

    fn empty_row(&mut self, direction: Option<Span>, span: Span) {
        let (span, what) = match direction {
            Some(direction) => (direction, "nothing is said for this direction"),
            None => (span, "the row does not say what the beds do"),
        };
        self.values.error(
            &rules::EMPTY_ROW,
            span,
            what,
            "A bed that is not named slips, so nothing at all would be knitted.",
            "Say what the beds do, for example `row front knit, back tuck`, or `free pass` to bring the carriage over.",
        );
    }
}

/// One value for each direction, the left one first.
type Both2<T> = [T; 2];

//! Programs built by hand, for the tests of what is written from them.

use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use wale::beds::{
    Action, Bed, BedWork, Both, CastOn, Machine, Needle, NeedleSet, Operation, Pick, Row, Side, Targets, Work, Yarn,
};
use wale::plan::program::{Piece, Program, Promise, Repeat, Speech, Step, StepId, StepKind, StitchUse, YarnInfo};
use wale::source::Span;

/// Another number each time.
fn next_id() -> StepId {
    static LAST: AtomicU64 = AtomicU64::new(0);
    StepId(LAST.fetch_add(1, Ordering::Relaxed))
}

pub(crate) fn step(kind: StepKind) -> Step {
    Step { id: next_id(), kind, span: Span::default() }
}

pub(crate) fn act(operation: Operation) -> Step {
    step(StepKind::Do(operation))
}

pub(crate) fn left(number: u32) -> Needle {
    Needle::new(Side::Left, number).expect("a needle")
}

pub(crate) fn right(number: u32) -> Needle {
    Needle::new(Side::Right, number).expect("a needle")
}

pub(crate) fn these(first: Needle, last: Needle) -> Option<Pick> {
    Some(Pick::These(NeedleSet::span(first, last)))
}

pub(crate) fn front(pick: Option<Pick>) -> Targets {
    Both { front: pick, back: None }
}

pub(crate) fn back(pick: Option<Pick>) -> Targets {
    Both { front: None, back: pick }
}

pub(crate) fn plain(front: Action, back: Action) -> Row {
    worked(BedWork::whole(front), BedWork::whole(back))
}

pub(crate) fn worked(front: BedWork, back: BedWork) -> Row {
    Row { work: Work::Same(Both { front, back }), sizes: Both::same(None), toward: None, new_loops: false }
}

pub(crate) fn row(front: Action, back: Action) -> Step {
    act(Operation::Row(plain(front, back)))
}

pub(crate) fn knit() -> Step {
    row(Action::Knit, Action::Knit)
}

pub(crate) fn repeat(times: u64, steps: Vec<Step>) -> Step {
    step(StepKind::Repeat(Repeat { times, steps: Arc::from(steps), stitch: None, single_row: false }))
}

pub(crate) fn rows(times: u64, row: Step) -> Step {
    step(StepKind::Repeat(Repeat { times, steps: Arc::from(vec![row]), stitch: None, single_row: true }))
}

pub(crate) fn stitch(name: &str, times: u64, steps: Vec<Step>) -> Step {
    let stitch = StitchUse { name: name.to_owned(), defined: Span::default(), from: (true, true), to: (true, true) };
    step(StepKind::Repeat(Repeat { times, steps: Arc::from(steps), stitch: Some(stitch), single_row: false }))
}

pub(crate) fn section(title: &str, steps: Vec<Step>) -> Step {
    step(StepKind::Section(title.to_owned(), Arc::from(steps)))
}

/// Front on the way to one side, back on the way to the other.
pub(crate) fn tubular(count: u64, first_to: Side) -> Step {
    let only = |bed: Bed| {
        let on = |which: Bed| BedWork::whole(if which == bed { Action::Knit } else { Action::Slip });
        Both { front: on(Bed::Front), back: on(Bed::Back) }
    };
    let (to_left, to_right) = match first_to {
        Side::Left => (only(Bed::Front), only(Bed::Back)),
        Side::Right => (only(Bed::Back), only(Bed::Front)),
    };
    let row =
        Row { work: Work::ByDirection { to_left, to_right }, sizes: Both::same(None), toward: None, new_loops: false };
    rows(count, act(Operation::Row(row)))
}

pub(crate) fn sizes(front: i32, back: i32) -> Step {
    act(Operation::StitchSize(Both { front: Some(front), back: Some(back) }))
}

pub(crate) fn remind(every: u64, text: &str) -> Step {
    step(StepKind::Say(Speech::Remind { every, text: text.to_owned() }))
}

pub(crate) fn expect(promise: Promise) -> Step {
    step(StepKind::Expect(promise, Span::default()))
}

/// Both beds in work over that many needles on each side, cast on zigzag.
pub(crate) fn begin(each_side: u32) -> Vec<Step> {
    vec![
        act(Operation::InWork(Both {
            front: these(left(each_side), right(each_side)),
            back: these(left(each_side), right(each_side - 1)),
        })),
        act(Operation::Thread(Yarn(0))),
        sizes(300, 300),
        act(Operation::CastOn(CastOn::Zigzag, Both { front: Some(Pick::InWork), back: Some(Pick::InWork) })),
    ]
}

pub(crate) fn piece(steps: Vec<Step>) -> Piece {
    Piece {
        title: "Scarf".to_owned(),
        make: 1,
        machine: Arc::new(Machine::new("club", 90)),
        span: Span::default(),
        end: Span::default(),
        steps: Arc::from(steps),
        waste: Vec::new(),
    }
}

pub(crate) fn program(piece: Piece) -> Program {
    let slate = YarnInfo {
        name: "slate".to_owned(),
        count: Some("2/15 Nm".to_owned()),
        colour: Some("blue grey".to_owned()),
        fibre: Some("merino wool".to_owned()),
        plain_size: None,
    };
    let waste = YarnInfo { name: "waste".to_owned(), ..YarnInfo::default() };
    Program { title: Some("Breakwater scarf".to_owned()), size: None, yarns: vec![slate, waste], pieces: vec![piece] }
}

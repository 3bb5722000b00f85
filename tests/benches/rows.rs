//! Machine rows played a second on 2 x 180 needles.

use super::seconds;
use std::cell::Cell;
use std::sync::Arc;
use wale::beds::*;
use wale::plan::program::{Piece, Repeat, Step, StepId, StepKind};
use wale::play::{Manner, Watcher, play};
use wale::source::Span;

struct Nobody;
impl Watcher for Nobody {}

const ROWS: u64 = 2_000_000;

pub(crate) fn bench() {
    let needles = || Pick::These(NeedleSet::each_side(90));
    let whole = Both { front: BedWork::whole(Action::Knit), back: BedWork::whole(Action::Knit) };
    let picked = |action, pick| BedWork { picked: vec![(action, pick)], elsewhere: Action::Knit };
    // The end needles knit: a tuck there would be told anew in every row, and the telling be measured.
    let inner = |every| Pick::And(Box::new((Pick::Every(every), Pick::These(NeedleSet::each_side(88)))));
    let selected = Both { front: picked(Action::Tuck, inner(2)), back: picked(Action::Tuck, inner(3)) };
    let drawn = |marks: &str| Pick::Tile(Tile { marks: marks.chars().map(|mark| mark == '|').collect() });
    let tiled = Both { front: picked(Action::Slip, drawn("|..|")), back: picked(Action::Slip, drawn(".||..")) };
    println!("machine rows a second on 2 x 180 needles, played one by one:");
    for (name, works, goal) in [
        ("whole bed", vec![whole.clone()], 10e6),
        (
            "whole bed, two rows in turn",
            vec![whole.clone(), Both { front: whole.front.clone(), back: BedWork::whole(Action::Slip) }],
            10e6,
        ),
        ("selected, every 2 and every 3", vec![selected.clone(), whole.clone()], 1e6),
        ("selected, by tiles", vec![tiled, whole], 1e6),
    ] {
        let piece = piece(needles(), &works);
        let bare = ROWS as f64 / seconds(3, || assert_eq!(play(&piece, Manner::EVERY, &mut Nobody).0.row, ROWS + 1));
        let ruled = ROWS as f64
            / seconds(3, || {
                std::hint::black_box(wale::rules::check_piece_in(&piece, Manner::EVERY));
            });
        println!(
            "  {name:32} {:7.2} million, {:7.2} million with every rule looking on   (goal {} million: {:.2} and {:.2} of it)",
            bare / 1e6,
            ruled / 1e6,
            goal / 1e6,
            bare / goal,
            ruled / goal
        );
    }
}

fn piece(needles: Pick, works: &[Both<BedWork>]) -> Piece {
    let ids = Cell::new(0);
    let made = |kind| Step { id: StepId(ids.replace(ids.get() + 1)), kind, span: Span::default() };
    let step = |operation| made(StepKind::Do(operation));
    let row = |work: &Both<BedWork>| {
        step(Operation::Row(Row {
            work: Work::Same(work.clone()),
            sizes: Both::default(),
            toward: None,
            new_loops: false,
        }))
    };
    let both = || Both { front: Some(needles.clone()), back: Some(needles.clone()) };
    let repeat = Repeat {
        times: ROWS / works.len() as u64,
        steps: works.iter().map(row).collect(),
        stitch: None,
        single_row: works.len() == 1,
    };
    let steps = [
        step(Operation::InWork(both())),
        step(Operation::Thread(Yarn(0))),
        step(Operation::CastOn(CastOn::Zigzag, both())),
        made(StepKind::Repeat(repeat)),
    ];
    Piece {
        title: "Bench".to_owned(),
        make: 1,
        machine: Arc::new(Machine::new("bench", 90)),
        span: Span::default(),
        end: Span::default(),
        steps: Arc::from(steps),
        waste: Vec::new(),
    }
}

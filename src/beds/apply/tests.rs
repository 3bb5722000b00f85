//! What each operation does, told in small scenes.

use crate::beds::*;

fn needle(text: &str) -> Needle {
    let side = if text.starts_with('L') { Side::Left } else { Side::Right };
    Needle::new(side, text[1..].parse().expect("a number")).expect("a needle")
}

/// `L3-R3`, `L2`.
fn set(text: &str) -> NeedleSet {
    let (first, last) = text.split_once('-').unwrap_or((text, text));
    NeedleSet::span(needle(first), needle(last))
}

fn on(bed: Bed, text: &str) -> Targets {
    let mut targets = Targets::default();
    targets[bed] = Some(Pick::These(set(text)));
    targets
}

fn both(front: &str, back: &str) -> Targets {
    Both { front: Some(Pick::These(set(front))), back: Some(Pick::These(set(back))) }
}

fn row(front: Action, back: Action) -> Operation {
    let work = Work::Same(Both { front: BedWork::whole(front), back: BedWork::whole(back) });
    Operation::Row(Row { work, sizes: Both::default(), toward: None, new_loops: false })
}

fn transfer(from: Bed, joining: bool) -> Operation {
    Operation::Transfer { from, pick: None, joining, emptied_stay: None, tool: None }
}

fn by_hand(bed: Bed, needles: &str, by: i32) -> Operation {
    let pick = Pick::These(set(needles));
    Operation::Move { from: bed, pick, to: bed, by, joining: true, emptied_stay: None }
}

/// A machine, and a state after those operations.
fn after(operations: &[Operation]) -> (Machine, State, Vec<Outcome>) {
    let machine = Machine::new("small", 20);
    let (state, outcomes) = after_on(&machine, operations);
    (machine, state, outcomes)
}

fn after_on(machine: &Machine, operations: &[Operation]) -> (State, Vec<Outcome>) {
    let mut state = State::default();
    let outcomes = operations.iter().map(|operation| state.apply(machine, operation)).collect();
    (state, outcomes)
}

/// The state after those operations, and what the last of them did by hand.
fn handled_on(machine: &Machine, operations: &[Operation]) -> (State, Handled) {
    let (state, mut outcomes) = after_on(machine, operations);
    match outcomes.pop() {
        Some(Outcome::Handled(handled)) => (state, handled),
        other => panic!("work by hand: {other:?}"),
    }
}

fn handled(operations: &[Operation]) -> (State, Handled) {
    handled_on(&Machine::new("small", 20), operations)
}

/// Those needles of the front bed in work, with a stitch each, and then the operation.
fn wound(needles: &str, then: Operation) -> Vec<Operation> {
    let targets = on(Bed::Front, needles);
    vec![
        Operation::InWork(targets.clone()),
        Operation::Thread(Yarn(0)),
        Operation::CastOn(CastOn::Wound, targets),
        then,
    ]
}

fn front(needles: &str) -> Both<NeedleSet> {
    Both { front: set(needles), back: NeedleSet::EMPTY }
}

fn counts(state: &State) -> (u64, u64) {
    (state.stitch_count(Bed::Front), state.stitch_count(Bed::Back))
}

fn begun() -> Vec<Operation> {
    vec![
        Operation::InWork(both("L3-R3", "L3-R2")),
        Operation::Thread(Yarn(0)),
        Operation::CastOn(CastOn::Zigzag, both("L3-R3", "L3-R2")),
    ]
}

#[test]
fn a_zigzag_is_a_row_and_makes_a_stitch_on_every_needle() {
    let (_, state, _) = after(&begun());
    assert_eq!(counts(&state), (6, 5));
    assert_eq!((state.row, state.counter, state.carriage), (1, 1, Side::Right));
    assert_eq!((state.ledger.made, state.ledger.on_needles), (11, 11));
}

#[test]
fn knitting_draws_through_and_tucking_piles_up() {
    let mut operations = begun();
    operations.extend([row(Action::Knit, Action::Tuck), row(Action::Knit, Action::Tuck)]);
    let (_, state, _) = after(&operations);
    assert_eq!(state.loops.stack(Bed::Front, needle("L1")).len(), 1);
    assert_eq!(state.loops.stack(Bed::Back, needle("L1")).len(), 3);
    assert_eq!(counts(&state), (6, 5), "a tuck is no stitch");
    assert_eq!(state.ledger.knitted_through, 12);
    let (_, state, _) = after(&[operations, vec![row(Action::Knit, Action::Knit)]].concat());
    assert_eq!(state.loops.count(), 11);
    assert_eq!(state.ledger.knitted_through, 12 + 6 + 15);
}

#[test]
fn a_loop_over_an_empty_needle_is_a_stitch_only_when_it_has_been_knitted() {
    let mut operations = begun();
    operations.extend([by_hand(Bed::Front, "L3", 1), row(Action::Knit, Action::Knit)]);
    let (_, state, outcomes) = after(&operations);
    assert_eq!(counts(&state), (5, 5));
    let Some(Outcome::Row(done)) = outcomes.last() else { panic!("a row: {outcomes:?}") };
    assert_eq!(done.caught.front, set("L3"));
    let (_, state, _) = after(&[operations, vec![row(Action::Knit, Action::Knit)]].concat());
    assert_eq!(counts(&state), (6, 5));
}

#[test]
fn a_transfer_needs_facing_needles_and_then_goes_straight_across() {
    let mut operations = begun();
    operations.push(transfer(Bed::Back, true));
    let (_, state, outcomes) = after(&operations);
    assert_eq!(counts(&state), (6, 5), "nothing moves at gaiting between");
    assert!(matches!(outcomes.last(), Some(Outcome::Carried(carried)) if carried.not_facing));
    operations.insert(3, Operation::Gaiting(Gaiting::Opposite));
    let (_, state, _) = after(&operations);
    assert_eq!(counts(&state), (6, 0));
    assert_eq!(state.loops.stack(Bed::Front, needle("L3")).len(), 2);
    assert_eq!(state.loops.stack(Bed::Front, needle("R3")).len(), 1);
}

#[test]
fn racking_shifts_what_faces_what() {
    for (racking_bed, landing) in [(Bed::Back, "L2-R3"), (Bed::Front, "L4-R1")] {
        let machine = Machine { racking_bed, ..Machine::new("small", 20) };
        let mut state = State::default();
        for operation in [
            Operation::InWork(both("L5-R5", "L3-R2")),
            Operation::Thread(Yarn(0)),
            Operation::CastOn(CastOn::Wound, on(Bed::Back, "L3-R2")),
            Operation::Gaiting(Gaiting::Opposite),
            Operation::RackBy(1),
            transfer(Bed::Back, false),
        ] {
            state.apply(&machine, &operation);
        }
        assert_eq!(state.loops.loaded(Bed::Front), set(landing), "racking the {racking_bed} bed right");
    }
}

#[test]
fn there_and_back_is_where_it_was() {
    let mut operations = begun();
    operations.extend([
        Operation::OutOfWork(on(Bed::Back, "R3")),
        Operation::Drop(Both { front: None, back: Some(Pick::Loaded) }),
    ]);
    operations.extend([row(Action::Knit, Action::Slip), Operation::Gaiting(Gaiting::Opposite)]);
    operations.push(Operation::InWork(on(Bed::Back, "R3")));
    let (_, before, _) = after(&operations);
    let (_, now, _) = after(&[operations, vec![transfer(Bed::Front, false), transfer(Bed::Back, false)]].concat());
    assert_eq!(before, now);
}

#[test]
fn what_no_needle_takes_is_lost_and_booked() {
    let mut operations = begun();
    operations.extend([Operation::Gaiting(Gaiting::Opposite), Operation::Drop(on(Bed::Back, "L3-R2"))]);
    operations.push(transfer(Bed::Front, false));
    let (_, state, outcomes) = after(&operations);
    let Some(Outcome::Carried(carried)) = outcomes.last() else { panic!("a transfer: {outcomes:?}") };
    assert_eq!(carried.into_idle, set("R3"), "back R3 is out of work");
    assert_eq!((counts(&state), state.ledger.lost, state.ledger.dropped), ((0, 5), 1, 5));
}

#[test]
fn held_needles_keep_their_loops_and_let_the_yarn_pass() {
    let mut operations = begun();
    operations.extend([Operation::Hold(on(Bed::Front, "L3-L2")), row(Action::Knit, Action::Slip)]);
    operations.push(Operation::Release(Both { front: Some(Pick::InWork), back: None }));
    let (_, state, outcomes) = after(&operations);
    let Some(Outcome::Row(done)) = outcomes.get(4) else { panic!("a row: {outcomes:?}") };
    assert_eq!((done.knit.front, done.slip.front), (set("L1-R3"), NeedleSet::EMPTY));
    assert_eq!(state.loops.stack(Bed::Front, needle("L3"))[0].made, 1);
    assert_eq!(state.in_work.front, set("L3-R3"));
    assert_eq!(state.held.front, NeedleSet::EMPTY);
}

#[test]
fn a_crossing_changes_the_places_of_two_groups() {
    let mut operations = vec![Operation::InWork(on(Bed::Front, "L3-R3")), Operation::Thread(Yarn(0))];
    // Each needle's loop is known by its row: L2 and L1 are knitted once more.
    operations.push(Operation::CastOn(CastOn::Wound, on(Bed::Front, "L3-R3")));
    let picked = BedWork { picked: vec![(Action::Knit, Pick::These(set("L2-L1")))], elsewhere: Action::Slip };
    let work = Work::Same(Both { front: picked, back: BedWork::whole(Action::Slip) });
    operations.push(Operation::Row(Row { work, sizes: Both::default(), toward: None, new_loops: false }));
    operations.push(Operation::Cross { bed: Bed::Front, over: set("L2-L1"), under: set("R1-R3") });
    let (_, state, _) = after(&operations);
    let made: Vec<u64> = set("L3-R3").iter().map(|at| state.loops.stack(Bed::Front, at)[0].made).collect();
    assert_eq!(made, [0, 0, 0, 0, 1, 1]);
}

#[test]
fn edges_grow_and_shrink_by_what_is_said() {
    let change = |by, inset| EdgeChange { bed: Bed::Front, by, left: true, right: true, inset };
    let mut operations = vec![Operation::InWork(on(Bed::Front, "L3-R3")), Operation::Thread(Yarn(0))];
    operations.push(Operation::CastOn(CastOn::Wound, on(Bed::Front, "L3-R3")));
    for (operation, expected) in [
        (Operation::Increase(change(1, 0)), "L4-R4"),
        (Operation::Increase(change(2, 2)), "L6-R6"),
        (Operation::Decrease(change(1, 3)), "L5-R5"),
        (Operation::Decrease(change(2, 0)), "L3-R3"),
    ] {
        operations.push(operation.clone());
        let (_, state, _) = after(&operations);
        assert_eq!(state.loops.stitches(Bed::Front), set(expected), "after {operation:?}");
        assert_eq!(state.in_work.front, set(expected), "after {operation:?}");
    }
}

#[test]
fn an_edge_that_cannot_give_is_left_alone() {
    let change = EdgeChange { bed: Bed::Front, by: 1, left: true, right: false, inset: 0 };
    let operations = [
        Operation::InWork(on(Bed::Front, "L3-L3")),
        Operation::Thread(Yarn(0)),
        Operation::CastOn(CastOn::Wound, on(Bed::Front, "L3")),
        Operation::Decrease(change),
    ];
    let (_, state, outcomes) = after(&operations);
    assert_eq!(counts(&state), (1, 0));
    assert!(matches!(outcomes.last(), Some(Outcome::Handled(handled)) if handled.not_there == 1));
    assert!(matches!(outcomes.last(), Some(Outcome::Handled(handled)) if handled.refused == front("L3")));
}

/// An edge of the front bed.
fn edge(side: Side, by: u32, inset: u32) -> EdgeChange {
    EdgeChange { bed: Bed::Front, by, left: side == Side::Left, right: side == Side::Right, inset }
}

#[test]
fn a_bed_without_stitches_has_no_edge() {
    for operation in [Operation::Increase(edge(Side::Left, 2, 0)), Operation::Decrease(edge(Side::Left, 2, 0))] {
        let (state, handled) = handled(&[Operation::InWork(on(Bed::Front, "L3-R3")), operation]);
        let nothing = Handled { not_there: 2, no_yarn: handled.no_yarn, ..Handled::default() };
        assert_eq!((handled, counts(&state)), (nothing, (0, 0)));
    }
}

#[test]
fn a_stitch_that_is_added_takes_yarn() {
    let mut operations = wound("L3-R3", Operation::Increase(edge(Side::Left, 1, 0)));
    assert!(!handled(&operations).1.no_yarn);
    operations.remove(1);
    assert!(handled(&operations).1.no_yarn, "nothing is threaded");
}

#[test]
fn an_edge_does_not_grow_past_the_end_of_the_bed() {
    let (state, done) = handled(&wound("L19-L10", Operation::Increase(edge(Side::Left, 3, 0))));
    assert_eq!((done.off_bed, done.refused, done.past_end), (front("L22-L21"), front("L22-L20"), 0));
    assert_eq!((done.not_there, state.loops.loaded(Bed::Front)), (3, set("L19-L10")));
    // The needles past the end of the widest bed are in no set.
    let widest = Machine::new("wide", NeedleSet::WIDTH as u32 / 2);
    for (inset, side, needles, new) in [
        (0, Side::Left, "L127-L120", "L128"),
        (2, Side::Left, "L127-L120", "L128"),
        (2, Side::Right, "R120-R127", "R128"),
    ] {
        let (state, done) = handled_on(&widest, &wound(needles, Operation::Increase(edge(side, 3, inset))));
        assert_eq!((done.off_bed, done.refused, done.past_end), (Both::default(), front(new), 2));
        assert_eq!((done.not_there, state.loops.loaded(Bed::Front)), (3, set(needles)));
    }
}

#[test]
fn an_edge_does_not_shrink_over_the_end_of_the_bed() {
    let widest = Machine::new("wide", NeedleSet::WIDTH as u32 / 2);
    for by in [1, 2] {
        let (state, done) = handled_on(&widest, &wound("R128", Operation::Decrease(edge(Side::Left, by, 0))));
        assert_eq!((done.not_there, done.refused), (u64::from(by), front("R128")));
        assert_eq!((counts(&state), state.in_work.front), ((1, 0), set("R128")));
    }
}

#[test]
fn hand_work_says_which_needles_the_bed_does_not_have() {
    let targets = on(Bed::Front, "R19-R22");
    for operation in [
        Operation::CastOn(CastOn::Wound, targets.clone()),
        Operation::NewLoops(targets.clone()),
        Operation::PickUp { targets: targets.clone(), from_waste: None },
        Operation::Drop(targets.clone()),
        Operation::BindOff(targets.clone()),
        Operation::OntoWaste(targets.clone(), Waste::PLAIN),
    ] {
        let mut operations = wound("R10-R18", row(Action::Knit, Action::Slip));
        operations.push(operation.clone());
        assert_eq!(handled(&operations).1.off_bed, front("R21-R22"), "{operation:?}");
    }
}

#[test]
fn only_a_carriage_over_both_beds_casts_on_with_yarn_between_them() {
    let begun = |how, front: &str, back: &str| {
        let named = |text: &str| (!text.is_empty()).then(|| Pick::These(set(text)));
        let targets = Both { front: named(front), back: named(back) };
        let operations =
            [Operation::InWork(targets.clone()), Operation::Thread(Yarn(0)), Operation::CastOn(how, targets)];
        let (state, _) = handled(&operations);
        let bed = if front.is_empty() { Bed::Back } else { Bed::Front };
        state.loops.stack(bed, needle("L1"))[0].between
    };
    assert!(begun(CastOn::Zigzag, "L3-R3", "L3-R3"));
    assert!(begun(CastOn::Open, "L3-R3", "L3-R3"));
    assert!(!begun(CastOn::Wound, "L3-R3", "L3-R3"));
    for how in [CastOn::Zigzag, CastOn::Open, CastOn::Wound, CastOn::Chain] {
        assert!(!begun(how, "L3-R3", ""), "{how:?} on the front bed");
        assert!(!begun(how, "", "L3-R3"), "{how:?} on the back bed");
    }
}

#[test]
fn a_row_is_loosened_by_a_size_larger_than_the_one_set() {
    let knit = |to| {
        let mut operations = begun();
        operations.push(Operation::StitchSize(Both::same(Some(400))));
        let Operation::Row(row) = row(Action::Knit, Action::Slip) else { panic!("a row") };
        operations.push(Operation::Row(Row { sizes: Both::same(Some(RowSize::To(to))), ..row }));
        let loops = after(&operations).1.loops;
        let ordinary = |what: &Loop| what.drawn.is_ordinary();
        loops.that_are(Bed::Front, loops.loaded(Bed::Front), ordinary).0.is_empty()
    };
    assert_eq!([399, 400, 401].map(knit), [false, false, true]);
}

#[test]
fn the_carriage_is_placed_before_the_first_row() {
    let place = |side| Operation::Carriage(side);
    let (_, state, outcomes) = after(&[place(Side::Left), place(Side::Right), place(Side::Right)]);
    let changed = |changed| Outcome::Setting(Setting::Made { changed });
    assert_eq!(outcomes, [changed(false), changed(true), changed(false)]);
    assert_eq!(state.carriage, Side::Right);
}

#[test]
fn a_crossing_onto_a_needle_out_of_work_is_left_undone_and_names_both_needles() {
    for (over, under, donor) in [("L2-L1", "R1-R2", "L1"), ("R1-R2", "L2-L1", "L1"), ("R2", "R1", "R1")] {
        let cross = Operation::Cross { bed: Bed::Front, over: set(over), under: set(under) };
        let (_, state, outcomes) = after(&wound("L3-R1", cross));
        let Some(Outcome::Carried(carried)) = outcomes.last() else { panic!("a crossing: {outcomes:?}") };
        assert_eq!((carried.into_idle, carried.idle), (set(donor), set("R2")), "{over} over {under}");
        assert_eq!(state.loops.loaded(Bed::Front), set("L3-R1"));
    }
}

#[test]
fn the_racking_stops_at_the_end_of_its_travel() {
    let (_, state, outcomes) = after(&[Operation::RackBy(5), Operation::RackBy(1), Operation::RackTo(-6)]);
    assert_eq!(state.racking, 5);
    assert_eq!(outcomes[1], Outcome::Setting(Setting::RackedPastEnd { asked: 6 }));
    assert_eq!(outcomes[2], Outcome::Setting(Setting::RackedPastEnd { asked: -6 }));
}

#[test]
fn a_picked_up_loop_comes_back_from_where_it_went() {
    let mut operations = begun();
    operations.push(row(Action::Knit, Action::Knit));
    operations.push(Operation::PickUp { targets: on(Bed::Front, "L1-R1"), from_waste: None });
    let (_, state, _) = after(&operations);
    assert_eq!((state.ledger.knitted_through, state.ledger.on_needles, state.ledger.made), (9, 13, 22));
    operations.push(Operation::OntoWaste(Both { front: None, back: Some(Pick::Loaded) }, Waste::PLAIN));
    operations.push(Operation::PickUp { targets: on(Bed::Back, "L3-R3"), from_waste: Some(Waste::PLAIN) });
    let (_, state, outcomes) = after(&operations);
    assert!(matches!(outcomes.last(), Some(Outcome::Handled(handled)) if handled.not_there == 1));
    assert_eq!(state.ledger.on_waste, 5);
}

#[test]
fn a_tile_must_fit_the_working_width() {
    let tile = Pick::Tile(Tile { marks: vec![true, false, false, false] });
    let operations =
        [Operation::InWork(on(Bed::Front, "L3-R3")), Operation::Hold(Both { front: Some(tile), back: None })];
    let (_, state, outcomes) = after(&operations);
    assert_eq!(outcomes.last(), Some(&Outcome::Unfit(Bed::Front, Ragged { width: 6, tile: 4 })));
    assert!(state.held.front.is_empty());
}

#[test]
fn a_yarn_hangs_where_its_last_row_ended() {
    let knit = row(Action::Knit, Action::Knit);
    let mut operations = begun();
    operations.extend([knit.clone(), Operation::Thread(Yarn(1)), knit.clone(), Operation::Thread(Yarn(0))]);
    let (machine, mut state, _) = after(&operations);
    // The first yarn made the cast-on and a row, so it is back on the left; the second went to the right.
    let end = |state: &State| state.yarn_end.map(|end| end.side);
    assert_eq!((end(&state), state.carriage), (Some(Side::Left), Side::Right));
    assert_eq!(state.left_hanging.get(&Yarn(1)).map(|end| end.side), Some(Side::Right));
    let Outcome::Row(done) = state.apply(&machine, &knit) else { panic!("a row was knitted") };
    assert_eq!(done.began.map(|began| began.side), Some(Side::Left));
    assert_eq!(done.start(&machine, state.standing()), None);
    let Outcome::Row(done) = state.apply(&machine, &knit) else { panic!("a row was knitted") };
    let [from, to] = done.start(&machine, state.standing()).expect("the yarn goes on from where it was");
    assert_eq!((from.2, to.2), (needle("L3"), needle("L3")));
}

#[test]
fn a_loop_between_the_beds_remembers_the_racking() {
    let mut operations = begun();
    operations.extend([row(Action::Knit, Action::Knit), Operation::RackTo(3)]);
    let (machine, mut state, _) = after(&operations);
    let strain = state.loops.strained(state.racking, 2).expect("three steps are more than two");
    assert_eq!((strain.made, strain.made_at, strain.needles.back), (2, 0, set("L3-R2")));
    assert_eq!(state.loops.strained(state.racking, 3), None);
    state.apply(&machine, &row(Action::Knit, Action::Slip));
    let strain = state.loops.strained(state.racking, 2).expect("the back bed still waits");
    assert!(strain.needles.front.is_empty());
    state.apply(&machine, &row(Action::Slip, Action::Knit));
    assert_eq!(state.loops.strained(state.racking, 0), None);
}

#[test]
fn a_loop_carried_over_lies_straight_where_it_comes_to() {
    let mut operations = begun();
    let part = Operation::Transfer {
        from: Bed::Back,
        pick: Some(Pick::These(set("L3-L2"))),
        joining: true,
        emptied_stay: None,
        tool: None,
    };
    operations.extend([row(Action::Knit, Action::Knit), Operation::Gaiting(Gaiting::Opposite), part]);
    let (machine, mut state, _) = after(&operations);
    let all = transfer(Bed::Front, true);
    state.apply(&machine, &Operation::RackTo(2));
    state.apply(&machine, &all);
    let stack = state.loops.stack(Bed::Back, needle("L3"));
    assert!(!stack.is_empty() && stack.iter().all(|what| what.racking == 2), "{stack:?}");
}

#[test]
fn a_ledger_says_how_many_loops_are_not_accounted_for() {
    let ledger = Ledger {
        made: 4,
        brought: 2,
        on_needles: 2,
        knitted_through: 1,
        bound_off: 1,
        dropped: 1,
        on_waste: 1,
        lost: 0,
    };
    assert_eq!(ledger.difference(), 0);
    assert_eq!(Ledger { made: 7, ..ledger }.difference(), 3);
    assert_eq!(Ledger { lost: 2, ..ledger }.difference(), -2);
}

/// Two loops that are both old are alike whatever their ages; counting passes on must not date one after its row.
#[test]
fn an_old_loop_that_rests_is_not_made_anew_by_counting() {
    let machine = Machine::new("small", 20);
    let made_at = |made: u64, now: u64| {
        let mut state = State { row: made, ..State::default() };
        for operation in [
            Operation::InWork(on(Bed::Front, "L1")),
            Operation::Thread(Yarn(0)),
            Operation::CastOn(CastOn::Wound, on(Bed::Front, "L1")),
        ] {
            state.apply(&machine, &operation);
        }
        State { row: now, ..state }
    };
    let after_five_more = |earlier: State, mut later: State| {
        assert!(earlier.goes_on_like(&later, 32));
        later.repeat_since(&earlier, 5);
        (later.row, later.loops.stack(Bed::Front, needle("L1"))[0].made)
    };
    assert_eq!(after_five_more(made_at(1, 50), made_at(21, 60)), (110, 21));
    // It was made since, perhaps before the first row of the pass, and will be in each pass that follows.
    assert_eq!(after_five_more(made_at(1, 50), made_at(55, 95)), (320, 280));
    assert_eq!(after_five_more(made_at(1, 50), made_at(50, 95)), (320, 275));
    // It came from another needle: in each pass such a loop comes as old.
    assert_eq!(after_five_more(made_at(10, 50), made_at(20, 60)), (110, 70));
}

#[test]
fn what_is_set_as_it_stands_already_changes_nothing() {
    let twice = |operation: Operation| after(&[operation.clone(), operation]).2.pop();
    for operation in [
        Operation::RackTo(2),
        Operation::Gaiting(Gaiting::Opposite),
        Operation::Thread(Yarn(0)),
        Operation::StitchSize(Both { front: Some(4), back: None }),
    ] {
        assert_eq!(twice(operation.clone()), Some(Outcome::Setting(Setting::Made { changed: false })), "{operation:?}");
    }
}

#[test]
fn needles_that_come_into_work_by_a_picture_are_laid_over_those_of_the_other_bed() {
    let second = || Some(Pick::Every(2));
    let one_by_one = || Some(Pick::These(set("L3-R3")));
    let back = |operations: &[Operation]| after(operations).1.in_work.back;
    let later = [Operation::InWork(on(Bed::Front, "L3-R3")), Operation::InWork(Both { front: None, back: second() })];
    assert_eq!(back(&later), set("L3") | set("L1") | set("R2"));
    let in_one_line = Operation::InWork(Both { front: one_by_one(), back: second() });
    assert_eq!(back(&[in_one_line]), set("L3") | set("L1") | set("R2"));
    assert!(back(&[Operation::InWork(Both { front: second(), back: second() })]).is_empty());
    let tile = Pick::Tile(Tile { marks: vec![true, false, false, false] });
    let ragged = Operation::InWork(Both { front: one_by_one(), back: Some(tile) });
    let (_, state, outcomes) = after(&[ragged]);
    assert_eq!(outcomes.last(), Some(&Outcome::Unfit(Bed::Back, Ragged { width: 6, tile: 4 })));
    assert!(state.in_work.front.is_empty());
}

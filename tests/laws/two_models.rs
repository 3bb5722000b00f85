//! The model of the compiler and the second one, operation by operation.

use super::operations::{FIRST, NEEDLES, machine, operations};
use super::second_model::{Book, Model, Position, Size, Strand};
use proptest::prelude::*;
use wale::beds::*;

pub(crate) fn same(state: &State, model: &Model) -> Result<(), TestCaseError> {
    let (first, needles) = (model.first as u8, model.width() as u8);
    for bed in Bed::BOTH {
        let hooks = &model.beds[usize::from(bed == Bed::Back)];
        for (at, hook) in (first..).zip(hooks) {
            let needle = Needle(at);
            let position = match (state.in_work[bed].contains(needle), state.held[bed].contains(needle)) {
                (false, false) => Position::Out,
                (true, false) => Position::Work,
                (false, true) => Position::Held,
                (true, true) => return Err(TestCaseError::fail(format!("{bed} {needle} is in work and held"))),
            };
            prop_assert_eq!(position, hook.position, "{} {}", bed, needle);
            let strand = |what: &Loop| Strand {
                row: what.made,
                yarn: what.yarn.0,
                caught: what.caught,
                size: match what.drawn {
                    Drawn::ByHand => Size::Hand,
                    Drawn::ByCastOn => Size::CastOn,
                    Drawn::InRow { size, larger } => Size::Row(size, larger),
                },
            };
            let stack: Vec<Strand> = state.loops.stack(bed, needle).iter().map(strand).collect();
            prop_assert_eq!(&stack, &hook.loops, "{} {}", bed, needle);
            prop_assert_eq!(state.loops.loaded(bed).contains(needle), !hook.loops.is_empty());
            if hook.position == Position::Out {
                prop_assert!(hook.loops.is_empty(), "{} {} is out of work and carries a loop", bed, needle);
            }
        }
        let beyond = (state.in_work[bed] | state.held[bed] | state.loops.loaded(bed))
            - NeedleSet::span(Needle(first), Needle(first + needles - 1));
        prop_assert!(beyond.is_empty(), "the bed has no {}", beyond);
        prop_assert_eq!(state.stitch_count(bed), model.stitches(bed), "stitches of the {} bed", bed);
    }
    let ledger = &state.ledger;
    let book = Book {
        made: ledger.made,
        through: ledger.knitted_through,
        bound: ledger.bound_off,
        dropped: ledger.dropped,
        waste: ledger.on_waste,
        lost: ledger.lost,
    };
    prop_assert_eq!(book, model.book);
    prop_assert_eq!(ledger.on_needles, model.on_needles());
    prop_assert_eq!(state.loops.count(), model.on_needles());
    prop_assert_eq!(ledger.difference(), 0);
    prop_assert_eq!((state.row, state.counter, state.racking), (model.row, model.counter, model.racking));
    prop_assert_eq!(state.carriage == Side::Left, model.on_the_left);
    prop_assert_eq!(state.gaiting == Gaiting::Opposite, model.opposite);
    Ok(())
}

proptest! {
    #![proptest_config(super::cases(800))]

    #[test]
    fn both_models_agree_after_every_operation(machine in machine(), operations in operations(30)) {
        let mut state = State::default();
        let mut model = Model::new(&machine, FIRST, NEEDLES);
        for (at, operation) in operations.iter().enumerate() {
            state.apply(&machine, operation);
            model.apply(operation);
            same(&state, &model).map_err(|error| {
                TestCaseError::fail(format!("after operation {} of\n{operations:#?}\n{error}", at + 1))
            })?;
        }
    }
}

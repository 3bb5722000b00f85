//! Random lists of operations on a machine of four and four needles.

use proptest::prelude::*;
use wale::beds::*;

/// The far left needle of the machine, by its number.
pub(crate) const FIRST: u8 = 126;
/// Needles of one bed.
pub(crate) const NEEDLES: u8 = 4;

/// A small machine: racked by either bed, its emptied needles stay in work or not.
pub(crate) fn machine() -> impl Strategy<Value = Machine> {
    (any::<bool>(), any::<bool>()).prop_map(|(front_racks, stay)| {
        let mut machine = Machine::new("small", u32::from(NEEDLES) / 2);
        machine.racking_bed = if front_racks { Bed::Front } else { Bed::Back };
        machine.racking_left = 2;
        machine.racking_right = 2;
        machine.emptied_stay = Limit::given(stay);
        machine
    })
}

fn bed() -> impl Strategy<Value = Bed> {
    prop_oneof![Just(Bed::Front), Just(Bed::Back)]
}

fn side() -> impl Strategy<Value = Side> {
    prop_oneof![Just(Side::Left), Just(Side::Right)]
}

/// Needles of the bed, now and then one beside it.
fn set() -> impl Strategy<Value = NeedleSet> {
    let on_bed = (0_u8..16).prop_map(|bits| bits << 1);
    prop_oneof![6 => on_bed, 1 => 0_u8..64]
        .prop_map(|bits| (0..6).filter(|at| bits >> at & 1 == 1).map(|at| Needle(FIRST - 1 + at)).collect())
}

pub(crate) fn pick() -> impl Strategy<Value = Pick> {
    let tile = proptest::collection::vec(any::<bool>(), 1..=3).prop_map(|marks| Pick::Tile(Tile { marks }));
    let leaf = prop_oneof![
        6 => set().prop_map(Pick::These),
        3 => Just(Pick::InWork),
        1 => Just(Pick::Loaded),
        1 => Just(Pick::Empty),
        1 => (0_u32..5).prop_map(Pick::Leftmost),
        1 => (0_u32..5).prop_map(Pick::Rightmost),
        1 => (1_u32..4).prop_map(Pick::Every),
        1 => tile,
    ];
    leaf.prop_recursive(2, 4, 2, |inner| {
        prop_oneof![
            (inner.clone(), inner.clone()).prop_map(|pair| Pick::And(Box::new(pair))),
            (inner.clone(), inner.clone()).prop_map(|pair| Pick::Or(Box::new(pair))),
            inner.prop_map(|one| Pick::AllBut(Box::new(one))),
        ]
    })
}

fn targets() -> impl Strategy<Value = Targets> {
    (proptest::option::weighted(0.7, pick()), proptest::option::weighted(0.7, pick()))
        .prop_map(|(front, back)| Both { front, back })
}

fn action() -> impl Strategy<Value = Action> {
    prop_oneof![5 => Just(Action::Knit), 2 => Just(Action::Tuck), 2 => Just(Action::Slip)]
}

fn bed_work() -> impl Strategy<Value = BedWork> {
    let picked = proptest::collection::vec((action(), pick()), 0..3);
    (picked, action()).prop_map(|(picked, elsewhere)| BedWork { picked, elsewhere })
}

fn beds_work() -> impl Strategy<Value = Both<BedWork>> {
    (bed_work(), bed_work()).prop_map(|(front, back)| Both { front, back })
}

pub(crate) fn row() -> impl Strategy<Value = Operation> {
    let work = prop_oneof![
        4 => beds_work().prop_map(Work::Same),
        1 => (beds_work(), beds_work()).prop_map(|(to_left, to_right)| Work::ByDirection { to_left, to_right }),
    ];
    let own = || {
        prop_oneof![
            4 => Just(None),
            1 => (-2..=2).prop_map(|by| Some(RowSize::By(by * 100))),
            1 => (1..=9).prop_map(|size| Some(RowSize::To(size * 100))),
        ]
    };
    let sizes = (own(), own()).prop_map(|(front, back)| Both { front, back });
    (work, sizes, any::<bool>())
        .prop_map(|(work, sizes, new_loops)| Operation::Row(Row { work, sizes, toward: None, new_loops }))
}

fn cast_on() -> impl Strategy<Value = CastOn> {
    prop_oneof![Just(CastOn::Zigzag), Just(CastOn::Open), Just(CastOn::Wound), Just(CastOn::Chain)]
}

fn stay() -> impl Strategy<Value = Option<bool>> {
    proptest::option::of(any::<bool>())
}

fn carried() -> impl Strategy<Value = Operation> {
    let transfer =
        (bed(), proptest::option::of(pick()), any::<bool>(), stay()).prop_map(|(from, pick, joining, emptied_stay)| {
            Operation::Transfer { from, pick, joining, emptied_stay, tool: None }
        });
    let moved = (bed(), pick(), bed(), -5..=5, any::<bool>(), stay()).prop_map(
        |(from, pick, to, by, joining, emptied_stay)| Operation::Move { from, pick, to, by, joining, emptied_stay },
    );
    // Two groups side by side, as they are read from a pattern; they may hang over the end of the bed.
    let cross = (bed(), 0_u8..5, 1_u8..4, 1_u8..4, any::<bool>()).prop_map(|(bed, from, left, right, over_is_left)| {
        let group = |at, count| NeedleSet::span(Needle(FIRST - 1 + at), Needle(FIRST - 2 + at + count));
        let (one, two) = (group(from, left), group(from + left, right));
        let (over, under) = if over_is_left { (one, two) } else { (two, one) };
        Operation::Cross { bed, over, under }
    });
    prop_oneof![2 => transfer, 3 => moved, 2 => cross]
}

fn edge_change() -> impl Strategy<Value = EdgeChange> {
    (bed(), 1_u32..3, 1_u8..4, 0_u32..3).prop_map(|(bed, by, sides, inset)| EdgeChange {
        bed,
        by,
        left: sides & 1 == 1,
        right: sides & 2 == 2,
        inset,
    })
}

pub(crate) fn operation() -> impl Strategy<Value = Operation> {
    let setting = prop_oneof![
        1 => prop_oneof![Just(Gaiting::Between), Just(Gaiting::Opposite)].prop_map(Operation::Gaiting),
        1 => (-3..=3).prop_map(Operation::RackBy),
        1 => (-3..=3).prop_map(Operation::RackTo),
        1 => (0_u16..3).prop_map(|yarn| Operation::Thread(Yarn(yarn))),
        1 => side().prop_map(Operation::Carriage),
        1 => Just(Operation::ResetCounter),
        1 => Just(Operation::FreePass),
        4 => (proptest::option::of(1..=6), proptest::option::of(1..=6))
            .prop_map(|(front, back): (Option<i32>, Option<i32>)| {
                Operation::StitchSize(Both { front: front.map(|size| size * 100), back: back.map(|size| size * 100) })
            }),
    ];
    let put = prop_oneof![
        3 => targets().prop_map(Operation::InWork),
        1 => targets().prop_map(Operation::OutOfWork),
        1 => targets().prop_map(Operation::Hold),
        1 => targets().prop_map(Operation::Release),
    ];
    let handled = prop_oneof![
        2 => (cast_on(), targets()).prop_map(|(how, targets)| Operation::CastOn(how, targets)),
        2 => targets().prop_map(Operation::NewLoops),
        1 => targets().prop_map(Operation::Drop),
        2 => (targets(), proptest::option::of(waste())).prop_map(|(targets, from_waste)| Operation::PickUp { targets, from_waste }),
        1 => targets().prop_map(Operation::BindOff),
        1 => (targets(), waste()).prop_map(|(targets, waste)| Operation::OntoWaste(targets, waste)),
        1 => Just(Operation::CutYarn),
        2 => edge_change().prop_map(Operation::Increase),
        2 => edge_change().prop_map(Operation::Decrease),
    ];
    prop_oneof![3 => setting, 2 => put, 4 => handled, 6 => row(), 6 => carried()]
}

/// The waste yarn without a name, or one of two that have names.
fn waste() -> impl Strategy<Value = Waste> {
    prop_oneof![Just(Waste::PLAIN), Just(Waste::named("left shoulder")), Just(Waste::named("right shoulder"))]
}

/// Operations that begin, most of the time, with stitches on the needles.
pub(crate) fn operations(most: usize) -> impl Strategy<Value = Vec<Operation>> {
    let begin =
        (set(), set(), any::<bool>(), any::<bool>(), 0_usize..12).prop_map(|(front, back, begun, opposite, plain)| {
            let named = || Both { front: Some(Pick::These(front)), back: Some(Pick::These(back)) };
            let mut begin = Vec::new();
            if begun {
                begin.extend([Operation::InWork(named()), Operation::CastOn(CastOn::Zigzag, named())]);
            }
            // Mostly too few to be plain rows, and enough where a few more follow.
            if begun {
                let work = Both::from_fn(|_| BedWork::whole(Action::Knit));
                let row = Row { work: Work::Same(work), sizes: Both::same(None), toward: None, new_loops: false };
                begin.extend([Operation::Thread(Yarn(0)), Operation::StitchSize(Both::same(Some(300)))]);
                begin.extend(std::iter::repeat_n(Operation::Row(row), plain));
            }
            if opposite {
                begin.push(Operation::Gaiting(Gaiting::Opposite));
            }
            begin
        });
    (begin, proptest::collection::vec(operation(), 0..most)).prop_map(|(mut begin, rest)| {
        begin.extend(rest);
        begin
    })
}

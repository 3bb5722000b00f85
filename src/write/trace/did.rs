//! What an operation did, in the form of a trace.

use super::entry::{Own, Racking, Way, What};
use super::parts::{Carried, Distance, Edge, Edges, Group, Handled, HandledBed, NeedlesPut, PutBed, RowBed};
use super::words::{LoopsFrom, Size};
use crate::beds::{self, Bed, EdgeChange, EdgeDone, NeedleSet, Operation, Outcome, RowDone, Setting, Side, Yarn};
use crate::plan::program::YarnInfo;
use crate::play::Moment;
use crate::write::operations::{Called, Told, called};

/// The name of a yarn.
pub(super) fn yarn_name(yarns: &[YarnInfo], yarn: Option<Yarn>) -> Option<&str> {
    yarn.and_then(|yarn| yarns.get(usize::from(yarn.0))).map(|yarn| yarn.name.as_str())
}

/// What was done, and why it was not where it could not be.
pub(super) fn what<'a>(moment: &Moment<'a>, yarns: &'a [YarnInfo]) -> (What<'a>, Option<String>) {
    let outcome = moment.outcome;
    let in_feeder = || yarn_name(yarns, moment.state.yarn);
    let own = match moment.operation {
        Operation::Gaiting(gaiting) => Own::Gaiting { to: (*gaiting).into() },
        Operation::RackBy(_) => Own::Rack {
            to: Racking::at(match outcome {
                Outcome::Setting(Setting::RackedPastEnd { asked }) => *asked,
                _ => moment.state.racking,
            }),
        },
        Operation::RackTo(place) => Own::Rack { to: Racking::at(*place) },
        Operation::Thread(yarn) => Own::Thread { with: yarn_name(yarns, Some(*yarn)) },
        Operation::StitchSize(set) => Own::StitchSize(set.into()),
        Operation::Carriage(side) => Own::Carriage { at: (*side).into() },
        Operation::ResetCounter => Own::ResetCounter,
        Operation::Row(_) => row(outcome, in_feeder()),
        Operation::FreePass => Own::FreePass { carriage: way(moment.state.carriage) },
        Operation::CastOn(how, _) => {
            let by_carriage = matches!(outcome, Outcome::Handled(handled) if handled.by_carriage);
            Own::CastOn {
                how: (*how).into(),
                carriage: by_carriage.then(|| way(moment.state.carriage)),
                yarn: in_feeder(),
                front: handled_bed(outcome, Bed::Front, false),
                back: handled_bed(outcome, Bed::Back, false),
            }
        }
        Operation::Transfer { from, tool, .. } => {
            Own::Transfer(Carried { tool: tool.map(Into::into), ..carried(outcome, *from, from.other(), 0) })
        }
        Operation::Move { from, to, by, .. } => Own::Move(carried(outcome, *from, *to, *by)),
        Operation::Cross { bed, .. } => {
            let [over, under] = crossed(outcome);
            Own::Cross { bed: (*bed).into(), over, under }
        }
        Operation::Increase(change) => Own::Increase(edges(change, outcome)),
        Operation::Decrease(change) => Own::Decrease(edges(change, outcome)),
        Operation::PickUp { from_waste, .. } => Own::PickUp {
            from: if from_waste.is_some() { LoopsFrom::WasteYarn } else { LoopsFrom::Fabric },
            name: from_waste.as_ref().and_then(|waste| waste.0.as_deref()),
            front: handled_bed(outcome, Bed::Front, true),
            back: handled_bed(outcome, Bed::Back, true),
        },
        Operation::OntoWaste(_, waste) => Own::OntoWasteYarn {
            name: waste.0.as_deref(),
            front: handled_bed(outcome, Bed::Front, false),
            back: handled_bed(outcome, Bed::Back, false),
        },
        Operation::CutYarn => Own::CutYarn { yarn: in_feeder() },
        operation => {
            let Called { word: what, told, .. } = *called(operation);
            let what = match told {
                Told::Put(_) => What::Put { what, needles: put(outcome) },
                Told::Handled(_) | Told::Own => What::Handled { what, needles: handled(outcome) },
            };
            return (what, hindrance(moment));
        }
    };
    (What::Own(own), hindrance(moment))
}

/// Why nothing was done.
fn hindrance(moment: &Moment<'_>) -> Option<String> {
    match moment.outcome {
        Outcome::Unfit(bed, ragged) => Some(format!(
            "A tile of {} needles does not fit the working width of the {bed} bed, {} needles, a whole number of times.",
            ragged.tile, ragged.width
        )),
        Outcome::Setting(Setting::RackedPastEnd { .. }) => Some(format!(
            "The beds rack {} steps to the left and {} to the right of the centre and no farther.",
            moment.machine.racking_left, moment.machine.racking_right
        )),
        Outcome::Setting(Setting::CarriageHasStarted { .. }) => {
            Some("The carriage can be placed only before the first row.".to_owned())
        }
        Outcome::Carried(carried) if carried.not_facing => {
            Some("The needles of the two beds do not stand face to face.".to_owned())
        }
        // Neither the positions of its needles nor the bed change by a crossing.
        Outcome::Carried(beds::Carried { from, crossing: Some(crossing), .. }) if !crossing.missing.is_empty() => {
            Some(format!("Not in work on the {from} bed: {}.", crossing.missing))
        }
        _ => None,
    }
}

fn put(outcome: &Outcome) -> NeedlesPut {
    let on = |bed: Bed| match outcome {
        Outcome::Needles(put) => PutBed { changed: put.changed[bed].into(), lost: put.lost[bed].into() },
        _ => PutBed::default(),
    };
    NeedlesPut { front: on(Bed::Front), back: on(Bed::Back) }
}

/// The way to the side where the carriage now stands.
fn way(stands: Side) -> Way {
    Way { from: stands.other().into(), to: stands.into() }
}

fn row<'a>(outcome: &Outcome, yarn: Option<&'a str>) -> Own<'a> {
    let Outcome::Row(done) = outcome else {
        return Own::Row { carriage: None, yarn, front: RowBed::default(), back: RowBed::default() };
    };
    Own::Row {
        carriage: Some(way(done.toward)),
        yarn,
        front: row_bed(done, Bed::Front),
        back: row_bed(done, Bed::Back),
    }
}

fn row_bed(done: &RowDone, bed: Bed) -> RowBed {
    let makes_loops = !done.acting(bed).is_empty();
    RowBed {
        knit: done.knit[bed].into(),
        tuck: done.tuck[bed].into(),
        slip: done.slip[bed].into(),
        caught: done.caught[bed].into(),
        size: done.sizes[bed].filter(|_| makes_loops).map(Size),
    }
}

fn handled(outcome: &Outcome) -> Handled {
    Handled { front: handled_bed(outcome, Bed::Front, false), back: handled_bed(outcome, Bed::Back, false) }
}

/// The needles of one bed; new loops stand under `picked_up` where they are old ones hung again.
fn handled_bed(outcome: &Outcome, bed: Bed, hung_again: bool) -> HandledBed {
    let Outcome::Handled(handled) = outcome else { return HandledBed::default() };
    let new = handled.made[bed];
    let (made, picked_up) = if hung_again { (NeedleSet::EMPTY, new) } else { (new, NeedleSet::EMPTY) };
    HandledBed {
        made: made.into(),
        picked_up: picked_up.into(),
        taken: handled.taken[bed].into(),
        empty: handled.empty[bed].into(),
        refused: handled.refused[bed].into(),
    }
}

fn carried(outcome: &Outcome, from: Bed, to: Bed, by: i32) -> Carried {
    let mut written = Carried {
        from: from.into(),
        to: to.into(),
        by: Distance::of(by),
        donors: NeedleSet::EMPTY.into(),
        receivers: NeedleSet::EMPTY.into(),
        joined: NeedleSet::EMPTY.into(),
        lost: NeedleSet::EMPTY.into(),
        empty: NeedleSet::EMPTY.into(),
        put_out_of_work: NeedleSet::EMPTY.into(),
        tool: None,
    };
    if let Outcome::Carried(done) = outcome {
        let lost = done.into_idle | done.past_end;
        written.by = Distance::of(done.by);
        written.donors = done.donors.into();
        written.receivers = (done.donors - lost).shifted(done.by).into();
        written.joined = done.joined.into();
        written.lost = lost.into();
        written.empty = done.empty.into();
        written.put_out_of_work = done.put_out.into();
    }
    written
}

/// Stitches that moved together; none where there were none to move.
fn moved(donors: NeedleSet, by: i32) -> Option<Group> {
    let group = || Group { by: Distance::of(by), donors: donors.into(), receivers: donors.shifted(by).into() };
    (!donors.is_empty()).then(group)
}

/// The two groups of a crossing, the one in front first; none where nothing was done.
fn crossed(outcome: &Outcome) -> [Option<Group>; 2] {
    match outcome {
        Outcome::Carried(beds::Carried { donors, crossing: Some(crossing), .. }) if crossing.missing.is_empty() => {
            [crossing.over, crossing.under].map(|group| moved(group.needles & *donors, group.by))
        }
        _ => [None, None],
    }
}

/// The edges where the change was made.
fn edges(change: &EdgeChange, outcome: &Outcome) -> Edges {
    let done = if let Outcome::Handled(handled) = outcome { handled.edges.as_slice() } else { &[] };
    let edge = |done: &EdgeDone| Edge {
        side: done.side.into(),
        group: moved(done.moved, done.by),
        joined: done.joined.into(),
        made: done.made.into(),
        put_in_work: done.put_in.into(),
        put_out_of_work: done.put_out.into(),
    };
    Edges { bed: change.bed.into(), edges: done.iter().map(edge).collect() }
}

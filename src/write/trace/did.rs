//! What an operation did, in the form of a trace.

use super::entry::{Racking, Way, What};
use super::parts::{Carried, Distance, Edge, Edges, Group, Handled, HandledBed, NeedlesPut, PutBed, RowBed};
use super::words::{LoopsFrom, Size};
use crate::beds::{Bed, EdgeChange, EdgeDone, NeedleSet, Operation, Outcome, RowDone, Setting, Side, Yarn};
use crate::plan::program::YarnInfo;
use crate::play::Moment;

/// The name of a yarn.
pub(super) fn yarn_name(yarns: &[YarnInfo], yarn: Option<Yarn>) -> Option<&str> {
    yarn.and_then(|yarn| yarns.get(usize::from(yarn.0))).map(|yarn| yarn.name.as_str())
}

/// What was done, and why it was not where it could not be.
pub(super) fn what<'a>(moment: &Moment<'a>, yarns: &'a [YarnInfo]) -> (What<'a>, Option<String>) {
    let outcome = moment.outcome;
    let in_feeder = || yarn_name(yarns, moment.state.yarn);
    let what = match moment.operation {
        Operation::InWork(_) => What::InWork(put(outcome)),
        Operation::OutOfWork(_) => What::OutOfWork(put(outcome)),
        Operation::Hold(_) => What::Hold(put(outcome)),
        Operation::Release(_) => What::Release(put(outcome)),
        Operation::Gaiting(gaiting) => What::Gaiting { to: (*gaiting).into() },
        Operation::RackBy(_) => What::Rack {
            to: Racking::at(match outcome {
                Outcome::Setting(Setting::RackedPastEnd { asked }) => *asked,
                _ => moment.state.racking,
            }),
        },
        Operation::RackTo(place) => What::Rack { to: Racking::at(*place) },
        Operation::Thread(yarn) => What::Thread { with: yarn_name(yarns, Some(*yarn)) },
        Operation::StitchSize(set) => What::StitchSize(set.into()),
        Operation::Carriage(side) => What::Carriage { at: (*side).into() },
        Operation::ResetCounter => What::ResetCounter,
        Operation::Row(_) => row(outcome, in_feeder()),
        Operation::FreePass => What::FreePass { carriage: way(moment.state.carriage) },
        Operation::CastOn(how, _) => {
            let by_carriage = matches!(outcome, Outcome::Handled(handled) if handled.by_carriage);
            What::CastOn {
                how: (*how).into(),
                carriage: by_carriage.then(|| way(moment.state.carriage)),
                yarn: in_feeder(),
                front: handled_bed(outcome, Bed::Front, false),
                back: handled_bed(outcome, Bed::Back, false),
            }
        }
        Operation::NewLoops(_) => What::NewLoops(handled(outcome)),
        Operation::Transfer { from, tool, .. } => {
            What::Transfer(Carried { tool: tool.map(Into::into), ..carried(outcome, *from, from.other(), 0) })
        }
        Operation::Move { from, to, by, .. } => What::Move(carried(outcome, *from, *to, *by)),
        Operation::Cross { bed, over, under } => {
            let toward_right = over.first() < under.first();
            let moving = match outcome {
                Outcome::Carried(carried) if cross_hindrance(moment).is_none() => carried.donors,
                _ => NeedleSet::EMPTY,
            };
            let group = |named: NeedleSet, other: NeedleSet, to_right: bool| {
                let places = other.len() as i32;
                moved(named & moving, if to_right { places } else { -places })
            };
            What::Cross {
                bed: (*bed).into(),
                over: group(*over, *under, toward_right),
                under: group(*under, *over, !toward_right),
            }
        }
        Operation::Increase(change) => What::Increase(edges(change, outcome)),
        Operation::Decrease(change) => What::Decrease(edges(change, outcome)),
        Operation::Drop(_) => What::Drop(handled(outcome)),
        Operation::PickUp { from_waste, .. } => What::PickUp {
            from: if *from_waste { LoopsFrom::WasteYarn } else { LoopsFrom::Fabric },
            front: handled_bed(outcome, Bed::Front, true),
            back: handled_bed(outcome, Bed::Back, true),
        },
        Operation::BindOff(_) => What::BindOff(handled(outcome)),
        Operation::OntoWaste(_) => What::OntoWaste(handled(outcome)),
    };
    (what, hindrance(moment))
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
        Outcome::Carried(_) if matches!(moment.operation, Operation::Cross { .. }) => cross_hindrance(moment),
        _ => None,
    }
}

/// Why a crossing was not made; neither its needles' positions nor the bed change by it.
fn cross_hindrance(moment: &Moment<'_>) -> Option<String> {
    let Operation::Cross { bed, over, under } = moment.operation else { return None };
    let ready = moment.state.in_work[*bed] | moment.state.held[*bed];
    let missing = (*over | *under) - (ready & moment.machine.bed());
    (!missing.is_empty()).then(|| format!("Not in work on the {bed} bed: {missing}."))
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

fn row<'a>(outcome: &Outcome, yarn: Option<&'a str>) -> What<'a> {
    let Outcome::Row(done) = outcome else {
        return What::Row { carriage: None, yarn, front: RowBed::default(), back: RowBed::default() };
    };
    What::Row {
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

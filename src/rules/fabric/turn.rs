//! How the yarn turns at the edge of two beds that are knitted in turn.

use crate::beds::{Bed, RowDone, Side};
use crate::play::Moment;

/// The bed that a row works, if it works one and stitches hang on both.
pub(in crate::rules) fn one_bed(moment: &Moment<'_>, row: &RowDone) -> Option<Bed> {
    let loops = &moment.state.loops;
    let bed = Bed::BOTH.into_iter().find(|&bed| !row.acting(bed).is_empty() && row.acting(bed.other()).is_empty())?;
    Bed::BOTH.into_iter().all(|bed| !loops.loaded(bed).is_empty()).then_some(bed)
}

/// The side at which the carriage has turned between the row before and this one, and whether the yarn stayed on its bed
/// there. None where one of the two rows works both beds, or turns inside the edge of its bed, as a short row does; or where
/// the yarn begins anew.
pub(in crate::rules) fn turn(moment: &Moment<'_>, row: &RowDone) -> Option<(Side, bool)> {
    let bed = one_bed(moment, row)?;
    let began = row.began.filter(|began| began.side != row.toward)?;
    let (before, needle) = match (began.needles.front, began.needles.back) {
        (Some(needle), None) => (Bed::Front, needle),
        (None, Some(needle)) => (Bed::Back, needle),
        _ => return None,
    };
    let at_edge = |bed: Bed, needle| {
        let edge = moment.state.loops.loaded(bed).outermost(began.side);
        edge.is_none_or(|edge| if began.side == Side::Left { needle <= edge } else { needle >= edge })
    };
    let first = row.outermost(bed, began.side)?;
    (at_edge(before, needle) && at_edge(bed, first)).then_some((began.side, before == bed))
}

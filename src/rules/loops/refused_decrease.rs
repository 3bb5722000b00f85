//! What `nothing-to-do` says of a decrease that finds no stitch to lay the edge stitches on.

use crate::beds::{Both, EdgeChange, Handled, Side};
use crate::play::Moment;
use crate::words::spans::{on_bed, written};
use crate::words::{count, is_are};

/// What is said of it.
pub(super) struct Said {
    pub(super) what: String,
    pub(super) why: String,
    pub(super) mend: String,
}

/// A line that says where the stitches go takes no more needles than that.
const MOST_RUNS: usize = 4;

pub(super) fn said(moment: &Moment<'_>, handled: &Handled, change: &EdgeChange) -> Said {
    let bed = change.bed;
    let sides = refused_sides(moment, handled, change);
    let what = match sides[..] {
        [side] => format!("the {side} edge of the {bed} bed has no neighbour to take the stitch"),
        _ => format!("neither edge of the {bed} bed has a neighbour to take the stitch"),
    };
    let shaped = moment.state.shaped(bed);
    if shaped.len() < needed(change) {
        too_few(moment, handled, change, &sides, what)
    } else {
        gap(moment, handled, change, &sides, what)
    }
}

/// The edges, of those named, at which nothing was done. What was taken lies outside of all that is still there, on the
/// side where the decrease was made.
fn refused_sides(moment: &Moment<'_>, handled: &Handled, change: &EdgeChange) -> Vec<Side> {
    let left = moment.state.shaped(change.bed).first();
    let done = match (handled.taken[change.bed].first(), left) {
        (Some(taken), Some(left)) => Some(if taken < left { Side::Left } else { Side::Right }),
        _ => None,
    };
    let named = [(change.left, Side::Left), (change.right, Side::Right)];
    named.into_iter().filter(|(named, side)| *named && done != Some(*side)).map(|(_, side)| side).collect()
}

/// How many stitches side by side an edge needs for it: those that move, and those on which they come to lie.
fn needed(change: &EdgeChange) -> u32 {
    change.by.max(change.inset).saturating_add(change.by)
}

/// The bed carries fewer stitches than the decrease needs.
fn too_few(moment: &Moment<'_>, handled: &Handled, change: &EdgeChange, sides: &[Side], what: String) -> Said {
    let bed = change.bed;
    let there = moment.state.shaped(bed).len();
    let after = match handled.taken[bed].is_empty() {
        true => "here".to_owned(),
        false => format!("after the decrease on the {}", sides.first().map_or(Side::Left, |side| side.other())),
    };
    let all = moment.state.shaped(bed) == moment.state.loops.loaded(bed);
    let not_held = if all { "" } else { " not held" };
    let moves = change.by.max(change.inset);
    let why = format!(
        "The {bed} bed carries {}{not_held} {after}. The line lays the {} at the edge {} inward, so that edge needs {}.",
        count(there, "stitch", "stitches"),
        if moves == 1 { "stitch".to_owned() } else { format!("{moves} stitches") },
        count(change.by, "needle", "needles"),
        count(needed(change), "stitch", "stitches")
    );
    let before = there + handled.taken[bed].len();
    let gapless = moment.state.shaped(bed).runs().count() == 1;
    let smaller = smaller(change, before, moment.machine.widest_cross.value).filter(|_| gapless);
    let mend = match (smaller, moment.pass) {
        (Some(smaller), _) => format!("Decrease fewer stitches at once: `{}` can be done here.", line(&smaller)),
        (None, Some((pass, of))) if pass > 1 => {
            let most = pass - 1;
            format!(
                "The stitches are used up in pass {pass} of {of}: repeat it {} at most.",
                if most == 1 { "once".to_owned() } else { format!("{most} times") }
            )
        }
        (None, _) => format!(
            "Take the line out; bind off the {} left where the piece ends here.",
            if there == 1 {
                "stitch that is".to_owned()
            } else {
                format!("{there} stitches that {}", is_are(there.into()))
            }
        ),
    };
    Said { what, why, mend }
}

/// The largest decrease of the kind that a bed with that many stitches side by side bears, and whose stitches go no
/// farther than `reach` needles; first with a smaller inset.
fn smaller(change: &EdgeChange, stitches: u32, reach: u32) -> Option<EdgeChange> {
    let bears = |change: &EdgeChange| {
        let sides = u32::from(change.left) + u32::from(change.right);
        // At the second edge those of the first are gone.
        let first = (sides - 1).saturating_mul(change.by);
        change.by <= reach && needed(change).saturating_add(first) <= stitches
    };
    // No bed carries more, so there are few to try.
    let insets = (0..change.inset.min(stitches)).rev().map(|inset| EdgeChange { inset, ..*change });
    let insets =
        insets.map(|change| EdgeChange { inset: if change.inset > change.by { change.inset } else { 0 }, ..change });
    let fewer = (1..change.by.min(stitches)).rev().flat_map(|by| {
        let inset = if change.inset > by { change.inset } else { 0 };
        [inset, 0].map(|inset| EdgeChange { by, inset, ..*change })
    });
    insets.chain(fewer).find(bears)
}

/// The line as it is written.
fn line(change: &EdgeChange) -> String {
    let at = match (change.left, change.right) {
        (true, true) => "each edge",
        (true, false) => "left",
        _ => "right",
    };
    let inset = if change.inset > 0 { format!(", inset {}", change.inset) } else { String::new() };
    format!("decrease {} {} at {at}{inset}", change.bed, change.by)
}

/// There are stitches enough, and a needle on which one of them should lie carries none.
fn gap(moment: &Moment<'_>, handled: &Handled, change: &EdgeChange, sides: &[Side], what: String) -> Said {
    let bed = change.bed;
    let shaped = moment.state.shaped(bed);
    let moving = change.by.max(change.inset);
    let whys = sides.iter().filter_map(|&side| {
        let group = shaped.from_edge(side, moving);
        let bare = group.shifted(side.other().outward(change.by)) - shaped;
        let them = if moving == 1 { "the edge stitch" } else { "the edge stitches" };
        let carries = if bare.len() == 1 { "carries none" } else { "carry none" };
        (!bare.is_empty()).then(|| {
            format!(
                "On the {side} {them} would go from {} {} inward, and {} {carries}.",
                on_bed(bed, group),
                count(change.by, "needle", "needles"),
                on_bed(bed, bare)
            )
        })
    });
    // The line is replaced, and with it what it did at the other edge.
    let done = (!handled.taken[bed].is_empty()).then(|| {
        let refused_left = sides.contains(&Side::Left);
        Some(format!("`{}`", line(&EdgeChange { left: !refused_left, right: refused_left, ..*change })))
    });
    let by_hand = sides.iter().map(|&side| over_the_gap(moment, change, side));
    let moves: Option<Vec<String>> = done.into_iter().chain(by_hand).collect();
    let mend = match moves {
        Some(moves) => format!("Write in place of this line what reaches over the gap: {}.", moves.join(", then ")),
        None => "Fill the gap first: `move` brings stitches beside each other; or decrease them one at a time with `move`, `joining`.".to_owned(),
    };
    Said { what, why: whys.collect::<Vec<_>>().join(" "), mend }
}

/// The line that decreases at that edge across gaps, if a tool reaches so far.
fn over_the_gap(moment: &Moment<'_>, change: &EdgeChange, side: Side) -> Option<String> {
    let bed = change.bed;
    let shaped = moment.state.shaped(bed);
    let group = shaped.from_edge(side, change.by.max(change.inset));
    let reach = moment.machine.widest_cross.value;
    let places = (1..=reach).find(|&places| {
        let landing = group.shifted(side.other().outward(places));
        (landing - shaped).is_empty() && landing.len() == group.len() && (group - landing).len() == change.by
    })?;
    let out = if moment.machine.emptied_stay.value { ", emptied go out of work" } else { "" };
    (group.runs().count() <= MOST_RUNS)
        .then(|| format!("`move {} {places} {}, joining{out}`", written(&Both::only(bed, group)), side.other()))
}

#[cfg(test)]
mod tests {
    use super::{EdgeChange, line, smaller};
    use crate::beds::Bed;

    #[test]
    fn a_smaller_decrease_is_one_that_the_stitches_bear() {
        let of = |by, inset, right, stitches| {
            let change = EdgeChange { bed: Bed::Front, by, left: true, right, inset };
            smaller(&change, stitches, 3).map(|change| line(&change))
        };
        assert_eq!(of(3, 0, true, 4).as_deref(), Some("decrease front 1 at each edge"));
        assert_eq!(of(4, 0, false, 4).as_deref(), Some("decrease front 2 at left"));
        assert_eq!(of(1, 5, false, 4).as_deref(), Some("decrease front 1 at left, inset 3"));
        assert_eq!(of(1, 5, false, 2).as_deref(), Some("decrease front 1 at left"));
        assert_eq!(of(2, 3, true, 4).as_deref(), Some("decrease front 1 at each edge"));
        assert_eq!(of(9, 0, false, 16).as_deref(), Some("decrease front 3 at left"));
        assert_eq!(of(1, 0, false, 1), None);
        assert_eq!(of(u32::MAX, u32::MAX, true, 1), None);
    }
}

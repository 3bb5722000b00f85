//! What one row says: what each bed does, and a size for this row only.

use crate::beds::{Action, Bed, Both, CastOn, Handled, Needle, NeedleSet, Row, RowDone, RowSize};
use crate::knitted::Stood;
use crate::words;

/// A size that holds for a row only.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct SizeOnce {
    /// `loosen both beds to stitch size 8`.
    pub(super) set: String,
    /// `back to stitch size 5 on both beds`.
    pub(super) back: String,
}

/// The words of a row, without its number, the counter and the side.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct RowText {
    /// What kind of row it is, if it is no plain one: `cast on`.
    pub(super) title: Option<&'static str>,
    /// The one bed that knits, all of it, while all of the other slips.
    pub(super) lone: Option<Bed>,
    /// What the beds do: `Front: knit. Back: tuck.`
    pub(super) work: String,
    /// A size for this row only.
    pub(super) size: Option<SizeOnce>,
    /// What comes with it: loops on empty needles, the comb to be hung.
    pub(super) also: Vec<String>,
}

impl RowText {
    /// A row of the carriage; `after` is how the beds stand after it.
    pub(super) fn of_row(row: &Row, done: &RowDone, after: &Stood) -> Self {
        let parts: Vec<String> = Bed::BOTH.into_iter().filter_map(|bed| bed_work(bed, done)).collect();
        let work = if parts.is_empty() { "No needle is in work.".to_owned() } else { parts.join(" ") };
        let also = if done.caught.is_empty() {
            Vec::new()
        } else {
            vec![format!(
                "Empty needles catch a loop, which is a stitch only after the next knitting: {}.",
                words::on_beds(&done.caught)
            )]
        };
        Self { title: None, lone: lone_bed(done), work, size: size_once(row, done, after), also }
    }

    /// A cast-on that the carriage makes.
    pub(super) fn of_cast_on(how: CastOn, handled: &Handled) -> Self {
        let needles = words::on_beds(&handled.made);
        let (title, work) = match how {
            CastOn::Open => ("open cast-on", format!("Cast on with waste yarn over {needles}.")),
            _ => ("zigzag cast-on", format!("The yarn goes from bed to bed over {needles}.")),
        };
        let also = vec![
            "Hang the comb, then the weights: comb teeth are sharp, and feet stay clear of the weights.".to_owned(),
        ];
        Self { title: Some(title), lone: None, work, size: None, also }
    }

    /// Whether it may stand in one line with rows that are the same.
    pub(super) const fn is_plain(&self) -> bool {
        self.title.is_none()
    }
}

/// `Front: knit.`; none for a bed without needles in work.
fn bed_work(bed: Bed, done: &RowDone) -> Option<String> {
    let (knit, tuck, slip) = (done.knit[bed], done.tuck[bed], done.slip[bed]);
    let in_work = knit | tuck | slip;
    let (first, last) = (in_work.first()?, in_work.last()?);
    let mut sets = [("knit", knit), ("tuck", tuck), ("slip", slip)];
    let name = words::bed_name(bed);
    if let Some((action, _)) = sets.iter().find(|(_, set)| *set == in_work) {
        return Some(format!("{name}: {action}."));
    }
    let action = |needle: Needle| {
        if knit.contains(needle) {
            Action::Knit
        } else if tuck.contains(needle) {
            Action::Tuck
        } else {
            Action::Slip
        }
    };
    let sequence: Vec<Action> = in_work.iter().map(action).collect();
    if let Some(pattern) = again_and_again(&sequence) {
        let gaps = if u32::from(last.0 - first.0) + 1 == in_work.len() { "" } else { ", needles in work only" };
        return Some(format!("{name}, from {first} to {last}{gaps}, again and again: {pattern}."));
    }
    // The action of most needles is said last, as what the rest does.
    sets.sort_by_key(|(_, set)| set.len());
    let mut named: Vec<String> = Vec::new();
    for (action, set) in sets.iter().filter(|(_, set)| !set.is_empty()) {
        named.push(format!("{action} on {}", words::needles(*set)));
    }
    let rest = sets.last().map_or("", |(action, _)| action);
    named.pop();
    Some(format!("{name}: {}; {rest} on the rest.", named.join("; ")))
}

/// `knit 3, tuck 1`, when those actions come again and again, twice at least.
fn again_and_again(sequence: &[Action]) -> Option<String> {
    const LONGEST: usize = 16;
    let fits = |period: &usize| sequence.iter().zip(&sequence[*period..]).all(|(one, later)| one == later);
    let period = (2..=LONGEST.min(sequence.len() / 2)).find(fits)?;
    let mut runs: Vec<(Action, usize)> = Vec::new();
    for &action in &sequence[..period] {
        match runs.last_mut() {
            Some((same, length)) if *same == action => *length += 1,
            _ => runs.push((action, 1)),
        }
    }
    let word = |action| match action {
        Action::Knit => "knit",
        Action::Tuck => "tuck",
        Action::Slip => "slip",
    };
    Some(runs.iter().map(|(action, length)| format!("{} {length}", word(*action))).collect::<Vec<_>>().join(", "))
}

/// The bed that knits whole while the other one, with needles in work, slips whole.
fn lone_bed(done: &RowDone) -> Option<Bed> {
    let slips = |bed: Bed| done.acting(bed).is_empty() && !done.slip[bed].is_empty();
    let knits = |bed: Bed| !done.knit[bed].is_empty() && (done.tuck[bed] | done.slip[bed]).is_empty();
    Bed::BOTH.into_iter().find(|&bed| knits(bed) && slips(bed.other()))
}

/// The size for this row only, in words, and the way back.
fn size_once(row: &Row, done: &RowDone, after: &Stood) -> Option<SizeOnce> {
    // A bed that does nothing in the row needs no other size for it.
    let idle = |bed: Bed| done.acting(bed).is_empty() && !done.acting(bed.other()).is_empty();
    let named = Both::from_fn(|bed: Bed| row.sizes[bed].is_some() && !idle(bed));
    if !(named.front || named.back) {
        return None;
    }
    let of_bed = |bed: Bed| -> Option<(&'static str, String)> {
        let set = after.sizes[bed];
        let (change, to) = match (row.sizes[bed].filter(|_| named[bed])?, done.sizes[bed]) {
            (RowSize::By(change), None) => {
                return Some((verb(change), format!("by {} from the size in use", words::size(change.abs()))));
            }
            (RowSize::By(change), Some(size)) => (change, size),
            (RowSize::To(size), _) => (set.map_or(0, |set| size.saturating_sub(set)), size),
        };
        Some((verb(change), format!("to stitch size {}", words::size(to))))
    };
    let (front, back) = (of_bed(Bed::Front), of_bed(Bed::Back));
    let set = if named.front && named.back && front == back {
        front.map(|(verb, to)| format!("{verb} both beds {to}")).into_iter().collect::<Vec<_>>()
    } else {
        [(Bed::Front, front), (Bed::Back, back)]
            .into_iter()
            .filter_map(|(bed, said)| said.map(|(verb, to)| format!("{verb} the {bed} bed {to}")))
            .collect()
    };
    let before = Both::from_fn(|bed: Bed| if named[bed] { after.sizes[bed] } else { None });
    let known = Bed::BOTH.into_iter().all(|bed| !named[bed] || before[bed].is_some());
    let back = if known {
        format!("back to {}", words::stitch_sizes(&before))
    } else {
        format!("back to the stitch size before on {}", words::beds(&named))
    };
    Some(SizeOnce { set: words::list(&set), back })
}

const fn verb(change: i32) -> &'static str {
    match change {
        1.. => "loosen",
        0 => "set",
        _ => "tighten",
    }
}

/// Needles of both beds that a row was about.
pub(super) fn at_work(done: &RowDone) -> Both<NeedleSet> {
    Both::from_fn(|bed: Bed| done.acting(bed))
}

#[cfg(test)]
mod tests {
    use super::*;
    use Action::{Knit, Slip, Tuck};

    #[test]
    fn what_comes_again_is_said_once() {
        assert_eq!(again_and_again(&[Knit, Tuck, Knit, Tuck, Knit]).as_deref(), Some("knit 1, tuck 1"));
        assert_eq!(
            again_and_again(&[Knit, Knit, Knit, Slip, Knit, Knit, Knit, Slip]).as_deref(),
            Some("knit 3, slip 1")
        );
        assert_eq!(again_and_again(&[Knit, Tuck, Tuck, Knit]), None);
        assert_eq!(again_and_again(&[Knit, Tuck]), None);
    }
}

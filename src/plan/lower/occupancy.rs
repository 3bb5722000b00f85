//! What is certain about the beds inside a definition: whether they carry stitches.

use crate::beds::{Action, Bed, BedWork, Both, Operation, Pick, Row, Targets, Work};
use crate::finding::Finding;
use crate::plan::rules;
use crate::source::Span;

/// Whether a bed carries stitches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Presence {
    /// Certainly none.
    No,
    /// It depends.
    Maybe,
    /// Certainly some.
    Yes,
}

/// Whether each bed carries stitches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Occupancy(pub(super) Both<Presence>);

impl Occupancy {
    /// Exactly these beds carry stitches.
    pub(super) fn exactly(front: bool, back: bool) -> Self {
        let presence = |there| if there { Presence::Yes } else { Presence::No };
        Self(Both { front: presence(front), back: presence(back) })
    }

    /// What holds after steps that are done once or more often: only what holds either way.
    pub(super) fn either(self, other: Self) -> Self {
        Self(Both::from_fn(|bed| if self.0[bed] == other.0[bed] { self.0[bed] } else { Presence::Maybe }))
    }

    /// Does one operation; gives a finding when it works on a bed that certainly carries nothing.
    pub(super) fn apply(&mut self, operation: &Operation, span: Span) -> Option<Finding> {
        match operation {
            Operation::Row(row) => return self.row(row, span),
            Operation::Transfer { from, pick, .. } => {
                self.leave(*from, from.other(), pick.as_ref().is_none_or(is_whole));
            }
            Operation::Move { from, pick, to, .. } if from != to => self.leave(*from, *to, is_whole(pick)),
            Operation::CastOn(_, targets) | Operation::NewLoops(targets) | Operation::PickUp { targets, .. } => {
                for (bed, pick) in targets.iter() {
                    if pick.is_some() {
                        self.0[bed] = Presence::Yes;
                    }
                }
            }
            Operation::Drop(targets) | Operation::BindOff(targets) | Operation::OntoWaste(targets, _) => {
                self.take_off(targets);
            }
            _ => {}
        }
        None
    }

    fn leave(&mut self, from: Bed, to: Bed, whole: bool) {
        match (self.0[from], whole) {
            (Presence::No, _) => {}
            (Presence::Yes, true) => {
                self.0[from] = Presence::No;
                self.0[to] = Presence::Yes;
            }
            (Presence::Maybe, true) => {
                self.0[from] = Presence::No;
                self.perhaps(to, Presence::No);
            }
            (_, false) => {
                self.perhaps(from, Presence::Yes);
                self.perhaps(to, Presence::No);
            }
        }
    }

    /// What was certain is so no longer.
    fn perhaps(&mut self, bed: Bed, was: Presence) {
        if self.0[bed] == was {
            self.0[bed] = Presence::Maybe;
        }
    }

    fn take_off(&mut self, targets: &Targets) {
        for (bed, pick) in targets.iter() {
            match pick {
                Some(pick) if is_whole(pick) => self.0[bed] = Presence::No,
                Some(_) => self.perhaps(bed, Presence::Yes),
                None => {}
            }
        }
    }

    fn row(&mut self, row: &Row, span: Span) -> Option<Finding> {
        let works = match &row.work {
            Work::Same(work) => [work, work],
            Work::ByDirection { to_left, to_right } => [to_left, to_right],
        };
        let mut finding = None;
        for bed in Bed::BOTH {
            let acts = works.iter().any(|work| takes_yarn(&work[bed]));
            if !acts || self.0[bed] != Presence::No {
                continue;
            }
            // Said once: from here on the bed is taken as the row wants it.
            self.0[bed] = Presence::Maybe;
            if !row.new_loops {
                finding.get_or_insert_with(|| {
                    rules::WRONG_BED.finds(span, format!("the {bed} bed has no stitches here"))
                        .because(format!(
                            "By what the definition says of itself and the lines before, no needle of the {bed} bed \
                             carries a stitch, so this row has nothing to work on there."
                        ))
                        .mend(format!(
                            "Change the bed; or, if the stitch is worked on both beds, write `on both` in its first line \
                             (`from both to front` or `from both to back` where it ends on one); or, if the {bed} bed \
                             shall begin to knit, add `, new loops`."
                        ))
                });
            }
        }
        finding
    }
}

fn takes_yarn(work: &BedWork) -> bool {
    work.elsewhere != Action::Slip || work.picked.iter().any(|(action, _)| *action != Action::Slip)
}

/// Whether every stitch of the bed is meant.
const fn is_whole(pick: &Pick) -> bool {
    matches!(pick, Pick::Loaded | Pick::InWork)
}

//! Which findings only follow from an earlier one: one mistake is said once.

use super::cause::Seen;
use super::fabric::long_float;
use crate::beds::{Operation, Outcome};
use crate::plan::program::{Promise, StepId, StepKind, Steps, name_of};
use std::collections::HashSet;

// A promise that fails is one rule, but what it is about tells what it may follow from: a loop that fell off changes no
// counter. So the tables have these beside the names of rules.

/// `count-mismatch`: another number of stitches.
const STITCHES: &str = "count-mismatch of stitches";
/// `count-mismatch`: another row counter. That the carriage stands elsewhere is `wrong-side`.
const COUNTER: &str = "count-mismatch of the counter";
/// `count-mismatch`: another gaiting.
const GAITING: &str = "count-mismatch of the gaiting";
/// `count-mismatch`: another racking.
const RACKING: &str = "count-mismatch of the racking";
/// The first `unplanned-loop` of a piece in which nothing is cast on: the cast-on was forgotten, and one by the carriage
/// would have been a row too.
const NO_CAST_ON: &str = "unplanned-loop before a cast-on";
/// `nothing-to-do` of a row or a transfer: the yarn and the stitches stay as they were, although they were meant to go on.
const IDLE_ROW: &str = "nothing-to-do of a row";
/// `long-float` from where the last row left the yarn to the first needle that takes it.
const LONG_START: &str = "long-float at the beginning of a row";
/// `left-on-needles` in a piece that nowhere takes a stitch off: its end was forgotten, whatever went wrong before.
const NO_END: &str = "left-on-needles and never taken off";

/// Findings after which the loops are not as the pattern thinks, and those that would then find the same mistake again
/// in other words, at other lines. They are asked again as soon as the first one is mended, and once the beds have been
/// emptied: what is cast on then begins anew.
const FOLLOW_WITHIN_A_FABRIC: &[(&[&str], &[&str])] = &[
    (
        &[
            "adjacent-empties",
            "cast-on-shares-a-loop",
            "doubled-stitch",
            "lost-stitch",
            "no-needle-found",
            "not-opposite",
            "off-bed",
            "open-repeat",
            "ragged-repeat",
            "unplanned-loop",
            "wrong-bed",
        ],
        &[
            "adjacent-empties",
            "adjacent-tucks",
            STITCHES,
            "doubled-stitch",
            "edge-tuck",
            "eyelet-becomes-ladder",
            "facing-needles",
            "far-move",
            "hold-left-on",
            "left-on-needles",
            "lone-edge",
            "long-float",
            LONG_START,
            "lost-stitch",
            "needless-allow",
            "no-needle-found",
            "no-slant",
            "nothing-to-do",
            "open-repeat",
            "stitch-pile",
            "tight-transfer",
            "unplanned-loop",
            "unsupported-tuck",
            "wrong-bed",
        ],
    ),
    (&[STITCHES], &[STITCHES]),
];

/// Of those, what tells nothing of the loops that are there now: it is not asked again.
const OF_THE_WHOLE_PIECE: &[&str] = &["hold-left-on", "needless-allow"];

/// Findings after which something else is not as the pattern thinks, and those that would find the same mistake again.
const FOLLOW: &[(&[&str], &[&str])] = &[
    (
        &["wrong-side"],
        &[
            "adjacent-tucks",
            COUNTER,
            "edge-tuck",
            "held-at-carriage-side",
            "needless-allow",
            "nothing-to-do",
            "tuck-pile",
            "wrong-side",
            "yarn-not-at-this-side",
        ],
    ),
    (
        &["racking-range"],
        &[
            "adjacent-tucks",
            RACKING,
            "edge-tuck",
            "facing-needles",
            "lone-edge",
            "needle-in-the-way",
            "needless-allow",
            "no-slant",
            "no-way-back",
            "racked-two-steps",
            "racking-range",
            "racking-strain",
            "unsupported-tuck",
        ],
    ),
    (&[NO_CAST_ON], &[COUNTER, "wrong-side"]),
    (&[COUNTER], &[COUNTER, "wrong-side"]),
    (&["not-opposite", GAITING], &[GAITING]),
    (&[RACKING], &[RACKING, "no-way-back"]),
    (&["eyelet-becomes-ladder"], &["nothing-to-do"]),
    // The yarn lies across them when they are held, and runs to them when they are released.
    (&["held-at-carriage-side"], &[LONG_START]),
    (&["facing-needles"], &["no-slant"]),
    // A row that knits nothing leaves the yarn and the stitches as they were.
    (&[IDLE_ROW], &["long-float", LONG_START, "tight-transfer"]),
    (&["tuck-pile"], &["unsupported-tuck"]),
    // Where the end stitches of one bed stand alone, its tucks there lie side by side.
    (&["lone-edge"], &["adjacent-tucks", "lone-edge"]),
    (&["no-slant"], &["no-slant"]),
    // One row too many or too few turns the side of every yarn after it.
    (&["yarn-not-at-this-side"], &["yarn-not-at-this-side"]),
];

/// Errors, and what they bring with them in the very same row.
const AT_ONCE: &[(&str, &[&str])] = &[
    ("eyelet-becomes-ladder", &["nothing-to-do"]),
    // Which of two facing needles the yarn meets first is not known, so neither is whether two others share a loop.
    ("facing-needles", &["adjacent-empties", "cast-on-shares-a-loop", "nothing-to-do", "unplanned-loop"]),
    // A needle out of work that a crossing names is empty as well.
    ("lost-stitch", &["nothing-to-do"]),
    ("racking-range", &["racked-two-steps"]),
    ("unplanned-loop", &["nothing-to-do"]),
    ("wrong-side", &["adjacent-tucks", "edge-tuck"]),
];

/// Errors that come to light late, and the warnings that the same mistake has made before: the beds drift by a step in
/// each pass, and only at the end of the racking is that an error.
const BEFORE: &[(&str, &[&str])] = &[("racking-range", &["adjacent-tucks", "edge-tuck", "lone-edge"])];

/// Findings that are said once in a stitch or a section: the same needles take too much, or wait, in each of its rows.
const UNTIL_THE_END_OF_THE_BLOCK: &[&str] = &["eyelet-becomes-ladder", "stretched-hold", "tuck-pile"];

/// Findings, and the warnings about the same line that only say less: a bed that tucks all over tucks at its edge too.
const ON_THE_LINE: &[(&str, &[&str])] =
    &[("adjacent-tucks", &["edge-tuck"]), ("tuck-pile", &["adjacent-tucks", "edge-tuck"])];

/// Whether an operation may end what a finding is about.
type Ends = fn(&Operation) -> bool;

/// Findings of a setting. Said once, they hold for every row until the setting is made anew.
const UNTIL_SET_ANEW: &[(&str, Ends)] = &[
    ("no-yarn", |operation| matches!(operation, Operation::Thread(_))),
    ("not-opposite", |operation| matches!(operation, Operation::Gaiting(_))),
    ("facing-needles", |operation| {
        use Operation as Is;
        matches!(
            operation,
            Is::Gaiting(_) | Is::InWork(_) | Is::OutOfWork(_) | Is::Hold(_) | Is::Release(_) | Is::Transfer { .. }
        )
    }),
    // Short rows hold more needles row by row; they are over when needles are released.
    ("held-at-carriage-side", |operation| matches!(operation, Operation::Release(_))),
    ("racking-strain", |operation| matches!(operation, Operation::RackTo(_) | Operation::RackBy(_))),
];

/// Rules that judge by how many rows there were and how they were knitted. After a row that could not be understood
/// they would only repeat that finding in other words.
const NEED_EVERY_ROW: &[&str] = &[
    "adjacent-empties",
    STITCHES,
    COUNTER,
    "edge-tuck",
    "eyelet-becomes-ladder",
    "held-at-carriage-side",
    "needless-allow",
    "no-slant",
    "no-yarn",
    "racking-strain",
    "size-left-changed",
    "stretched-hold",
    "tight-transfer",
    "tubular-floats",
    "tuck-pile",
    "unplanned-loop",
    "wrong-side",
    "yarn-not-at-this-side",
];

/// What a finding of `rule` is called in the tables of what follows from what, by what the rule looked at.
pub(super) fn kind(rule: &'static str, seen: Seen<'_>) -> &'static str {
    match (rule, seen) {
        ("count-mismatch", Seen::Promise(promised)) => match promised.promise {
            Promise::Stitches { .. } => STITCHES,
            Promise::Counter(_) => COUNTER,
            Promise::Gaiting(_) => GAITING,
            Promise::Racking(_) => RACKING,
            Promise::Carriage(_) => rule,
        },
        ("long-float", Seen::Done(moment)) => match moment.outcome {
            Outcome::Row(row) if long_float::start(moment, row).is_some() => LONG_START,
            _ => rule,
        },
        ("left-on-needles", Seen::End(done)) if !takes_off(&done.piece.steps) => NO_END,
        _ => rule,
    }
}

/// Whether stitches are taken off the needles for good anywhere in those steps.
fn takes_off(steps: &Steps) -> bool {
    let off = |operation: &Operation| {
        matches!(operation, Operation::BindOff(_) | Operation::OntoWaste(_) | Operation::Drop(_))
    };
    does(steps, &off, &mut HashSet::new())
}

/// Whether loops are picked up from waste yarn anywhere in those steps.
pub(super) fn takes_back(steps: &Steps) -> bool {
    let back = |operation: &Operation| matches!(operation, Operation::PickUp { from_waste: true, .. });
    does(steps, &back, &mut HashSet::new())
}

/// Whether such an operation stands in those steps. What is worked at several places is looked at once: stitches that
/// work stitches would else be looked at more often than anybody can wait for.
fn does(steps: &Steps, is: &dyn Fn(&Operation) -> bool, looked_at: &mut HashSet<Option<StepId>>) -> bool {
    looked_at.insert(name_of(steps))
        && steps.iter().any(|step| match &step.kind {
            StepKind::Do(operation) => is(operation),
            StepKind::Repeat(repeat) => does(&repeat.steps, is, looked_at),
            StepKind::Section(_, steps) | StepKind::Allow { steps, .. } => does(steps, is, looked_at),
            _ => false,
        })
}

/// What a finding of that kind is a root of besides, in a piece in which nothing was made so far.
pub(super) fn kind_at_first(kind: &str) -> Option<&'static str> {
    (kind == "unplanned-loop").then_some(NO_CAST_ON)
}

/// What a finding of that kind about a row or a transfer is a root of besides.
pub(super) fn kind_of_row(kind: &str, seen: Seen<'_>) -> Option<&'static str> {
    let Seen::Done(moment) = seen else { return None };
    let moves = matches!(moment.outcome, Outcome::Row(_) | Outcome::Carried(_));
    (kind == "nothing-to-do" && moves).then_some(IDLE_ROW)
}

/// Whether a finding of that kind after one of `root` probably says the same mistake again, wherever in the piece.
pub(super) fn follows(kind: &str, root: &str) -> bool {
    let has = |(roots, follow): &(&[&str], &[&str])| roots.contains(&root) && follow.contains(&kind);
    FOLLOW.iter().any(has) || OF_THE_WHOLE_PIECE.contains(&kind) && FOLLOW_WITHIN_A_FABRIC.iter().any(has)
}

/// Whether a finding of `rule` says the same mistake again as the error of `root` that was found at the same moment.
pub(super) fn follows_at_once(rule: &str, root: &str) -> bool {
    AT_ONCE.iter().any(|(first, follow)| *first == root && follow.contains(&rule))
}

/// Whether a warning of `rule` before an error of `root` probably was the same mistake.
pub(super) fn comes_before(rule: &str, root: &str) -> bool {
    BEFORE.iter().any(|(error, warnings)| *error == root && warnings.contains(&rule))
}

/// Whether a warning of `rule` on the line of a finding of `root` only says less.
pub(super) fn says_less(rule: &str, root: &str) -> bool {
    ON_THE_LINE.iter().any(|(error, warnings)| *error == root && warnings.contains(&rule))
}

/// The errors that are said once for as long as a setting stands, or a block lasts, or a fabric hangs on the needles:
/// small sets of them. The checker goes by them besides the beds, so they are part of what a repeat is known by.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Standing {
    /// Those that are not said again themselves.
    said: u32,
    /// By their place in the table, what went wrong with the loops at an earlier moment, and at this one.
    astray: u8,
    astray_now: u8,
    /// Whether the fabric has been taken off, and nothing is cast on since.
    taken_off: bool,
}

impl Standing {
    /// The rule's place in the set; nothing for a rule that is said at each line anew.
    fn bit(rule: &str) -> u32 {
        let standing = UNTIL_SET_ANEW.iter().map(|(rule, _)| *rule).chain(UNTIL_THE_END_OF_THE_BLOCK.iter().copied());
        standing.zip(0..).find(|(standing, _)| *standing == rule).map_or(0, |(_, place)| 1 << place)
    }

    /// An error was found; it need not be said again from now on, if it is of that kind.
    pub(super) fn found(&mut self, rule: &str) {
        self.said |= Self::bit(rule);
    }

    /// Whether the error was said already and still stands.
    pub(super) fn holds(self, rule: &str) -> bool {
        self.said != 0 && self.said & Self::bit(rule) != 0
    }

    /// An operation was done that may set things anew.
    pub(super) fn did(&mut self, operation: &Operation) {
        if self.said != 0 {
            for (rule, _) in UNTIL_SET_ANEW.iter().filter(|(_, ends)| ends(operation)) {
                self.said &= !Self::bit(rule);
            }
        }
    }

    /// A stitch or a section has ended.
    pub(super) fn block_ends(&mut self) {
        for rule in UNTIL_THE_END_OF_THE_BLOCK {
            self.said &= !Self::bit(rule);
        }
    }

    /// A finding of that kind was made; what follows from it is silenced from the next moment on.
    pub(super) fn is_root(&mut self, kind: &str) {
        for (place, (roots, _)) in FOLLOW_WITHIN_A_FABRIC.iter().enumerate() {
            self.astray_now |= u8::from(roots.contains(&kind)) << place;
        }
    }

    /// The next moment begins.
    pub(super) fn goes_on(&mut self) {
        self.astray |= std::mem::take(&mut self.astray_now);
    }

    /// Whether a finding of that kind follows from what went wrong with the loops at an earlier moment.
    pub(super) fn follows(self, kind: &str) -> bool {
        let has = |(place, (_, follow)): (usize, &(&[&str], &[&str]))| {
            self.astray >> place & 1 == 1 && follow.contains(&kind)
        };
        self.astray != 0 && FOLLOW_WITHIN_A_FABRIC.iter().enumerate().any(has)
    }

    /// Loops are on the needles or not. The first ones after a fabric was taken off begin anew.
    pub(super) fn begins_anew(&mut self, loops: bool) {
        if self.taken_off && loops {
            (self.astray, self.astray_now, self.taken_off) = (0, 0, false);
        }
    }

    /// The last loops of a fabric were taken off the needles, as the pattern says.
    pub(super) fn taken_off(&mut self) {
        self.taken_off = true;
    }

    /// A number that is the same for the same sets.
    pub(super) fn number(self) -> u64 {
        let [first, second, third, fourth] = self.said.to_be_bytes();
        let astray = self.astray | self.astray_now;
        u64::from_be_bytes([first, second, third, fourth, astray, u8::from(self.taken_off), 0, 0])
    }
}

/// Whether a finding of that kind means nothing after a row that could not be understood.
pub(super) fn needs_every_row(kind: &str) -> bool {
    NEED_EVERY_ROW.contains(&kind)
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_names_are_those_of_rules() {
        let tables = super::FOLLOW.iter().chain(super::FOLLOW_WITHIN_A_FABRIC);
        let lists = tables.flat_map(|(roots, follow)| roots.iter().chain(*follow));
        let others = super::AT_ONCE
            .iter()
            .chain(super::BEFORE)
            .chain(super::ON_THE_LINE)
            .flat_map(|(root, follow)| std::iter::once(root).chain(*follow));
        let standing = super::UNTIL_SET_ANEW.iter().map(|(rule, _)| rule);
        let kinds = [
            super::STITCHES,
            super::COUNTER,
            super::GAITING,
            super::RACKING,
            super::NO_CAST_ON,
            super::NO_END,
            super::IDLE_ROW,
            super::LONG_START,
        ];
        let names = lists.chain(super::NEED_EVERY_ROW).chain(others).chain(standing).chain(super::OF_THE_WHOLE_PIECE);
        for name in names.filter(|name| !kinds.contains(name)) {
            assert_ne!(*name, "count-mismatch", "what it is about stands in the tables");
            assert!(crate::rules::find(name).is_some(), "{name}");
        }
    }
}

//! `too-long-to-check`

use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::plan::program::Piece;
use crate::play::Manner;
use crate::rules::{Besides, Facts, Watch};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "too-long-to-check",
        severity: Severity::Error,
        summary: "A piece has more operations than anybody could knit, and they do not repeat.",
        why: "Every pattern is played row by row before it is called right. A repeat that comes back to where it began is \
          counted, however long it is; one that changes the beds in every pass has to be played, and there is an end \
          to that.",
        source: "our own limit of 16 million operations",
        bad: "",
        good: "",
    },
    looks_at: &[],
    disturbs: Facts::NONE,
    rests_on: Facts::NONE,
    besides: Besides::NOTHING,
};

/// The finding for a piece whose play was given up after that many rows.
pub(in crate::rules) fn too_long_to_check(piece: &Piece, rows: u64) -> (&'static Watch, Finding) {
    let finding = RULE.finds(piece.span, format!("the piece \"{}\" is too long to check", piece.title))
        .marked("this piece")
        .because(format!(
            "After {} million operations, at row {rows}, it had not ended, and its repeats do not come back to where they began.",
            Manner::MOST_OPERATIONS / 1_000_000
        ))
        .mend("Divide it into several pieces, or give its repeats fewer passes.");
    (&RULE, finding)
}

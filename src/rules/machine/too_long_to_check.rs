//! `too-long-to-check`

use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::plan::program::Piece;
use crate::play::Manner;
use crate::rules::{Besides, Facts, Watch};
use crate::words;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "too-long-to-check",
        severity: Severity::Error,
        summary: "A pattern has more operations than anybody could knit, and they do not repeat.",
        why: "Every pattern is played row by row before it is called right. A repeat that comes back to where it began is \
          counted, however long it is; one that changes the beds in every pass has to be played, and there is an end \
          to that.",
        source: "our own limit of 500,000 operations for all pieces and sizes together",
        bad: "",
        good: "",
    },
    looks_at: &[],
    disturbs: Facts::NONE,
    rests_on: Facts::NONE,
    besides: Besides::NOTHING,
};

/// The finding for a piece whose play was given up after that many rows and operations.
pub(in crate::rules) fn too_long_to_check(piece: &Piece, rows: u64, operations: u64) -> (&'static Watch, Finding) {
    let most = words::total_of(Manner::MOST_OPERATIONS, "operation", "operations");
    let checked = if rows == 0 && operations <= 1 {
        "Nothing of it was checked".to_owned()
    } else {
        format!(
            "It was checked up to {} and no further",
            if rows == 0 { "its first row".to_owned() } else { format!("row {rows}") }
        )
    };
    // The one operation more than it may do is not done.
    let why = if operations > Manner::MOST_OPERATIONS {
        format!("{checked}: by then it had taken {most}, and its repeats do not come back to where they began.")
    } else {
        format!("{checked}: all pieces and sizes of a pattern may take {most} together.")
    };
    let finding = RULE
        .finds(piece.span, format!("the piece \"{}\" is too long to check", piece.title))
        .marked("this piece")
        .because(why)
        .mend("Give its repeats fewer passes, or make a pattern of its own of a part of it.");
    (&RULE, finding)
}

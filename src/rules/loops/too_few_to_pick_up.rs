//! `too-few-to-pick-up`

use crate::beds::{Bed, Handled, Operation, Outcome, Waste};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::plan::program::WasteHere;
use crate::play::Moment;
use crate::rules::cause::{Line, at};
use crate::rules::memory::Memory;
use crate::rules::{Besides, Facts, LooksAt, PieceDone, Seen, Watch};
use crate::words::spans::written;
use crate::words::{count, is_are};

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "too-few-to-pick-up",
        severity: Severity::Error,
        summary: "More stitches are to be picked up than there are on the waste yarn, or in the fabric below.",
        why: "Each needle takes one stitch. Where the stitches run out, needles stay empty and the rows after them knit on \
              nothing: another number was taken off, or the line that takes them off comes later in the text. Pieces are \
              worked in the order of the text.",
        source: "follows from the state of the beds",
        bad: "in work front L3-R3
thread slate
cast on wound front
rows 2 front knit
onto waste yarn front L3-R2 as \"shoulder\"
bind off front R3
pick up front L3-R3 from \"shoulder\"
row front knit
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
rows 2 front knit
onto waste yarn front L3-R2 as \"shoulder\"
bind off front R3
out of work front R3
pick up front L3-R2 from \"shoulder\"
row front knit
bind off front",
    },
    looks_at: &[LooksAt::Handled(handled), LooksAt::PieceEnd(end)],
    disturbs: Facts::LOOPS.and(Facts::COUNT),
    rests_on: Facts::LOOPS,
    besides: Besides { cause: Some(cause), ..Besides::NOTHING },
};

fn handled(moment: &Moment<'_>, handled: &Handled) -> Option<Finding> {
    let Operation::PickUp { from_waste, .. } = moment.operation else { return None };
    let missing = handled.not_there;
    if missing == 0 {
        return None;
    }
    let asked = handled.refused.len();
    let there = asked.saturating_sub(missing);
    let number = if there == 0 { "No".to_owned() } else { there.to_string() };
    let (one, many) = if from_waste.is_some() { ("stitch", "stitches") } else { ("loop", "loops") };
    let loops = if there == 1 { one } else { many };
    let needles = written(&handled.refused);
    let (why, mend) = match from_waste {
        Some(waste) => (
            format!("{number} {loops} {} on {} here, and the line asks for {asked}.", is_are(there), called(waste)),
            match (there, &waste.0) {
                (0, Some(name)) => format!(
                    "Take them off first, on a line before this one or in a piece that stands before this one: `onto waste \
                     yarn front as \"{name}\"`."
                ),
                (0, None) => format!(
                    "Take stitches off with `onto waste yarn` first. Stitches of another piece come from a waste yarn with \
                     a name: `onto waste yarn front as \"shoulder\"` there, and here `pick up {needles} from \"shoulder\"`."
                ),
                _ => format!("Name {} at most.", count(there, "needle", "needles")),
            },
        ),
        None => (
            format!(
                "{number} {loops} {} been knitted through so far in this piece, and the line asks for {asked}.",
                if there == 1 { "has" } else { "have" }
            ),
            if there > 0 {
                format!("Name {} at most.", count(there, "needle", "needles"))
            } else if moment.state.ledger.made == 0 {
                let bed = if handled.refused.front.is_empty() { Bed::Back } else { Bed::Front };
                format!(
                    "Stitches of another piece come from waste yarn: write `onto waste yarn front as \"shoulder\"` there, \
                     and here `pick up {needles} from \"shoulder\"`. Along a finished edge there are no stitches that wait: \
                     write `cast on wound {bed}`, and a `note` that says which edge is hung there. Otherwise cast on."
                )
            } else {
                format!("Wind new loops instead: `new loops {needles}`; or pick up once rows have been knitted.")
            },
        ),
    };
    let what = format!("there {} {} too few to pick up", is_are(missing), count(missing, one, many));
    Some(RULE.finds(moment.span, what).marked("asked for here").because(why).mend(mend))
}

fn end(done: &PieceDone<'_>) -> Option<Finding> {
    done.piece.waste.iter().find_map(|here| {
        let left = here.left(done.state, done.piece.make)?;
        (left < 0).then(|| too_few_for_all(done, here, left))
    })
}

/// A piece that is made several times picks up more than there are for all of them.
fn too_few_for_all(done: &PieceDone<'_>, here: &WasteHere, left: i128) -> Finding {
    let there = here.stitches.unwrap_or_default();
    let missing = u64::try_from(-left).unwrap_or(u64::MAX);
    let each = (u128::from(there) + u128::from(missing)) / u128::from(done.piece.make.max(1));
    let finding = RULE
        .finds(here.picked_up.unwrap_or(done.piece.span), format!("there are {} too few to pick up for all {} pieces", count(missing, "stitch", "stitches"), done.piece.make))
        .marked("picked up for each of them")
        .because(format!(
            "\"{}\" is made {} times and takes {} each time; {} on {} before it.",
            done.piece.title,
            done.piece.make,
            count(each, "stitch", "stitches"),
            count(there, "is", "are"),
            called(&here.waste)
        ))
        .mend("Take stitches off for each of them: make the piece before it as often, or write each of the pieces by itself, with a waste yarn of its own.");
    match here.put_by {
        Some(span) => finding.also(span, "stitches were taken onto it here"),
        None => finding,
    }
}

/// `waste yarn`, `the waste yarn "shoulder"`.
pub(super) fn called(waste: &Waste) -> String {
    waste.0.as_ref().map_or_else(|| "waste yarn".to_owned(), |name| format!("the waste yarn \"{name}\""))
}

fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    let Seen::Done(Moment { operation: Operation::PickUp { from_waste: Some(waste), .. }, outcome, .. }) = seen else {
        return Vec::new();
    };
    let refused = matches!(outcome, Outcome::Handled(handled) if handled.not_there > 0);
    if refused { at(memory.put_onto(waste), "stitches were taken onto it here") } else { Vec::new() }
}

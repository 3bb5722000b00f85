//! `left-on-needles`

use crate::beds::{Bed, Both, Operation, State};
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::rules::cause::{Line, who};
use crate::rules::memory::{Deed, Memory};
use crate::rules::search::does;
use crate::rules::{Besides, Facts, LooksAt, PieceDone, Seen, Touches, Watch};
use crate::words::count;
use crate::words::spans::needles;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "left-on-needles",
        severity: Severity::Error,
        summary: "The piece ends and stitches are still on the needles.",
        why: "A stitch that is neither bound off nor taken onto waste yarn runs down as soon as the piece leaves the \
              machine: a knitted fabric unravels from the end that was knitted last.",
        source: "D. J. Spencer, Knitting Technology, 3rd ed., 2001, ch. 7: weft knits unravel from the end knitted last \
                 unless it is locked",
        bad: "in work front L3-R3, back L3-R3
thread slate
cast on zigzag
row both knit
bind off front",
        good: "in work front L3-R3, back L3-R3
thread slate
cast on zigzag
row both knit
bind off both",
    },
    looks_at: &[LooksAt::PieceEnd(end)],
    disturbs: Facts::NONE,
    rests_on: Facts::LOOPS,
    besides: Besides { touches: Some(touches), cause: Some(cause), ..Besides::NOTHING },
};

fn end(done: &PieceDone<'_>) -> Option<Finding> {
    let left = loaded(done.state);
    if left.is_empty() {
        return None;
    }
    let number = done.state.ledger.on_needles;
    let bed = match (left.front.is_empty(), left.back.is_empty()) {
        (false, true) => "front",
        (true, false) => "back",
        _ => "both",
    };
    Some(
        RULE.finds(done.piece.end, format!("the piece \"{}\" ends with stitches on the needles", done.piece.title))
            .marked("the piece ends here")
            .also(done.piece.span, "it begins here")
            .because(format!(
                "{} still {} {}.",
                needles(&left),
                if left.len() == 1 { "carries" } else { "carry" },
                count(number, "loop", "loops")
            ))
            .mend(format!(
                "Bind them off (`bind off {bed}`), {}take them onto waste yarn (`onto waste yarn {bed}`), or, if they are meant to fall, drop them (`drop {bed}`).",
                match bed {
                    "front" => "transfer them to the back bed before that is bound off, ",
                    "back" => "transfer them to the front bed before that is bound off, ",
                    _ => "",
                }
            )),
    )
}

fn loaded(state: &State) -> Both<crate::beds::NeedleSet> {
    Both::from_fn(|bed| state.loops.loaded(bed))
}

/// The lines that gave those needles their first loop. Where nothing is ever taken off, that is the whole piece.
fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    let Seen::End(done) = seen else { return Vec::new() };
    if !does(&done.piece.steps, &takes_off) {
        return Vec::new();
    }
    let left = loaded(done.state);
    let made = |bed, deed, text| who(memory, deed, bed, left[bed], text);
    let of = |bed| [made(bed, Deed::Loaded, "begun here"), made(bed, Deed::Brought, "brought here")].concat();
    Bed::BOTH.into_iter().flat_map(of).collect()
}

fn takes_off(operation: &Operation) -> bool {
    matches!(operation, Operation::BindOff(_) | Operation::OntoWaste(..) | Operation::Drop(_))
}

/// Where no stitch is ever taken off, the end was forgotten, whatever went wrong before.
fn touches(seen: Seen<'_>, _: &Memory, usual: Touches) -> Touches {
    match seen {
        Seen::End(done) if !does(&done.piece.steps, &takes_off) => Touches { rests_on: Facts::NONE, ..usual },
        _ => usual,
    }
}

//! The end of a sheet: what is left to do, and where every loop has gone.

use super::paper::Paper;
use crate::beds::{Bed, Both, Ledger, State};
use crate::play::Stop;
use crate::words;
use std::io;

/// Writes the end.
///
/// # Errors
/// Those of the paper.
pub(super) fn write(paper: &mut Paper<'_>, state: &State, stop: Option<Stop>) -> io::Result<()> {
    paper.gap();
    match stop {
        None => paper.flat(0, "The end of the piece")?,
        Some(stop) => {
            let why = match stop {
                Stop::Jammed => "a needle carries more loops than it can hold",
                _ => "the piece has more work than can be written down",
            };
            paper.flat(0, &format!("This sheet ends here, before the piece does: {why}."))?;
        }
    }
    let ends = format!("{} knitted.", words::capital(&words::total_of(state.row, "row", "rows")));
    paper.say(4, &format!("{ends} Carriage on the {}, counter {}.", state.carriage, state.counter))?;
    if state.loops.count() == 0 {
        paper.say(4, "Nothing is left on the needles. Take the yarn out of the feeder.")?;
    } else {
        let counts = Both::from_fn(|bed: Bed| state.stitch_count(bed));
        paper.say(4, &format!("Still on the needles: {}.", words::stitches(&counts)))?;
        paper.say(4, "Let the weights down before the last stitches come off, and keep your feet clear.")?;
    }
    paper.say(4, &ledger(&state.ledger))
}

/// `1,240 loops made: 1,180 knitted through, 60 bound off.`
fn ledger(ledger: &Ledger) -> String {
    let columns = [
        (ledger.knitted_through, "knitted through"),
        (ledger.bound_off, "bound off"),
        (ledger.dropped, "let fall on purpose"),
        (ledger.on_waste, "on waste yarn"),
        (ledger.on_needles, "on the needles"),
        (ledger.lost, "lost"),
    ];
    let gone: Vec<String> = columns
        .into_iter()
        .filter(|(number, _)| *number > 0)
        .map(|(number, where_to)| format!("{} {where_to}", words::total(number)))
        .collect();
    let made = words::total_of(ledger.made, "loop made", "loops made");
    if gone.is_empty() { format!("{made}.") } else { format!("{made}: {}.", gone.join(", ")) }
}

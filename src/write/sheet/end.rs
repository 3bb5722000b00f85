//! The end of a sheet: what is left to do, and where every loop has gone.

use crate::beds::{Bed, Both, Ledger, State};
use crate::play::Stop;
use crate::words;

/// The end of a sheet.
#[derive(Debug)]
pub(super) struct End {
    /// That the piece ends here, or why the sheet does.
    pub(super) title: String,
    /// What stands then, and what is left to do.
    pub(super) lines: Vec<String>,
}

impl End {
    /// Of a piece whose play has ended so.
    pub(super) fn of(state: &State, stop: Option<Stop>) -> Self {
        let title = match stop {
            None => "The end of the piece".to_owned(),
            Some(stop) => {
                let why = match stop {
                    Stop::Jammed => "a needle carries more loops than it can hold",
                    _ => "the piece has more work than can be written down",
                };
                format!("This sheet ends here, before the piece does: {why}.")
            }
        };
        let ends = format!("{} knitted.", words::capital(&words::total_of(state.row, "row", "rows")));
        let mut lines = vec![format!("{ends} Carriage on the {}, counter {}.", state.carriage, state.counter)];
        if state.loops.count() == 0 {
            lines.push("Nothing is left on the needles. Take the yarn out of the feeder.".to_owned());
        } else {
            let counts = Both::from_fn(|bed: Bed| state.stitch_count(bed));
            lines.push(format!("Still on the needles: {}.", words::stitches(&counts)));
            lines.push("Let the weights down before the last stitches come off, and keep your feet clear.".to_owned());
        }
        lines.push(ledger(&state.ledger));
        Self { title, lines }
    }
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

//! How often a text is parsed and worked out, and a piece played: counted in tests, so that nothing is done twice unseen.

use std::cell::Cell;

/// What is counted.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Work {
    Parsed,
    Planned,
    Played,
}

thread_local! {
    static TIMES: [Cell<u32>; 3] = const { [Cell::new(0), Cell::new(0), Cell::new(0)] };
}

/// Counts one more in this thread.
pub(crate) fn note(work: Work) {
    TIMES.with(|times| {
        let [parsed, planned, played] = times;
        let counter = match work {
            Work::Parsed => parsed,
            Work::Planned => planned,
            Work::Played => played,
        };
        counter.set(counter.get() + 1);
    });
}

/// How often the work parses, plans and plays, in this order, and what it gives.
pub(crate) fn times<T>(work: impl FnOnce() -> T) -> ([u32; 3], T) {
    TIMES.with(|times| times.iter().for_each(|counter| counter.set(0)));
    let done = work();
    (TIMES.with(|times| times.each_ref().map(Cell::get)), done)
}

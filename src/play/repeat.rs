//! Repeats: played until the beds come back to a state they have been in, then counted.

use super::{Block, Flow, Player, Skipped, Watcher};
use crate::beds::{Operation, Outcome, Refused, State};
use crate::plan::program::{Promise, Repeat, StepId, Steps, name_of};
use crate::source::Span;
use std::collections::HashMap;

/// What was met so far that depends on more than the state of the beds: on the ledger, or on the row counter.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Met {
    refused: Refused,
    counter_promises: u64,
}

impl Met {
    pub(super) fn promise(&mut self, promise: &Promise) {
        self.counter_promises += u64::from(matches!(promise, Promise::Counter(_)));
    }

    pub(super) fn outcome(&mut self, operation: &Operation, outcome: &Outcome) {
        if let (Operation::PickUp { from_waste, .. }, Outcome::Handled(handled)) = (operation, outcome)
            && handled.not_there > 0
        {
            let kind = if from_waste.is_some() { &mut self.refused.from_waste } else { &mut self.refused.from_below };
            *kind += 1;
        }
    }

    fn since(self, earlier: Self) -> Self {
        Self {
            refused: Refused {
                from_waste: self.refused.from_waste - earlier.refused.from_waste,
                from_below: self.refused.from_below - earlier.refused.from_below,
            },
            counter_promises: self.counter_promises - earlier.counter_promises,
        }
    }

    /// What was met once more, when it is taken as done.
    fn again(&mut self, met: Self) {
        self.refused.from_waste += met.refused.from_waste;
        self.refused.from_below += met.refused.from_below;
        self.counter_promises += met.counter_promises;
    }
}

/// Loops older than this many rows are of one age when states are compared, so that a stitch that rests through a long
/// repeat does not keep the repeat from closing. No rule looks further back: a profile's `longest wait` is at most 30 rows.
const OLD: u64 = 32;

/// The beds, and what the watcher goes by besides.
#[derive(Debug)]
struct Scene<M> {
    state: State,
    mind: Option<M>,
}

impl<M: PartialEq> Scene<M> {
    /// Whether the same steps do and tell the same from here on.
    fn goes_on_like(&self, state: &State, mind: Option<&M>) -> bool {
        self.mind.as_ref() == mind && self.state.goes_on_like(state, OLD)
    }
}

/// A scene and what had been met until then.
#[derive(Debug)]
struct Seen<M> {
    pass: u64,
    scene: Scene<M>,
    met: Met,
    /// Whether it is the end of a stretch that would have closed but for a promise about the row counter.
    promises_again: bool,
}

/// A repeat that was played: from where, to where, and what was met; and the number it is remembered under.
#[derive(Debug)]
struct Played<M> {
    number: u64,
    before: Scene<M>,
    after: Scene<M>,
    met: Met,
}

/// Which repeat, written where, under which silenced rules.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
struct Key {
    span: Span,
    steps: Option<StepId>,
    times: u64,
    allowed: Vec<Option<StepId>>,
}

/// From which states a repeat has been played before, and where that led.
#[derive(Debug)]
pub(super) struct Memory<M> {
    played: HashMap<Key, Vec<Played<M>>>,
    /// How many are remembered.
    count: u64,
    allowed: Vec<Option<StepId>>,
}

impl<M> Default for Memory<M> {
    fn default() -> Self {
        Self { played: HashMap::new(), count: 0, allowed: Vec::new() }
    }
}

impl<M: PartialEq> Memory<M> {
    /// States kept for one repeat. A repeat inside another is met in one or two states, seldom more.
    const STATES: usize = 4;
    /// Repeats remembered; past that nothing new is.
    const REPEATS: usize = 10_000;

    /// Rules are silenced from here on: what was played without that may not be taken as done.
    pub(super) fn enter(&mut self, steps: &Steps) {
        self.allowed.push(name_of(steps));
    }

    pub(super) fn leave(&mut self) {
        self.allowed.pop();
    }

    /// Places that work one stitch share its steps; but what is said of the use is said of each place.
    fn key(&self, repeat: &Repeat, span: Span) -> Key {
        Key { span, steps: name_of(&repeat.steps), times: repeat.times, allowed: self.allowed.clone() }
    }

    fn recall(&self, key: &Key, state: &State, mind: Option<&M>) -> Option<&Played<M>> {
        self.played.get(key)?.iter().find(|played| {
            let before = &played.before;
            before.goes_on_like(state, mind)
                && state.has_as_much_to_pick_up(&before.state, played.met.refused)
                && (played.met.counter_promises == 0 || before.state.counter == state.counter)
        })
    }

    /// Remembers a repeat, unless there are too many; gives the number.
    fn keep(&mut self, key: Key, before: Scene<M>, after: Scene<M>, met: Met) -> Option<u64> {
        if self.played.len() >= Self::REPEATS && !self.played.contains_key(&key) {
            return None;
        }
        let states = self.played.entry(key).or_default();
        if states.len() >= Self::STATES {
            return None;
        }
        self.count += 1;
        states.push(Played { number: self.count, before, after, met });
        Some(self.count)
    }
}

impl<M: Clone + PartialEq, W: Watcher<M>> Player<'_, M, W> {
    pub(super) fn repeat(&mut self, repeat: &Repeat, span: Span) -> Flow {
        let block = Block::Repeat(repeat, span);
        let remember = self.manner.from_memory && self.manner.until_row.is_none() && !repeat.single_row;
        let key = remember.then(|| self.memory.key(repeat, span));
        if let Some(key) = &key
            && let Some(played) = self.memory.recall(key, &self.state, self.watcher.mind())
        {
            if let Some(mind) = &played.after.mind {
                self.watcher.minds(mind);
            }
            self.watcher.done_again(played.number, &played.after.state);
            self.state.do_again(&played.before.state, &played.after.state);
            self.met.again(played.met);
            return Flow::Continue(());
        }
        let before = key.is_some().then(|| self.scene());
        let (outer_pass, met) = (self.pass, self.met);
        let further_out = self.outer;
        self.outer = outer_pass.filter(|(_, of)| *of > 1).or(further_out);
        self.watcher.begins(&block, &self.state);
        self.passes(repeat, span)?;
        (self.pass, self.outer) = (outer_pass, further_out);
        self.watcher.ends(&block, &self.state);
        if let (Some(key), Some(before)) = (key, before)
            && let Some(number) = self.memory.keep(key, before, self.scene(), self.met.since(met))
        {
            self.watcher.remembered(number);
        }
        Flow::Continue(())
    }

    fn scene(&self) -> Scene<M> {
        Scene { state: self.state.clone(), mind: self.watcher.mind().cloned() }
    }

    /// Plays the passes. The search for a state seen before is Brent's: one earlier state is kept, renewed at passes
    /// 1, 3, 7, 15 and so on, so that any period is found with one comparison a pass.
    fn passes(&mut self, repeat: &Repeat, span: Span) -> Flow {
        let mut earlier: Option<Seen<M>> = None;
        let mut renew_at = 1;
        let mut pass = 0;
        let mut skip = self.manner.skip && repeat.times > 1;
        while pass < repeat.times {
            if skip {
                let closed = earlier.as_ref().filter(|seen| self.closes(seen));
                // The counter stands elsewhere at each pass, so a promise about it may hold in one and break in the
                // next. It cannot hold in two that differ: playing the stretch once more tells all there is.
                let promises = closed.is_some_and(|seen| !seen.promises_again && self.breaks_a_promise(seen));
                if let Some(seen) = closed.filter(|_| !promises) {
                    let period = pass - seen.pass;
                    let times = self.times_to_skip(repeat, pass, period, &seen.scene.state);
                    if times > 0 {
                        let to = self.state.clone();
                        self.state.repeat_since(&seen.scene.state, times);
                        self.watcher
                            .skipped(&Skipped { repeat, period, times, from: &seen.scene.state, to: &to }, &self.state);
                        pass += period * times;
                    }
                    // What is left is less than one period, or leads to the row asked for.
                    skip = false;
                    continue;
                }
                if earlier.is_none() || promises || pass == renew_at {
                    earlier = Some(Seen { pass, scene: self.scene(), met: self.met, promises_again: promises });
                    if pass == renew_at {
                        renew_at = renew_at * 2 + 1;
                    }
                }
            }
            self.pass = Some((pass + 1, repeat.times));
            if repeat.single_row {
                self.steps(&repeat.steps)?;
            } else {
                let before = (pass == 0).then(|| self.state.clone());
                self.watcher.pass_begins(repeat, pass + 1, &self.state);
                self.steps(&repeat.steps)?;
                self.pass = Some((pass + 1, repeat.times));
                if let Some(before) = before {
                    self.watcher.first_pass_done(repeat, span, &before, &self.state);
                }
            }
            pass += 1;
        }
        Flow::Continue(())
    }

    /// Whether everything since then would come again and again.
    fn closes(&self, seen: &Seen<M>) -> bool {
        seen.scene.goes_on_like(&self.state, self.watcher.mind())
            && self.state.has_as_much_to_pick_up(&seen.scene.state, self.met.since(seen.met).refused)
    }

    /// Whether something was promised of the row counter since then, and the counter does not stand where it stood.
    fn breaks_a_promise(&self, seen: &Seen<M>) -> bool {
        self.met.since(seen.met).counter_promises > 0 && self.state.counter != seen.scene.state.counter
    }

    /// How many whole periods may be counted without passing the last pass, or the row to stop at.
    fn times_to_skip(&self, repeat: &Repeat, pass: u64, period: u64, seen: &State) -> u64 {
        let by_passes = (repeat.times - pass) / period;
        let rows = self.state.row - seen.row;
        match self.manner.until_row {
            Some(until) if rows > 0 => by_passes.min(until.saturating_sub(self.state.row.saturating_add(2)) / rows),
            _ => by_passes,
        }
    }
}

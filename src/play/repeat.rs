//! Repeats: played until the beds come back to a state they have been in, then counted.

use super::{Block, Flow, Player, Skipped, Watcher};
use crate::beds::State;
use crate::plan::program::{Repeat, Steps};
use crate::source::Span;
use std::collections::HashMap;
use std::rc::Rc;

/// Which repeat, under which silenced rules.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
struct Key {
    steps: usize,
    times: u64,
    allowed: Vec<usize>,
}

/// A repeat that was played from one state to another, and the number it is remembered under.
#[derive(Debug)]
struct Played {
    before: State,
    after: State,
    number: u64,
}

/// From which states a repeat has been played before, and where that led.
#[derive(Debug, Default)]
pub(super) struct Memory {
    played: HashMap<Key, Vec<Played>>,
    /// How many are remembered.
    count: u64,
    allowed: Vec<usize>,
}

impl Memory {
    /// States kept for one repeat. A repeat inside another is met in one or two states, seldom more.
    const STATES: usize = 4;
    /// Repeats remembered; past that nothing new is.
    const REPEATS: usize = 10_000;

    /// Rules are silenced from here on: what was played without that may not be taken as done.
    pub(super) fn enter(&mut self, steps: &Steps) {
        self.allowed.push(address(steps));
    }

    pub(super) fn leave(&mut self) {
        self.allowed.pop();
    }

    fn key(&self, repeat: &Repeat) -> Key {
        Key { steps: address(&repeat.steps), times: repeat.times, allowed: self.allowed.clone() }
    }

    fn recall(&self, key: &Key, state: &State) -> Option<&Played> {
        self.played.get(key)?.iter().find(|played| played.before.goes_on_like(state))
    }

    /// Remembers a repeat, unless there are too many; gives the number.
    fn keep(&mut self, key: Key, before: State, after: State) -> Option<u64> {
        if self.played.len() >= Self::REPEATS && !self.played.contains_key(&key) {
            return None;
        }
        let states = self.played.entry(key).or_default();
        if states.len() >= Self::STATES {
            return None;
        }
        self.count += 1;
        states.push(Played { before, after, number: self.count });
        Some(self.count)
    }
}

/// Tells steps that are the same from steps that only look the same.
fn address(steps: &Steps) -> usize {
    Rc::as_ptr(steps).cast::<()>() as usize
}

impl<W: Watcher> Player<'_, W> {
    pub(super) fn repeat(&mut self, repeat: &Repeat, span: Span) -> Flow {
        let block = Block::Repeat(repeat, span);
        let remember = self.manner.from_memory && self.manner.until_row.is_none() && !repeat.single_row;
        let key = remember.then(|| self.memory.key(repeat));
        if let Some(key) = &key
            && let Some(played) = self.memory.recall(key, &self.state)
        {
            self.watcher.done_again(played.number, &played.after);
            self.state.do_again(&played.before, &played.after);
            return Flow::Continue(());
        }
        let before = key.is_some().then(|| self.state.clone());
        let outer_pass = self.pass;
        self.watcher.begins(&block, &self.state);
        self.passes(repeat, span)?;
        self.pass = outer_pass;
        self.watcher.ends(&block, &self.state);
        if let (Some(key), Some(before)) = (key, before) {
            if let Some(number) = self.memory.keep(key, before, self.state.clone()) {
                self.watcher.remembered(number);
            }
        }
        Flow::Continue(())
    }

    /// Plays the passes. The search for a state seen before is Brent's: one earlier state is kept, renewed at passes
    /// 1, 3, 7, 15 and so on, so that any period is found with one comparison a pass.
    fn passes(&mut self, repeat: &Repeat, span: Span) -> Flow {
        let mut earlier: Option<(u64, State)> = None;
        let mut renew_at = 1;
        let mut pass = 0;
        let mut skip = self.manner.skip && repeat.times > 1;
        while pass < repeat.times {
            if skip {
                if let Some((seen_at, seen)) = &earlier
                    && seen.goes_on_like(&self.state)
                {
                    let period = pass - seen_at;
                    let times = self.times_to_skip(repeat, pass, period, seen);
                    if times > 0 {
                        let to = self.state.clone();
                        self.state.repeat_since(seen, times);
                        self.watcher.skipped(&Skipped { repeat, period, times, from: seen, to: &to }, &self.state);
                        pass += period * times;
                    }
                    // What is left is less than one period, or leads to the row asked for.
                    skip = false;
                    continue;
                }
                if earlier.is_none() || pass == renew_at {
                    earlier = Some((pass, self.state.clone()));
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

    /// How many whole periods may be counted without passing the last pass, or the row to stop at.
    fn times_to_skip(&self, repeat: &Repeat, pass: u64, period: u64, seen: &State) -> u64 {
        let by_passes = (repeat.times - pass) / period;
        let rows = self.state.row - seen.row;
        match self.manner.until_row {
            Some(until) if rows > 0 => by_passes.min(until.saturating_sub(self.state.row + 1) / rows),
            _ => by_passes,
        }
    }
}

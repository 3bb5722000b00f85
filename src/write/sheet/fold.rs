//! Puts together what is the same: rows in a run, and passes of a repeat.

use super::item::{Again, Item, Loop, Mark, Reminders, Rows, all_alike};
use super::remind::{Reminder, attach};
use super::row::RowText;

/// A list of items that is being written, with the reminders in force in it.
#[derive(Debug, Default)]
pub(super) struct List {
    /// The items.
    pub(super) items: Vec<Item>,
    /// The reminders.
    pub(super) reminders: Vec<Reminder>,
}

impl List {
    /// Adds one row, to the run before it if it fits there. Two works in turn make a run from `turns_from` rows on.
    pub(super) fn row(&mut self, text: RowText, before: Mark, after: Mark, turns_from: u64) {
        if let Some(Item::Rows(run)) = self.items.last_mut() {
            let next = usize::try_from(run.count % run.texts.len() as u64).unwrap_or(0);
            if text.is_plain() && run.reminders.is_empty() && run.texts.get(next) == Some(&text) {
                run.count += 1;
                run.after = after;
                return;
            }
        }
        self.items.push(Item::Rows(Rows {
            texts: vec![text],
            count: 1,
            before,
            after,
            reminders: Reminders::default(),
        }));
        self.join_turns(turns_from);
    }

    /// Makes one run of the last single rows when two works come in turn.
    fn join_turns(&mut self, turns_from: u64) {
        let wanted = usize::try_from(turns_from).unwrap_or(usize::MAX).max(3);
        let Some(start) = self.items.len().checked_sub(wanted) else { return };
        let tail = &self.items[start..];
        let single = |item: &Item| match item {
            Item::Rows(rows) if rows.count == 1 && rows.texts[0].is_plain() && rows.reminders.is_empty() => {
                Some((rows.texts[0].clone(), rows.before, rows.after))
            }
            _ => None,
        };
        let Some(rows) = tail.iter().map(single).collect::<Option<Vec<_>>>() else { return };
        if rows[0].0 == rows[1].0 || rows.iter().zip(&rows[2..]).any(|(one, later)| one.0 != later.0) {
            return;
        }
        let (before, after) = (rows[0].1, rows[wanted - 1].2);
        let texts = rows.into_iter().take(2).map(|(text, ..)| text).collect();
        self.items.truncate(start);
        self.items.push(Item::Rows(Rows { texts, count: turns_from, before, after, reminders: Reminders::default() }));
    }

    /// Adds items that were put together elsewhere; a run of rows joins the run before it where they are the same.
    pub(super) fn extend(&mut self, items: impl IntoIterator<Item = Item>) {
        for item in items {
            if let Item::Rows(rows) = &item
                && let [text] = rows.texts.as_slice()
                && text.is_plain()
                && rows.reminders.is_empty()
                && let Some(Item::Rows(run)) = self.items.last_mut()
                && run.reminders.is_empty()
                && run.texts == rows.texts
            {
                run.count += rows.count;
                run.after = rows.after;
                continue;
            }
            self.items.push(item);
        }
    }

    /// Counts the rows that come again at the end of a run; whether that could be done.
    fn run_again(&mut self, counted: Counted) -> bool {
        let Some(Item::Rows(run)) = self.items.last_mut() else { return false };
        let turns = run.texts.len() as u64;
        let rows = counted.to.row - counted.from.row;
        if !rows.is_multiple_of(turns) || run.count < rows {
            return false;
        }
        run.count += rows * counted.times;
        run.after = counted.after;
        true
    }

    /// Takes out everything said so far; the reminders stay in force.
    pub(super) fn spill(&mut self) -> Vec<Item> {
        attach(&self.reminders, &mut self.items);
        std::mem::take(&mut self.items)
    }

    /// Ends the reminders said since there were `kept` of them.
    pub(super) fn end_reminders(&mut self, kept: usize) {
        attach(self.reminders.get(kept..).unwrap_or_default(), &mut self.items);
        self.reminders.truncate(kept);
    }
}

/// Passes that were counted: the last `period` of those that were played come `times` times more.
#[derive(Debug, Clone, Copy)]
pub(super) struct Counted {
    pub(super) period: u64,
    pub(super) times: u64,
    /// Before that period.
    pub(super) from: Mark,
    /// After it.
    pub(super) to: Mark,
    /// After all of them.
    pub(super) after: Mark,
}

/// One pass of a repeat.
#[derive(Debug)]
struct Pass {
    items: Vec<Item>,
    before: Mark,
    after: Mark,
}

/// Passes, one or several in turn, that come a number of times.
#[derive(Debug)]
struct Group {
    passes: Vec<Pass>,
    times: u64,
    after: Mark,
}

impl Group {
    fn alike(&self, other: &Self) -> bool {
        self.passes.len() == other.passes.len()
            && self.passes.iter().zip(&other.passes).all(|(one, two)| same(one, two))
    }

    /// Rows of all its passes, once.
    fn rows(&self) -> u64 {
        self.passes.iter().map(|pass| pass.after.row - pass.before.row).sum()
    }
}

fn same(one: &Pass, two: &Pass) -> bool {
    all_alike(&one.items, &two.items)
}

/// A repeat that is being played.
#[derive(Debug)]
pub(super) struct Frame {
    /// The pass that is being written.
    pub(super) list: List,
    name: Option<String>,
    single_row: bool,
    groups: Vec<Group>,
    pass_from: Option<Mark>,
}

impl Frame {
    pub(super) fn new(name: Option<String>, single_row: bool) -> Self {
        Self { list: List::default(), name, single_row, groups: Vec::new(), pass_from: None }
    }

    /// From how many rows on two works in turn are said as such.
    pub(super) const fn turns_from(&self) -> u64 {
        if self.single_row { 3 } else { 4 }
    }

    /// A pass begins.
    pub(super) const fn pass_begins(&mut self, before: Mark) {
        self.pass_from = Some(before);
    }

    /// A pass ends, if one has begun.
    pub(super) fn pass_ends(&mut self, after: Mark) {
        let Some(before) = self.pass_from.take() else { return };
        self.list.end_reminders(0);
        let items = std::mem::take(&mut self.list).items;
        if items.is_empty() {
            return;
        }
        self.groups.push(Group { passes: vec![Pass { items, before, after }], times: 1, after });
        self.put_together();
    }

    fn put_together(&mut self) {
        if let [.., one, two] = self.groups.as_mut_slice()
            && one.alike(two)
        {
            one.times += two.times;
            one.after = two.after;
            self.groups.pop();
            return;
        }
        // Two passes in turn: they join the turns before them, or become such when they come the second time.
        let single = |group: &Group| group.times == 1 && group.passes.len() == 1;
        if let [.., turns, one, two] = self.groups.as_mut_slice()
            && let [first, second] = turns.passes.as_slice()
            && single(one)
            && single(two)
            && same(first, &one.passes[0])
            && same(second, &two.passes[0])
        {
            turns.times += 1;
            turns.after = two.after;
            self.groups.truncate(self.groups.len() - 2);
        } else if let [.., first, second, one, two] = self.groups.as_slice()
            && [first, second, one, two].into_iter().all(single)
            && first.alike(one)
            && second.alike(two)
        {
            let after = two.after;
            self.groups.truncate(self.groups.len() - 2);
            self.gather(2, 2, after);
        }
    }

    /// Makes one group of the last groups, which have one pass each.
    fn gather(&mut self, last: usize, times: u64, after: Mark) {
        let passes = self.groups.drain(self.groups.len() - last..).flat_map(|group| group.passes).collect();
        self.groups.push(Group { passes, times, after });
    }

    /// Passes were counted and not played.
    pub(super) fn counted(&mut self, counted: Counted) {
        if self.single_row {
            if !self.list.run_again(counted) {
                self.list.items.push(again(counted));
            }
            return;
        }
        self.pass_ends(counted.to);
        let rows = counted.to.row - counted.from.row;
        if self.groups.is_empty() {
            return;
        }
        if let Some(group) = self.groups.last_mut() {
            let turns = group.passes.len() as u64;
            if counted.period.is_multiple_of(turns)
                && group.times >= counted.period / turns
                && group.rows() * (counted.period / turns) == rows
            {
                group.times += counted.period / turns * counted.times;
                group.after = counted.after;
                return;
            }
        }
        let last = usize::try_from(counted.period).unwrap_or(usize::MAX);
        if let Some(start) = self.groups.len().checked_sub(last) {
            let tail = &self.groups[start..];
            let single = tail.iter().all(|group| group.times == 1 && group.passes.len() == 1);
            if single && tail.iter().map(Group::rows).sum::<u64>() == rows {
                self.gather(last, counted.times + 1, counted.after);
                return;
            }
        }
        let pass = Pass { items: vec![again(counted)], before: counted.to, after: counted.after };
        self.groups.push(Group { passes: vec![pass], times: 1, after: counted.after });
    }

    /// The repeat ends; gives what is to be said of it.
    pub(super) fn close(mut self, after: Mark) -> Vec<Item> {
        self.pass_ends(after);
        self.spill()
    }

    /// Takes out everything said so far. A pass that is under way goes on as if it began here.
    pub(super) fn spill(&mut self) -> Vec<Item> {
        let mut out = List::default();
        for group in std::mem::take(&mut self.groups) {
            out.extend(said(group, self.name.as_ref()));
        }
        out.extend(self.list.spill());
        if self.pass_from.is_some() {
            self.pass_from = out.items.iter().rev().find_map(Item::after).or(self.pass_from);
        }
        out.items
    }
}

/// What is said of a group: its items when they come once, one run of rows, or a repeat.
fn said(group: Group, name: Option<&String>) -> Vec<Item> {
    let Group { mut passes, times, after } = group;
    if times == 1 {
        return passes.into_iter().flat_map(|pass| pass.items).collect();
    }
    if let [pass] = passes.as_mut_slice()
        && let [Item::Rows(run)] = pass.items.as_slice()
        && run.texts.len() == 1
        && run.texts[0].is_plain()
        && run.reminders.is_empty()
    {
        return vec![Item::Rows(Rows { count: run.count * times, after, ..run.clone() })];
    }
    let (Some(before), Some(first_after)) =
        (passes.first().map(|pass| pass.before), passes.last().map(|pass| pass.after))
    else {
        return Vec::new();
    };
    let items = passes.into_iter().flat_map(|pass| pass.items).collect();
    vec![Item::Loop(Loop {
        name: name.cloned(),
        items,
        times,
        before,
        first_after,
        after,
        reminders: Reminders::default(),
    })]
}

fn again(counted: Counted) -> Item {
    let Counted { times, from, to, after, .. } = counted;
    Item::Again(Again { from, to, times, before: to, after, reminders: Reminders::default() })
}

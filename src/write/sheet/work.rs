//! The work of a piece as the sheet says it, put together from the record of what was knitted.

use super::change;
use super::fold::{Counted, Frame, List};
use super::item::{Item, Kind, Mark};
use super::remind::Reminder;
use super::row::RowText;
use super::spoken;
use super::transfer;
use crate::beds::{Both, Machine, Operation, Outcome};
use crate::knitted::{Block, Deed, Done, Entry, Heading, Passes, Repeated, Stood};
use crate::plan::program::{Promise, Speech, YarnInfo};

/// Puts the items of a sheet together, part by part of the record.
pub(super) struct Work<'a> {
    machine: &'a Machine,
    yarns: &'a [YarnInfo],
    root: List,
    frames: Vec<Frame>,
    /// For each section and silenced block that is open, the reminders in force before it.
    scopes: Vec<usize>,
    /// Counts to be told before the next row.
    counts: Option<(Both<u64>, Mark)>,
    /// How the beds stand.
    stood: Stood,
    /// Where the work stands outside every repeat.
    outer: Mark,
    /// Whether what a transfer needs has been said.
    transfer_told: bool,
}

impl<'a> Work<'a> {
    pub(super) fn new(machine: &'a Machine, yarns: &'a [YarnInfo]) -> Self {
        Self {
            machine,
            yarns,
            root: List::default(),
            frames: Vec::new(),
            scopes: Vec::new(),
            counts: None,
            stood: Stood::default(),
            outer: Mark::of(&Stood::default()),
            transfer_told: false,
        }
    }

    /// The last items, when the record has ended.
    pub(super) fn finish(mut self) -> Vec<Item> {
        self.tell_counts();
        self.spill()
    }

    /// Takes out everything put down so far, from the innermost repeat outwards so that every reminder finds its rows.
    pub(super) fn spill(&mut self) -> Vec<Item> {
        for depth in (0..self.frames.len()).rev() {
            let items = self.frames[depth].spill();
            match depth.checked_sub(1).and_then(|outer| self.frames.get_mut(outer)) {
                Some(outer) => outer.list.extend(items),
                None => self.root.extend(items),
            }
        }
        self.root.spill()
    }

    /// Adds a part of the record.
    pub(super) fn add(&mut self, entries: &[Entry]) {
        for entry in entries {
            match entry {
                Entry::Did(deed, after) => self.did(deed, after),
                Entry::Said(speech) => self.said(speech),
                Entry::Promised(promise, _) => self.promised(promise),
                Entry::Block(block) => self.block(block),
                Entry::Repeated(repeated) => self.repeated(repeated),
                // A sheet says every repeat where it comes.
                Entry::AsBefore(..) => {}
            }
        }
    }

    fn mark(&self) -> Mark {
        Mark::of(&self.stood)
    }

    fn list(&mut self) -> &mut List {
        self.frames.last_mut().map_or(&mut self.root, |frame| &mut frame.list)
    }

    fn push(&mut self, item: Item) {
        self.list().items.push(item);
    }

    fn tell_counts(&mut self) {
        if let Some((counts, mark)) = self.counts.take() {
            self.push(Item::Counts(counts, mark));
        }
    }

    fn row(&mut self, text: RowText, after: Mark) {
        self.tell_counts();
        let before = self.mark();
        let turns_from = self.frames.last().map_or(4, Frame::turns_from);
        self.list().row(text, before, after, turns_from);
    }

    fn did(&mut self, deed: &Deed, stood: &Stood) {
        let after = Mark::of(stood);
        match (&deed.operation, &deed.outcome) {
            (Operation::Row(row), Outcome::Row(done)) => self.row(RowText::of_row(row, done, stood), after),
            (Operation::CastOn(how, _), Outcome::Handled(handled)) if handled.by_carriage => {
                self.row(RowText::of_cast_on(*how, handled), after);
                self.counts = Some((stood.stitches(), after));
            }
            (_, Outcome::FreePass) => {
                self.tell_counts();
                let before = self.mark();
                self.push(Item::FreePass { before, after });
            }
            _ => {
                let (machine, yarns) = (self.machine, self.yarns);
                let before = std::mem::replace(&mut self.stood, stood.clone());
                let done = Done { machine, yarns, deed, before: &before, after: stood };
                self.first_transfer(done);
                let (lines, counted) = change::told(done);
                for line in lines {
                    self.push(Item::Say(Kind::Change, line, after));
                }
                if counted {
                    self.counts = Some((stood.stitches(), after));
                }
            }
        }
        self.stood = stood.clone();
        if self.frames.is_empty() {
            self.outer = after;
        }
    }

    /// Says what a transfer needs, before the first of the sheet. It stands outside every repeat, whose passes would not
    /// be alike if one of them said more.
    fn first_transfer(&mut self, done: Done<'_>) {
        if self.transfer_told {
            return;
        }
        let Some(lines) = transfer::first(done) else { return };
        self.transfer_told = true;
        let mark = if self.frames.is_empty() { Mark::of(done.after) } else { self.outer };
        if self.frames.is_empty() {
            self.tell_counts();
        }
        self.root.items.extend(lines.into_iter().map(|line| Item::Say(Kind::Change, line, mark)));
    }

    fn said(&mut self, speech: &Speech) {
        self.tell_counts();
        let mark = self.mark();
        if let Speech::Remind { every, text } = speech {
            let reminder = Reminder { text: text.clone(), every: (*every).max(1), said_at: mark.row };
            self.list().reminders.push(reminder);
        }
        self.push(Item::Say(Kind::Note, spoken::speech_in_words(speech), mark));
    }

    fn promised(&mut self, promise: &Promise) {
        self.tell_counts();
        let (promise, mark) = (spoken::promise_in_words(promise), self.mark());
        match self.list().items.last_mut() {
            Some(Item::Say(Kind::Check, text, _)) => {
                text.pop();
                text.push_str(&format!(", {promise}."));
            }
            _ => self.push(Item::Say(Kind::Check, format!("Check: {promise}."), mark)),
        }
    }

    fn block(&mut self, block: &Block) {
        if block.begins {
            self.tell_counts();
            if let Heading::Section(title) = &block.heading {
                self.push(Item::Section(title.to_string()));
            }
            let kept = self.list().reminders.len();
            self.scopes.push(kept);
        }
        self.add(&block.entries);
        if block.ends {
            if let Heading::Section(title) = &block.heading {
                // The line for the end of the section tells the counts.
                self.counts = None;
                let (counts, mark) = (self.stood.stitches(), self.mark());
                self.push(Item::SectionEnd(title.to_string(), counts, mark));
            }
            self.tell_counts();
            let kept = self.scopes.pop().unwrap_or(0);
            self.list().end_reminders(kept);
        }
    }

    fn repeated(&mut self, repeated: &Repeated) {
        if repeated.begins {
            self.tell_counts();
            self.frames.push(Frame::new(repeated.stitch.as_deref().map(str::to_owned), repeated.single_row));
        }
        for passes in &repeated.passes {
            match passes {
                Passes::Played(pass) => {
                    if pass.begins && !repeated.single_row {
                        self.tell_counts();
                        let mark = Mark::of(&pass.before);
                        if let Some(frame) = self.frames.last_mut() {
                            frame.pass_ends(mark);
                            frame.pass_begins(mark);
                        }
                    }
                    self.add(&pass.entries);
                }
                Passes::Counted { period, times, from, to, after } => {
                    self.tell_counts();
                    self.stood = after.clone();
                    let (from, to, after) = (Mark::of(from), Mark::of(to), Mark::of(after));
                    if let Some(frame) = self.frames.last_mut() {
                        frame.counted(Counted { period: *period, times: *times, from, to, after });
                    }
                }
            }
        }
        if repeated.ends {
            self.tell_counts();
            let after = self.mark();
            if let Some(frame) = self.frames.pop() {
                let items = frame.close(after);
                self.list().extend(items);
            }
            if self.frames.is_empty() {
                self.outer = after;
            }
        }
    }
}

//! Lays the items out on paper.

use super::item::{Again, Due, Item, Kind, Loop, Mark, Reminders, Rows};
use super::paper::Paper;
use super::row::RowText;
use crate::beds::{Bed, Both};
use crate::words;
use std::io;

/// How far in the lines under a heading stand.
const UNDER: usize = 4;
/// How far in the rows of a repeat stand, and how often that is done at most.
const NESTED: usize = 2;
const DEEPEST: usize = 8;
/// Rows of a reminder that are named one by one.
const MOST_NAMED: u64 = 4;

/// Writes the items.
///
/// # Errors
/// Those of the paper.
pub(super) fn write(paper: &mut Paper<'_>, items: &[Item]) -> io::Result<()> {
    Layout { paper, open: false, block: false, each_time: false }.items(items, 0, None)
}

struct Layout<'p, 'w> {
    paper: &'p mut Paper<'w>,
    /// Whether lines may be added under what was written last.
    open: bool,
    /// Whether that is a block of changes.
    block: bool,
    /// Whether a repeat has begun whose first row is still to come: what is done before that is done each time.
    each_time: bool,
}

impl Layout<'_, '_> {
    /// Writes items; `next` is what comes after the last of them.
    fn items(&mut self, items: &[Item], indent: usize, next: Option<&Item>) -> io::Result<()> {
        for (place, item) in items.iter().enumerate() {
            let next = items.get(place + 1).or(next);
            let stop = next.is_some_and(Item::wants_a_stop);
            match item {
                Item::Rows(rows) => self.rows(rows, indent, stop)?,
                Item::Say(Kind::Change, text, mark) => self.change(text, *mark, indent)?,
                Item::FreePass { before, after } => {
                    let text = format!(
                        "Free pass: take the carriage across without yarn, from {} to {}; no needle knits. The row \
                         counter must still show {}.",
                        before.carriage, after.carriage, after.counter
                    );
                    self.change(&text, *before, indent)?;
                }
                Item::Say(_, text, _) => self.add(text, indent)?,
                Item::Counts(counts, mark) => {
                    self.add(&now(counts, *mark), indent)?;
                }
                Item::Section(title) => {
                    self.heading(&format!("== {title} =="), indent)?;
                    self.open = false;
                }
                Item::SectionEnd(title, counts, mark) => {
                    self.heading(&format!("End of {title}. {}", now(counts, *mark)), indent)?;
                    self.open = false;
                }
                Item::Loop(repeat) => self.repeat(repeat, indent, stop)?,
                Item::Again(again) => self.again(again, indent, stop)?,
            }
        }
        Ok(())
    }

    fn heading(&mut self, text: &str, indent: usize) -> io::Result<()> {
        self.paper.gap();
        self.open = true;
        self.block = false;
        self.paper.say(indent, text)
    }

    fn under(&mut self, text: &str, indent: usize) -> io::Result<()> {
        self.paper.say(indent + UNDER, text)
    }

    /// A line under what is there, or by itself.
    fn add(&mut self, text: &str, indent: usize) -> io::Result<()> {
        if self.open {
            return self.under(text, indent);
        }
        self.paper.gap();
        self.paper.say(indent, text)
    }

    fn change(&mut self, text: &str, mark: Mark, indent: usize) -> io::Result<()> {
        if !self.block {
            let heading = match mark.row {
                row if self.each_time => format!("Before row {}, each time.", row + 1),
                0 => "Before row 1.".to_owned(),
                row => format!("After row {row}."),
            };
            self.heading(&heading, indent)?;
            self.block = true;
        }
        self.under(text, indent)
    }

    fn rows(&mut self, rows: &Rows, indent: usize, stop: bool) -> io::Result<()> {
        let (first, last) = (rows.before.row + 1, rows.after.row);
        let (before, after) = (rows.before.carriage, rows.after);
        let heading = if rows.count == 1 {
            let title = rows.texts[0].title.map_or_else(String::new, |title| format!(", {title}"));
            format!("Row {last}{title}. Carriage {before} to {}, counter {}.", after.carriage, after.counter)
        } else {
            let count = if rows.count > 2 { format!(", {} rows", words::total(rows.count)) } else { String::new() };
            let ends = format!("Carriage ends on the {}, counter {}.", after.carriage, after.counter);
            format!("{}{count}. {ends}", words::capital(&words::rows(first, last)))
        };
        self.each_time = false;
        self.heading(&heading, indent)?;
        let span = if rows.count == 1 { "this row" } else { "these rows" };
        match rows.texts.as_slice() {
            [one, two] => self.in_turn(one, two, span, indent)?,
            texts => {
                for text in texts {
                    self.work(text, span, indent)?;
                }
            }
        }
        self.reminders(&rows.reminders, rows.before.row, indent)?;
        if stop && rows.count > 1 {
            self.under(&format!("Stop after row {last}."), indent)?;
        }
        Ok(())
    }

    fn work(&mut self, text: &RowText, span: &str, indent: usize) -> io::Result<()> {
        if let Some(size) = &text.size {
            self.under(&format!("For {span} only, {}.", size.set), indent)?;
        }
        self.under(&text.work, indent)?;
        for also in &text.also {
            self.under(also, indent)?;
        }
        if let Some(size) = &text.size {
            self.under(&format!("Then {}.", size.back), indent)?;
        }
        Ok(())
    }

    fn in_turn(&mut self, one: &RowText, two: &RowText, span: &str, indent: usize) -> io::Result<()> {
        let plain = one.size.is_none() && two.size.is_none() && one.also.is_empty() && two.also.is_empty();
        match (one.lone, two.lone) {
            (Some(Bed::Front), Some(Bed::Back)) if plain => {
                return self.under("Front only and back only in turn, front first. The other bed slips.", indent);
            }
            (Some(Bed::Back), Some(Bed::Front)) if plain => {
                return self.under("Back only and front only in turn, back first. The other bed slips.", indent);
            }
            _ => {}
        }
        self.under("Two kinds of row in turn.", indent)?;
        if one.size == two.size {
            let bare = |text: &RowText| RowText { size: None, ..text.clone() };
            if let Some(size) = &one.size {
                self.under(&format!("For {span} only, {}.", size.set), indent)?;
            }
            self.turn("First, and every second row from there:", &bare(one), indent)?;
            self.turn("Then, and every second row from there:", &bare(two), indent)?;
            if let Some(size) = &one.size {
                self.under(&format!("Then {}.", size.back), indent)?;
            }
            return Ok(());
        }
        self.turn("First, and every second row from there:", one, indent)?;
        self.turn("Then, and every second row from there:", two, indent)
    }

    fn turn(&mut self, which: &str, text: &RowText, indent: usize) -> io::Result<()> {
        self.under(which, indent)?;
        self.work(text, "each such row", indent + NESTED)
    }

    fn repeat(&mut self, repeat: &Loop, indent: usize, stop: bool) -> io::Result<()> {
        let rows = repeat.first_after.row - repeat.before.row;
        let name = repeat.name.as_ref().map_or_else(String::new, |name| format!("{name}, "));
        let times = words::times(repeat.times);
        let (first, last) = (repeat.before.row + 1, repeat.first_after.row);
        let which = if rows == 0 { String::new() } else { format!(" The first time is {}.", words::rows(first, last)) };
        self.heading(&format!("Repeat begins: {name}{times} in all.{which}"), indent)?;
        self.open = false;
        self.each_time = rows > 0;
        self.items(&repeat.items, (indent + NESTED).min(DEEPEST), repeat.items.first())?;
        self.each_time = false;
        if rows == 0 {
            self.heading(&format!("Repeat ends: do this {times} in all."), indent)?;
            self.open = false;
            return Ok(());
        }
        let these = if rows == 1 { "this row".to_owned() } else { format!("these {} rows", words::total(rows)) };
        // Followed to the letter: who goes back to the row does not do again what is done before it.
        let (back, these) = if repeat.begins_with_a_change() {
            (format!("what is done before row {first}"), format!("that and {these}"))
        } else {
            (format!("row {first}"), these)
        };
        self.heading(
            &format!(
                "Repeat ends. Go back to {back}. Work {these} {times} in all, up to row {}. Carriage ends on the {}, \
                 counter {}.",
                repeat.after.row, repeat.after.carriage, repeat.after.counter
            ),
            indent,
        )?;
        if repeat.before.carriage != repeat.first_after.carriage {
            let rows = words::total_of(rows, "row", "rows");
            let text = format!("The repeat has {rows}, so every second time the carriage starts from the other side.");
            self.under(&text, indent)?;
        }
        self.after_repeat(&repeat.reminders, repeat.before.row, repeat.after.row, indent, stop)
    }

    fn again(&mut self, again: &Again, indent: usize, stop: bool) -> io::Result<()> {
        let from = words::rows(again.from.row + 1, again.to.row);
        let text = format!(
            "Work {from} again, {} more: {}. Carriage ends on the {}, counter {}.",
            words::times(again.times),
            words::rows(again.before.row + 1, again.after.row),
            again.after.carriage,
            again.after.counter
        );
        self.heading(&text, indent)?;
        self.after_repeat(&again.reminders, again.before.row, again.after.row, indent, stop)
    }

    fn after_repeat(&mut self, told: &Reminders, before: u64, last: u64, indent: usize, stop: bool) -> io::Result<()> {
        self.reminders(told, before, indent)?;
        if stop {
            self.under(&format!("Stop after row {last}."), indent)?;
        }
        Ok(())
    }

    fn reminders(&mut self, reminders: &Reminders, before: u64, indent: usize) -> io::Result<()> {
        for due in &reminders.due {
            self.under(&format!("Remember after {}: {}", due_rows(due, before), due.text), indent)?;
        }
        for text in &reminders.ahead {
            self.under(&format!("Remember after the next row: {text}"), indent)?;
        }
        Ok(())
    }
}

/// How many stitches there are, where the carriage stands and what the counter shows.
fn now(counts: &Both<u64>, mark: Mark) -> String {
    format!("Now {}; carriage on the {}; counter {}.", words::stitches(counts), mark.carriage, mark.counter)
}

/// `row 30`, `rows 30, 60 and 90`, `rows 30, 60, 90 and every 30 rows up to row 510`.
fn due_rows(due: &Due, before: u64) -> String {
    let row = |time: u64| before + due.first + time * due.every;
    if due.times == 1 {
        return format!("row {}", row(0));
    }
    let named: Vec<String> = (0..due.times.min(MOST_NAMED)).map(|time| row(time).to_string()).collect();
    if due.times <= MOST_NAMED {
        return format!("rows {}", words::list(&named));
    }
    format!("rows {} and {} up to row {}", named[..3].join(", "), words::every(due.every), row(due.times - 1))
}

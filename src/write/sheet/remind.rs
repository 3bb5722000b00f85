//! Reminders: which rows of an item they fall in.

use super::item::{Due, Item};

/// A reminder that is in force.
#[derive(Debug, Clone)]
pub(super) struct Reminder {
    /// Its words.
    pub(super) text: String,
    /// Rows from one time to the next, at least 1.
    pub(super) every: u64,
    /// The rows done when it was said.
    pub(super) said_at: u64,
}

impl Reminder {
    /// Whether it is due after that row.
    const fn is_due(&self, row: u64) -> bool {
        row > self.said_at && (row - self.said_at).is_multiple_of(self.every)
    }

    /// When it is due in the rows after `before`, up to `after`.
    fn due(&self, before: u64, after: u64) -> Option<Due> {
        let done = before.saturating_sub(self.said_at);
        let first = self.said_at + (done / self.every + 1) * self.every;
        if first > after {
            return None;
        }
        Some(Due {
            text: self.text.clone(),
            first: first - before,
            every: self.every,
            times: (after - first) / self.every + 1,
        })
    }
}

/// Writes reminders to the items in whose rows they fall due; each is also told in the item before such a row. Rows done
/// before a reminder was said are left alone.
pub(super) fn attach(reminders: &[Reminder], items: &mut [Item]) {
    if reminders.is_empty() {
        return;
    }
    let mut row_follows = false;
    for item in items.iter_mut().rev() {
        let Some((before, after)) = item.row_range() else { continue };
        let Some(told) = item.reminders_mut() else { continue };
        told.due.extend(reminders.iter().filter_map(|reminder| reminder.due(before, after)));
        if row_follows {
            let due_next = reminders.iter().filter(|reminder| reminder.is_due(after + 1));
            told.ahead.extend(due_next.map(|reminder| reminder.text.clone()));
        }
        row_follows = true;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reminder_counts_from_where_it_was_said() {
        let reminder = Reminder { text: "move the weights up".to_owned(), every: 30, said_at: 4 };
        assert_eq!(reminder.due(4, 33), None);
        let due = |before, after| reminder.due(before, after).map(|due| (before + due.first, due.times));
        assert_eq!(due(4, 34), Some((34, 1)));
        assert_eq!(due(20, 100), Some((34, 3)));
        assert_eq!(due(34, 100), Some((64, 2)));
        assert!(reminder.is_due(64) && !reminder.is_due(4) && !reminder.is_due(63));
    }
}

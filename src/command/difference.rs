//! What was changed in a text, or would be, in the form in which changes of texts are usually shown.

use std::time::Duration;
use wale::clean;

/// How many lines around a change are shown.
const AROUND: usize = 2;
/// A text that was changed from end to end is compared no longer than this; the changes are then shown less finely.
const LONGEST: Duration = Duration::from_secs(1);

/// The changes from `before` to `after`, line by line; empty if there are none but at the ends of lines. `done` is
/// what the second text is called behind the name: `mended`, `tidied`.
pub(crate) fn lines(name: &str, before: &str, after: &str, done: &str) -> String {
    // The ends of lines are not shown, and a sign for them behind every line would only be in the way.
    let (before, after) = (plain_ends(before), plain_ends(after));
    if before == after {
        return String::new();
    }
    let name = clean::line(name);
    let difference = similar::TextDiff::configure().timeout(LONGEST).diff_lines(before.as_str(), after.as_str());
    let text = difference.unified_diff().context_radius(AROUND).header(&name, &format!("{name}, {done}")).to_string();
    clean::block(&text).into_owned()
}

/// The number, from 1, of the first line that differs; none if none does. How lines end makes no difference as long as
/// they differ in something else too.
pub(crate) fn first_line(before: &str, after: &str) -> Option<usize> {
    let first = |before: &str, after: &str| {
        let (mut one, mut other) = (before.split_inclusive('\n'), after.split_inclusive('\n'));
        let mut number = 1;
        loop {
            match (one.next(), other.next()) {
                (None, None) => return None,
                (one, other) if one != other => return Some(number),
                _ => number += 1,
            }
        }
    };
    first(&plain_ends(before), &plain_ends(after)).or_else(|| first(before, after))
}

/// The text with a line feed at the end of each line.
fn plain_ends(text: &str) -> String {
    text.replace("\r\n", "\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_line_that_differs_is_counted_from_1() {
        assert_eq!(first_line("a\nb\n", "a\nb\n"), None);
        assert_eq!(first_line("a\nb\n", "a\nc\n"), Some(2));
        assert_eq!(first_line("a\n", "a\nb\n"), Some(2));
        assert_eq!(first_line("a\nb", "a\nb\n"), Some(2));
        assert_eq!(first_line("a\r\nb\n", "a\nb\n"), Some(1));
        assert_eq!(first_line("a\r\nb\n", "a\nc\n"), Some(2));
    }

    #[test]
    fn ends_of_lines_are_not_shown() {
        assert_eq!(lines("scarf.wale", "a\r\nb\n", "a\nb\n", "mended"), "");
        let shown = "--- scarf.wale\n+++ scarf.wale, mended\n@@ -1,2 +1,2 @@\n a\n-b\n+c\n";
        assert_eq!(lines("scarf.wale", "a\r\nb\r\n", "a\nc\n", "mended"), shown);
    }
}

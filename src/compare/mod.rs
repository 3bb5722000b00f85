//! What changed between two patterns, on meaning and not on text: which rows of which piece are worked otherwise, and what
//! is only written otherwise.
//!
//! Each piece is played in each size, and everything that is done is made into one number, however many rows there are
//! (`sequence`). Two pieces with the same number are the same knitting. Where the numbers differ, the two lists of work
//! are laid side by side as they are written, repeats as repeats (`align`), so that one changed line is one change. It is
//! said in the words of the row sheet.

mod align;
mod declared;
pub mod form;
mod key;
pub mod listing;
mod names;
mod piece;
mod played;
mod room;
mod rows;
mod sequence;
mod side;
mod sizes;
mod spoken;
pub mod text;
mod work;

use crate::Checked;
use crate::catalogue::Severity;
use crate::plan::program::{Piece, Program};
use crate::plan::rules::TOO_LARGE;
use crate::play::Budget;
use declared::Declared;
use form::{About, Change, Comparison, How, Pattern, Total, Verdict};

use room::Room;
use side::{Placed, Side, bare, written};
use std::cell::Cell;
use std::collections::HashMap;
use work::Work;

/// Says what changed from one pattern to another: in the size and the piece of those names, or in all of them.
///
/// A pattern with errors is compared as far as it is understood; lines that are not are compared as they are written.
#[must_use]
pub fn compare(old: &Checked, new: &Checked, size: Option<&str>, piece: Option<&str>) -> Comparison {
    let (old_declared, new_declared) = (Declared::of(old), Declared::of(new));
    let yarns = declared::same_yarns(&old_declared, &new_declared);
    let budgets = (Budget::default(), Budget::default());
    let sides = Patterns { old, new, yarns: &yarns, piece, room: Room::default(), budgets };
    let mut knitting = Vec::new();
    let mut words = Vec::new();
    let pairs = sides.sizes(size, &mut knitting, &mut words);
    let same_machine = |one: &str, other: &str| sides.same_machine(one, other);
    let declared = declared::changes(&declared::Sides {
        old: &old_declared,
        new: &new_declared,
        yarns: &yarns,
        same_machine: &same_machine,
        unpaired: declared::unpaired(&old_declared, &new_declared),
    });
    knitting.splice(0..0, declared.knitting.into_iter().map(|placed| placed.change));
    words.splice(0..0, declared.words.into_iter().map(|placed| placed.change));
    let (mut totals, mut left_out) = (Vec::new(), Vec::new());
    let (mut worked, mut said) = (Vec::new(), Vec::new());
    for (before, after) in pairs {
        let found = sides.pieces(before, after);
        let name = after.size.clone();
        totals.extend(found.totals);
        for said in found.left_out {
            if !left_out.contains(&said) {
                left_out.push(said);
            }
        }
        worked.push((name.clone(), found.knitting));
        said.push((name, found.words));
    }
    knitting.extend(sizes::merged(worked));
    words.extend(sizes::merged(said));
    if knitting.is_empty() && (is_too_large(old) || is_too_large(new)) && main_text(old) != main_text(new) {
        let what = "it is too large to be worked out, so nobody can tell whether the same is knitted";
        knitting.push(bare(About::Piece, How::Changed, what));
    }
    let verdict = if knitting.is_empty() { Verdict::Same } else { Verdict::Other };
    let (old, new) = (pattern(old), pattern(new));
    Comparison { comparison_version: Comparison::VERSION, verdict, old, new, knitting, words, totals, left_out }
}

/// Whether some piece of a pattern is left out because there was no room for it.
fn is_too_large(checked: &Checked) -> bool {
    let left_out = || checked.programs.iter().any(|program| program.pieces.is_empty());
    checked.findings.iter().any(|finding| *finding.rule == TOO_LARGE) && left_out()
}

fn main_text(checked: &Checked) -> &str {
    checked.sources.iter().next().map_or("", |file| file.text())
}

fn pattern(checked: &Checked) -> Pattern {
    let errors = checked.findings.iter().filter(|finding| finding.rule.severity == Severity::Error).count();
    let file = checked.sources.iter().next().map_or_else(String::new, |file| file.name().to_owned());
    Pattern { file, errors, warnings: checked.findings.len() - errors }
}

/// The two patterns.
struct Patterns<'c> {
    old: &'c Checked,
    new: &'c Checked,
    /// Names of the new pattern's yarns as the old one has them.
    yarns: &'c HashMap<String, String>,
    piece: Option<&'c str>,
    room: Room,
    /// What may be played of the old pattern, and of the new one.
    budgets: (Budget, Budget),
}

/// What changed in the pieces of one size.
#[derive(Default)]
struct Found {
    knitting: Vec<Placed>,
    words: Vec<Placed>,
    totals: Vec<Total>,
    /// Sentences on what was not looked at.
    left_out: Vec<String>,
}

impl<'c> Patterns<'c> {
    /// The programs to be laid side by side. What there is to say of the sizes themselves is added.
    fn sizes(
        &self,
        wanted: Option<&str>,
        knitting: &mut Vec<Change>,
        words: &mut Vec<Change>,
    ) -> Vec<(&'c Program, &'c Program)> {
        let is_wanted = |program: &&Program| wanted.is_none_or(|size| program.size.as_deref() == Some(size));
        let olds: Vec<&Program> = self.old.programs.iter().filter(is_wanted).collect();
        let news: Vec<&Program> = self.new.programs.iter().filter(is_wanted).collect();
        let called = |program: &Program| program.size.clone().unwrap_or_default();
        let mut pairs = Vec::new();
        let mut gone: Vec<&Program> =
            olds.iter().copied().filter(|old| !news.iter().any(|new| new.size == old.size)).collect();
        let mut added: Vec<&Program> = Vec::new();
        for new in news {
            match olds.iter().copied().find(|old| old.size == new.size) {
                Some(old) => pairs.push((old, new)),
                None => added.push(new),
            }
        }
        if let ([old], [new]) = (gone.as_slice(), added.as_slice()) {
            let what = match (&old.size, &new.size) {
                (Some(old), Some(new)) => format!("the size `{old}` is called `{new}` now"),
                (None, Some(new)) => format!("the pattern has one size now, `{new}`"),
                (Some(old), None) => format!("the pattern has no sizes now; it had one, `{old}`"),
                (None, None) => String::new(),
            };
            words.push(bare(About::Size, How::Renamed, what));
            pairs.push((*old, *new));
            (gone, added) = (Vec::new(), Vec::new());
        } else if gone.iter().any(|old| old.size.is_none()) || added.iter().any(|new| new.size.is_none()) {
            // Sizes where there were none, or the other way round: the first one is what can be laid beside it.
            if let (Some(old), Some(new)) = (gone.first().copied(), added.first().copied()) {
                pairs.push((old, new));
                gone.remove(0);
                added.remove(0);
            }
        }
        for old in gone {
            knitting.push(bare(About::Size, How::Removed, format!("the size `{}` is gone", called(old))));
        }
        for new in added {
            knitting.push(bare(About::Size, How::Added, format!("the size `{}` is new", called(new))));
        }
        pairs
    }

    fn pieces(&self, old: &'c Program, new: &'c Program) -> Found {
        let mut found = Found::default();
        let is_wanted = |piece: &&Piece| self.piece.is_none_or(|title| piece.title == title);
        let sides = |checked: &'c Checked, program: &'c Program, is_new: bool| -> Vec<Side<'_>> {
            // All pieces are kept at once, so that they share the room.
            let room = Cell::new(work::MOST_INLINED);
            let side = |piece: &'c Piece| self.side(checked, program, piece, is_new, &room);
            program.pieces.iter().filter(is_wanted).map(side).collect()
        };
        let (mut olds, news) = (sides(self.old, old, false), sides(self.new, new, true));
        let mut pairs: Vec<(Option<Side<'_>>, Side<'_>)> = Vec::new();
        for side in news {
            let at = olds.iter().position(|old| old.piece.title == side.piece.title);
            pairs.push((at.map(|at| olds.remove(at)), side));
        }
        // A piece that is worked in the same way under another title; or, where one is left on each side, that one.
        let left = pairs.iter().filter(|(old, _)| old.is_none()).count();
        for (before, after) in pairs.iter_mut().filter(|(old, _)| old.is_none()) {
            let same = |old: &Side<'_>| old.played.all.is_some() && old.played.all == after.played.all;
            let at = olds.iter().position(same).or((left == 1 && olds.len() == 1).then_some(0));
            *before = at.map(|at| olds.remove(at));
        }
        for (before, after) in &pairs {
            match before {
                Some(before) => self.piece_pair(before, after, new.size.as_deref(), &mut found),
                None => {
                    let title = &after.piece.title;
                    let what = format!("the piece \"{title}\" is new, {}", rows_words(after));
                    found.knitting.push(self.of_piece(How::Added, what, None, Some(after)));
                }
            }
        }
        for before in &olds {
            let what = format!("the piece \"{}\" is gone, {}", before.piece.title, rows_words(before));
            found.knitting.push(self.of_piece(How::Removed, what, Some(before), None));
        }
        found
    }

    fn piece_pair(&self, before: &Side<'_>, after: &Side<'_>, size: Option<&str>, found: &mut Found) {
        let (one, other) = (before.piece, after.piece);
        if one.title != other.title {
            let what = format!("the piece \"{}\" is called \"{}\" now", one.title, other.title);
            found.words.push(self.of_piece(How::Renamed, what, Some(before), Some(after)));
        }
        if one.make != other.make {
            let what = format!("make {} instead of {}", other.make, one.make);
            found.knitting.push(self.of_piece(How::Changed, what, Some(before), Some(after)));
        }
        // A piece without a machine has none to name, which is an error.
        if one.machine.name != other.machine.name && !one.machine.name.is_empty() && !other.machine.name.is_empty() {
            let what = format!("it is made on the machine `{}` instead of `{}`", other.machine.name, one.machine.name);
            found.words.push(self.of_piece(How::Changed, what, Some(before), Some(after)));
        }
        let changes = piece::changes(before, after, size, &self.room);
        if changes.left_out {
            found.left_out.push(format!(
                "The piece \"{}\" differs in more places than are looked at one by one. What is told of it is so, and it \
                 is not all; the verdict and the totals hold for the whole piece.",
                other.title
            ));
        }
        found.knitting.extend(changes.knitting);
        found.words.extend(changes.words);
        found.totals.extend(changes.totals);
    }

    fn of_piece(&self, how: How, what: String, old: Option<&Side<'_>>, new: Option<&Side<'_>>) -> Placed {
        let mut change = bare(About::Piece, how, what);
        let at = |side: &Side<'_>| {
            let words = work::words_of(side.sources, side.piece.span);
            written(side.sources, side.piece.span, vec![format!("`{words}`")])
        };
        change.piece = new.or(old).map(|side| side.piece.title.clone());
        change.old = old.map(at);
        change.new = new.map(at);
        Placed { change, spans: (old.map(|side| side.piece.span), new.map(|side| side.piece.span)) }
    }

    fn side<'s>(
        &'s self,
        checked: &'s Checked,
        program: &'s Program,
        piece: &'s Piece,
        is_new: bool,
        room: &Cell<usize>,
    ) -> Side<'s> {
        let yarn = |number: u16| {
            let name = program.yarns.get(usize::from(number)).map_or("", |yarn| yarn.name.as_str());
            self.yarns.get(name).filter(|_| is_new).map_or(name, String::as_str)
        };
        let playable = work::playable(piece);
        let work = Work::of(&playable, &checked.sources, yarn, room);
        let budget = if is_new { &self.budgets.1 } else { &self.budgets.0 };
        let played = played::played(&playable, &work, &program.yarns, yarn, budget);
        Side { sources: &checked.sources, piece, work, played }
    }

    /// Whether two machines are the same but for their names, as the pieces have them.
    fn same_machine(&self, one: &str, other: &str) -> Option<bool> {
        let of = |checked: &'c Checked, name: &str| {
            let mut pieces = checked.programs.iter().flat_map(|program| &program.pieces);
            pieces.find(|piece| piece.machine.name == name).map(|piece| &piece.machine)
        };
        let (old, new) = (of(self.old, one)?, of(self.new, other)?);
        // The plain sizes stand with the yarns.
        let unnamed = |machine: &crate::beds::Machine| crate::beds::Machine {
            name: String::new(),
            plain_sizes: std::collections::BTreeMap::new(),
            ..machine.clone()
        };
        Some(unnamed(old) == unnamed(new))
    }
}

fn rows_words(side: &Side<'_>) -> String {
    crate::words::total_of(side.played.end.row, "row", "rows")
}

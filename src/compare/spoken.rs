//! What a pattern says beside the work: sections, notes, reminders, promises, silenced rules, lengths asked for, and what
//! rows and transfers claim.

use super::align::steps;
use super::form::{About, AtRow, Change, How};
use super::sequence::key_of;
use super::side::{Placed, Side, bare, equal_work, written};
use super::work::{Spoken, Token};
use crate::plan::program::Speech;
use crate::source::Span;
use crate::words;
use crate::write::sheet::said;
use std::collections::{HashMap, VecDeque};

/// What was said of the work and how it changed. `same` tells whether the same is worked.
pub(super) fn changes(old: &Side<'_>, new: &Side<'_>, size: Option<&str>, same: bool) -> Vec<Placed> {
    let mut found = laid_side_by_side(old, new);
    put_moves_together(&mut found);
    let mut placed: Vec<Placed> = found.iter().filter_map(|found| found.placed(old, new, size)).collect();
    if !same {
        // How many rows came of a length is said with the rows; here the wish counts.
        placed.retain(|placed| placed.change.about != About::Length || placed.change.how != How::Moved);
    }
    placed.extend(claims(old, new, size));
    placed
}

/// A thing said on one side, with its place among the tokens.
#[derive(Debug, Clone, Copy)]
struct Said<'w> {
    spoken: &'w Spoken,
    span: Span,
    after: Option<usize>,
}

/// How something was said and how it is said now.
#[derive(Debug, Clone, Copy)]
struct Pair<'w> {
    old: Option<Said<'w>>,
    new: Option<Said<'w>>,
}

fn key(side: &Side<'_>, token: &Token) -> u128 {
    match token {
        Token::Work(leaf) => side.work.leaves[*leaf].key,
        Token::Said(spoken, ..) => key_of(&format!("{spoken:?}")),
    }
}

fn said_in<'w>(tokens: &'w [Token]) -> Vec<Said<'w>> {
    let said = |token: &'w Token| match token {
        Token::Said(spoken, span, after) => Some(Said { spoken, span: *span, after: *after }),
        Token::Work(_) => None,
    };
    tokens.iter().filter_map(said).collect()
}

fn laid_side_by_side<'w>(old: &'w Side<'_>, new: &'w Side<'_>) -> Vec<Pair<'w>> {
    let keys = |side: &Side<'_>| side.work.tokens.iter().map(|token| key(side, token)).collect::<Vec<_>>();
    let steps = steps(&keys(old), &keys(new));
    let mut found = Vec::new();
    let (mut gone, mut added) = (Vec::new(), Vec::new());
    for (equal, there, here) in steps {
        if equal {
            pair(&mut gone, &mut added, &mut found);
            continue;
        }
        gone.extend(said_in(&old.work.tokens[there]));
        added.extend(said_in(&new.work.tokens[here]));
    }
    pair(&mut gone, &mut added, &mut found);
    found
}

/// Pairs what is of the same kind, in order.
fn pair<'w>(gone: &mut Vec<Said<'w>>, added: &mut Vec<Said<'w>>, found: &mut Vec<Pair<'w>>) {
    let mut waiting: HashMap<About, VecDeque<usize>> = HashMap::new();
    for (at, new) in added.iter().enumerate() {
        waiting.entry(called(new.spoken).0).or_default().push_back(at);
    }
    let mut paired = vec![false; added.len()];
    for old in gone.drain(..) {
        let other = waiting.get_mut(&called(old.spoken).0).and_then(VecDeque::pop_front);
        if let Some(at) = other {
            paired[at] = true;
        }
        found.push(Pair { old: Some(old), new: other.map(|at| added[at]) });
    }
    let left = added.drain(..).zip(paired).filter(|(_, paired)| !paired);
    found.extend(left.map(|(new, _)| Pair { old: None, new: Some(new) }));
}

/// What is gone at one place and new at another has moved.
fn put_moves_together(found: &mut Vec<Pair<'_>>) {
    let key = |said: &Said<'_>| key_of(&format!("{:?}", said.spoken));
    let mut added: HashMap<u128, VecDeque<usize>> = HashMap::new();
    for (at, change) in found.iter().enumerate() {
        if let Pair { old: None, new: Some(new) } = change {
            added.entry(key(new)).or_default().push_back(at);
        }
    }
    let mut taken = vec![false; found.len()];
    for at in 0..found.len() {
        if let Pair { old: Some(old), new: None } = found[at]
            && let Some(place) = added.get_mut(&key(&old)).and_then(VecDeque::pop_front)
        {
            taken[place] = true;
            found[at].new = found[place].new;
        }
    }
    let mut taken = taken.into_iter();
    found.retain(|_| !taken.next().unwrap_or(false));
}

impl Pair<'_> {
    fn placed(&self, old: &Side<'_>, new: &Side<'_>, size: Option<&str>) -> Option<Placed> {
        let spoken = self.new.or(self.old)?.spoken;
        let how = match (self.old, self.new) {
            (None, _) => How::Added,
            (_, None) => How::Removed,
            (Some(one), Some(other)) if one.spoken == other.spoken => How::Moved,
            _ => How::Changed,
        };
        let (about, noun) = called(spoken);
        let noun = if how == How::Changed { (noun.1).to_owned() } else { noun.0.to_owned() };
        let what = match how {
            How::Added => format!("new: {noun}"),
            How::Removed => format!("gone: {noun}"),
            How::Moved => format!("{noun} stands at another place"),
            _ => noun,
        };
        let mut change = bare(about, how, what);
        let row = |side: &Side<'_>, said: Option<Said<'_>>| {
            said.map(|said| said.after.map_or(Some(0), |leaf| side.played.met[leaf].as_ref().map(|met| met.row)))
        };
        let (old_row, new_row) = (row(old, self.old).flatten(), row(new, self.new).flatten());
        if old_row.is_some() || new_row.is_some() {
            change.rows.push(AtRow { size: size.map(str::to_owned), after: true, old: old_row, new: new_row });
        }
        Some(finish(
            change,
            old,
            new,
            self.old.map(|said| (said.span, text(said.spoken))),
            self.new.map(|said| (said.span, text(said.spoken))),
        ))
    }
}

fn finish(
    mut change: Change,
    old: &Side<'_>,
    new: &Side<'_>,
    old_text: Option<(Span, String)>,
    new_text: Option<(Span, String)>,
) -> Placed {
    let spans = (old_text.as_ref().map(|(span, _)| *span), new_text.as_ref().map(|(span, _)| *span));
    change.piece = Some(new.piece.title.clone());
    change.old = old_text.map(|(span, text)| written(old.sources, span, vec![text]));
    change.new = new_text.map(|(span, text)| written(new.sources, span, vec![text]));
    Placed { change, spans }
}

/// What it is about, and what it is called: when it is new, gone or moved, and when it is another.
fn called(spoken: &Spoken) -> (About, (&'static str, &'static str)) {
    match spoken {
        Spoken::Section(_) => (About::Section, ("a section", "another title of a section")),
        Spoken::Allow(..) => (About::Allow, ("an allow", "another allow")),
        Spoken::Speech(Speech::Words(word, _)) => (About::Said(*word), word.called()),
        Spoken::Speech(Speech::Remind { .. }) => (About::Reminder, ("a reminder", "another reminder")),
        Spoken::Expect(_) => (About::Promise, ("a promise", "another promise")),
        Spoken::Speech(Speech::Rounded(_)) => (About::Length, ("a length asked for", "another length asked for")),
    }
}

fn text(spoken: &Spoken) -> String {
    match spoken {
        Spoken::Section(title) | Spoken::Speech(Speech::Words(_, title)) => format!("\"{title}\""),
        Spoken::Allow(rule, because) => format!("`{rule}`, because \"{because}\""),
        Spoken::Speech(Speech::Remind { every, text }) => {
            format!("{}: \"{text}\"", words::capital(&words::every(*every)))
        }
        Spoken::Expect(promise) => format!("{}.", words::capital(&said::promise(promise))),
        Spoken::Speech(speech @ Speech::Rounded(_)) => said::speech(speech),
    }
}

/// What operations that are the same claim or permit otherwise.
fn claims(old: &Side<'_>, new: &Side<'_>, size: Option<&str>) -> Vec<Placed> {
    let mut placed = Vec::new();
    for (one, other) in equal_work(&old.work, &new.work) {
        let (before, after) = (&old.work.leaves[one], &new.work.leaves[other]);
        if before.claims == after.claims {
            continue;
        }
        let listed =
            |claims: &[String]| words::list(&claims.iter().map(|claim| format!("`{claim}`")).collect::<Vec<_>>());
        let (how, what) = match (before.claims.as_slice(), after.claims.as_slice()) {
            ([], now) => (How::Added, format!("{} is written now", listed(now))),
            (then, []) => (How::Removed, format!("{} is written no more", listed(then))),
            (then, now) => (How::Changed, format!("{} is written instead of {}", listed(now), listed(then))),
        };
        let mut change = bare(About::Claim, how, what);
        let row = |side: &Side<'_>, leaf: usize| side.played.met[leaf].as_ref().map(|met| met.row);
        let after_row = after.rows == 0;
        change.rows.push(AtRow {
            size: size.map(str::to_owned),
            after: after_row,
            old: row(old, one),
            new: row(new, other),
        });
        let quoted = |side: &Side<'_>, span| format!("`{}`", super::work::words_of(side.sources, span));
        placed.push(finish(
            change,
            old,
            new,
            Some((before.span, quoted(old, before.span))),
            Some((after.span, quoted(new, after.span))),
        ));
    }
    placed
}

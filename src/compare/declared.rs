//! What is declared: title, files, machines, yarns, gauges, values, stitches, charts.

use super::form::{About, Change, How};
use super::sequence::key_of;
use super::side::{Placed, bare, written};
use super::work::words_of;
use crate::Checked;
use crate::names::{Names, Sort, declared};
use crate::plan::{NamedValue, values};
use crate::source::{FileId, Sources, Span};
use crate::syntax::tree::{Kind, Statement, Tree, YarnLine};
use std::collections::{BTreeSet, HashMap, HashSet, VecDeque};
use std::mem::discriminant;

/// Lines of a block that are laid side by side. None that can be understood has as many.
const MOST_LINES: usize = 1_000;

/// The declarations of one pattern.
pub(super) struct Declared<'s> {
    sources: &'s Sources,
    trees: &'s [(FileId, Tree)],
    /// The trees in the order in which the files are met: the pattern itself first.
    in_order: Vec<&'s Tree>,
}

/// A declaration with a name and lines.
struct Entry<'d> {
    name: &'d str,
    statement: &'d Statement,
}

impl<'s> Declared<'s> {
    /// Those of the files of a pattern.
    pub(super) fn of(checked: &'s Checked) -> Self {
        let mut in_order: Vec<_> = checked.trees.iter().collect();
        in_order.sort_by_key(|(file, _)| *file);
        let in_order = in_order.into_iter().map(|(_, tree)| tree).collect();
        Self { sources: &checked.sources, trees: &checked.trees, in_order }
    }

    fn statements(&self) -> impl Iterator<Item = &'s Statement> {
        self.in_order.iter().flat_map(|tree| &tree.statements)
    }

    /// What is declared of a sort, or the files that are used where none is meant.
    fn entries(&self, sort: Option<Sort>) -> Vec<Entry<'_>> {
        let mut known = HashSet::new();
        let entry = |statement: &'s Statement| Some(Entry { name: name_of(&statement.kind, sort)?, statement });
        let entries = self.statements().filter_map(entry);
        entries.filter(|entry| known.insert(entry.name)).collect()
    }

    fn values(&self) -> Vec<NamedValue> {
        values(self.sources, self.trees, &Names::of(self.trees))
    }

    fn words(&self, span: Span) -> String {
        words_of(self.sources, span)
    }

    /// The lines of a block, what is nested in them included.
    fn lines<'d>(&self, statement: &'d Statement) -> Vec<(&'d Kind, Span, String)> {
        statement.each_inner().map(|line| (&line.kind, line.span, self.words(line.span))).collect()
    }

    /// The names that `thread` and `work` lines give, anywhere.
    fn used(&self) -> (HashSet<&str>, HashSet<&str>) {
        let (mut threaded, mut worked) = (HashSet::new(), HashSet::new());
        for statement in self.in_order.iter().flat_map(|tree| tree.each()) {
            match &statement.kind {
                Kind::Thread(name) => drop(threaded.insert(&*name.text)),
                Kind::Work { name, .. } => drop(worked.insert(&*name.text)),
                _ => {}
            }
        }
        (threaded, worked)
    }
}

/// Where the entry of a name stands in a list.
fn index<'d>(entries: &[Entry<'d>]) -> HashMap<&'d str, usize> {
    entries.iter().enumerate().map(|(at, entry)| (entry.name, at)).collect()
}

/// The name of that sort that a line gives; the file that it uses, where no sort is meant.
fn name_of(kind: &Kind, sort: Option<Sort>) -> Option<&str> {
    match kind {
        Kind::Use(path) => sort.is_none().then_some(&*path.text),
        kind => declared(kind).filter(|(is, _)| Some(*is) == sort).map(|(_, name)| &*name.text),
    }
}

/// What changed in the declarations.
pub(super) struct DeclaredChanges {
    /// What is worked otherwise by itself.
    pub(super) knitting: Vec<Placed>,
    /// All else.
    pub(super) words: Vec<Placed>,
}

/// Names of the new pattern's yarns as the old one has them. A yarn under another name is the same yarn where all that is
/// said of it is the same, also where that name was another yarn's; where nothing is said of it, its name is all there is
/// to know it by. No two of the new yarns are the same old one.
pub(super) fn same_yarns(old: &Declared<'_>, new: &Declared<'_>) -> HashMap<String, String> {
    let details = |of: &Declared<'_>, entry: &Entry<'_>| {
        let mut lines: Vec<String> = of.lines(entry.statement).into_iter().map(|(_, _, words)| words).collect();
        lines.sort();
        lines
    };
    let (olds, news) = (old.entries(Some(Sort::Yarn)), new.entries(Some(Sort::Yarn)));
    let now = index(&news);
    let mut left: HashMap<Vec<String>, VecDeque<&str>> = HashMap::new();
    let was: HashMap<&str, Vec<String>> = olds.iter().map(|entry| (entry.name, details(old, entry))).collect();
    let is: HashMap<&str, Vec<String>> = news.iter().map(|entry| (entry.name, details(new, entry))).collect();
    let moved = |name: &str| was.get(name) != is.get(name);
    for entry in olds.iter().filter(|entry| moved(entry.name)) {
        left.entry(was[entry.name].clone()).or_default().push_back(entry.name);
    }
    let mut same: HashMap<String, String> = HashMap::new();
    for entry in news.iter().filter(|entry| moved(entry.name)) {
        let lines = &is[entry.name];
        if lines.is_empty() {
            continue;
        }
        if let Some(name) = left.get_mut(lines).and_then(VecDeque::pop_front) {
            same.insert(entry.name.to_owned(), name.to_owned());
        }
    }
    // A name that both have is still that of the same yarn, only changed, where it has not become another's; then no other
    // yarn can be that one.
    loop {
        let taken = |name: &String| now.contains_key(name.as_str()) && !same.contains_key(name);
        let Some(wrong) = same.iter().find(|(_, name)| taken(name)).map(|(new, _)| new.clone()) else { return same };
        same.remove(&wrong);
    }
}

/// What to lay side by side of two patterns.
pub(super) struct Sides<'c, 's> {
    pub(super) old: &'c Declared<'s>,
    pub(super) new: &'c Declared<'s>,
    /// Names of the new pattern's yarns as the old one has them.
    pub(super) yarns: &'c HashMap<String, String>,
    /// Whether two machines of those names are the same as the plan reads them; none where it did not read them.
    pub(super) same_machine: &'c dyn Fn(&str, &str) -> Option<bool>,
    /// Names that only one of the two gives.
    pub(super) unpaired: HashSet<String>,
}

/// Names that only one of two patterns gives.
pub(super) fn unpaired(old: &Declared<'_>, new: &Declared<'_>) -> HashSet<String> {
    let names = |of: &Declared<'_>| -> HashSet<String> {
        let name = |statement: &Statement| declared(&statement.kind).map(|(_, name)| name.text.to_string());
        of.statements().filter_map(name).collect()
    };
    &names(old) ^ &names(new)
}

/// Says what changed.
pub(super) fn changes(sides: &Sides<'_, '_>) -> DeclaredChanges {
    let mut found = DeclaredChanges { knitting: Vec::new(), words: Vec::new() };
    sides.unread(&mut found);
    sides.title(&mut found);
    sides.files(&mut found);
    sides.machines(&mut found);
    sides.yarn_lines(&mut found);
    sides.gauges(&mut found);
    sides.values(&mut found);
    sides.stitches(&mut found);
    sides.charts(&mut found);
    found
}

/// A line of one side, and its words.
type Line = (Span, String);

impl<'c> Sides<'c, '_> {
    fn placed(&self, mut change: Change, old: Option<Line>, new: Option<Line>) -> Placed {
        let spans = (old.as_ref().map(|(span, _)| *span), new.as_ref().map(|(span, _)| *span));
        let quoted = |words: String| if words.is_empty() { Vec::new() } else { vec![format!("`{words}`")] };
        change.old = old.map(|(span, words)| written(self.old.sources, span, quoted(words)));
        change.new = new.map(|(span, words)| written(self.new.sources, span, quoted(words)));
        Placed { change, spans }
    }

    fn of_statement(
        &self,
        about: About,
        how: How,
        what: String,
        old: Option<&Statement>,
        new: Option<&Statement>,
    ) -> Placed {
        let line = |of: &Declared<'_>, statement: &Statement| (statement.span, of.words(statement.span));
        self.placed(
            bare(about, how, what),
            old.map(|statement| line(self.old, statement)),
            new.map(|statement| line(self.new, statement)),
        )
    }

    /// Lines outside the pieces that cannot be read: nobody knows what they would have changed.
    fn unread(&self, found: &mut DeclaredChanges) {
        let broken = |of: &'c Declared<'_>| -> Vec<Line> {
            let declares = |statement: &&Statement| !matches!(statement.kind, Kind::Piece { .. } | Kind::Stitch { .. });
            let lines = of.statements().filter(declares).flat_map(|statement| {
                let own = matches!(statement.kind, Kind::Broken).then(|| (statement.span, of.words(statement.span)));
                let inside = of.lines(statement).into_iter().filter(|(kind, ..)| matches!(kind, Kind::Broken));
                own.into_iter().chain(inside.map(|(_, span, words)| (span, words)))
            });
            lines.collect()
        };
        let (olds, news) = (broken(self.old), broken(self.new));
        let words = |lines: &[Line]| lines.iter().map(|(_, words)| words.clone()).collect::<HashSet<_>>();
        let (before, now) = (words(&olds), words(&news));
        for line in olds.iter().filter(|line| !now.contains(&line.1)) {
            let change = bare(About::UnreadLine, How::Removed, "gone: a line that is not understood");
            found.knitting.push(self.placed(change, Some(line.clone()), None));
        }
        for line in news.iter().filter(|line| !before.contains(&line.1)) {
            let change = bare(About::UnreadLine, How::Added, "new: a line that is not understood");
            found.knitting.push(self.placed(change, None, Some(line.clone())));
        }
    }

    fn title(&self, found: &mut DeclaredChanges) {
        let title = |of: &'c Declared<'_>| {
            let (_, main) = of.trees.last()?;
            main.statements.iter().find_map(|statement| match &statement.kind {
                Kind::Pattern(title) => Some((&*title.text, statement)),
                _ => None,
            })
        };
        let (old, new) = (title(self.old), title(self.new));
        if old.map(|(text, _)| text) == new.map(|(text, _)| text) {
            return;
        }
        let (how, what) = match (old, new) {
            (None, _) => (How::Added, "the pattern has a title now"),
            (_, None) => (How::Removed, "the title is gone"),
            _ => (How::Changed, "the title is another"),
        };
        let line = |statement| Some(statement);
        found.words.push(self.of_statement(
            About::Title,
            how,
            what.to_owned(),
            old.and_then(|(_, statement)| line(statement)),
            new.and_then(|(_, statement)| line(statement)),
        ));
    }

    fn files(&self, found: &mut DeclaredChanges) {
        self.by_name(About::Use, None, found, |_, _, _| Vec::new());
    }

    /// Lays the entries of one sort, or the files that are used, side by side by their names. `inside` says what changed in one that both have.
    fn by_name(
        &self,
        about: About,
        sort: Option<Sort>,
        found: &mut DeclaredChanges,
        inside: impl Fn(&Self, &Entry<'_>, &Entry<'_>) -> Vec<Placed>,
    ) {
        let (olds, news) = (self.old.entries(sort), self.new.entries(sort));
        let (before, now) = (index(&olds), index(&news));
        let noun = sort.map_or("file", Sort::word);
        // What it is made of may have other names as well.
        let body = |of: &Declared<'_>, entry: &Entry<'_>| {
            let nameless = |words: &str| {
                let part = |character: char| character.is_alphanumeric() || character == '-';
                let words = words.split(|character: char| !part(character));
                words.map(|word| if self.unpaired.contains(word) { "" } else { word }.to_owned()).collect::<Vec<_>>()
            };
            let lines = of.lines(entry.statement).into_iter().map(|(_, _, words)| nameless(&words));
            key_of(&(nameless(&of.words(entry.statement.span)), lines.collect::<Vec<_>>()))
        };
        let mut gone: HashMap<u128, VecDeque<usize>> = HashMap::new();
        let mut left: BTreeSet<usize> = BTreeSet::new();
        for (at, old) in olds.iter().enumerate().filter(|(_, old)| !now.contains_key(old.name)) {
            left.insert(at);
            if about != About::Use {
                gone.entry(body(self.old, old)).or_default().push_back(at);
            }
        }
        for new in &news {
            if let Some(&old) = before.get(new.name) {
                found.words.extend(inside(self, &olds[old], new));
                continue;
            }
            let renamed = gone.get_mut(&body(self.new, new)).and_then(VecDeque::pop_front);
            let placed = match renamed {
                Some(at) => {
                    left.remove(&at);
                    let old = &olds[at];
                    let what = format!("the {noun} `{}` is called `{}` now", old.name, new.name);
                    self.of_statement(about, How::Renamed, what, Some(old.statement), Some(new.statement))
                }
                None => {
                    let what = format!("the {noun} `{}` is new", new.name);
                    self.of_statement(about, How::Added, what, None, Some(new.statement))
                }
            };
            found.words.push(placed);
        }
        for at in left {
            let old = &olds[at];
            let what = format!("the {noun} `{}` is gone", old.name);
            found.words.push(self.of_statement(about, How::Removed, what, Some(old.statement), None));
        }
    }

    /// What changed in the lines of a block in which every line of a sort stands once.
    fn line_by_line(
        &self,
        about: About,
        of: &str,
        old: &Entry<'_>,
        new: &Entry<'_>,
        sort: impl Fn(&Kind) -> u64,
    ) -> Vec<(Placed, u64)> {
        let (mut olds, mut news) = (self.old.lines(old.statement), self.new.lines(new.statement));
        olds.truncate(MOST_LINES);
        news.truncate(MOST_LINES);
        // What both have is no change, even where it stands twice.
        news.retain(|(.., words)| match olds.iter().position(|(.., then)| then == words) {
            Some(at) => {
                olds.remove(at);
                false
            }
            None => true,
        });
        let mut placed = Vec::new();
        for (kind, span, words) in news {
            let sort_here = sort(kind);
            let before = olds.iter().position(|(other, ..)| sort(other) == sort_here).map(|at| olds.remove(at));
            let (how, what) = match before {
                Some(_) => (How::Changed, format!("another line of {of}")),
                None => (How::Added, format!("a new line of {of}")),
            };
            let before = before.map(|(_, span, then)| (span, then));
            placed.push((self.placed(bare(about, how, what), before, Some((span, words))), sort_here));
        }
        for (kind, span, words) in olds {
            let change = bare(about, How::Removed, format!("a line of {of} is gone"));
            placed.push((self.placed(change, Some((span, words)), None), sort(kind)));
        }
        placed
    }

    fn machines(&self, found: &mut DeclaredChanges) {
        self.by_name(About::Machine, Some(Sort::Machine), found, |sides, old, new| {
            if (sides.same_machine)(old.name, new.name) == Some(true) {
                return Vec::new();
            }
            let of = format!("the profile of `{}`", new.name);
            let placed = sides.line_by_line(About::Machine, &of, old, new, |kind| match kind {
                Kind::MachineLine(line) => sort_of(&discriminant(line)),
                other => sort_of(&discriminant(other)),
            });
            placed.into_iter().map(|(placed, _)| placed).collect()
        });
    }

    fn yarn_lines(&self, found: &mut DeclaredChanges) {
        let (threaded, _) = self.new.used();
        let (before, _) = self.old.used();
        let (olds, news) = (self.old.entries(Some(Sort::Yarn)), self.new.entries(Some(Sort::Yarn)));
        let index_olds = index(&olds);
        let kept: HashSet<&str> =
            news.iter().map(|new| self.yarns.get(new.name).map_or(new.name, String::as_str)).collect();
        // What it weighs, and at which size it is knitted plain, changes no row.
        let ball = |kind: &Kind| matches!(kind, Kind::YarnLine(YarnLine::Ball(_) | YarnLine::PlainRows(_)));
        let sort = |kind: &Kind| match kind {
            Kind::YarnLine(line) => sort_of(&discriminant(line)),
            other => sort_of(&discriminant(other)),
        };
        for new in &news {
            let name = self.yarns.get(new.name).map_or(new.name, String::as_str);
            let Some(old) = index_olds.get(name).map(|&at| &olds[at]) else {
                let what = format!("the yarn `{}` is new", new.name);
                found.words.push(self.of_statement(About::Yarn, How::Added, what, None, Some(new.statement)));
                continue;
            };
            if name != new.name {
                let what = format!("the yarn `{name}` is called `{}` now", new.name);
                found.words.push(self.of_statement(
                    About::Yarn,
                    How::Renamed,
                    what,
                    Some(old.statement),
                    Some(new.statement),
                ));
            }
            let balls: Vec<u64> = self
                .new
                .lines(new.statement)
                .iter()
                .chain(&self.old.lines(old.statement))
                .filter(|(kind, ..)| ball(kind))
                .map(|(kind, ..)| sort(kind))
                .collect();
            let used = threaded.contains(new.name) || before.contains(old.name);
            for (placed, line) in self.line_by_line(About::Yarn, &format!("the yarn `{}`", new.name), old, new, sort) {
                if used && !balls.contains(&line) { &mut found.knitting } else { &mut found.words }.push(placed);
            }
        }
        for old in &olds {
            if !kept.contains(old.name) {
                let what = format!("the yarn `{}` is gone", old.name);
                found.words.push(self.of_statement(About::Yarn, How::Removed, what, Some(old.statement), None));
            }
        }
    }

    fn gauges(&self, found: &mut DeclaredChanges) {
        self.by_name(About::Gauge, Some(Sort::Gauge), found, |sides, old, new| {
            let of = format!("the gauge `{}`", new.name);
            let placed = sides.line_by_line(About::Gauge, &of, old, new, |kind| sort_of(&discriminant(kind)));
            placed.into_iter().map(|(placed, _)| placed).collect()
        });
    }

    fn stitches(&self, found: &mut DeclaredChanges) {
        let (worked, before) = (self.new.used().1, self.old.used().1);
        self.by_name(About::Stitch, Some(Sort::Stitch), found, |sides, old, new| {
            let header = |of: &Declared<'_>, entry: &Entry<'_>| of.words(entry.statement.span);
            if header(sides.old, old) != header(sides.new, new) {
                let what = format!("the first line of the stitch `{}` is another", new.name);
                return vec![sides.of_statement(
                    About::Stitch,
                    How::Changed,
                    what,
                    Some(old.statement),
                    Some(new.statement),
                )];
            }
            // What is worked is looked at row by row.
            if worked.contains(new.name) || before.contains(old.name) || sides.same_lines(old, new) {
                return Vec::new();
            }
            let what = format!("the stitch `{}`, which no line works, is written otherwise", new.name);
            vec![sides.of_statement(About::Stitch, How::Changed, what, Some(old.statement), Some(new.statement))]
        });
    }

    fn charts(&self, found: &mut DeclaredChanges) {
        self.by_name(About::Chart, Some(Sort::Chart), found, |sides, old, new| {
            if sides.same_lines(old, new) {
                return Vec::new();
            }
            let what = format!("the chart `{}` is another picture", new.name);
            vec![sides.of_statement(About::Chart, How::Changed, what, Some(old.statement), Some(new.statement))]
        });
    }

    fn same_lines(&self, old: &Entry<'_>, new: &Entry<'_>) -> bool {
        let words = |of: &Declared<'_>, entry: &Entry<'_>| {
            of.lines(entry.statement).into_iter().map(|(_, _, words)| words).collect::<Vec<_>>()
        };
        words(self.old, old) == words(self.new, new)
    }

    /// Values in all sizes, which may change because a value that they are made of did.
    fn values(&self, found: &mut DeclaredChanges) {
        let (olds, news) = (self.old.values(), self.new.values());
        // One value for all sizes is one value, however many sizes there are.
        let exact = |value: &NamedValue| {
            let mut each: Vec<Option<String>> =
                value.values.iter().map(|one| one.as_ref().map(|one| one.exact.clone())).collect();
            if each.iter().all(|one| Some(one) == each.first()) {
                each.truncate(1);
            }
            each
        };
        let before: HashMap<&str, &NamedValue> = olds.iter().map(|old| (old.name.as_str(), old)).collect();
        let now: HashSet<&str> = news.iter().map(|new| new.name.as_str()).collect();
        let mut gone: HashMap<Vec<Option<String>>, VecDeque<&NamedValue>> = HashMap::new();
        for old in olds.iter().filter(|old| !now.contains(old.name.as_str())) {
            gone.entry(exact(old)).or_default().push_back(old);
        }
        for new in &news {
            let line = Some((new.span, self.new.words(new.span)));
            let (how, what, old) = match before.get(new.name.as_str()) {
                Some(old) if exact(old) == exact(new) => continue,
                Some(old) => (How::Changed, value_words(&new.name, old, new), Some(*old)),
                None => match gone.get_mut(&exact(new)).and_then(VecDeque::pop_front) {
                    Some(old) => {
                        let what = format!("the value `{}` is called `{}` now", old.name, new.name);
                        (How::Renamed, what, Some(old))
                    }
                    None => (How::Added, format!("the value `{}` is new", new.name), None),
                },
            };
            let old = old.map(|old| (old.span, self.old.words(old.span)));
            found.words.push(self.placed(bare(About::Value, how, what), old, line));
        }
        let mut left: Vec<&NamedValue> = gone.into_values().flatten().collect();
        left.sort_by_key(|old| old.span);
        for old in left {
            let change = bare(About::Value, How::Removed, format!("the value `{}` is gone", old.name));
            found.words.push(self.placed(change, Some((old.span, self.old.words(old.span))), None));
        }
    }
}

/// A number for a sort of line.
fn sort_of(sort: &impl std::hash::Hash) -> u64 {
    key_of(sort) as u64
}

/// `the value of `length` is 130 cm (170 cm) instead of 120 cm (160 cm)`.
fn value_words(name: &str, old: &NamedValue, new: &NamedValue) -> String {
    let printed = |value: &NamedValue| {
        let each: Option<Vec<String>> =
            value.values.iter().map(|one| one.as_ref().and_then(|one| one.printed.clone())).collect();
        let mut each = each?;
        // One value for all sizes is said once.
        if each.iter().all(|one| one == &each[0]) {
            each.truncate(1);
        }
        let (first, others) = each.split_first()?;
        Some(if others.is_empty() { first.clone() } else { format!("{first} ({})", others.join(", ")) })
    };
    match (printed(old), printed(new)) {
        (Some(then), Some(now)) if then != now => format!("the value of `{name}` is {now} instead of {then}"),
        _ => format!("the value of `{name}` is another"),
    }
}

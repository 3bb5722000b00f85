//! What the compiler has to say about a pattern, as plain data. How it looks is decided in `tell`.

use crate::catalogue::Rule;
use crate::source::Span;
use crate::words::list;
use std::collections::HashMap;

/// A place in the text and what is to be said of it.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// A few words; may be empty.
    pub text: String,
}

/// Where in the knitting a finding happens, as a knitter would find it.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct Place {
    /// The piece.
    pub piece: String,
    /// The row of the piece, from 1; 0 before the first row.
    pub row: u64,
    /// In which pass of the innermost repeat, from 1, and out of how many; none outside a repeat.
    pub pass: Option<(u64, u64)>,
}

/// The beds around a needle, as they stand after the line that a finding is about.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Picture {
    /// Both beds drawn in text, the needle marked and in the middle; in the first [`Self::MARGIN`] columns stands which bed
    /// it is.
    pub drawn: String,
    /// What stands under it: when that is, how the beds are set, and what the marks mean.
    pub below: String,
    /// The same in a sentence, for those who cannot see it.
    pub words: String,
}

impl Picture {
    /// Columns for the name of a bed.
    pub const MARGIN: usize = 7;

    /// All that is drawn.
    #[must_use]
    pub fn text(&self) -> String {
        format!("{}{}", self.drawn, self.below)
    }
}

/// A change of the text that mends a finding.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Fix {
    /// What is changed, in a few words that go on from "can be mended:", such as ``write `knit` ``.
    pub title: String,
    /// The changes, none over another, in the order of the text; at least one.
    pub edits: Vec<Edit>,
    /// Whether it may be made without asking: it never changes what a good reading of the pattern means. It only says
    /// what the pattern says already, or does what the finding leaves no choice about.
    pub safe: bool,
}

/// One change of a text.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Edit {
    /// What goes out; an empty span where something is only put in.
    pub span: Span,
    /// What comes in its place.
    pub text: String,
    /// Where that goes.
    pub goes: Goes,
}

/// Where the text of an edit goes. What is found without the text at hand names a line; how it is indented there is
/// worked out later, and then every edit stands in its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Goes {
    /// Into the place of the span.
    InPlace,
    /// Onto a line of its own before the one at the span.
    OnALineBefore,
    /// Behind the words of the span, if their line takes more.
    Behind,
}

impl Edit {
    /// An edit in its place.
    #[must_use]
    pub fn new(span: Span, text: impl Into<String>) -> Self {
        Self { span, text: text.into(), goes: Goes::InPlace }
    }
}

/// One way to write what may have been meant. Where there are several, the knitter chooses.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Way {
    /// What goes out.
    pub span: Span,
    /// What comes in its place: one line or several, or nothing. What only the knitter knows stands in it as a word in
    /// capitals, such as `NEEDLES`.
    pub text: String,
    /// When it is the right one, in words that go on from the line, such as `for the front bed`; may be empty where it is
    /// the only one.
    pub when: String,
    /// Where it goes.
    pub goes: Goes,
}

impl Way {
    /// A way in the place of `span`.
    #[must_use]
    pub fn new(span: Span, text: impl Into<String>, when: impl Into<String>) -> Self {
        Self { span, text: text.into(), when: when.into(), goes: Goes::InPlace }
    }

    /// The words in capitals that the knitter puts something in place of.
    pub fn blanks(&self) -> impl Iterator<Item = &str> {
        blanks(&self.text)
    }

    /// Whether it can be put in place as it is.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.blanks().next().is_none()
    }

    /// As a change of the text, which is never made without asking.
    #[must_use]
    pub fn fix(&self) -> Fix {
        let shown: Vec<&str> = self.text.lines().map(str::trim).filter(|line| !line.is_empty()).collect();
        let title = match shown.as_slice() {
            [] => "take the line out".to_owned(),
            [line] => format!("write `{line}`"),
            [first, ..] => {
                format!("write `{first}` and {} more", crate::words::count(shown.len() as u64 - 1, "line", "lines"))
            }
        };
        Fix::placed(title, self.span, self.text.clone(), self.goes)
    }
}

/// The words in capitals in a line that stand for what only the knitter knows, those that are all that stands in quotation
/// marks behind the others.
pub fn blanks(text: &str) -> impl Iterator<Item = &str> {
    let is_blank = |word: &&str| word.len() > 2 && word.bytes().all(|letter| letter.is_ascii_uppercase());
    let outside = text.split('"').step_by(2);
    let words = outside.flat_map(|part| part.split(|letter: char| !letter.is_alphanumeric()));
    words.filter(is_blank).chain(text.split('"').skip(1).step_by(2).filter(is_blank))
}

/// One thing to tell the knitter: what is wrong, why, and what to do.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Finding {
    /// The rule that is broken; it says whether that is an error or a warning.
    pub rule: &'static Rule,
    /// What is wrong, in one line, without a full stop.
    pub what: String,
    /// The place it is about.
    pub at: Label,
    /// Other places that belong to it (where a brace was opened, where a name was first given, the earlier line that
    /// it follows from).
    pub also: Vec<Label>,
    /// Why, with the numbers; whole sentences. May be empty where `what` says it all.
    pub why: String,
    /// What to do, in whole sentences.
    pub mend: String,
    /// The beds around the needle, where that helps.
    pub picture: Option<Picture>,
    /// Where in the knitting.
    pub place: Option<Place>,
    /// The sizes it holds for; empty when it holds for all.
    pub sizes: Vec<String>,
    /// A change of the text that mends it, where there is one.
    pub fix: Option<Fix>,
    /// Ways to write what may have been meant, which `mend` tells, where it is a line that is to be written otherwise.
    pub ways: Vec<Way>,
}

impl Rule {
    /// A finding of this rule at a place, with its sentence; reasons are added with the methods of [`Finding`].
    #[must_use]
    pub fn finds(&'static self, span: Span, what: impl Into<String>) -> Finding {
        Finding {
            rule: self,
            what: what.into(),
            at: Label { span, text: String::new() },
            also: Vec::new(),
            why: String::new(),
            mend: String::new(),
            picture: None,
            place: None,
            sizes: Vec::new(),
            fix: None,
            ways: Vec::new(),
        }
    }
}

impl Finding {
    /// The words under the carets.
    #[must_use]
    pub fn marked(mut self, text: impl Into<String>) -> Self {
        self.at.text = text.into();
        self
    }

    /// A second place and what is to be said of it.
    #[must_use]
    pub fn also(mut self, span: Span, text: impl Into<String>) -> Self {
        self.also.push(Label { span, text: text.into() });
        self
    }

    /// Why it is wrong, with the numbers.
    #[must_use]
    pub fn because(mut self, why: impl Into<String>) -> Self {
        self.why = why.into();
        self
    }

    /// What to do about it.
    #[must_use]
    pub fn mend(mut self, mend: impl Into<String>) -> Self {
        self.mend = mend.into();
        self
    }

    /// A change of the text that mends it.
    #[must_use]
    pub fn fix(mut self, fix: Fix) -> Self {
        self.fix = Some(fix);
        self
    }

    /// One more way to write what may have been meant.
    #[must_use]
    pub fn way(mut self, way: Way) -> Self {
        self.ways.push(way);
        self
    }

    /// Whether it has a fix that may be made without asking.
    #[must_use]
    pub fn is_safely_mended(&self) -> bool {
        self.fix.as_ref().is_some_and(|fix| fix.safe)
    }
}

impl Fix {
    /// A fix of one edit; not a safe one.
    #[must_use]
    pub fn new(title: impl Into<String>, span: Span, text: impl Into<String>) -> Self {
        Self::placed(title, span, text, Goes::InPlace)
    }

    /// The same, of an edit that goes elsewhere.
    pub(crate) fn placed(title: impl Into<String>, span: Span, text: impl Into<String>, goes: Goes) -> Self {
        Self { title: title.into(), edits: vec![Edit { goes, ..Edit::new(span, text) }], safe: false }
    }

    /// Makes the changes of another fix of the same mistake as well, but for those at a place that is changed already
    /// and those of another file.
    fn join(&mut self, other: Self) {
        let is_apart = |own: &Edit, edit: &Edit| {
            own.span.file == edit.span.file && (own.span.end < edit.span.start || edit.span.end < own.span.start)
        };
        let more: Vec<Edit> =
            other.edits.into_iter().filter(|edit| self.edits.iter().all(|own| is_apart(own, edit))).collect();
        self.edits.extend(more);
        self.edits.sort_by_key(|edit| edit.span);
        self.safe &= other.safe;
    }

    /// The same, to be made without asking if `safe`.
    #[must_use]
    pub const fn safe_if(mut self, safe: bool) -> Self {
        self.safe = safe;
        self
    }
}

/// A finding, the names of the sizes it holds for, and how many these are.
type InSizes = (Finding, Vec<String>, usize);

/// One mistake has other needles and numbers in another size. It is said with those of the first one.
fn same_places(merged: Vec<InSizes>, count: usize) -> Vec<InSizes> {
    let mut kept: Vec<InSizes> = Vec::new();
    // For each that is kept, the sizes in which it has other numbers.
    let mut alike: Vec<Vec<String>> = Vec::new();
    let mut index: HashMap<(&Rule, Span), Vec<usize>> = HashMap::new();
    for (finding, sizes, times) in merged {
        let there = index.entry((finding.rule, finding.at.span)).or_default();
        let other = |at: &&usize| {
            kept.get(**at)
                .is_some_and(|(_, of, others)| others + times <= count && !sizes.iter().any(|size| of.contains(size)))
        };
        let first = there.iter().copied().find(|at| other(&at));
        match first.and_then(|at| kept.get_mut(at).zip(alike.get_mut(at))) {
            Some(((_, of, others), alike)) => {
                alike.extend(sizes.iter().cloned());
                of.extend(sizes);
                *others += times;
            }
            None => {
                there.push(kept.len());
                kept.push((finding, sizes, times));
                alike.push(Vec::new());
            }
        }
    }
    for ((first, ..), alike) in kept.iter_mut().zip(&alike).filter(|(_, alike)| !alike.is_empty()) {
        let also = format!("In {} it is the same, with other numbers.", named_sizes(alike));
        first.why = if first.why.is_empty() { also } else { format!("{} {also}", first.why) };
    }
    kept
}

/// ``size `large` ``, ``sizes `medium` and `large` ``.
fn named_sizes(names: &[String]) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    format!("{} {}", if names.len() == 1 { "size" } else { "sizes" }, list(&quoted))
}

/// Puts the findings of all sizes together: one that every size has is said once and names no size, another names the
/// sizes it holds for. One that differs from size to size only in its numbers is said with those of the first. They keep the order in which they were first made.
#[must_use]
pub fn merge_sizes(found: Vec<(Option<String>, Vec<Finding>)>) -> Vec<Finding> {
    let count = found.len();
    let mut merged: Vec<InSizes> = Vec::new();
    let mut index: HashMap<Finding, usize> = HashMap::new();
    for (size, findings) in found {
        for finding in findings {
            // The same mistake comes at another row in a longer size, and perhaps from another line.
            let anywhere = Finding { place: None, picture: None, also: Vec::new(), fix: None, ..finding.clone() };
            let same = finding.fix.clone();
            let at = *index.entry(anywhere).or_insert_with(|| {
                merged.push((finding, Vec::new(), 0));
                merged.len() - 1
            });
            if let Some((first, sizes, times)) = merged.get_mut(at) {
                sizes.extend(size.clone());
                *times += 1;
                // What mends one size and not the other mends neither.
                if first.fix != same {
                    first.fix = None;
                }
            }
        }
    }
    let merged = same_places(merged, count);
    let named = |(finding, sizes, times): (Finding, _, usize)| {
        if times == count {
            return finding;
        }
        // The other sizes are knitted from the same lines, and there is nothing to be mended in them.
        let fix = finding.fix.map(|fix| fix.safe_if(false));
        Finding { sizes, fix, ..finding }
    };
    merged.into_iter().map(named).collect()
}

/// Gathers findings of one of these rules that say the same of several places into one, at the first of the places; the
/// next few are pointed at, and all are counted. Its fix mends as many of them as have one. The others stay as they are.
pub(crate) fn said_once(rules: &[&Rule], findings: Vec<Finding>) -> Vec<Finding> {
    let mut kept: Vec<Finding> = Vec::new();
    let mut first_of: HashMap<(&Rule, String, Vec<String>), usize> = HashMap::new();
    let mut others: Vec<Vec<Finding>> = Vec::new();
    for finding in findings {
        let key = (finding.rule, finding.what.clone(), finding.sizes.clone());
        match first_of.get(&key).filter(|_| rules.contains(&finding.rule)) {
            Some(&at) => others[at].push(finding),
            None => {
                first_of.insert(key, kept.len());
                kept.push(finding);
                others.push(Vec::new());
            }
        }
    }
    kept.into_iter().zip(others).map(|(first, others)| gathered(first, others)).collect()
}

/// One finding for all of these, which say the same.
fn gathered(first: Finding, mut all: Vec<Finding>) -> Finding {
    /// So many other places are pointed at.
    const MOST: usize = 3;
    if all.is_empty() {
        return first;
    }
    all.push(first);
    all.sort_by_key(|finding| finding.at.span);
    all.dedup_by_key(|finding| finding.at.span);
    let places = all.len();
    let mut finding = all.remove(0);
    for (at, other) in all.into_iter().enumerate() {
        if at < MOST {
            finding.also.push(Label { span: other.at.span, text: "here too".to_owned() });
        }
        match (&mut finding.fix, other.fix) {
            (Some(fix), Some(more)) => fix.join(more),
            (fix @ None, more) => *fix = more,
            (Some(_), None) => {}
        }
    }
    if places > 1 {
        let blank = if finding.why.is_empty() { "" } else { " " };
        finding.why += &format!("{blank}The same stands in {places} places.");
    }
    finding
}

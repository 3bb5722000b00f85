//! Statements and braces become blocks inside blocks, with a stack of our own: however deep a text goes, nothing here
//! calls itself.

use super::cut::cut;
use super::forms::{Home, beginning_with, form, gives_a_name};
use super::grammar::Rule;
use super::line::{Findings, Line};
use super::piece::{Piece, Token};
use super::statements::statement;
use super::tree::{Block, Kind, Statement, Tree};
use super::words::is_word_character;
use super::{DEEPEST_BLOCK, advice, bad, special};
use crate::finding::{Finding, Fix};
use crate::source::{FileId, Span};
use crate::syntax::rules;
use std::collections::{BTreeSet, HashSet};

/// Reads a text into its tree and findings.
pub(super) fn read(file: FileId, text: &str) -> (Tree, Vec<Finding>) {
    let mut first = Builder::new(file, text.len(), None, &[]).run(text);
    // Opening braces are missing, and as many closing ones are left over further down: read it as if they were there.
    let mut opened = missing_before(&first.unopened, &first.strays);
    if !opened.is_empty() {
        let second = Builder::new(file, text.len(), None, &opened).run(text);
        if second.findings.count() < first.findings.count() {
            first = second;
        } else {
            opened.clear();
        }
    }
    let Some(place) = first.suspect.map(|suspect| suspect.at).filter(|_| first.unclosed) else {
        return (first.tree, first.findings.finish());
    };
    // A brace is missing, and the indentation tells where: read it once more as if it were there.
    let second = Builder::new(file, text.len(), Some(place), &opened).run(text);
    (second.tree, second.findings.finish())
}

fn words_of(line: &str) -> impl Iterator<Item = &str> {
    line.split(|part: char| !is_word_character(part)).filter(|word| !word.is_empty())
}

/// The names that the lines of a text declare, as far as that can be seen without reading them.
fn declared(text: &str) -> HashSet<&str> {
    let mut names = HashSet::new();
    for line in text.lines() {
        let mut words = words_of(line);
        match words.next() {
            // `stitch siez 5` declares nothing.
            Some("stitch") if !line.contains(" on ") && !line.contains(" from ") => {}
            Some("sizes") => names.extend(words),
            Some(first) if gives_a_name(first) => names.extend(words.next()),
            _ => {}
        }
    }
    names
}

/// Of the lines that lack their `{`, those that the closing braces left over belong to: each brace closes the last one
/// before it that is still open.
fn missing_before(unopened: &[Span], strays: &[Span]) -> Vec<Span> {
    let mut waiting = Vec::new();
    let mut chosen = Vec::new();
    let mut lines = unopened.iter().peekable();
    for stray in strays {
        while let Some(line) = lines.next_if(|line| line.start < stray.start) {
            waiting.push(*line);
        }
        chosen.extend(waiting.pop());
    }
    chosen.sort_unstable_by_key(|line: &Span| line.start);
    chosen
}

/// A place where the indentation says that a block was meant to be closed before.
#[derive(Debug, Clone, Copy)]
struct Suspect {
    /// The first byte of the line.
    at: Span,
}

/// A block that is still open.
#[derive(Debug)]
struct Frame {
    /// The statement it belongs to.
    owner: Statement,
    open: Span,
    /// The column where the line of the opening brace starts.
    indent: usize,
    /// The column of the first line inside it.
    inner_indent: Option<usize>,
    statements: Vec<Statement>,
    /// How it is known that a block begins here although its `{` is missing.
    missing: Option<Sign>,
}

/// What shows that a line lacks its `{`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Sign {
    /// The lines below stand further in.
    Indentation,
    /// A closing brace is left over further down.
    Stray,
}

struct Read {
    tree: Tree,
    findings: Findings,
    suspect: Option<Suspect>,
    unclosed: bool,
    unopened: Vec<Span>,
    strays: Vec<Span>,
}

struct Builder<'o> {
    file: FileId,
    length: u32,
    findings: Findings,
    top: Vec<Statement>,
    names_unread: BTreeSet<Box<str>>,
    stack: Vec<Frame>,
    /// Blocks deeper than can be kept, that are open now.
    too_deep: usize,
    /// Whether the last statement of the innermost list still waits for its block.
    waiting: bool,
    /// The column of the line that is being read.
    indent: usize,
    /// The column of the line that the last statement leads or stands in.
    last_indent: usize,
    /// The markers of the conflict that is being read.
    markers: Vec<(char, Span)>,
    suspect: Option<Suspect>,
    unclosed: bool,
    repair: Option<Span>,
    /// Lines that lack their `{`, to be read as if they had it.
    opened: &'o [Span],
    /// Lines that lack their `{` and got no `}` of their own either.
    unopened: Vec<Span>,
    /// Braces that close nothing.
    strays: Vec<Span>,
    /// The names that the text declares, once somebody has asked for them.
    declared: Option<HashSet<&'o str>>,
}

impl<'o> Builder<'o> {
    fn new(file: FileId, length: usize, repair: Option<Span>, opened: &'o [Span]) -> Self {
        Self {
            file,
            length: length as u32,
            findings: Findings::default(),
            top: Vec::new(),
            names_unread: BTreeSet::new(),
            stack: Vec::new(),
            too_deep: 0,
            waiting: false,
            indent: 0,
            last_indent: 0,
            markers: Vec::new(),
            suspect: None,
            unclosed: false,
            repair,
            opened,
            unopened: Vec::new(),
            strays: Vec::new(),
            declared: None,
        }
    }

    fn run(mut self, text: &'o str) -> Read {
        cut(self.file, text, |part| {
            if part.leads {
                self.indent = part.indent;
            }
            self.token(text, part.piece, part.token, part.inner, part.leads);
        });
        self.finish();
        Read {
            tree: Tree { statements: self.top, names_unread: self.names_unread },
            findings: self.findings,
            suspect: self.suspect,
            unclosed: self.unclosed,
            unopened: self.unopened,
            strays: self.strays,
        }
    }

    fn token(&mut self, text: &'o str, piece: Piece<'_>, token: Token, inner: &[Token], leads: bool) {
        let span = piece.span(token.start, token.end);
        match token.rule {
            Rule::EOI | Rule::comment => {}
            Rule::open => self.open(span),
            Rule::close => self.close(span, leads),
            Rule::marker if leads && self.indent == 0 && special::is_marker(piece.words(token)) => {
                self.marker(piece, token);
            }
            Rule::bad | Rule::marker => self.bad(text, piece, token, leads),
            rule => {
                self.leads(leads, span);
                let kind = statement(rule, &mut Line::new(piece, token, inner, &mut self.findings));
                let kind = kind.unwrap_or_else(|| {
                    self.findings.push(bad::unreadable(span));
                    Kind::Broken
                });
                self.add(kind, span);
            }
        }
    }

    fn bad(&mut self, text: &'o str, piece: Piece<'_>, token: Token, leads: bool) {
        let words = piece.words(token);
        let trimmed = words.trim_end_matches([' ', '\t']);
        let span = piece.span(token.start, token.start + trimmed.len() as u32);
        self.leads(leads, span);
        if self.findings.full() {
            self.findings.one_more(span);
        } else {
            let inside = !self.stack.is_empty() || self.indent > 0 && self.waiting;
            let home = self.stack.last().map_or(Some(Home::Top), |frame| form(&frame.owner.kind).block);
            let declared = self.declared.get_or_insert_with(|| declared(text));
            let at = (piece.base + token.start) as usize;
            let behind = text.get(at + trimmed.len()..).unwrap_or_default().trim_start_matches([' ', '\t']);
            let opens = behind.starts_with('{');
            let around = advice::Around { home, inside, opens, declared, text, at, line: trimmed };
            let finding = bad::explain(piece, token.start, trimmed, &around);
            self.findings.push(finding);
        }
        let mut words = words_of(trimmed);
        if words.next().is_some_and(|first| beginning_with(first).any(|form| form.names)) {
            self.names_unread.extend(words.map(Box::from));
        }
        self.add(Kind::Broken, span);
    }

    fn list(&mut self) -> &mut Vec<Statement> {
        match self.stack.last_mut() {
            Some(frame) => &mut frame.statements,
            None => &mut self.top,
        }
    }

    fn add(&mut self, kind: Kind, span: Span) {
        self.settle();
        if self.too_deep > 0 {
            return;
        }
        self.waiting = true;
        self.list().push(Statement { kind, span, body: None });
    }

    /// The last statement gets no block any more.
    fn settle(&mut self) {
        if !std::mem::take(&mut self.waiting) {
            return;
        }
        let Some(last) = self.list().last() else { return };
        if form(&last.kind).block.is_some() {
            let span = last.span;
            self.unopened.push(span);
            self.findings.push(without_block(span));
        }
    }

    /// Opens the block of the last statement although its `{` is missing, if it is sure that one was meant: what comes
    /// next leads its line and stands further in, or the first reading has shown that a `}` is left over.
    fn open_if_missing(&mut self, further_in: bool) {
        if !self.waiting || self.too_deep > 0 || self.stack.len() >= DEEPEST_BLOCK {
            return;
        }
        let opened = self.opened;
        let Some(last) = self.list().last() else { return };
        if form(&last.kind).block.is_none() {
            return;
        }
        let sign = if opened.binary_search_by_key(&last.span.start, |line| line.start).is_ok() {
            Sign::Stray
        } else if further_in {
            Sign::Indentation
        } else {
            return;
        };
        let Some(owner) = self.list().pop() else { return };
        self.waiting = false;
        let open = Span { start: owner.span.end, ..owner.span };
        let (indent, missing) = (self.last_indent, Some(sign));
        self.stack.push(Frame { owner, open, indent, inner_indent: None, statements: Vec::new(), missing });
    }

    /// Ends the blocks without a `{` that what leads its line here, at this column, no longer stands in.
    fn leave_missing(&mut self, closes: bool) {
        let indent = self.indent;
        let left = |frame: &Frame| {
            frame.missing == Some(Sign::Indentation) && (indent < frame.indent || indent == frame.indent && !closes)
        };
        while self.stack.last().is_some_and(left) {
            self.settle();
            self.shut(None);
        }
    }

    fn open(&mut self, open: Span) {
        if self.too_deep > 0 {
            self.too_deep += 1;
            return;
        }
        if self.stack.len() >= DEEPEST_BLOCK {
            self.waiting = false;
            self.too_deep = 1;
            self.findings.push(
                rules::TOO_DEEP
                    .finds(open, format!("more than {DEEPEST_BLOCK} blocks inside one another"))
                    .marked(format!("block {} begins here", DEEPEST_BLOCK + 1))
                    .because(
                        "Nobody could follow such a pattern at the machine, and what is inside this block is not read.",
                    )
                    .mend("Give the inner work a name with `stitch NAME on both { ... }` and use it with `work NAME`."),
            );
            return;
        }
        let waits = std::mem::take(&mut self.waiting);
        let owner = if waits { self.list().pop() } else { None };
        let owner = match owner {
            Some(owner) => {
                if form(&owner.kind).block.is_none() && owner.kind != Kind::Broken {
                    self.findings.push(
                        rules::NEEDLESS_BLOCK.finds(open, "this line takes no block")
                            .marked("a block begins here")
                            .also(owner.span, "this line says everything by itself")
                            .because("Braces hold the lines that belong to a machine, a stitch, a piece, a repeat and the like.")
                            .mend("Take `{` and its `}` away, or put the lines into a block such as `repeat 3 times { ... }`."),
                    );
                }
                owner
            }
            None => {
                self.findings.push(
                    rules::NEEDLESS_BLOCK
                        .finds(open, "this block belongs to no line")
                        .marked("a block begins here")
                        .because("A block always follows the line that says what it is: a piece, a repeat, a stitch.")
                        .mend("Write that line before `{`, or take `{` and its `}` away."),
                );
                Statement { kind: Kind::Broken, span: open, body: None }
            }
        };
        let indent = self.indent;
        self.stack.push(Frame { owner, open, indent, inner_indent: None, statements: Vec::new(), missing: None });
    }

    fn close(&mut self, close: Span, leads: bool) {
        self.open_if_missing(false);
        self.settle();
        if self.too_deep > 0 {
            self.too_deep -= 1;
            return;
        }
        if leads {
            self.repair_before(close);
            self.leave_missing(true);
            if self.stack.last().is_some_and(|frame| self.indent < frame.indent) && self.stack.len() > 1 {
                self.suspect.get_or_insert(Suspect { at: close });
            }
        }
        if !self.shut(Some(close)) {
            self.strays.push(close);
            self.findings.push(
                rules::STRAY_BRACE
                    .finds(close, "this brace closes nothing")
                    .marked("no block is open here")
                    .because("Every `}` closes the last block that is still open, and all of them are closed already.")
                    .mend("Take it away, or look above for a block that was closed too early."),
            );
        }
    }

    /// Ends the innermost block; says whether there was one.
    fn shut(&mut self, close: Option<Span>) -> bool {
        let Some(Frame { mut owner, open, statements, missing, indent, .. }) = self.stack.pop() else { return false };
        if let Some(sign) = missing {
            let beside = close.is_some() && self.indent == indent;
            self.findings.push(without_brace(owner.span, sign, close, beside));
            if close.is_none() {
                self.unopened.push(owner.span);
            }
        }
        owner.body = Some(Block { open, close, statements });
        self.waiting = false;
        self.list().push(owner);
        true
    }

    /// Notes the indentation of a statement that leads its line.
    fn leads(&mut self, leads: bool, span: Span) {
        let further_in = leads && self.too_deep == 0 && self.indent > self.last_indent;
        self.open_if_missing(further_in);
        if leads {
            self.last_indent = self.indent;
        }
        if !leads || self.too_deep > 0 {
            return;
        }
        self.repair_before(span);
        self.leave_missing(false);
        let indent = self.indent;
        let Some(frame) = self.stack.last_mut() else { return };
        let inner = *frame.inner_indent.get_or_insert(indent);
        if inner > frame.indent && indent <= frame.indent {
            self.suspect.get_or_insert(Suspect { at: span });
        }
    }

    /// At the place where a brace is missing: ends the block and says so.
    fn repair_before(&mut self, place: Span) {
        if self.repair != Some(place) {
            return;
        }
        self.repair = None;
        self.settle();
        if let Some(frame) = self.stack.last() {
            let finding = unclosed(frame.open).also(place, "by the indentation it should be closed before this");
            self.findings.push(finding);
            self.shut(None);
        }
    }

    fn finish(&mut self) {
        self.open_if_missing(false);
        self.settle();
        self.conflict();
        let end = Span { file: self.file, start: self.length, end: self.length };
        while let Some((open, missing)) = self.stack.last().map(|frame| (frame.open, frame.missing)) {
            if missing.is_none() {
                self.unclosed = true;
                self.findings.push(unclosed(open).also(end, "the text ends here"));
            }
            self.shut(None);
        }
    }

    fn marker(&mut self, piece: Piece<'_>, token: Token) {
        let span = piece.span(token.start, token.end);
        let kind = piece.words(token).chars().next().unwrap_or('=');
        // A new conflict begins where the one before has ended or was never ended.
        if kind == '<' {
            self.conflict();
        }
        self.markers.push((kind, span));
        if kind == '>' {
            self.conflict();
        }
    }

    /// Reports the markers gathered so far as one conflict.
    fn conflict(&mut self) {
        if let Some(finding) = special::conflict(&self.markers) {
            self.findings.push(finding);
        }
        self.markers.clear();
    }
}

/// A line that opens something, with nothing below that belongs to it for sure.
fn without_block(line: Span) -> Finding {
    let end = Span { start: line.end, ..line };
    rules::MISSING_BLOCK
        .finds(end, "the block that belongs to this line is missing")
        .marked("`{` should follow")
        .because("This line opens something, and what is inside it stands between `{` and `}`.")
        .mend("Put `{` at the end of the line, the lines that belong to it below, and `}` on a line of its own.")
}

/// A line without its `{`, whose block was read all the same. `beside`: its `}` stands in the column of the line.
fn without_brace(line: Span, sign: Sign, close: Option<Span>, beside: bool) -> Finding {
    let end = Span { start: line.end, ..line };
    let why = match sign {
        Sign::Indentation => {
            "This line opens something, and what is inside it stands between `{` and `}`. The lines below stand further \
             in, so they were read as its block."
        }
        Sign::Stray => {
            "This line opens something, and what is inside it stands between `{` and `}`. There is one `}` more than \
             there are `{`, so the lines down to it were read as its block."
        }
    };
    let finding =
        rules::MISSING_BLOCK.finds(end, "`{` is missing at the end of this line").marked("write `{` here").because(why);
    let Some(close) = close else {
        return finding
            .mend("Write `{` behind it, and `}` on a line of its own below the last line that belongs to the block.");
    };
    // Where the columns and the braces say the same there is no other place for it. With a brace left over, the line
    // that it belongs to is only likely.
    let safe = sign == Sign::Indentation && beside;
    finding
        .also(close, "its block ends here")
        .mend("Write `{` behind it.")
        .fix(Fix::new("write `{` behind it", end, " {").safe_if(safe))
}

fn unclosed(open: Span) -> Finding {
    rules::UNCLOSED_BRACE
        .finds(open, "this block is never closed")
        .marked("opened here")
        .because("Every `{` needs its `}`; without it, all that follows is taken to be inside this block.")
        .mend("Put `}` on a line of its own below the last line that belongs to the block.")
}

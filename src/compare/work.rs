//! The work of one piece, as it is laid beside another: operations and repeats, with everything that only gives them
//! names or puts headings over them taken away.
//!
//! A repeat stays a repeat, and what several places share is kept once, so that the cost is that of the text and not of
//! the rows.

use super::key::{claims, written};
use super::names::{Called, UNREAD, called};
use super::sequence::{Sequence, key_of};
use crate::beds::{CastOn, Operation};
use crate::plan::program::{Piece, Promise, Repeat, Speech, Step, StepId, StepKind, Steps, Unknown, name_of};
use crate::source::{Sources, Span};
use std::cell::Cell;
use std::collections::HashMap;
use std::mem::Discriminant;
use std::sync::Arc;

/// Steps that are written in place of a block that is worked once, in all pieces of a size; past that the block stays one.
pub(super) const MOST_INLINED: usize = 50_000;

/// A list of work that several places may share.
#[derive(Debug)]
pub(super) struct Body {
    /// The parts, in order.
    pub(super) nodes: Vec<Node>,
    /// All of it, as written.
    pub(super) sequence: Sequence,
    /// How many operations are written in it, repeats counted once.
    pub(super) size: usize,
    /// How many rows it is.
    pub(super) rows: u64,
}

/// One part of a list of work.
#[derive(Debug, Clone)]
pub(super) struct Node {
    /// What it is.
    pub(super) kind: NodeKind,
    /// All of it, as written.
    pub(super) sequence: Sequence,
    /// How many rows it is.
    pub(super) rows: u64,
}

/// The kinds of part.
#[derive(Debug, Clone)]
pub(super) enum NodeKind {
    /// An operation, by its number in [`Work::leaves`].
    Leaf(usize),
    /// Work done several times.
    Run(Run),
}

/// Work done several times.
#[derive(Debug, Clone)]
pub(super) struct Run {
    /// How often.
    pub(super) times: u64,
    /// What.
    pub(super) body: Arc<Body>,
    /// The stitch, if it is one.
    pub(super) stitch: Option<String>,
    /// The statement.
    pub(super) span: Span,
}

impl Run {
    /// The operation, if it is a single one.
    pub(super) fn single(&self) -> Option<usize> {
        match self.body.nodes.as_slice() {
            [Node { kind: NodeKind::Leaf(leaf), .. }] => Some(*leaf),
            _ => None,
        }
    }
}

impl Node {
    /// The one operation it is, and how often that is done.
    pub(super) fn single(&self) -> Option<(usize, u64)> {
        match &self.kind {
            NodeKind::Leaf(leaf) => Some((*leaf, 1)),
            NodeKind::Run(run) => run.single().map(|leaf| (leaf, run.times)),
        }
    }
}

/// An operation where it is written.
#[derive(Debug)]
pub(super) struct Leaf {
    /// What it is, as written, without what it only claims.
    pub(super) key: u128,
    /// What it only claims.
    pub(super) claims: Vec<String>,
    /// The kind of operation; none for a line that could not be understood.
    pub(super) kind: Option<Discriminant<Operation>>,
    /// What it is called.
    pub(super) called: Called,
    /// The statement.
    pub(super) span: Span,
    /// 1 for a row, 0 for all else.
    pub(super) rows: u64,
}

/// Something that is said in a pattern and changes nothing on the machine.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Spoken {
    /// The title of a section.
    Section(String),
    /// A rule that is silenced, and the reason.
    Allow(String, String),
    /// What is said to the knitter.
    Speech(Speech),
    /// A promise.
    Expect(Promise),
}

/// What stands in the text, in order: operations, and what is said between them.
#[derive(Debug)]
pub(super) enum Token {
    /// An operation, by its number.
    Work(usize),
    /// Something said, where, and the operation before it.
    Said(Spoken, Span, Option<usize>),
}

/// The work of a piece, as written.
#[derive(Debug)]
pub(super) struct Work {
    /// The list.
    pub(super) body: Arc<Body>,
    /// The operations.
    pub(super) leaves: Vec<Leaf>,
    /// For each step that is an operation, the number of that operation.
    pub(super) numbers: HashMap<StepId, usize>,
    /// Everything in the order of the work, what is shared once.
    pub(super) tokens: Vec<Token>,
}

/// A piece that can be played to its end although some lines of it could not be understood: they are taken as lines
/// about rows, which the play passes over.
pub(super) fn playable(piece: &Piece) -> Piece {
    Piece { steps: softened(&piece.steps, &mut HashMap::new()), ..piece.clone() }
}

fn softened(steps: &Steps, known: &mut HashMap<Option<StepId>, Steps>) -> Steps {
    let name = name_of(steps);
    if let Some(done) = known.get(&name) {
        return Arc::clone(done);
    }
    let soften = |step: &Step| {
        let kind = match &step.kind {
            StepKind::Gap(_) => StepKind::Gap(Unknown::Rows),
            StepKind::Repeat(repeat) => {
                StepKind::Repeat(Repeat { steps: softened(&repeat.steps, known), ..repeat.clone() })
            }
            StepKind::Section(title, steps) => StepKind::Section(title.clone(), softened(steps, known)),
            StepKind::Allow { rule, because, steps } => {
                StepKind::Allow { rule: rule.clone(), because: because.clone(), steps: softened(steps, known) }
            }
            other => other.clone(),
        };
        Step { id: step.id, kind, span: step.span }
    };
    let done: Steps = steps.iter().map(soften).collect();
    known.insert(name, Arc::clone(&done));
    done
}

impl Work {
    /// The work of a piece. `yarn` names a yarn by its number; `room` says how many more steps may be written in place of
    /// their blocks.
    pub(super) fn of<'a>(piece: &Piece, sources: &Sources, yarn: impl Fn(u16) -> &'a str, room: &Cell<usize>) -> Self {
        let mut builder = Builder {
            sources,
            yarn,
            work: Self {
                body: Arc::new(Body { nodes: Vec::new(), sequence: Sequence::EMPTY, size: 0, rows: 0 }),
                leaves: Vec::new(),
                numbers: HashMap::new(),
                tokens: Vec::new(),
            },
            known: HashMap::new(),
            room,
            last: None,
        };
        let mut nodes = Vec::new();
        builder.list(&piece.steps, &mut nodes);
        let body = Arc::new(body(nodes));
        Self { body, ..builder.work }
    }
}

struct Builder<'s, Y> {
    sources: &'s Sources,
    yarn: Y,
    work: Work,
    known: HashMap<Option<StepId>, Arc<Body>>,
    room: &'s Cell<usize>,
    last: Option<usize>,
}

impl<'a, Y: Fn(u16) -> &'a str> Builder<'_, Y> {
    fn list(&mut self, steps: &Steps, nodes: &mut Vec<Node>) {
        for step in steps.iter() {
            self.step(step, nodes);
        }
    }

    fn step(&mut self, step: &Step, nodes: &mut Vec<Node>) {
        let span = step.span;
        match &step.kind {
            StepKind::Do(operation) => {
                let key = written(operation, &self.yarn);
                let kind = Some(std::mem::discriminant(operation));
                let rows = u64::from(is_row(operation));
                let leaf = self
                    .leaf(Leaf { key, claims: claims(operation), kind, called: called(operation), span, rows }, nodes);
                self.work.numbers.insert(step.id, leaf);
            }
            StepKind::Gap(_) => {
                let key = key_of(&("not understood", words_of(self.sources, span)));
                self.leaf(Leaf { key, claims: Vec::new(), kind: None, called: UNREAD, span, rows: 0 }, nodes);
            }
            StepKind::Repeat(repeat) => self.repeat(repeat, span, nodes),
            StepKind::Section(title, steps) => {
                self.say(Spoken::Section(title.clone()), span);
                self.list(steps, nodes);
            }
            StepKind::Allow { rule, because, steps } => {
                self.say(Spoken::Allow(rule.clone(), because.clone()), span);
                self.list(steps, nodes);
            }
            StepKind::Say(speech) => self.say(Spoken::Speech(speech.clone()), span),
            StepKind::Expect(promise, span) => self.say(Spoken::Expect(*promise), *span),
        }
    }

    fn leaf(&mut self, leaf: Leaf, nodes: &mut Vec<Node>) -> usize {
        let number = self.work.leaves.len();
        nodes.push(Node { kind: NodeKind::Leaf(number), sequence: Sequence::one(leaf.key), rows: leaf.rows });
        self.work.leaves.push(leaf);
        self.work.tokens.push(Token::Work(number));
        self.last = Some(number);
        number
    }

    fn say(&mut self, spoken: Spoken, span: Span) {
        self.work.tokens.push(Token::Said(spoken, span, self.last));
    }

    fn repeat(&mut self, repeat: &Repeat, span: Span, nodes: &mut Vec<Node>) {
        let name = name_of(&repeat.steps);
        let inner = match self.known.get(&name) {
            Some(known) => Arc::clone(known),
            None => {
                let mut inner = Vec::new();
                self.list(&repeat.steps, &mut inner);
                let inner = Arc::new(body(inner));
                self.known.insert(name, Arc::clone(&inner));
                inner
            }
        };
        if inner.nodes.is_empty() {
            return;
        }
        if repeat.times == 1
            && let Some(left) = self.room.get().checked_sub(inner.nodes.len())
        {
            self.room.set(left);
            nodes.extend(inner.nodes.iter().cloned());
            return;
        }
        let stitch = repeat.stitch.as_ref().map(|stitch| stitch.name.clone());
        nodes.push(run(repeat.times, inner, stitch, span));
    }
}

/// A repeat; one that holds nothing but a repeat is one repeat.
fn run(times: u64, body: Arc<Body>, stitch: Option<String>, span: Span) -> Node {
    if let [Node { kind: NodeKind::Run(only), .. }] = body.nodes.as_slice()
        && let Some(times) = only.times.checked_mul(times)
    {
        let stitch = stitch.or_else(|| only.stitch.clone());
        return run(times, Arc::clone(&only.body), stitch, span);
    }
    let sequence = body.sequence.repeated(times);
    let rows = body.rows.saturating_mul(times);
    Node { kind: NodeKind::Run(Run { times, body, stitch, span }), sequence, rows }
}

fn body(nodes: Vec<Node>) -> Body {
    let sequence = nodes.iter().fold(Sequence::EMPTY, |all, node| all.then(node.sequence));
    let size = |node: &Node| match &node.kind {
        NodeKind::Leaf(_) => 1,
        NodeKind::Run(run) => run.body.size,
    };
    let size = nodes.iter().map(size).fold(0, usize::saturating_add);
    let rows = nodes.iter().map(|node| node.rows).fold(0, u64::saturating_add);
    Body { nodes, sequence, size, rows }
}

/// Whether the counter turns.
const fn is_row(operation: &Operation) -> bool {
    matches!(operation, Operation::Row(_) | Operation::CastOn(CastOn::Zigzag | CastOn::Open, _))
}

/// The words of a line with one blank between them, and none before a comma. What stands in quotation marks stays.
pub(super) fn words_of(sources: &Sources, span: Span) -> String {
    let mut out = String::new();
    let (mut quoted, mut blank) = (false, false);
    for character in sources.words(span).chars() {
        if !quoted && character.is_whitespace() {
            blank = true;
            continue;
        }
        let clings = !quoted && (matches!(character, ',' | ')') || out.ends_with('('));
        if std::mem::take(&mut blank) && !clings && !out.is_empty() {
            out.push(' ');
        }
        quoted ^= character == '"';
        out.push(character);
        blank |= !quoted && character == ',';
    }
    out
}

//! Trees built by hand: these tests need no parser. A [`Page`] keeps a text that grows as words are asked for, so
//! that every part of a tree has a place of its own.

mod definitions;
mod files;
mod layout;
mod loops;
mod quantities;
mod repeats;
mod rows;
mod selections;

use super::plan;
use super::program::{Piece, Program, Step, StepKind};
use super::rules as made;
use crate::beds::Operation;
use crate::finding::Finding;
use crate::source::{FileId, Sources, Span};
use crate::syntax::tree::*;
use std::cell::RefCell;

/// A text that grows.
pub(super) struct Page {
    text: RefCell<String>,
    file: FileId,
}

impl Page {
    pub(super) fn new() -> Self {
        Self { text: RefCell::new(String::new()), file: FileId(0) }
    }

    /// Writes words and gives their place.
    pub(super) fn span(&self, words: &str) -> Span {
        let mut text = self.text.borrow_mut();
        let start = text.len() as u32;
        text.push_str(words);
        let end = text.len() as u32;
        text.push('\n');
        Span { file: self.file, start, end }
    }

    pub(super) fn name(&self, text: &str) -> Name {
        Name { text: text.into(), span: self.span(text) }
    }

    pub(super) fn quoted(&self, text: &str) -> Text {
        Text { text: text.into(), span: self.span(&format!("\"{text}\"")) }
    }

    /// `120 (160, 180) cm`
    pub(super) fn quantity(&self, words: &str) -> Quantity {
        let plain = words.replace(['(', ')', ','], " ");
        let (values, units): (Vec<&str>, Vec<&str>) =
            plain.split_whitespace().partition(|word| word.starts_with(|letter: char| letter.is_ascii_digit()));
        Quantity {
            values: values.into_iter().map(number).collect(),
            unit: units.first().map(|unit| unit_of(unit)),
            span: self.span(words),
        }
    }

    fn needle(&self, words: &str) -> NeedleWord {
        let plain = words[1..].replace(['(', ')', ','], " ");
        NeedleWord {
            side: if words.starts_with('L') { SideWord::Left } else { SideWord::Right },
            numbers: plain.split_whitespace().map(number).collect(),
            span: self.span(words),
        }
    }

    fn count(&self, words: &str) -> Count {
        if words.starts_with(|letter: char| letter.is_ascii_digit()) {
            Count::Number(self.quantity(words))
        } else {
            Count::Name(self.name(words))
        }
    }

    pub(super) fn operand(&self, words: &str) -> Operand {
        let words = words.trim();
        let over = |rest: &str| {
            rest.split_once(" over ").map_or((rest.trim().to_owned(), None), |(before, span)| {
                (before.trim().to_owned(), Some(Box::new(self.operand(span))))
            })
        };
        let kind = if let Some(rest) = words.strip_prefix("all but ") {
            OperandKind::AllBut(Box::new(self.operand(rest)))
        } else if let Some(rest) = words.strip_prefix("every ") {
            let (step, over) = over(rest);
            OperandKind::Every { step: self.count(&step), over }
        } else if let Some(rest) = words.strip_prefix("leftmost ") {
            OperandKind::Leftmost(self.count(rest))
        } else if let Some(rest) = words.strip_prefix("rightmost ") {
            OperandKind::Rightmost(self.count(rest))
        } else if let Some(rest) = words.strip_suffix(" each side") {
            OperandKind::EachSide(self.count(rest))
        } else if words.starts_with('"') {
            let (marks, over) = over(words);
            OperandKind::Tile { marks: self.quoted(marks.trim_matches('"')), over }
        } else if words.starts_with(['L', 'R']) {
            let (first, last) = match words.split_once('-') {
                Some((first, last)) => (first, Some(last)),
                None => (words, None),
            };
            OperandKind::Needles { first: self.needle(first), last: last.map(|last| self.needle(last)) }
        } else {
            match words {
                "all" => OperandKind::All,
                "loaded" => OperandKind::Loaded,
                "empty" => OperandKind::Empty,
                _ if words.starts_with(|letter: char| letter.is_ascii_digit()) => {
                    OperandKind::Quantity(self.quantity(words))
                }
                _ => OperandKind::Name(self.name(words)),
            }
        };
        Operand { kind, span: self.span(words) }
    }

    /// `length - 4 cm`; operators stand between blanks.
    pub(super) fn expression(&self, words: &str) -> Expression {
        const SIGNS: [(&str, Operator); 6] = [
            ("+", Operator::Plus),
            ("-", Operator::Minus),
            ("*", Operator::Times),
            ("/", Operator::Over),
            ("and", Operator::And),
            ("or", Operator::Or),
        ];
        let span = self.span(words);
        let mut parts: Vec<(Option<Operator>, Vec<&str>)> = vec![(None, Vec::new())];
        for word in words.split(' ') {
            match SIGNS.iter().find(|(sign, _)| *sign == word) {
                Some((_, operator)) => parts.push((Some(*operator), Vec::new())),
                None => parts.last_mut().expect("there is a first part").1.push(word),
            }
        }
        let mut operands = parts.into_iter().map(|(operator, words)| (operator, self.operand(&words.join(" "))));
        let first = operands.next().expect("there is a first part").1;
        Expression { first, rest: operands.map(|(sign, operand)| (sign.expect("a sign"), operand)).collect(), span }
    }

    pub(super) fn target(&self, bed: BedWord, needles: Option<&str>) -> Target {
        let needles = needles.map(|needles| self.expression(needles));
        Target { bed, needles, span: self.span(&format!("{bed:?}").to_lowercase()) }
    }

    pub(super) fn act(&self, bed: Option<BedWord>, action: ActionWord, on: Option<&str>, elsewhere: bool) -> RowPart {
        let on = on.map(|on| self.expression(on));
        RowPart { kind: RowPartKind::Act { bed, action, on, elsewhere }, span: self.span("act") }
    }

    pub(super) fn part(&self, kind: RowPartKind) -> RowPart {
        RowPart { kind, span: self.span("part") }
    }

    pub(super) fn line(&self, kind: Kind) -> Statement {
        Statement { kind, span: self.span("line"), body: None }
    }

    pub(super) fn block(&self, kind: Kind, statements: Vec<Statement>) -> Statement {
        let span = self.span("line with a block");
        Statement { kind, span, body: Some(Block { open: self.span("{"), close: Some(self.span("}")), statements }) }
    }

    /// `row BED knit`
    pub(super) fn knit(&self, bed: BedWord) -> Statement {
        self.line(Kind::Row(vec![self.act(Some(bed), ActionWord::Knit, None, false)]))
    }

    /// `transfer BED to BED, joining`
    pub(super) fn transfer(&self, from: BedWord, needles: Option<&str>, to: BedWord) -> Statement {
        let manner = Manner { joining: true, ..Manner::default() };
        self.line(Kind::Transfer { from: self.target(from, needles), to, manner })
    }

    pub(super) fn set(&self, name: &str, value: &str) -> Statement {
        self.line(Kind::Let(self.name(name), self.expression(value)))
    }

    pub(super) fn sizes(&self, names: &[&str]) -> Statement {
        self.line(Kind::Sizes(names.iter().map(|name| self.name(name)).collect()))
    }

    pub(super) fn machine(&self, name: &str, each_side: &str) -> Statement {
        let needles = self.line(Kind::MachineLine(MachineLine::Needles(self.expression(each_side))));
        self.block(Kind::Machine(self.name(name)), vec![needles])
    }

    pub(super) fn gauge(&self, name: &str, rows: &str, over: &str) -> Statement {
        let line = self.line(Kind::GaugeLine {
            stitches: self.quantity("26 stitches"),
            rows: self.quantity(rows),
            over: self.quantity(over),
            state: None,
        });
        self.block(Kind::Gauge(self.name(name)), vec![line])
    }

    pub(super) fn stitch(&self, name: &str, from: BedWord, to: BedWord, body: Vec<Statement>) -> Statement {
        self.block(Kind::Stitch { name: self.name(name), parameters: Vec::new(), from, to }, body)
    }

    pub(super) fn stitch_with(
        &self,
        name: &str,
        parameters: &[(&str, ParameterKind)],
        body: Vec<Statement>,
    ) -> Statement {
        let parameters = parameters.iter().map(|&(name, kind)| Parameter { name: self.name(name), kind }).collect();
        let (from, to) = (BedWord::Both, BedWord::Both);
        self.block(Kind::Stitch { name: self.name(name), parameters, from, to }, body)
    }

    pub(super) fn work(&self, name: &str, arguments: &[(&str, &str)], extent: Extent) -> Statement {
        let arguments = arguments
            .iter()
            .map(|(name, value)| Argument { name: self.name(name), value: self.expression(value) })
            .collect();
        self.line(Kind::Work { name: self.name(name), arguments, extent })
    }

    pub(super) fn times(&self, count: &str) -> Extent {
        Extent::Times(self.expression(count))
    }

    pub(super) fn lasting(&self, wish: &str) -> Extent {
        Extent::For(self.expression(wish))
    }

    pub(super) fn piece(&self, body: Vec<Statement>) -> Statement {
        self.block(Kind::Piece { title: self.quoted("Sail"), make: None, machine: None }, body)
    }

    /// Works out these statements as a file of their own.
    pub(super) fn plan(&self, statements: Vec<Statement>) -> (Vec<Program>, Vec<Finding>) {
        let mut sources = Sources::default();
        sources.add("thrumhaven.wale", self.text.borrow().as_str());
        let (programs, findings) = plan(&sources, &[(FileId(0), Tree { statements, ..Tree::default() })]);
        let shared = [&made::RESERVED_WORD, &made::TOO_DEEP, &made::TOO_MANY_FINDINGS];
        for finding in &findings {
            let mut known = made::RULES.iter().copied().flatten().chain(&shared);
            assert!(known.any(|rule| *rule == finding.rule), "`{}` is not in the list of rules", finding.rule);
            assert!(!finding.mend.is_empty(), "`{}` does not say what to do: {}", finding.rule.name, finding.what);
        }
        (programs, findings)
    }

    /// The same with a machine of 90 needles each side and a piece with this body.
    pub(super) fn plan_piece(&self, mut before: Vec<Statement>, body: Vec<Statement>) -> (Vec<Program>, Vec<Finding>) {
        before.push(self.machine("mooring", "90"));
        before.push(self.piece(body));
        self.plan(before)
    }

    /// The steps of a piece that must be without findings.
    pub(super) fn steps(&self, before: Vec<Statement>, body: Vec<Statement>) -> Vec<Step> {
        let (programs, findings) = self.plan_piece(before, body);
        assert_eq!(rules(&findings), Vec::<&str>::new(), "{findings:#?}");
        only_piece(&programs).steps.to_vec()
    }
}

pub(super) fn only_piece(programs: &[Program]) -> &Piece {
    assert_eq!(programs.len(), 1);
    programs[0].pieces.first().expect("a piece")
}

/// Whether the piece does nothing at all, and a gap stands wherever a line was refused.
pub(super) fn only_gaps(programs: &[Program]) -> bool {
    only_piece(programs).steps.iter().all(|step| matches!(step.kind, StepKind::Gap(_)))
}

pub(super) fn rules(findings: &[Finding]) -> Vec<&'static str> {
    findings.iter().map(|finding| finding.rule.name).collect()
}

/// Everything a finding says, in one line.
pub(super) fn said(finding: &Finding) -> String {
    format!("{} | {} | {}", finding.what, finding.why, finding.mend)
}

pub(super) fn operation(step: &Step) -> &Operation {
    match &step.kind {
        StepKind::Do(operation) => operation,
        other => panic!("not an operation: {other:?}"),
    }
}

pub(super) fn number(text: &str) -> Number {
    let decimals = text.split_once('.').map_or(0, |(_, behind)| behind.len() as u8);
    Number { units: text.replace('.', "").parse().expect("a number"), decimals }
}

fn unit_of(word: &str) -> Unit {
    match word {
        "needle" | "needles" => Unit::Needles,
        "stitch" | "stitches" => Unit::Stitches,
        "row" | "rows" => Unit::Rows,
        "mm" => Unit::Millimetres,
        "cm" => Unit::Centimetres,
        "m" => Unit::Metres,
        "in" => Unit::Inches,
        "g" => Unit::Grams,
        "kg" => Unit::Kilograms,
        other => panic!("no unit: {other}"),
    }
}

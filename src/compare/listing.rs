//! A pattern as rows, one a line and without numbers of rows, so that a program that compares texts shows which rows are
//! others and not that all that come after them have moved.

use super::played;
use super::side::Side;
use super::work::Work;
use crate::Checked;
use crate::catalogue::Severity;
use crate::clean;
use crate::plan::program::{Piece, Program, Repeat, StepKind, Steps, YarnInfo};
use crate::play::Budget;
use crate::words;
use crate::write::sheet::said;
use std::cell::Cell;

/// Lines at most; what is longer is better read as it is written.
const MOST_LINES: usize = 200_000;

/// The rows of all pieces in all sizes, in the words of the row sheet. None for a pattern that has errors, or no piece: then
/// the text itself says more.
#[must_use]
pub fn rows(checked: &Checked) -> Option<String> {
    let has_errors = checked.findings.iter().any(|finding| finding.rule.severity == Severity::Error);
    if has_errors || checked.programs.iter().all(|program| program.pieces.is_empty()) {
        return None;
    }
    let mut listing = Listing { lines: Vec::new(), budget: Budget::default() };
    for program in &checked.programs {
        listing.program(checked, program)?;
    }
    let mut text = listing.lines.join("\n");
    text.push('\n');
    Some(text)
}

struct Listing {
    lines: Vec<String>,
    budget: Budget,
}

impl Listing {
    fn line(&mut self, indent: usize, text: &str) -> Option<()> {
        self.lines.push(format!("{}{}", " ".repeat(4 * indent), clean::line(text)));
        (self.lines.len() <= MOST_LINES).then_some(())
    }

    fn program(&mut self, checked: &Checked, program: &Program) -> Option<()> {
        if self.lines.is_empty() {
            if let Some(title) = &program.title {
                self.line(0, &format!("pattern \"{title}\""))?;
            }
            for yarn in &program.yarns {
                self.line(0, &yarn_line(yarn))?;
            }
        }
        for piece in &program.pieces {
            if !self.lines.is_empty() {
                self.lines.push(String::new());
            }
            let size = program.size.as_ref().map_or_else(String::new, |size| format!(", size {size}"));
            let machine = &piece.machine.name;
            self.line(0, &format!("piece \"{}\"{size}, make {}, on {machine}", piece.title, piece.make))?;
            self.piece(checked, program, piece)?;
        }
        Some(())
    }

    fn piece(&mut self, checked: &Checked, program: &Program, piece: &Piece) -> Option<()> {
        let yarn =
            |number: u16| program.yarns.get(usize::from(number)).map_or("", |yarn: &YarnInfo| yarn.name.as_str());
        // Only the numbers of the operations are wanted.
        let work = Work::of(piece, &checked.sources, yarn, &Cell::new(0));
        let played = played::played(piece, &work, &program.yarns, yarn, &self.budget);
        let side = Side { sources: &checked.sources, piece, work, played };
        self.steps(&side, &piece.steps, 1)
    }

    fn steps(&mut self, side: &Side<'_>, steps: &Steps, indent: usize) -> Option<()> {
        for step in steps.iter() {
            match &step.kind {
                StepKind::Do(_) => {
                    let leaf = side.work.numbers.get(&step.id).copied();
                    self.line(indent, &leaf.map_or_else(String::new, |leaf| side.in_one_line(leaf)))?;
                }
                StepKind::Repeat(repeat) => self.repeat(side, repeat, indent)?,
                StepKind::Section(title, steps) => {
                    self.line(indent, &format!("section \"{title}\""))?;
                    self.steps(side, steps, indent + 1)?;
                }
                StepKind::Allow { rule, because, steps } => {
                    self.line(indent, &format!("allow {rule} because \"{because}\""))?;
                    self.steps(side, steps, indent + 1)?;
                }
                StepKind::Say(speech) => self.line(indent, &said::speech(speech))?,
                StepKind::Expect(promise, _) => self.line(indent, &format!("Check: {}.", said::promise(promise)))?,
                StepKind::Gap(_) => {}
            }
        }
        Some(())
    }

    fn repeat(&mut self, side: &Side<'_>, repeat: &Repeat, indent: usize) -> Option<()> {
        if let ([only], None) = (&*repeat.steps, &repeat.stitch)
            && let Some(&leaf) = side.work.numbers.get(&only.id)
        {
            return self
                .line(indent, &format!("{}: {}", words::capital(&words::times(repeat.times)), side.in_one_line(leaf)));
        }
        let name = repeat.stitch.as_ref().map_or_else(|| "repeat".to_owned(), |stitch| stitch.name.clone());
        self.line(indent, &format!("{name}, {}:", words::times(repeat.times)))?;
        self.steps(side, &repeat.steps, indent + 1)
    }
}

fn yarn_line(yarn: &YarnInfo) -> String {
    let more: Vec<&str> = [&yarn.count, &yarn.colour, &yarn.fibre].into_iter().flatten().map(String::as_str).collect();
    if more.is_empty() { format!("yarn {}", yarn.name) } else { format!("yarn {} ({})", yarn.name, more.join(", ")) }
}

//! The parts of a row.

use super::expressions::side_word;
use super::grammar::Rule;
use super::line::Line;
use super::tree::{ActionWord, RowPart, RowPartKind};

impl Line<'_, '_> {
    /// The comma parts of a row, to the end of the statement.
    pub(super) fn parts(&mut self) -> Option<Vec<RowPart>> {
        let mut parts = Vec::with_capacity(4);
        while self.peek().is_some() {
            if !self.pass(Rule::comma) {
                parts.push(self.part()?);
            }
        }
        Some(parts)
    }

    fn part(&mut self) -> Option<RowPart> {
        let start = self.next_start();
        let kind = match self.peek()? {
            Rule::toward => {
                let token = self.next()?;
                RowPartKind::Toward(side_word(self.words(token)))
            }
            Rule::new_loops_part => {
                self.next();
                RowPartKind::NewLoops
            }
            Rule::setting_word => {
                let token = self.next()?;
                let by = self.expression()?;
                let bed = self.bed();
                match self.words(token) {
                    "loosened" => RowPartKind::Loosened(by, bed),
                    "tightened" => RowPartKind::Tightened(by, bed),
                    _ => RowPartKind::Size(by, bed),
                }
            }
            _ => self.act()?,
        };
        Some(RowPart { kind, span: self.span_from(start) })
    }

    fn act(&mut self) -> Option<RowPartKind> {
        let bed = self.bed();
        let token = self.take(Rule::action)?;
        let action = match self.words(token) {
            "knit" => ActionWord::Knit,
            "tuck" => ActionWord::Tuck,
            _ => ActionWord::Slip,
        };
        let on = if self.pass(Rule::on) { Some(self.expression()?) } else { None };
        let elsewhere = on.is_none() && self.pass(Rule::elsewhere);
        Some(RowPartKind::Act { bed, action, on, elsewhere })
    }
}

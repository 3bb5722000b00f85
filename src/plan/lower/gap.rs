//! What is left in the steps where a statement could not be understood.

use crate::beds::Both;
use crate::plan::lower::draft::Draft;
use crate::plan::lower::lowering::Lowering;
use crate::plan::lower::occupancy::{Occupancy, Presence};
use crate::plan::program::{StepKind, Unknown};
use crate::syntax::forms::{Form, Home, Unsure, all, form};
use crate::syntax::tree::{Kind, Statement};

impl<'a> Lowering<'a> {
    /// Works out a statement and, if it gave no step though it should, leaves a gap in its place, so that the play
    /// does not find mistakes that only follow from the line that is missing. Why it gave none has been reported, here
    /// or where a name it uses is declared.
    pub(super) fn statement_or_gap(&mut self, draft: &mut Draft, statement: &'a Statement) {
        let steps = draft.steps.len();
        self.left_out = false;
        self.statement(draft, statement);
        let left_out = std::mem::take(&mut self.left_out);
        if left_out || draft.steps.len() > steps {
            return;
        }
        let Some(unknown) = self.unknown_after(statement) else { return };
        draft.gap = true;
        if unknown == Unknown::Beds
            && let Some(beds) = &mut draft.beds
        {
            *beds = Occupancy(Both::same(Presence::Maybe));
        }
        self.push(draft, StepKind::Gap(unknown), statement.span);
    }

    /// What is not known after such a statement; none when it changes nothing on the machine.
    fn unknown_after(&self, statement: &Statement) -> Option<Unknown> {
        match form(&statement.kind).unsure {
            Unsure::Beds if statement.kind == Kind::Broken && statement.body.is_none() => {
                let words = self.values.names.sources.words(statement.span);
                let first: String = words.trim_start().chars().take_while(|c| c.is_alphabetic()).collect();
                let of_rows = all().filter(|form| form.home == Some(Home::Work) && form.unsure != Unsure::Beds);
                let of_rows: Vec<&str> = of_rows.filter_map(Form::first_word).collect();
                let near = similar::get_close_matches(first.to_lowercase().as_str(), &of_rows, 1, 0.6);
                Some(if near.is_empty() { Unknown::Beds } else { Unknown::Rows })
            }
            Unsure::Nothing => None,
            Unsure::Rows => Some(Unknown::Rows),
            Unsure::Beds => Some(Unknown::Beds),
        }
    }
}

//! Beds with their needles, as most statements name them.

use crate::beds::{Bed, Both, Pick, Targets};
use crate::plan::rules;
use crate::plan::values::context::Values;
use crate::plan::values::sides::{beds, single};
use crate::source::Span;
use crate::syntax::tree::{BedWord, Expression, Target};

impl<'a> Values<'a> {
    /// Beds with their needles. `bare` is what a bed without needles means; without it the needles must be named, and
    /// `why` says what for.
    pub(in crate::plan) fn targets(
        &mut self,
        targets: &'a [Target],
        bare: Option<&Pick>,
        why: &str,
    ) -> Option<Targets> {
        let mut found: Targets = Both { front: None, back: None };
        let mut first: Both<Option<Span>> = Both::same(None);
        let mut good = true;
        for target in targets {
            let pick = match (&target.needles, bare) {
                (Some(needles), _) => self.selection(needles),
                (None, Some(bare)) => Some(bare.clone()),
                (None, None) => {
                    self.missing_needles(target.span, why);
                    None
                }
            };
            good &= pick.is_some();
            for bed in beds(target.bed) {
                if let Some(first) = first[bed] {
                    self.sure(
                        crate::plan::say::twice(&format!("the {bed} bed"), target.span, first)
                            .mend("Put its needles together with `or`, for example `front L5 or R5`."),
                    );
                    good = false;
                } else {
                    first[bed] = Some(target.span);
                    found[bed].clone_from(&pick);
                }
            }
        }
        good.then_some(found)
    }

    /// A statement that must name needles does not.
    pub(in crate::plan) fn missing_needles(&mut self, span: Span, why: &str) {
        self.error(
            &rules::MISSING_NEEDLES,
            span,
            "the needles are missing",
            why,
            "Name them behind the bed, counted from the centre, for example `front L30-R30`.",
        );
    }

    /// The one bed of a statement that cannot be about both.
    pub(in crate::plan) fn one_bed(&mut self, bed: BedWord, span: Span, what: &str) -> Option<Bed> {
        let found = single(bed);
        if found.is_none() {
            self.error(
                &rules::ONE_BED,
                span,
                format!("{what} is about one bed at a time"),
                "`both` leaves open where the stitches come from and where they go.",
                "Name `front` or `back`, and write a second line for the other one.",
            );
        }
        found
    }

    /// The needles of a bed that must be named one by one.
    pub(in crate::plan) fn fixed_selection(
        &mut self,
        needles: &'a Expression,
        what: &str,
    ) -> Option<crate::beds::NeedleSet> {
        let pick = self.selection(needles)?;
        self.fixed(&pick, needles.span, what)
    }
}

//! What a piece does anywhere, found in its steps without playing them.

use crate::beds::Operation;
use crate::plan::program::{Step, StepId, StepKind, Steps, name_of};
use std::collections::HashSet;

/// Whether loops are picked up from waste yarn anywhere in those steps.
pub(super) fn takes_back(steps: &Steps) -> bool {
    does(steps, &|operation| matches!(operation, Operation::PickUp { from_waste: Some(_), .. }))
}

/// Whether such an operation stands in those steps. What is worked at several places is looked at once: stitches that
/// work stitches would else be looked at more often than anybody can wait for.
pub(super) fn does(steps: &Steps, is: &dyn Fn(&Operation) -> bool) -> bool {
    fn look(steps: &Steps, is: &dyn Fn(&Operation) -> bool, looked_at: &mut HashSet<Option<StepId>>) -> bool {
        looked_at.insert(name_of(steps))
            && steps.iter().any(|step| match &step.kind {
                StepKind::Do(operation) => is(operation),
                StepKind::Repeat(repeat) => look(&repeat.steps, is, looked_at),
                StepKind::Section(_, steps) | StepKind::Allow { steps, .. } => look(steps, is, looked_at),
                _ => false,
            })
    }
    look(steps, is, &mut HashSet::new())
}

/// The last of those steps that is such an operation, as they stand in the text.
pub(super) fn last<'s>(steps: &'s Steps, is: &dyn Fn(&Operation) -> bool) -> Option<&'s Step> {
    fn look<'s>(
        steps: &'s Steps,
        is: &dyn Fn(&Operation) -> bool,
        looked_at: &mut HashSet<Option<StepId>>,
    ) -> Option<&'s Step> {
        if !looked_at.insert(name_of(steps)) {
            return None;
        }
        steps.iter().rev().find_map(|step| match &step.kind {
            StepKind::Do(operation) => is(operation).then_some(step),
            StepKind::Repeat(repeat) => look(&repeat.steps, is, looked_at),
            StepKind::Section(_, steps) | StepKind::Allow { steps, .. } => look(steps, is, looked_at),
            _ => None,
        })
    }
    look(steps, is, &mut HashSet::new())
}
